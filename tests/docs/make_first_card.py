"""Cut the pictures of the README's "First card by hand" from what its test left behind.

python -m pytest -m editor tests/host/test_first_card.py && python tests/docs/make_first_card.py
"""

from __future__ import annotations

import subprocess
from pathlib import Path

from make_pictures import export

ROOT = Path(__file__).parent.parent.parent
SHOTS = ROOT / "build" / "editor"
PICTURES = ROOT / "docs" / "pictures"

#: picture -> what is cut out of the screen (left, top, width, height) and its width in the end
WANTED = {
    "first-card-1": ((340, 106, 1260, 800), 880),
    "first-card-2": ((385, 170, 510, 710), 400),
    "first-card-3": ((385, 170, 510, 710), 400),
}

#: The validated card as the editor draws it, legend and all: picture and pixels per inch.
CHECKED = ("first-card-4", 90)

#: No picture is larger than this (bytes).
LARGEST = 150_000


def main() -> None:
    """Make every picture anew."""
    PICTURES.mkdir(parents=True, exist_ok=True)
    for name, ((left, top, width, height), wide) in WANTED.items():
        target = PICTURES / f"{name}.png"
        cut = ["-crop", f"{width}x{height}+{left}+{top}", "+repage", "-resize", str(wide)]
        reduce(SHOTS / f"{name}.png", target, cut)
    name, dpi = CHECKED
    whole = SHOTS / f"{name}-whole.png"
    export(SHOTS / "first-card.svg", whole, dpi, "drawing")
    reduce(whole, PICTURES / f"{name}.png", [])


def reduce(source: Path, target: Path, cut: list[str]) -> None:
    """A small picture with few colours."""
    small = ["-strip", "-dither", "None", "-colors", "200", f"PNG8:{target}"]
    subprocess.run(["convert", str(source), *cut, *small], check=True, timeout=60)
    assert target.stat().st_size < LARGEST, target


if __name__ == "__main__":
    main()
