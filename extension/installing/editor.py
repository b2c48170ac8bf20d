"""Finding Inkscape and its user folder on every system."""

from __future__ import annotations

import contextlib
import os
import shutil
import subprocess
import sys

from .common import Trouble, run


def extension_folder(given: str | None) -> str:
    """Our folder among the user's extensions. Raises Trouble without any Inkscape."""
    return os.path.join(user_data(given), "extensions", "underlit")


def user_data(given: str | None) -> str:
    """Inkscape's user folder: as given, as the profile variable says, as Inkscape says."""
    named = given or os.environ.get("INKSCAPE_PROFILE_DIR")
    if named:
        return os.path.abspath(os.path.expanduser(named))
    program = find_inkscape()
    if program is not None:
        with contextlib.suppress(OSError, subprocess.TimeoutExpired):
            done = run([program, "--user-data-directory"], seconds=60)
            lines = [line.strip() for line in done.stdout.splitlines() if line.strip()]
            if done.returncode == 0 and lines and os.path.isabs(lines[-1]):
                return lines[-1]
    for folder in usual_user_folders():
        if os.path.isdir(folder):
            return folder
    raise Trouble(
        "I cannot find Inkscape. Install it and start it once; or name its user folder with "
        "--user-data DIR (Inkscape shows it under Edit > Preferences > System)."
    )


def find_inkscape() -> str | None:
    """The program itself: on PATH, else in the usual places of this system."""
    found = shutil.which("inkscape")
    if found:
        return found
    return next((path for path in usual_programs() if os.path.isfile(path)), None)


def usual_programs() -> list[str]:
    """Where Inkscape is installed when it is not on PATH."""
    if os.name == "nt":
        names = ("ProgramW6432", "ProgramFiles", "ProgramFiles(x86)")
        bases = [os.environ[name] for name in names if os.environ.get(name)]
        if os.environ.get("LOCALAPPDATA"):
            bases.append(os.path.join(os.environ["LOCALAPPDATA"], "Programs"))
        return [os.path.join(base, "Inkscape", "bin", "inkscape.com") for base in bases]
    if sys.platform == "darwin":
        inside = "Applications/Inkscape.app/Contents/MacOS/inkscape"
        return [f"/{inside}", os.path.join(os.path.expanduser("~"), inside)]
    return ["/usr/bin/inkscape", "/usr/local/bin/inkscape", "/snap/bin/inkscape"]


def usual_user_folders() -> list[str]:
    """Where Inkscape keeps the user's things when it cannot be asked."""
    home = os.path.expanduser("~")
    if os.name == "nt":
        roaming = os.environ.get("APPDATA") or os.path.join(home, "AppData", "Roaming")
        return [os.path.join(roaming, "inkscape")]
    if sys.platform == "darwin":
        support = os.path.join(home, "Library", "Application Support")
        return [os.path.join(support, "org.inkscape.Inkscape", "config", "inkscape")]
    config = os.environ.get("XDG_CONFIG_HOME") or os.path.join(home, ".config")
    boxed = os.path.join(home, ".var", "app", "org.inkscape.Inkscape", "config")
    return [os.path.join(config, "inkscape"), os.path.join(boxed, "inkscape")]
