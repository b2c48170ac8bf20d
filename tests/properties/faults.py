"""Seeded single faults: a good layout with one thing wrong, and what must be found."""

from __future__ import annotations

import math
import random
from collections.abc import Callable
from dataclasses import dataclass, field, replace

from kit.card import Card, Tape, with_part, with_tape
from kit.shapes import Line, Point, Poly, Shape, apply, box, moved

from .layouts import Branch, Layout, Row, good_layout


@dataclass(frozen=True)
class Expect:
    """One finding that must be there: within 1 mm of one of the places, naming one of the objects.

    Places are in the card's own frame; a stretch of equal gap is given by many places.
    """

    rule: str
    severity: str
    at: tuple[Point, ...]
    objects: frozenset[str]


@dataclass(frozen=True)
class Fault:
    """A card with one fault. `allowed` are further findings that the fault may bring with it."""

    kind: str
    seed: int
    layout: Layout
    card: Card
    expects: tuple[Expect, ...] = ()
    allowed: tuple[tuple[str, frozenset[str]], ...] = ()
    opened: tuple[frozenset[str], ...] = field(default=())
    """Contacts that make the short, for the oracle."""


Maker = Callable[[random.Random, Layout], "Fault | None"]
_MAKERS: dict[str, tuple[Maker, frozenset[str]]] = {}


def _kind(name: str, *want: str) -> Callable[[Maker], Maker]:
    def keep(maker: Maker) -> Maker:
        _MAKERS[name] = (maker, frozenset(want))
        return maker

    return keep


def kinds() -> list[str]:
    return list(_MAKERS)


def make_fault(kind: str, seed: int) -> Fault:
    """The fault of one kind and seed; layouts that have no room for it are passed over."""
    maker, want = _MAKERS[kind]
    for attempt in range(60):
        number = seed * 100 + attempt
        fault = maker(random.Random(f"{kind} {number}"), good_layout(number, want))
        if fault is not None:
            return replace(fault, kind=kind, seed=seed)
    raise AssertionError(f"no layout fits {kind} {seed}")


def _fault(layout: Layout, card: Card, *expects: Expect, **more: object) -> Fault:
    return Fault("", 0, layout, card, expects, **more)  # type: ignore[arg-type]


# -- a further strip in the free place of a row --------------------------------------------------


@dataclass(frozen=True)
class _Spot:
    """A free place between two rails: `near` is the rail it hangs on, `far` the other one."""

    row: Row
    u: float
    width: float
    down: float  # +1: hangs on the upper rail
    near: str
    far: str

    @property
    def root(self) -> float:
        """v of the outer edge of the near rail."""
        return -self.down * (self.row.span / 2 + self.row.width / 2)

    @property
    def shore(self) -> float:
        """v of the near edge of the far rail."""
        return self.down * (self.row.span / 2 - self.row.width / 2)

    def place(self, v: float, du: float = 0.0) -> Point:
        return apply(self.row.frame, (self.u + du, v))

    def block(self, v0: float, v1: float, width: float | None = None, du: float = 0.0) -> Shape:
        half = (width or self.width) / 2
        return moved(box(self.u + du - half, v0, self.u + du + half, v1), self.row.frame)

    def line(self, v0: float, v1: float) -> Line:
        return Line((self.place(v0), self.place(v1)), self.width)


def _spot(rng: random.Random, layout: Layout, *, roomy: bool = False) -> _Spot | None:
    rows = [r for r in layout.rows if not (roomy and r.tight)]
    if not rows:
        return None
    row = rng.choice(rows)
    width = rng.choice((4.0, 5.0, 5.0))
    play = max(0.0, min(3.0, row.room - 5.5))
    down = rng.choice((1.0, -1.0))
    near, far = row.rails if down > 0 else row.rails[::-1]
    return _Spot(row, row.blank + rng.uniform(-play, play), width, down, near, far)


def _bridge(rng: random.Random, spot: _Spot, into: float) -> Shape:
    """A strip from the whole width of the near rail to `into` mm over the far rail's edge."""
    end = spot.shore + spot.down * into
    if rng.random() < 0.5:
        return spot.line(spot.root, end)
    return spot.block(spot.root, end)


def _short(spot: _Spot, at: Point) -> Expect:
    return Expect("polarities-touch", "stop", (at,), frozenset(("extra", spot.far)))


@_kind("touch", "no-resistor")
def _touch(rng: random.Random, layout: Layout) -> Fault | None:
    return _touching(rng, layout, 0)


@_kind("clone-of-a-clone", "no-resistor")
def _clone_touch(rng: random.Random, layout: Layout) -> Fault | None:
    return _touching(rng, layout, rng.choice((1, 2, 2, 3)))


def _touching(rng: random.Random, layout: Layout, cloned: int) -> Fault | None:
    spot = _spot(rng, layout)
    assert spot is not None
    into = rng.uniform(0.3, 1.5)
    tape = Tape("extra", (_bridge(rng, spot, into),), cloned=cloned)
    at = spot.place(spot.shore + spot.down * into / 2)
    opened = (frozenset(("extra", spot.far)),)
    return _fault(layout, with_tape(layout.card, tape), _short(spot, at), opened=opened)


def _tip(spot: _Spot, reach: float, lean: float, length: float) -> Poly:
    """A strip that ends in a point `reach` mm over the far rail's edge."""
    s, h = spot.down, spot.width / 2
    base, end = spot.shore - s * length, spot.shore + s * reach
    local = ((-h, spot.root), (h, spot.root), (h, base), (lean, end), (-h, base))
    return Poly(tuple(spot.place(v, du) for du, v in local))


@_kind("corner-touch", "no-resistor")
def _corner_touch(rng: random.Random, layout: Layout) -> Fault | None:
    spot = _spot(rng, layout)
    assert spot is not None
    lean = rng.uniform(-1.5, 1.5)
    tape = Tape("extra", (_tip(spot, rng.choice((-0.005, 0.0, 0.0, 0.02)), lean, 2.0),))
    at = spot.place(spot.shore, lean)
    opened = (frozenset(("extra", spot.far)),)
    return _fault(layout, with_tape(layout.card, tape), _short(spot, at), opened=opened)


@_kind("sliver-bridge", "no-resistor")
def _sliver(rng: random.Random, layout: Layout) -> Fault | None:
    spot = _spot(rng, layout)
    assert spot is not None
    thin, into = rng.uniform(0.15, 0.5), rng.uniform(0.5, 1.5)
    stop = spot.shore - spot.down * 2.3
    du = rng.uniform(-1.5, 1.5)
    block = spot.block(spot.root, stop)
    hair = spot.block(stop - spot.down * 0.7, spot.shore + spot.down * into, thin, du)
    at = spot.place(spot.shore + spot.down * into / 2, du)
    return _fault(
        layout,
        with_tape(layout.card, Tape("extra", (block, hair))),
        _short(spot, at),
        allowed=(("strip-narrow", frozenset(("extra",))),),
        opened=(frozenset(("extra", spot.far)),),
    )


def _gap_of(rng: random.Random) -> tuple[float, str]:
    """A gap clearly inside one of the two severities of the hand-laid profile (limits 1 and 2)."""
    if rng.random() < 0.5:
        return rng.uniform(0.17, 0.83), "stop"
    return rng.uniform(1.17, 1.83), "caution"


@_kind("gap")
def _gap(rng: random.Random, layout: Layout) -> Fault | None:
    spot = _spot(rng, layout)
    assert spot is not None
    g, severity = _gap_of(rng)
    middle = spot.shore - spot.down * g / 2
    if rng.random() < 0.5:
        lean = rng.uniform(-1.5, 1.5)
        shape: Shape = _tip(spot, -g, lean, g + 1.0)
        at = [spot.place(middle, lean)]
    else:
        shape = _bridge(rng, spot, -g)
        at = [spot.place(middle, du * spot.width / 8) for du in range(-4, 5)]
    names = frozenset(("extra", spot.far))
    expect = Expect("gap-too-small", severity, tuple(at), names)
    return _fault(layout, with_tape(layout.card, Tape("extra", (shape,))), expect)


@_kind("floating-strip", "rungs")
def _floating(rng: random.Random, layout: Layout) -> Fault | None:
    spot = _spot(rng, layout, roomy=True)
    if spot is None:
        return None
    half = rng.uniform(3.0, 5.0)
    tape = Tape("extra", (spot.line(-half, half),))
    at = tuple(spot.place(half * k / 5) for k in range(-5, 6))
    expect = Expect("strip-floating", "note", at, frozenset(("extra",)))
    return _fault(layout, with_tape(layout.card, tape), expect)


@_kind("clip-takes-the-touch-away")
def _clip_clean(rng: random.Random, layout: Layout) -> Fault | None:
    """Nothing to find: the clip path cuts the strip 3 mm before the other polarity."""
    spot = _spot(rng, layout, roomy=True)
    if spot is None:
        return None
    keep = spot.block(spot.root - spot.down, spot.shore - spot.down * rng.uniform(2.6, 4), 9.0)
    assert isinstance(keep, Poly)
    tape = Tape("extra", (_bridge(rng, spot, rng.uniform(0.5, 3)),), clip=keep)
    return _fault(layout, with_tape(layout.card, tape))


@_kind("pieces-of-both-sides-combined")
def _combined_clean(rng: random.Random, layout: Layout) -> Fault | None:
    """Nothing to find: one path that holds a piece on plus and a piece on minus."""
    spot = _spot(rng, layout, roomy=True)
    if spot is None:
        return None
    other = replace(spot, down=-spot.down, near=spot.far, far=spot.near)
    length = spot.row.width + rng.uniform(1.0, 5.0)
    pieces = tuple(s.line(s.root, s.root + s.down * length) for s in (spot, other))
    return _fault(layout, with_tape(layout.card, Tape("extra", pieces)))


# -- branches and lights -------------------------------------------------------------------------


def _straight(rng: random.Random, layout: Layout, *, upright: bool = False) -> Branch | None:
    """A straight branch to a light that is not one of two in a row."""
    paired = {id_ for pair in layout.pairs for id_ in pair}
    found = [b for b in layout.branches if len(b.points) == 2 and b.light not in paired]
    if upright:
        found = [b for b in found if abs(_pad_reach(layout, b) - 1.5) < 1e-6]
    return rng.choice(found) if found else None


def _pad_reach(layout: Layout, branch: Branch) -> float:
    """Half the extent of the pad along the branch."""
    part = layout.card.part_of(branch.light)
    frame = layout.rows[branch.row].frame
    a = math.radians(part.angle) - math.atan2(frame[1], frame[0])
    return 1.5 * (abs(math.cos(a)) + abs(math.sin(a)))


def _redrawn(layout: Layout, branch: Branch, v0: float, v1: float) -> Line:
    frame = layout.rows[branch.row].frame
    x = branch.points[0][0]
    return Line((apply(frame, (x, v0)), apply(frame, (x, v1))), branch.width)


def _down(branch: Branch) -> float:
    return math.copysign(1.0, branch.points[-1][1] - branch.points[0][1])


def _unfed(layout: Layout, branch: Branch) -> Expect:
    part = layout.card.part_of(branch.light)
    return Expect("light-unfed", "stop", (part.place(branch.pad),), frozenset((branch.light,)))


def _cut_free(layout: Layout, branch: Branch, gap: float) -> float:
    """v where the branch has to begin to stay `gap` away from its rail."""
    row = layout.rows[branch.row]
    return -_down(branch) * (row.span / 2 - row.width / 2 - gap)


@_kind("open", "rungs")
def _open(rng: random.Random, layout: Layout) -> Fault | None:
    b = _straight(rng, layout)
    if b is None:
        return None
    line = _redrawn(layout, b, _cut_free(layout, b, rng.uniform(0.3, 3)), b.points[-1][1])
    return _fault(layout, with_tape(layout.card, Tape(b.id, (line,))), _unfed(layout, b))


@_kind("open-clip-path", "rungs")
def _open_clip(rng: random.Random, layout: Layout) -> Fault | None:
    b = _straight(rng, layout)
    if b is None:
        return None
    start = _cut_free(layout, b, rng.uniform(0.3, 3))
    x, end = b.points[0][0], b.points[-1][1] + _down(b)
    clip = moved(box(x - 6, start, x + 6, end), layout.rows[b.row].frame)
    assert isinstance(clip, Poly)
    tape = replace(layout.card.tape_of(b.id), clip=clip)
    return _fault(layout, with_tape(layout.card, tape), _unfed(layout, b))


@_kind("open-combined-pieces", "rungs")
def _open_combined(rng: random.Random, layout: Layout) -> Fault | None:
    """One path of two pieces with a slit between: it looks like one strip and is none."""
    b = _straight(rng, layout)
    if b is None:
        return None
    v0, v1, s = b.points[0][1], b.points[-1][1], _down(b)
    slit = rng.uniform(0.3, 1.5)
    cut = v1 - s * (4.6 + rng.uniform(0.0, 0.8))
    if s * (cut - slit * s - v0) < layout.rows[b.row].width + 1.0:
        return None
    pieces = (_redrawn(layout, b, v0, cut - s * slit), _redrawn(layout, b, cut, v1))
    return _fault(layout, with_tape(layout.card, Tape(b.id, pieces)), _unfed(layout, b))


@_kind("open-rail", "rails", "upright")
def _open_rail(rng: random.Random, layout: Layout) -> Fault | None:
    """A rail cut between its feeder and all its lights but one: these lights are dark."""
    row = layout.rows[0]
    rail = rng.choice(row.rails)
    part = [p for p in layout.card.lights if _on_row(layout, p.at, row)]
    if len(part) < 2 or not row.tight:
        return None
    us = sorted(_u_of(row, p.at) for p in part)
    left_fed = layout.polarity[rail] == layout.left
    cut = (us[0] + us[1]) / 2 if left_fed else (us[-1] + us[-2]) / 2
    dark = [p for p in part if (_u_of(row, p.at) > cut) == left_fed]
    v = -row.span / 2 if rail == row.rails[0] else row.span / 2
    length = _length(layout, row)
    ends = (-2.8, length - 7.0) if left_fed else (7.0, length + 2.8)
    lines = tuple(
        Line((apply(row.frame, (a, v)), apply(row.frame, (b, v))), row.width)
        for a, b in ((ends[0], cut - 1.0), (cut + 1.0, ends[1]))
    )
    pad = "positive-pad" if layout.polarity[rail] > 0 else "negative-pad"
    expects = [Expect("light-unfed", "stop", (p.place(pad),), frozenset((p.id,))) for p in dark]
    return _fault(layout, with_tape(layout.card, Tape(rail, lines)), *expects)


def _u_of(row: Row, p: Point) -> float:
    a, b, c, d, e, f = row.frame
    return (p[0] - e) * a + (p[1] - f) * b if (c, d) else 0.0


def _on_row(layout: Layout, p: Point, row: Row) -> bool:
    v = -(p[0] - row.frame[4]) * row.frame[1] + (p[1] - row.frame[5]) * row.frame[0]
    return abs(v) < row.span / 2


def _length(layout: Layout, row: Row) -> float:
    line = layout.card.tape_of("left-feeder").shapes[0]
    other = layout.card.tape_of("right-feeder").shapes[0]
    assert isinstance(line, Line)
    assert isinstance(other, Line)
    return other.points[0][0] - line.points[0][0]


@_kind("uncovered-pad", "rungs")
def _uncovered(rng: random.Random, layout: Layout) -> Fault | None:
    b = _straight(rng, layout)
    if b is None:
        return None
    s = _down(b)
    pad_v = b.points[-1][1] - s * 2.2
    end = pad_v - s * (_pad_reach(layout, b) + rng.uniform(0.3, 1.2))
    line = _redrawn(layout, b, b.points[0][1], end)
    return _fault(layout, with_tape(layout.card, Tape(b.id, (line,))), _unfed(layout, b))


@_kind("pad-barely-covered", "rungs")
def _barely(rng: random.Random, layout: Layout) -> Fault | None:
    b = _straight(rng, layout, upright=True)
    if b is None:
        return None
    s = _down(b)
    pad_v = b.points[-1][1] - s * 2.2
    line = _redrawn(layout, b, b.points[0][1], pad_v - s * (1.5 - rng.uniform(0.2, 1.2)))
    part = layout.card.part_of(b.light)
    at = (part.place(b.pad),)
    expect = Expect("pad-barely-covered", "stop", at, frozenset((b.light,)))
    return _fault(layout, with_tape(layout.card, Tape(b.id, (line,))), expect)


@_kind("reversed-light")
def _reversed(rng: random.Random, layout: Layout) -> Fault | None:
    part = _single_light(rng, layout)
    if part is None:
        return None
    turned = replace(part, angle=part.angle + 180.0)
    expect = Expect("light-reversed", "stop", (part.at,), frozenset((part.id,)))
    return _fault(layout, with_part(layout.card, turned), expect)


def _single_light(rng: random.Random, layout: Layout):  # type: ignore[no-untyped-def]
    paired = {id_ for pair in layout.pairs for id_ in pair}
    found = [p for p in layout.card.lights if p.id not in paired]
    return rng.choice(found) if found else None


@_kind("scaled-part")
def _scaled(rng: random.Random, layout: Layout) -> Fault | None:
    part = _single_light(rng, layout)
    if part is None:
        return None
    k = rng.choice((rng.uniform(1.03, 1.1), rng.uniform(0.92, 0.97)))
    return _resized(layout, replace(part, scale=k))


@_kind("mirrored-part")
def _mirrored(rng: random.Random, layout: Layout) -> Fault | None:
    part = _single_light(rng, layout)
    return None if part is None else _resized(layout, replace(part, mirrored=True))


def _resized(layout: Layout, part):  # type: ignore[no-untyped-def]
    expect = Expect("part-resized", "caution", (part.at,), frozenset((part.id,)))
    return _fault(layout, with_part(layout.card, part), expect)


# -- crossings, cell and flap --------------------------------------------------------------------


def _reaching(rng: random.Random, layout: Layout, side: int, reach: float) -> Card:
    """The card with a patch that reaches `reach` beyond the crossing on one side, else enough."""
    c = layout.crossing
    assert c is not None
    r = [rng.uniform(2.6, 4.0) for _ in range(4)]
    r[side] = reach
    (x, y), (hx, hy) = c.at, c.half
    shape = box(x - hx - r[0], y - hy - r[1], x + hx + r[2], y + hy + r[3])
    return with_tape(layout.card, Tape(c.patch, (shape,), patch=True))


def _at_side(layout: Layout, side: int, out: float, along: float = 0.0) -> Point:
    """A place `out` mm beyond the crossing's edge on a side, `along` mm from that side's middle."""
    c = layout.crossing
    assert c is not None
    (x, y), (hx, hy) = c.at, c.half
    sign = -1.0 if side < 2 else 1.0
    if side % 2 == 0:
        return (x + sign * (hx + out), y + along)
    return (x + along, y + sign * (hy + out))


def _crossing_names(layout: Layout) -> frozenset[str]:
    c = layout.crossing
    assert c is not None
    return frozenset((c.lower, c.upper))


@_kind("patch-too-small", "crossing")
def _small_patch(rng: random.Random, layout: Layout) -> Fault | None:
    side = rng.randrange(4)
    names = _crossing_names(layout)
    if rng.random() < 0.4:
        bare = rng.uniform(0.3, 1.5)
        card = _reaching(rng, layout, side, -bare)
        at = (_at_side(layout, side, -bare / 2),)
        return _fault(layout, card, Expect("polarities-touch", "stop", at, names), opened=(names,))
    g, severity = _gap_of(rng)
    at = tuple(_at_side(layout, side, g / 2, k * 2.5 / 4) for k in range(-4, 5))
    card = _reaching(rng, layout, side, g)
    return _fault(layout, card, Expect("gap-too-small", severity, at, names))


@_kind("patch-in-the-wrong-order", "crossing")
def _wrong_order(rng: random.Random, layout: Layout) -> Fault | None:
    c = layout.crossing
    assert c is not None
    names = _crossing_names(layout)
    rest = tuple(t for t in layout.card.tape if t.id != c.patch)
    own = layout.card.tape_of(c.patch)
    tape = (own, *rest) if rng.random() < 0.5 else (*rest, own)
    expect = Expect("polarities-touch", "stop", (c.at,), names)
    return _fault(layout, replace(layout.card, tape=tape), expect, opened=(names,))


@_kind("short-through-a-pad", "holder", "plain")
def _through_pad(rng: random.Random, layout: Layout) -> Fault | None:
    """Tape of the other side reaches under a foot of the holder, 2.4 mm from the right tape."""
    (xc, yc), bare = layout.cell_at, rng.uniform(0.3, 0.5)
    tail = next(
        t for t in layout.card.tape if t.id in ("left-tail", "left-feeder") and _ends_at(t, xc, yc)
    )
    line = tail.shapes[0]
    assert isinstance(line, Line)
    short = replace(line, points=(*line.points[:-1], (xc - 13.8, yc)))
    x = xc - 11.0 - bare + 2.5
    points = ((x, yc), (x, yc + 16.0), (xc + 14.0, yc + 16.0), (xc + 14.0, yc))
    extra = Tape("extra", (Line(points, 5.0),))
    pad = "positive-pad" if layout.left > 0 else "negative-pad"
    at = ((xc - 11.0 - bare / 2, yc + 1.5),)
    expect = Expect("polarities-touch", "stop", at, frozenset(("extra", "cell")))
    card = with_tape(layout.card, Tape(tail.id, (short,)), extra)
    return _fault(layout, card, expect, opened=(frozenset(("extra", f"cell.{pad}")),))


def _ends_at(tape: Tape, xc: float, yc: float) -> bool:
    line = tape.shapes[0]
    return isinstance(line, Line) and math.dist(line.points[-1], (xc - 11.4, yc)) < 0.1


@_kind("short-through-the-flap", "flap")
def _through_flap(rng: random.Random, layout: Layout) -> Fault | None:
    """The plus tape on the flap runs on: folded, it lies on the minus tape beside the cell."""
    xc, yc = layout.cell_at
    end = xc + rng.uniform(16.0, 20.0)
    line = layout.card.tape_of("left-feeder").shapes[0]
    assert isinstance(line, Line)
    longer = replace(line, points=(*line.points[:-1], (end, line.points[-1][1])))
    at = (((xc + 13.0 + end) / 2, yc),)
    names = frozenset(("left-feeder", "right-feeder"))
    card = with_tape(layout.card, Tape("left-feeder", (longer,)))
    return _fault(layout, card, Expect("folded-touch", "stop", at, names))
