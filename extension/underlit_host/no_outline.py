"""What something is that was chosen as an outline and is none, in words.

For each: what is said where it was to be the panel, the back sheet (base), or was selected
without saying as what (auto).
"""

from __future__ import annotations

from underlit.language import later

FALSE = {
    "open": {
        "panel": later(
            "{name} does not close, so it cannot be the panel. Close it with the node tool, then "
            "run this again."
        ),
        "base": later(
            "{name} does not close, so it cannot be the back sheet. Close it with the node tool, "
            "then run this again."
        ),
        "auto": later(
            "{name} does not close, so it cannot be the panel. Close it with the node tool, then "
            "run this again, or select nothing."
        ),
    },
    "hidden": {
        "panel": later(
            "{name} is hidden, so it cannot be the panel. Show it first, then run this again."
        ),
        "base": later(
            "{name} is hidden, so it cannot be the back sheet. Show it first, then run this again."
        ),
        "auto": later(
            "{name} is hidden, so it cannot be the panel. Show it first, then run this again, or "
            "select nothing."
        ),
    },
    "text": {
        "panel": later(
            "{name} is text, not an outline, so it cannot be the panel. Turn it into outlines "
            "first (Path > Object to Path), then run this again."
        ),
        "base": later(
            "{name} is text, not an outline, so it cannot be the back sheet. Turn it into "
            "outlines first (Path > Object to Path), then run this again."
        ),
        "auto": later(
            "{name} is text, not an outline, so it cannot be the panel. Turn it into outlines "
            "first (Path > Object to Path), then run this again, or select nothing."
        ),
    },
    "picture": {
        "panel": later(
            "{name} is a picture, not an outline, so it cannot be the panel. Trace it first (Path "
            "> Trace Bitmap), then run this again."
        ),
        "base": later(
            "{name} is a picture, not an outline, so it cannot be the back sheet. Trace it first "
            "(Path > Trace Bitmap), then run this again."
        ),
        "auto": later(
            "{name} is a picture, not an outline, so it cannot be the panel. Trace it first (Path "
            "> Trace Bitmap), then run this again, or select nothing."
        ),
    },
    "part": {
        "panel": later(
            "{name} is a part of the circuit, not an outline, so it cannot be the panel. Select "
            "nothing, then run this again."
        ),
        "base": later(
            "{name} is a part of the circuit, not an outline, so it cannot be the back sheet. "
            "Select nothing, then run this again."
        ),
        "auto": later(
            "{name} is a part of the circuit, not an outline, so it cannot be the panel. Select "
            "nothing, then run this again."
        ),
    },
    "nothing": {
        "panel": later(
            "{name} draws no outline that I can read, so it cannot be the panel. Select the outer "
            "edge itself, then run this again."
        ),
        "base": later(
            "{name} draws no outline that I can read, so it cannot be the back sheet. Select the "
            "outer edge itself, then run this again."
        ),
        "auto": later(
            "{name} draws no outline that I can read, so it cannot be the panel. Select the outer "
            "edge itself, then run this again, or select nothing."
        ),
    },
}
