"""Changes of a card that must not change what is found (but where)."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

from kit.card import Card, Fold, Outline, Part, Tape
from kit.shapes import (
    Circle,
    Line,
    Point,
    Poly,
    Shape,
    compose,
    gentle,
    shift,
    stroke_outline,
    turn,
)

Where = Callable[[Point], Point]
"""From a place on the page of the first card to the same place on the page of the changed one."""


def turned(card: Card, angle: float) -> tuple[Card, Where]:
    """The whole card turned about its page's middle, on a page that is large enough."""
    w, h = card.page
    side = math.ceil(math.hypot(w, h)) + 4.0
    motion = compose(shift(side / 2, side / 2), compose(turn(angle), shift(-w / 2, -h / 2)))
    return _under(card, motion, (side, side))


def pushed(card: Card, dx: float, dy: float) -> tuple[Card, Where]:
    w, h = card.page
    return _under(card, shift(dx, dy), (w + dx + 3.0, h + dy + 2.0))


def _under(card: Card, motion, page) -> tuple[Card, Where]:  # type: ignore[no-untyped-def]
    changed = replace(card, page=page, motion=compose(motion, card.motion))
    a, b, c, d, e, f = motion
    return changed, lambda p: (a * p[0] + c * p[1] + e, b * p[0] + d * p[1] + f)


# -- mirror --------------------------------------------------------------------------------------


def mirrored(card: Card) -> tuple[Card, Where]:
    """Every coordinate drawn anew as in a mirror; parts are turned, not mirrored."""
    w = card.page[0]
    a, b, c, d, e, f = card.motion
    flipped = replace(
        card,
        die_cut=_outlines(card.die_cut),
        base=_outlines(card.base),
        foam=_outlines(card.foam),
        cover=_outlines(card.cover),
        diffuser=_outlines(card.diffuser),
        folds=tuple(Fold(x.id, _m(x.start), _m(x.end), x.attrs) for x in card.folds),
        lights=tuple(_part(p) for p in card.lights),
        power=tuple(_part(p) for p in card.power),
        tape=tuple(_tape(t) for t in card.tape),
        motion=(a, -b, -c, d, w - e, f),
    )
    return flipped, lambda p: (w - p[0], p[1])


def _m(p: Point) -> Point:
    return (-p[0], p[1])


def _shape(s: Shape) -> Shape:
    match s:
        case Circle(centre, radius):
            return Circle(_m(centre), radius)
        case Line(points, _):
            return replace(s, points=tuple(_m(p) for p in points))
        case Poly(points, holes):
            return Poly(tuple(map(_m, points)), tuple(tuple(map(_m, h)) for h in holes))


def _outlines(items: tuple[Outline, ...]) -> tuple[Outline, ...]:
    return tuple(Outline(o.id, _shape(o.shape), o.attrs) for o in items)


def _part(p: Part) -> Part:
    """Features are symmetrical about their own x axis, those of a bare cell about the y axis."""
    x, _ = _middle(dict(p.features).get("positive-pad"))
    angle = -p.angle if p.kind == "cell" and abs(x) < 1e-9 else 180.0 - p.angle
    return replace(p, at=_m(p.at), angle=angle)


def _middle(s: Shape | None) -> Point:
    if not isinstance(s, Poly):
        return (1.0, 0.0)
    xs, ys = zip(*s.points, strict=True)
    return (sum(xs) / len(xs), sum(ys) / len(ys))


def _tape(t: Tape) -> Tape:
    clip = None if t.clip is None else Poly(tuple(map(_m, t.clip.points)))
    return replace(t, shapes=tuple(_shape(s) for s in t.shapes), clip=clip)


# -- polarities and pieces -----------------------------------------------------------------------

_OTHER = {"positive-pad": "negative-pad", "negative-pad": "positive-pad"}


def swapped(card: Card) -> tuple[Card, Where]:
    """Plus and minus exchanged on all cells and lights (not for bare cells: their rim is plus)."""
    return (
        replace(
            card,
            lights=tuple(_swap(p) for p in card.lights),
            power=tuple(_swap(p) for p in card.power),
        ),
        lambda p: p,
    )


def _swap(part: Part) -> Part:
    return replace(part, features=tuple((_OTHER.get(n, n), s) for n, s in part.features))


def split(card: Card, id_: str) -> tuple[Card, Where]:
    """A straight strip as two, laid one after the other, overlapping by one and a half widths."""
    tape = next(t for t in card.tape if t.id == id_)
    line = tape.shapes[0]
    assert isinstance(line, Line)
    (ax, ay), (bx, by) = line.points
    half = 0.75 * line.width / math.dist(*line.points)

    def at(t: float) -> Point:
        return (ax + t * (bx - ax), ay + t * (by - ay))

    first = replace(tape, shapes=(replace(line, points=(at(0), at(0.5 + half))),))
    second = Tape(f"{id_}-rest", (replace(line, points=(at(0.5 - half), at(1))),))
    out: list[Tape] = []
    for t in card.tape:
        out += [first, second] if t.id == id_ else [t]
    return replace(card, tape=tuple(out)), lambda p: p


def splittable(card: Card, but: set[str]) -> list[str]:
    """Straight strips of one piece, long enough, that no fold crosses."""
    if card.folds:
        return []
    return [
        t.id
        for t in card.tape
        if not t.patch
        and t.id not in but
        and t.clip is None
        and not t.cloned
        and len(t.shapes) == 1
        and isinstance(t.shapes[0], Line)
        and len(t.shapes[0].points) == 2
        and math.dist(*t.shapes[0].points) > 4 * t.shapes[0].width
    ]


def as_filled(card: Card) -> tuple[Card, Where]:
    """Every stroked strip as the filled outline of its stroke."""

    def convert(t: Tape) -> Tape:
        return replace(
            t,
            shapes=tuple(
                Poly(stroke_outline(s)) if isinstance(s, Line) and gentle(s) else s
                for s in t.shapes
            ),
        )

    return replace(card, tape=tuple(convert(t) for t in card.tape)), lambda p: p
