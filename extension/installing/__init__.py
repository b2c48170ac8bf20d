"""Parts of the installer: standard library only, readable by Python 3.8."""
