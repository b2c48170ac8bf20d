"""The tests speak English, whatever the language of the machine."""

import os

from underlit.language import speak

os.environ["LANGUAGE"] = "en"
speak("en")
