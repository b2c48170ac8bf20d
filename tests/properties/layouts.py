"""Seeded good layouts: rows of lights between two combs of tape, and a cell below them.

The left and the right feeder carry opposite polarities; every row has a rail of each. A light sits
either right on the two rails (a tight row) or at the end of two branches (a rung row). All limits
of the hand-laid profile are met with room to spare.
"""

from __future__ import annotations

import math
import random
from dataclasses import dataclass, field, replace

from kit.card import (
    Card,
    Fold,
    Outline,
    Part,
    Tape,
    bare_cell,
    filled,
    holder,
    light,
    page_for,
    patch,
    resistor,
    rotated,
    strip,
    switch,
)
from kit.shapes import (
    Affine,
    Circle,
    Line,
    Point,
    Poly,
    Shape,
    apply,
    box,
    compose,
    moved,
    rect,
    shift,
    turn,
)

TYPES = ("warm-white", "cool-white", "red", "green")
PLUS, MINUS = 1, -1


@dataclass(frozen=True)
class Row:
    """One row in its own frame: u along the rails from the left feeder, v down from the middle."""

    frame: Affine
    span: float  # between the rails' centre lines
    top: int  # polarity of the upper rail
    rails: tuple[str, str]  # upper, lower
    width: float  # of the rails
    blank: float  # u of the slot without a light
    room: float  # free half width around it
    tight: bool


@dataclass(frozen=True)
class Branch:
    """A straight or bent strip from a rail to a pad of a light, in the row's frame."""

    id: str
    light: str
    pad: str
    polarity: int
    points: tuple[Point, ...]  # from the rail to the pad
    width: float
    row: int
    rail: str


@dataclass(frozen=True)
class Crossing:
    """Two tails of opposite polarity over each other with a patch between."""

    patch: str
    lower: str
    upper: str
    at: Point
    half: tuple[float, float]  # half the widths of the upright and of the level strip


@dataclass(frozen=True)
class Layout:
    """A card and what is known about it by construction."""

    seed: int
    card: Card
    polarity: dict[str, int]  # of each strip; 0 between two lights in a row
    rows: tuple[Row, ...]
    branches: tuple[Branch, ...]
    crossing: Crossing | None
    cell_at: Point
    left: int  # polarity of the left feeder
    flap: bool
    pairs: tuple[tuple[str, str], ...] = ()


@dataclass
class _Pen:
    """What has been drawn so far."""

    rng: random.Random
    tape: list[Tape] = field(default_factory=list)
    lights: list[Part] = field(default_factory=list)
    power: list[Part] = field(default_factory=list)
    openings: list[Outline] = field(default_factory=list)
    polarity: dict[str, int] = field(default_factory=dict)
    branches: list[Branch] = field(default_factory=list)
    pairs: list[tuple[str, str]] = field(default_factory=list)
    crossing: Crossing | None = None

    def lay(self, tape: Tape, polarity: int) -> None:
        self.tape.append(tape)
        if not tape.patch:
            self.polarity[tape.id] = polarity


def good_layout(seed: int, want: frozenset[str] = frozenset()) -> Layout:
    """A layout that a careful maker would lay; `want` fixes choices that are random otherwise.

    Words for `want`: rungs, rails, crossing, plain, flap, holder, single, several, pair, upright,
    no-resistor.
    """
    rng = random.Random(seed)
    pen = _Pen(rng)
    lights = rng.randint(2, 12) if "several" in want else rng.randint(1, 12)
    lights = 1 if "single" in want else lights
    counts = _row_counts(rng, lights)
    flap = "flap" in want or (
        "holder" not in want and "crossing" not in want and rng.random() < 0.2
    )
    left = PLUS if flap else rng.choice((PLUS, MINUS))
    kinds = [_row_kind(rng, want, first=k == 0) for k in range(len(counts))]
    pitch = [15.0 if kind == "rails" else 25.0 for kind in kinds]
    length = max(104.0, *((c + 1) * p + 14 for c, p in zip(counts, pitch, strict=True)))
    xl, xr = 12.0, 12.0 + length
    rows: list[Row] = []
    y = 14.0
    for k, (count, kind) in enumerate(zip(counts, kinds, strict=True)):
        row, y = _row(pen, k, count, kind, left, xl, length, y, want)
        rows.append(row)
    cell_at, bottom = _power(pen, rng, want, flap, left, (xl, xr), y)
    card = _sheets(pen, rng, xr + 12.0, bottom, cell_at, flap)
    layout = Layout(
        seed,
        card,
        pen.polarity,
        tuple(rows),
        tuple(pen.branches),
        pen.crossing,
        cell_at,
        left,
        flap,
        tuple(pen.pairs),
    )
    if "upright" in want:
        return layout
    angle = rng.choice((0.0, 90.0, rng.uniform(-180, 180), rng.uniform(-180, 180)))
    return replace(layout, card=rotated(card, angle, page_for(card, angle)))


def _row_counts(rng: random.Random, lights: int) -> list[int]:
    counts = []
    while lights:
        count = min(lights, rng.randint(1, 5))
        counts.append(count)
        lights -= count
    return counts


def _row_kind(rng: random.Random, want: frozenset[str], *, first: bool) -> str:
    if first and "rungs" in want:
        return "rungs"
    if first and "pair" in want:
        return "pair"
    if first and "rails" in want:
        return "rails"
    return rng.choices(("rungs", "rails", "pair"), (5, 4, 0 if "plain" in want else 1))[0]


def _row(
    pen: _Pen,
    k: int,
    count: int,
    kind: str,
    left: int,
    xl: float,
    length: float,
    y: float,
    want: frozenset[str],
) -> tuple[Row, float]:
    """Draws one row below y; returns it and where the next one may begin."""
    rng = pen.rng
    width = rng.choice((5.0, 5.0, 4.0, 6.0))
    span = {"rails": 8.0, "rungs": rng.uniform(27, 33), "pair": 41.0}[kind]
    if kind == "rails":
        width = 5.0
        span += rng.uniform(-0.3, 0.8)
    tilt = rng.uniform(-1.2, 1.2)
    sway = length / 2 * math.tan(math.radians(abs(tilt)))
    mid = y + sway + span / 2
    frame = compose(
        compose(shift(xl + length / 2, mid), turn(tilt)),
        shift(-length / 2, 0.0),
    )
    top = rng.choice((PLUS, MINUS))
    names = (f"rail-{k}-top", f"rail-{k}-low")
    for name, v, polarity in ((names[0], -span / 2, top), (names[1], span / 2, -top)):
        u0, u1 = (-2.8, length - 7.0) if polarity == left else (7.0, length + 2.8)
        line = Line((apply(frame, (u0, v)), apply(frame, (u1, v))), width)
        pen.lay(_maybe_filled(rng, name, line), polarity)
    slots = count + 1
    pitch = (length - 14.0) / slots
    blank = rng.randrange(slots)
    for i in range(slots):
        if i == blank:
            continue
        u = 7.0 + (i + 0.5) * pitch
        name = f"light-{len(pen.lights) + 1}"
        if kind == "rails":
            _light_on_rails(pen, name, u, top, frame)
        elif kind == "pair" and i == (0 if blank else 1):
            _pair(pen, k, name, u, span, top, names, frame)
        else:
            _light_on_rungs(pen, k, name, u, span, top, names, frame)
    reach = 10.0 if kind != "rails" else 4.0
    row = Row(
        frame,
        span,
        top,
        names,
        width,
        7.0 + (blank + 0.5) * pitch,
        pitch - reach,
        kind == "rails",
    )
    return row, mid + span / 2 + sway + width + 6.0 + rng.uniform(0, 2)


def _maybe_filled(rng: random.Random, name: str, line: Line) -> Tape:
    if rng.random() < 0.25:
        from kit.shapes import stroke_outline

        return filled(name, Poly(stroke_outline(line)))
    return Tape(name, (line,))


def _add_light(pen: _Pen, name: str, at: Point, angle: float, frame: Affine) -> None:
    rng = pen.rng
    turned = math.degrees(math.atan2(frame[1], frame[0]))
    place = apply(frame, at)
    pen.lights.append(light(name, place, angle + turned, TYPES[rng.randrange(2)]))
    near = (place[0] + rng.uniform(-0.4, 0.4), place[1] + rng.uniform(-0.4, 0.4))
    r = rng.uniform(3.4, 4.4)
    shape: Shape = Circle(near, r)
    if rng.random() < 0.3:
        corners = rng.choice((4, 6, 8))
        shape = Poly(
            tuple(
                (near[0] + r * math.cos(a), near[1] + r * math.sin(a))
                for a in (2 * math.pi * (j + 0.5) / corners for j in range(corners))
            )
        )
    pen.openings.append(Outline(f"window-{len(pen.openings) + 1}", shape))


def _light_on_rails(pen: _Pen, name: str, u: float, top: int, frame: Affine) -> None:
    at = (u + pen.rng.uniform(-1, 1), pen.rng.uniform(-0.3, 0.3))
    _add_light(pen, name, at, -90.0 if top == PLUS else 90.0, frame)


def _light_on_rungs(
    pen: _Pen,
    k: int,
    name: str,
    u: float,
    span: float,
    top: int,
    rails: tuple[str, str],
    frame: Affine,
) -> None:
    """A light in the middle of two branches, its axis upright within 25 or level within 15 deg."""
    rng = pen.rng
    lean = rng.choice((0.0, rng.uniform(-25, 25), 90 + rng.uniform(-15, 15)))
    v = rng.uniform(-0.12, 0.12) * (span - 27)
    angle = (-90.0 if top == PLUS else 90.0) + lean
    _add_light(pen, name, (u, v), angle, frame)
    for pad, sign in (("positive-pad", PLUS), ("negative-pad", MINUS)):
        a = math.radians(angle)
        px, py = u + 4 * sign * math.cos(a), v + 4 * sign * math.sin(a)
        upper = sign == top
        _branch(pen, k, name, pad, sign, (px, py), span, rails[0 if upper else 1], upper, frame)


def _branch(
    pen: _Pen,
    k: int,
    name: str,
    pad: str,
    sign: int,
    at: Point,
    span: float,
    rail: str,
    upper: bool,
    frame: Affine,
) -> None:
    rng = pen.rng
    width = rng.choice((5.0, 5.0, 4.5))
    down = 1.0 if upper else -1.0
    start = (-span / 2 if upper else span / 2) - down * 2.9
    end = (at[0], at[1] + down * 2.2)
    points = [(at[0], start), end]
    if rng.random() < 0.3 and down * (at[1] - start) > 14.5:
        jog = rng.uniform(1.5, 3.0) * rng.choice((-1, 1))
        knee = start + down * 7.0
        points = [(at[0] + jog, start), (at[0] + jog, knee), (at[0], knee + down * 1.8), end]
    id_ = f"{name}-{'plus' if sign == PLUS else 'minus'}"
    line = Line(tuple(apply(frame, p) for p in points), width)
    pen.lay(Tape(id_, (line,)) if len(points) > 2 else _maybe_filled(rng, id_, line), sign)
    pen.branches.append(Branch(id_, name, pad, sign, tuple(points), width, k, rail))


def _pair(
    pen: _Pen,
    k: int,
    name: str,
    u: float,
    span: float,
    top: int,
    rails: tuple[str, str],
    frame: Affine,
) -> None:
    """Two lights in a row between the rails, with a strip of no polarity between them."""
    angle = -90.0 if top == PLUS else 90.0
    second = f"{name}-below"
    _add_light(pen, name, (u, -8.0), angle, frame)
    _add_light(pen, second, (u, 8.0), angle, frame)
    outer = ("positive-pad", "negative-pad") if top == PLUS else ("negative-pad", "positive-pad")
    _branch(pen, k, name, outer[0], top, (u, -12.0), span, rails[0], True, frame)
    _branch(pen, k, second, outer[1], -top, (u, 12.0), span, rails[1], False, frame)
    middle = Line((apply(frame, (u, -6.2)), apply(frame, (u, 6.2))), 5.0)
    pen.lay(Tape(f"{name}-middle", (middle,)), 0)
    pen.pairs.append((name, second))


def _power(
    pen: _Pen,
    rng: random.Random,
    want: frozenset[str],
    flap: bool,
    left: int,
    feeders: tuple[float, float],
    y: float,
) -> tuple[Point, float]:
    """Feeders, tails and the cell below y; returns the cell's place and the base's lower edge."""
    xl, xr = feeders
    xc = (xl + xr) / 2 + rng.uniform(-2, 2)
    if flap:
        return _flap_cell(pen, xc, xl, xr, y)
    crossed = "crossing" in want or ("plain" not in want and rng.random() < 0.35)
    if crossed:
        return _crossed_tails(pen, rng, left, xc, xl, xr, y)
    yc = y + 14.0
    pen.power.append(holder("cell", (xc, yc), 180.0 if left == PLUS else 0.0))
    for side, x, foot, polarity in ((1, xl, xc - 14.0, left), (-1, xr, xc + 14.0, -left)):
        name = "left" if side == 1 else "right"
        forms = _FORMS[:3] if "no-resistor" in want else _FORMS
        _tail(pen, rng.choice(forms), name, x, foot + 2.6 * side, yc, side, polarity)
    return (xc, yc), yc + 24.0


_FORMS = ("bent", "joined", "switch", "resistor")


def _tail(
    pen: _Pen, form: str, name: str, x: float, end: float, y: float, side: int, pol: int
) -> None:
    """A feeder down one side and a tail to the cell: one strip, two, or with a part in it."""
    top = (x, 11.0)
    middle = (x + end - 2.6 * side) / 2 - 1.0 * side
    if form == "bent":
        pen.lay(strip(f"{name}-feeder", [top, (x, y), (end, y)]), pol)
    elif form == "joined":
        pen.lay(strip(f"{name}-feeder", [top, (x, y + 2.5)]), pol)
        pen.lay(strip(f"{name}-tail", [(x - 2.8 * side, y), (end, y)]), pol)
    else:
        pen.lay(strip(f"{name}-feeder", [top, (x, y), (middle - 2.0 * side, y)]), pol)
        pen.lay(strip(f"{name}-tail", [(middle + 2.0 * side, y), (end, y)]), pol)
        make = switch if form == "switch" else resistor
        pen.power.append(make(f"{name}-{form}", (middle, y), pen.rng.choice((0.0, 180.0))))


def _crossed_tails(
    pen: _Pen, rng: random.Random, left: int, xc: float, xl: float, xr: float, y: float
) -> tuple[Point, float]:
    """The left feeder feeds the right foot and the other way round, over a patch."""
    ya = y
    ym = ya + rng.uniform(9.0, 11.0)
    yc = ya + 28.0
    pen.power.append(holder("cell", (xc, yc), 0.0 if left == PLUS else 180.0))
    end = yc + 2.6
    over = strip("left-feeder", [(xl, 11.0), (xl, ya), (xc + 14.0, ya), (xc + 14.0, end)])
    under = strip("right-feeder", [(xr, 11.0), (xr, ym), (xc - 14.0, ym), (xc - 14.0, end)])
    polarity = {"left-feeder": left, "right-feeder": -left}
    first, second = (over, under) if rng.random() < 0.5 else (under, over)
    at = (xc + 14.0, ym)
    reach = [2.5 + rng.uniform(2.6, 4.0) for _ in range(4)]
    shape = box(at[0] - reach[0], at[1] - reach[1], at[0] + reach[2], at[1] + reach[3])
    pen.lay(first, polarity[first.id])
    pen.lay(patch("patch", shape), 0)
    pen.lay(second, polarity[second.id])
    pen.crossing = Crossing("patch", first.id, second.id, at, (2.5, 2.5))
    return (xc, yc), yc + 24.0


def _flap_cell(pen: _Pen, xc: float, xl: float, xr: float, y: float) -> tuple[Point, float]:
    """A bare cell on the base; the plus tape runs over the fold onto a flap."""
    yc = y + 14.0
    edge = yc + 17.0
    pen.power.append(bare_cell("cell", (xc, yc), (0.0, 34.0)))
    plus = [(xl, 11.0), (xl, yc), (xc - 15.0, yc), (xc - 15.0, edge + 17), (xc + 4.2, edge + 17)]
    pen.lay(strip("left-feeder", plus), PLUS)
    pen.lay(strip("right-feeder", [(xr, 11.0), (xr, yc), (xc - 4.2, yc)]), MINUS)
    pen.lay(patch("rim-patch", box(xc + 5.0, yc - 4.0, xc + 13.0, yc + 4.0)), 0)
    return (xc, yc), edge


FLAP = (28.0, 36.0)
"""Half the flap's width and its length, mm."""


def _sheets(
    pen: _Pen, rng: random.Random, right: float, bottom: float, cell_at: Point, flap: bool
) -> Card:
    """Base, panel and openings around what was drawn."""
    x0, y0 = 4.0, 3.5
    rim = rng.uniform(1.0, 3.0)
    corners = [(x0, y0), (right - x0, y0), (right - x0, bottom)]
    folds: tuple[Fold, ...] = ()
    page_bottom = bottom + 6.0
    if flap:
        half, long = FLAP
        xc = cell_at[0]
        corners += [
            (xc + half, bottom),
            (xc + half, bottom + long),
            (xc - half, bottom + long),
            (xc - half, bottom),
        ]
        line = Fold("flap-fold", (xc - half, bottom), (xc + half, bottom), (("folds", "cell"),))
        folds = (line,)
        page_bottom += long
    corners.append((x0, bottom))
    panel = Outline("panel", box(x0 - rim, y0 - rim, right - x0 + rim, bottom + rim))
    star = Outline("star", rect(x0 + 20.0, bottom - 7.0, 4.0, 4.0))
    openings = [*pen.openings, star] if not flap and rng.random() < 0.5 else pen.openings
    return Card(
        page=(right, page_bottom),
        die_cut=(panel, *openings),
        base=(Outline("base", Poly(tuple(corners))),),
        folds=folds,
        lights=tuple(pen.lights),
        power=tuple(pen.power),
        tape=tuple(pen.tape),
    )


def row_shape(row: Row, shape: Shape) -> Shape:
    """A shape given in the row's frame, in the card's."""
    return moved(shape, row.frame)
