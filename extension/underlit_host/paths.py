"""Path data as rows of segments, through the parser of the library `svg.path`.

That parser stops without a word at some kinds of garbage; so the whole text is held against the
grammar first (SVG 1.1 8.3.9), and what is wrong is named. Out-of-range arc radii follow the
implementation notes F.6.6: too small ones grow, negative ones lose their sign, zero ones make
a straight line.
"""

from __future__ import annotations

import math
import re
from itertools import zip_longest
from typing import Any

from underlit.language import say

from .lengths import Unreadable, number, numbers, shorten

#: One segment: kind, then eight numbers.
#: LINE  x0 y0 x1 y1 - - - -
#: CUBIC x0 y0 x1 y1 x2 y2 x3 y3
#: ARC   cx cy ux uy vx vy t0 t1: centre + u cos t + v sin t, t from t0 to t1 (radians)
Row = tuple[float, float, float, float, float, float, float, float, float]
LINE, CUBIC, ARC = 0.0, 1.0, 2.0

#: A subpath: its segments, and whether it closes itself.
Subpath = tuple[list[Row], bool]
Outline = list[Subpath]


def line(x0: float, y0: float, x1: float, y1: float) -> Row:
    """A straight segment."""
    return (LINE, x0, y0, x1, y1, 0.0, 0.0, 0.0, 0.0)


#: How many numbers each command takes at a time.
_ARITY = {"M": 2, "L": 2, "T": 2, "H": 1, "V": 1, "C": 6, "S": 4, "Q": 4, "A": 7}

_command = re.compile(r"[MmLlHhVvCcSsQqTtAaZz]")


def read_path(d: str) -> Outline:
    """Subpaths of path data; empty for empty data. Raises Unreadable."""
    d = d.strip(" \t\r\n")
    if d in {"", "none"}:
        return []
    try:
        return _parse(_checked(d))
    except (ArithmeticError, ValueError):
        raise Unreadable(say("its path has numbers that cannot be used")) from None


def _checked(d: str) -> str:
    """The same path data, arcs spelled out. Raises Unreadable where it breaks the grammar."""
    heads = list(_command.finditer(d))
    if not heads or heads[0].start() != 0 or heads[0][0] not in "Mm":
        raise Unreadable(say("its path begins with {text}", text=shorten(d)))
    spelled: list[str] = []
    for head, after in zip_longest(heads, heads[1:]):
        kind, arguments = head[0], d[head.end() : after.start() if after else len(d)]
        if kind in "Aa":
            arguments = _arcs(arguments)
            sound = bool(arguments)
        elif kind in "Zz":
            sound = not arguments.strip(" \t\r\n")
        else:
            count = len(number.findall(arguments)) if numbers.fullmatch(arguments) else 0
            sound = count > 0 and count % _ARITY[kind.upper()] == 0
        if not sound:
            raise Unreadable(say("its path breaks off at {text}", text=shorten(d[head.start() :])))
        spelled += (kind, arguments)
    return "".join(spelled)


def _arcs(arguments: str) -> str:
    """Arguments of an arc command with blanks between all of them and unsigned radii.

    Flags may stand without blanks. Empty where something is wrong.
    """
    words: list[str] = []
    place = _skip(arguments, 0, "")
    while place < len(arguments):
        at = len(words) % 7
        found = number.match(arguments, place)
        word = found[0] if found else ""
        if at in {3, 4}:
            word = arguments[place]
        if not word or (at in {3, 4} and word not in "01"):
            return ""
        words.append(word.lstrip("+-") if at < 2 else word)
        place = _skip(arguments, place + len(word), ",")
    return " ".join(words) if words and len(words) % 7 == 0 else ""


def _skip(text: str, place: int, comma: str) -> int:
    """The place after blanks and at most one comma (a comma at the end stays)."""
    rest = text[place : place + 40]
    inner = rest.lstrip(" \t\r\n")
    if comma and inner.startswith(comma):
        after = inner[1:].lstrip(" \t\r\n")
        inner = after or inner
    return place + len(rest) - len(inner)


def _parse(d: str) -> Outline:
    from svg.path import parse_path  # late: 2.5 ms, and some drawings have no paths

    outline: Outline = []
    rows: list[Row] | None = None
    segment: Any  # one of the library's segment classes, told apart by name
    for segment in parse_path(d):
        kind = type(segment).__name__
        if kind == "Move":
            rows = _begin(outline)
            continue
        if rows is None:  # after a closed subpath without a move
            rows = _begin(outline)
        start, end = segment.start, segment.end
        if kind in {"Line", "Close"}:
            if start != end:
                rows.append(line(start.real, start.imag, end.real, end.imag))
        elif kind == "Arc":
            _add_arc(rows, segment)
        elif kind == "CubicBezier":
            rows.append(_cubic(start, segment.control1, segment.control2, end))
        else:  # QuadraticBezier
            c = segment.control
            rows.append(_cubic(start, start + (c - start) * 2 / 3, end + (c - end) * 2 / 3, end))
        if kind == "Close":
            outline[-1] = (rows, True)
            rows = None
    return [subpath for subpath in outline if subpath[0]]


def _begin(outline: Outline) -> list[Row]:
    rows: list[Row] = []
    outline.append((rows, False))
    return rows


def _cubic(p: complex, q: complex, r: complex, s: complex) -> Row:
    return (CUBIC, p.real, p.imag, q.real, q.imag, r.real, r.imag, s.real, s.imag)


def _add_arc(rows: list[Row], arc: Any) -> None:
    start, end, radius = arc.start, arc.end, arc.radius
    if start == end:
        return
    if radius.real == 0.0 or radius.imag == 0.0:
        rows.append(line(start.real, start.imag, end.real, end.imag))
        return
    rx, ry = radius.real * arc.radius_scale, radius.imag * arc.radius_scale
    turn = math.radians(arc.rotation)
    cosine, sine = math.cos(turn), math.sin(turn)
    u, v = (rx * cosine, rx * sine), (-ry * sine, ry * cosine)
    first = math.radians(arc.theta)
    last = first + math.radians(arc.delta)
    rows.append((ARC, arc.center.real, arc.center.imag, *u, *v, first, last))
