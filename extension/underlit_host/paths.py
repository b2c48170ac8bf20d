"""Path data as rows of segments, through the parser of the library `svg.path`.

That parser stops without a word at some kinds of garbage; so the whole text is held against the
grammar first (SVG 1.1 8.3.9), and what is wrong is named. Out-of-range arc radii follow the
implementation notes F.6.6: too small ones grow, negative ones lose their sign, zero ones make
a straight line.
"""

from __future__ import annotations

import math
import re

from .lengths import GAP, NUMBER, Unreadable, shorten

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


def _some(arguments: str) -> str:
    return rf"(?>{arguments}(?:{GAP}{arguments})*+)"


def _numbers(count: int) -> str:
    return rf"(?>{NUMBER}(?:{GAP}{NUMBER}){{{count - 1}}})"


_BLANK = r"[ \t\r\n]*+"
_ARC_END = rf"{GAP}{NUMBER}{GAP}[01]{GAP}[01]{GAP}{NUMBER}{GAP}{NUMBER}"
_COMMANDS = re.compile(
    rf"{_BLANK}(?>(?=[Mm])(?>(?:[MmLlTt]{_BLANK}{_some(_numbers(2))}|[HhVv]{_BLANK}"
    rf"{_some(NUMBER)}|[Cc]{_BLANK}{_some(_numbers(6))}|[SsQq]{_BLANK}{_some(_numbers(4))}|[Aa]"
    rf"{_BLANK}{_some(f'(?>{NUMBER}{GAP}{NUMBER}{_ARC_END})')}|[Zz]){_BLANK})*+)?+"
)


def read_path(d: str) -> Outline:
    """Subpaths of path data; empty for empty data. Raises Unreadable."""
    if d.strip() in {"", "none"}:
        return []
    sound = _COMMANDS.match(d)
    end = sound.end() if sound else 0
    if end < len(d):
        raise Unreadable(f"its path breaks off at {shorten(d[end:]) or 'its end'}")
    try:
        return _parse(_unsigned_radii(d))
    except (ArithmeticError, ValueError):
        raise Unreadable("its path has numbers that cannot be used") from None


def _unsigned_radii(d: str) -> str:
    """The same path data with the signs of arc radii left out (the parser refuses them)."""
    if "-" not in d or ("a" not in d and "A" not in d):
        return d
    one = re.compile(rf"{GAP}({NUMBER}){GAP}({NUMBER})({_ARC_END})")

    def unsigned(found: re.Match[str]) -> str:
        return f" {found[1].lstrip('+-')} {found[2].lstrip('+-')}{found[3]}"

    return re.sub(
        r"([Aa])([^MmZzLlHhVvCcSsQqTtAa]*)", lambda arc: arc[1] + one.sub(unsigned, arc[2]), d
    )


def _parse(d: str) -> Outline:
    from svg.path import parse_path  # late: 2.5 ms, and some drawings have no paths

    outline: Outline = []
    rows: list[Row] | None = None
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


def _add_arc(rows: list[Row], arc) -> None:  # type: ignore[no-untyped-def]
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
