"""Writes files of the corpus and what is expected of them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from shapely.geometry import Polygon

from outlines.designs import Design, ring_points

NAMES = (
    'xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" '
    'xmlns:inkscape="http://www.inkscape.org/namespaces/inkscape" '
    'xmlns:sodipodi="http://sodipodi.sourceforge.net/DTD/sodipodi-0.dtd" '
    'xmlns:underlit="urn:underlit:card:1"'
)

CUT = "fill:none;stroke:#b0004a;stroke-width:0.3"


@dataclass(frozen=True)
class Entry:
    """One file of the corpus.

    `expected` holds what can be known from how it was made: panels, openings, loose, and where
    known scores, doubled, coincident, specks, notches, through. `told` are codes of findings
    that must be there; `doubtful` says that these are why the numbers may be off from what the
    maker meant. `how` says in one sentence how the numbers are known.
    """

    name: str
    svg: str
    expected: dict[str, int]
    how: str
    told: tuple[str, ...] = ()
    doubtful: bool = False


def num(value: float, digits: int = 3) -> str:
    """A short number."""
    text = f"{value:.{digits}f}".rstrip("0").rstrip(".")
    return "0" if text in {"", "-0"} else text


def document(
    body: str,
    size: tuple[float, float] = (105.0, 148.0),
    *,
    width: str = "",
    height: str = "",
    view: str | None = None,
    extra: str = "",
) -> str:
    """A whole file; in mm unless told otherwise."""
    width, height = width or f"{num(size[0])}mm", height or f"{num(size[1])}mm"
    box = f"0 0 {num(size[0])} {num(size[1])}" if view is None else view
    seen = f' viewBox="{box}"' if box else ""
    return f'<svg {NAMES} width="{width}" height="{height}"{seen}{extra}>\n{body}\n</svg>\n'


def layer(body: str, label: str = "Die cut", attributes: str = "") -> str:
    """A layer of the editor."""
    return (
        f'<g inkscape:groupmode="layer" inkscape:label="{label}" '
        f'id="layer-{label.lower().replace(" ", "-")}"{attributes}>\n{body}\n</g>'
    )


def ring(points: Sequence[tuple[float, float]], digits: int = 3) -> str:
    """Path data of one closed line."""
    return "M" + "L".join(f"{num(x, digits)} {num(y, digits)}" for x, y in points) + "Z"


def data(areas: Iterable[Polygon], digits: int = 3, reverse: bool = False) -> str:
    """Path data of several closed lines."""
    return "".join(ring(ring_points(a)[:: -1 if reverse else 1], digits) for a in areas)


def path(d: str, name: str, style: str = CUT, attributes: str = "") -> str:
    """One path."""
    more = f" {attributes}" if attributes else ""
    return f'<path id="{name}" style="{style}" d="{d}"{more}/>'


def separate(design: Design) -> str:
    """Every line of a design as an object of its own."""
    groups = (("panel", (design.panel,)), ("window", design.windows), ("piece", design.pieces))
    return "\n".join(
        path(data([area]), f"{kind}-{number}")
        for kind, areas in groups
        for number, area in enumerate(areas, 1)
    )


def counted(design: Design, **more: int) -> dict[str, int]:
    """The numbers of a design by its construction."""
    return {
        "panels": 1,
        "openings": len(design.windows),
        "loose": len(design.pieces),
        **more,
    }
