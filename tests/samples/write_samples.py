"""Writes the five cards of *Harbour Lane* anew.

PYTHONPATH=tests python -m samples.write_samples [FOLDER]
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Mapping
from pathlib import Path

from samples import draw_firefly_jar, draw_lantern, draw_lighthouse, draw_night_garden, draw_street

FOLDER = Path(__file__).parents[2] / "sample_svgs"

#: File name -> what draws it.
CARDS: Mapping[str, Callable[[], str]] = {
    "lantern.svg": draw_lantern.draw,
    "lighthouse.svg": draw_lighthouse.draw,
    "firefly-jar.svg": draw_firefly_jar.draw,
    "street.svg": draw_street.draw,
    "night-garden.svg": draw_night_garden.draw,
}


def write(folder: Path) -> None:
    """Write every card into a folder."""
    for name, draw in CARDS.items():
        (folder / name).write_text(draw(), encoding="utf-8", newline="\n")


if __name__ == "__main__":
    write(Path(sys.argv[1]) if len(sys.argv) > 1 else FOLDER)
