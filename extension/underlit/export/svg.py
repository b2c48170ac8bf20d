"""Outlines as an SVG that any cutter program reads.

Width and height in mm, viewBox in mm, one plain closed path for each outline, absolute lines
only; no transforms, clips, fills, fonts or style sheets. Source: SVG 1.1, sections 7 and 8.
"""

from __future__ import annotations

from html import escape

import numpy as np

from ..language import say
from .cut import Cut
from .signing import UNSIGNED

#: Stroke in mm: a hairline, since some programs show nothing without one; round, so that what it
#: adds to the size of an outline is the same all round.
HAIRLINE = 0.1

#: Black cuts, blue draws, red scores: cutter programs tell tools apart by colour.
CUT_COLOUR, PEN_COLOUR, SCORE_COLOUR = "#000000", "#0000ff", "#ff0000"


def to_svg(cut: Cut, title: str) -> bytes:
    """The sheet as an SVG document; `title` heads it."""
    width, height = (number(value) for value in cut.size)
    colour = PEN_COLOUR if cut.pen else CUT_COLOUR
    head = (
        '<?xml version="1.0" encoding="UTF-8"?>\n'
        f'<svg xmlns="http://www.w3.org/2000/svg" version="1.1" width="{width}mm" '
        f'height="{height}mm" viewBox="0 0 {width} {height}">\n<title>{escape(title)}</title>\n'
        f"<!-- {UNSIGNED} -->\n"
    )
    paths = [
        _path(name, data(outline.rings), colour)
        for name, outline in zip(_names(cut), cut.outlines, strict=True)
    ]
    return (head + _scores(cut) + "".join(paths) + "</svg>\n").encode()


def _path(name: str, line: str, colour: str) -> str:
    return (
        f'<path id="{escape(name)}" d="{line}" fill="none" stroke="{colour}" '
        f'stroke-width="{HAIRLINE}" stroke-linejoin="round"/>\n'
    )


def _scores(cut: Cut) -> str:
    """Open lines in a group of their own, first: a sheet is scored before it is cut."""
    if not cut.scores:
        return ""
    lines = [
        _path(score.label, short(f"M {points(line)} ").rstrip(), SCORE_COLOUR)
        for score in cut.scores
        for line in score.rings
    ]
    title = escape(say("Score, do not cut"))
    return f'<g id="score">\n<title>{title}</title>\n{"".join(lines)}</g>\n'


def data(rings: tuple[np.ndarray, ...]) -> str:
    """Path data of closed rings, numbers as `number` writes them."""
    return short(" ".join([f"M {points(ring)} Z" for ring in rings]))


def points(ring: np.ndarray) -> str:
    """Corners with all four decimals."""
    return " L ".join(["%.4f,%.4f"] * len(ring)) % tuple(ring.ravel().tolist())


def short(text: str) -> str:
    """Path data without needless zeros; a blank or comma ends each number.

    Whole numbers wait until the others are done.
    """
    for end in ", ":
        text = text.replace(f".0000{end}", f"!{end}")
        for zeros in ("000", "00", "0"):
            text = text.replace(zeros + end, end)
    return text.replace("-0!", "0!").replace("!", "")


def number(value: float) -> str:
    """Millimetres with at most four decimals."""
    text = f"{value:.4f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _names(cut: Cut) -> list[str]:
    """A name of its own for every outline."""
    seen: dict[str, int] = {}
    names = []
    for outline in cut.outlines:
        seen[outline.label] = seen.get(outline.label, 0) + 1
        again = seen[outline.label]
        names.append(outline.label if again == 1 else f"{outline.label}-{again}")
    return names
