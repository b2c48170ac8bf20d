"""Coin batteries: bare, under a flap, in a holder.

The can and rim of a coin battery are plus, only the cap is minus (IEC 60086-2 cells). Seen from
above with plus up, the cap lies underneath and is drawn dashed.
"""

from __future__ import annotations

from ...language import later, say
from ...profiles import CellType
from ...profiles.materials import HolderType
from .drawing import Disc, Paint, PartDrawing, PartShape, Point, centred, polygon, polyline
from .feet import BOLD, HAIR, HINT, INK, STEEL, THIN, dot, minus_foot, plus_foot, sign

#: Of a bare battery's contacts, over the radius of its cap: how far from the middle, how large.
#: Both lie within the cap, so that minus keeps off the rim, and half a cap apart.
OFF_CENTRE = 0.625
CONTACT = 0.375

#: The same for the contact in the middle under a flap, and the one on the flap.
FLAP_CONTACT = 0.5

#: From the edge of a battery to the fold of its flap (mm); proposed, to be revised by use.
TO_FOLD = 7.0

#: Width of the rim's ring, drawn inside the edge (share of the radius).
RIM = 0.06

#: How far a fold hint reaches to each side beyond the battery's radius (mm).
BESIDE = 2.0

FRAME = Paint("#f4f4ef", "#5f6873", HAIR, opacity=0.9)


def bare_cell(name: str, kind: CellType, *, closes: str = "press", up: str = "plus") -> PartDrawing:
    """A battery without a holder: tape runs under it and over it.

    `name` is its type's name in the profile; `up` the face that looks at the panel.
    """
    off, radius = OFF_CENTRE * kind.cap_radius, CONTACT * kind.cap_radius
    left, right = (-off, 0.0), (off, 0.0)
    shapes = (
        *_coin(kind, up),
        *minus_foot(Disc(left, radius), left, 1.6 * radius),
        *plus_foot(Disc(right, radius), right, 1.6 * radius),
    )
    title = say("Battery {cell}, bare, {way}", cell=name.upper(), way=_closing(closes))
    return PartDrawing("cell", title, _attributes(name, closes, up), shapes)


def flap_cell(
    name: str, kind: CellType, *, fold_at: float | None = None, up: str = "plus"
) -> PartDrawing:
    """A bare battery that a flap closes, drawn open.

    One contact lies under the middle of the battery, the other on the flap, as far beyond the
    fold as the battery's middle lies before it. `fold_at` is the distance of the fold from the
    battery's middle (mm). With `up` = plus the flap carries plus and lies towards +x; with minus
    it carries minus and lies towards -x. The fold itself belongs on the Folds layer (`flap_line`).
    """
    far = flap_distance(kind) if fold_at is None else fold_at
    side = -1.0 if up == "minus" else 1.0
    radius = FLAP_CONTACT * kind.cap_radius
    out = (side * 2.0 * far, 0.0)
    middle = (0.0, 0.0)
    minus_at, plus_at = (out, middle) if up == "minus" else (middle, out)
    start, end = flap_line(kind, fold_at=far, up=up)
    edge = side * (2.0 * far - radius)
    shapes = (
        *_coin(kind, up),
        *minus_foot(Disc(minus_at, radius), minus_at, 1.3 * radius),
        *plus_foot(Disc(plus_at, radius), plus_at, 1.3 * radius),
        PartShape(polyline(start, end), None, HINT),
        *_arrow((edge - side * 1.0, 0.0), (side * (far + 1.0), 0.0)),
    )
    title = say("Battery {cell}, {way}", cell=name.upper(), way=_closing("flap"))
    return PartDrawing("cell", title, _attributes(name, "flap", up), shapes)


def flap_distance(kind: CellType) -> float:
    """Where the fold of a flap lies if nothing is said: distance from the battery's middle."""
    return kind.diameter / 2.0 + TO_FOLD


def flap_line(
    kind: CellType, *, fold_at: float | None = None, up: str = "plus", beside: float = BESIDE
) -> tuple[Point, Point]:
    """Ends of the fold line of a `flap_cell`, in its frame; `beside` the battery on each side."""
    far = flap_distance(kind) if fold_at is None else fold_at
    x = -far if up == "minus" else far
    reach = kind.diameter / 2.0 + beside
    return (x, -reach), (x, reach)


def holder(kind: HolderType, cell: CellType, *, closes: str | None = None) -> PartDrawing:
    """A battery in a holder, whose feet stand beside it.

    `cell` is the type that `kind.cell` names. `closes` other than the holder's own is how the
    card closes it (press: it sits under a spot to press, say).
    """
    way = closes or kind.closes
    length, width = kind.body
    long, high = kind.pad
    reach = kind.pad_pitch / 2.0
    radius = cell.diameter / 2.0
    shapes = (
        PartShape(centred((0.0, 0.0), length, width, 0.12 * min(length, width)), "body", FRAME),
        PartShape(Disc((0.0, 0.0), radius - HAIR), None, STEEL),
        PartShape(Disc((0.0, 0.0), radius * (1.0 - RIM) - HAIR), None, THIN),
        sign((0.0, 0.0), 0.45 * radius, True, INK),
        *_way(way, kind, radius),
        *minus_foot(centred((-reach, 0.0), long, high), (-reach, 0.0), min(long, high)),
        *plus_foot(centred((reach, 0.0), long, high), (reach, 0.0), min(long, high)),
    )
    title = say("Battery {cell} in a holder, {way}", cell=kind.cell.upper(), way=_closing(way))
    return PartDrawing("cell", title, _attributes(kind.cell, way, "plus"), shapes)


_WAYS = {
    "press": later("press"),
    "slide": later("slide"),
    "flap": later("flap"),
    "tab": later("pull tab"),
    "open": later("open"),
    "always": later("always on"),
}


def _closing(closes: str) -> str:
    return say(_WAYS.get(closes, closes))


def _attributes(name: str, closes: str, up: str) -> dict[str, str]:
    usual = {} if up == "plus" else {"up": up}
    return {"type": name, "closes": closes, **usual}


def _coin(kind: CellType, up: str) -> tuple[PartShape, ...]:
    """The coin from above: edge, rim, and its cap (dashed where it lies underneath)."""
    radius = kind.diameter / 2.0
    middle = (0.0, 0.0)
    cap = THIN if up == "minus" else HINT
    return (
        PartShape(Disc(middle, radius), "body", STEEL),
        PartShape(Disc(middle, radius * (1.0 - RIM)), None, THIN),
        PartShape(Disc(middle, kind.cap_radius), None, cap),
    )


def _way(way: str, kind: HolderType, radius: float) -> tuple[PartShape, ...]:
    """What shows how a holder closes: a ring to press, a slider."""
    if way == "press":
        return (PartShape(Disc((0.0, 0.0), 0.5 * radius), None, Paint(None, INK, BOLD)),)
    if way == "slide":
        y = (radius + kind.body[1] / 2.0) / 2.0
        slot, knob = centred((0.0, y), 7.0, 1.4, 0.5), centred((-2.0, y), 3.0, 1.4, 0.3)
        return (PartShape(slot, None, THIN), PartShape(knob, None, Paint(INK)))
    return ()


def _arrow(start: Point, end: Point) -> tuple[PartShape, ...]:
    """A thin arrow along x: this way it folds."""
    way = 1.0 if end[0] > start[0] else -1.0
    head = polygon(end, (end[0] - way * 1.6, 0.7), (end[0] - way * 1.6, -0.7))
    shaft = polyline(start, (end[0] - way * 1.5, 0.0))
    return (
        PartShape(shaft, None, Paint(None, INK, HAIR)),
        PartShape(head, None, Paint(INK)),
        dot(start, 0.35),
    )
