"""Further single faults: evidence, several shorts, a light's own pad, joints, edges, a bare rim."""

from __future__ import annotations

import random
from dataclasses import replace

from kit.card import Tape, with_tape
from kit.shapes import Line, Point, apply, box

from .faults import (
    Expect,
    Fault,
    _bridge,
    _down,
    _fault,
    _kind,
    _redrawn,
    _short,
    _Spot,
    _spot,
    _straight,
)
from .layouts import Branch, Layout

WORDS = {1: "positive", -1: "negative"}


@_kind("touch-labelled", "no-resistor")
def _labelled(rng: random.Random, layout: Layout) -> Fault | None:
    """The extra strip overlaps both rails fully and is labelled as the far rail's side."""
    spot = _spot(rng, layout)
    assert spot is not None
    far = layout.polarity[spot.far]
    end = spot.down * (spot.row.span / 2 + spot.row.width / 2 - rng.uniform(0.0, 1.0))
    tape = Tape("extra", (spot.line(spot.root, end),), attrs=(("polarity", WORDS[far]),))
    at = spot.place(spot.root + spot.down * spot.row.width / 2)
    expect = Expect("polarities-touch", "stop", (at,), frozenset(("extra", spot.near)))
    opened = (frozenset(("extra", spot.near)),)
    return _fault(layout, with_tape(layout.card, tape), expect, opened=opened)


@_kind("two-touches", "no-resistor", "several")
def _two(rng: random.Random, layout: Layout) -> Fault | None:
    """Two separate shorts in two rows: two findings."""
    if len(layout.rows) < 2:
        return None
    rows = rng.sample(layout.rows, 2)
    tapes, expects, opened = [], [], []
    for k, row in enumerate(rows):
        spot = _spot(rng, replace(layout, rows=(row,)))
        assert spot is not None
        into = rng.uniform(0.3, 1.5)
        tapes.append(Tape(f"extra-{k}", (_bridge(rng, spot, into),)))
        at = spot.place(spot.shore + spot.down * into / 2)
        expects.append(_named(_short(spot, at), f"extra-{k}", spot))
        opened.append(frozenset((f"extra-{k}", spot.far)))
    return _fault(layout, with_tape(layout.card, *tapes), *expects, opened=tuple(opened))


def _named(expect: Expect, name: str, spot: _Spot) -> Expect:
    return replace(expect, objects=frozenset((name, spot.far)))


@_kind("short-through-a-light-pad", "rungs", "no-resistor")
def _light_pad(rng: random.Random, layout: Layout) -> Fault | None:
    """One branch runs on under the light as far as the other pad."""
    b = _straight(rng, layout, upright=True)
    if b is None:
        return None
    other = _partner(layout, b)
    if other is None:
        return None
    s, into = _down(b), rng.uniform(0.15, 0.25)
    pad_v = b.points[-1][1] - s * 2.2
    short = _redrawn(layout, b, b.points[0][1], pad_v + s * 0.05)
    long = _redrawn(layout, other, other.points[0][1], pad_v + s * (1.5 - into))
    frame = layout.rows[b.row].frame
    at = (apply(frame, (b.points[0][0], pad_v + s * (1.5 - into / 2))),)
    expect = Expect("polarities-touch", "stop", at, frozenset((b.light, other.id)))
    card = with_tape(layout.card, Tape(b.id, (short,)), Tape(other.id, (long,)))
    return _fault(layout, card, expect, opened=(frozenset((other.id, f"{b.light}.{b.pad}")),))


def _partner(layout: Layout, branch: Branch) -> Branch | None:
    """The straight branch to the other pad of the same light."""
    return next(
        (
            o
            for o in layout.branches
            if o.light == branch.light and o.pad != branch.pad and len(o.points) == 2
        ),
        None,
    )


@_kind("joint-too-small", "rungs")
def _joint(rng: random.Random, layout: Layout) -> Fault | None:
    """A branch reaches only a little way over its rail."""
    b = _straight(rng, layout)
    if b is None:
        return None
    row, s, into = layout.rows[b.row], _down(b), rng.uniform(0.3, 1.2)
    edge = -s * (row.span / 2 - row.width / 2)
    line = _redrawn(layout, b, edge - s * into, b.points[-1][1])
    at = (apply(row.frame, (b.points[0][0], edge - s * into / 2)),)
    expect = Expect("joint-too-small", "stop", at, frozenset((b.id, b.rail)))
    return _fault(layout, with_tape(layout.card, Tape(b.id, (line,))), expect)


@_kind("edge-too-near", "holder", "plain")
def _near_edge(rng: random.Random, layout: Layout) -> Fault | None:
    """A feeder runs on towards the upper edge of the base."""
    return _long_feeder(rng, layout, rng.uniform(0.3, 2.7), "edge-too-near", "caution")


@_kind("off-base", "holder", "plain")
def _off_base(rng: random.Random, layout: Layout) -> Fault | None:
    return _long_feeder(rng, layout, rng.uniform(-2.5, -0.6), "off-base", "stop")


def _long_feeder(
    rng: random.Random, layout: Layout, left: float, rule: str, severity: str
) -> Fault | None:
    id_ = rng.choice(("left-feeder", "right-feeder"))
    line = layout.card.tape_of(id_).shapes[0]
    assert isinstance(line, Line)
    x = line.points[0][0]
    top: Point = (x, 3.5 + left)
    longer = replace(line, points=(top, *line.points[1:]))
    at = tuple((x + du * 2.5 / 4, 3.5 + min(left / 2, 0.0)) for du in range(-4, 5))
    at += tuple((x + du * 2.5 / 4, 3.5 + left / 2) for du in range(-4, 5))
    expect = Expect(rule, severity, at, frozenset((id_,)))
    return _fault(layout, with_tape(layout.card, Tape(id_, (longer,))), expect)


@_kind("bare-rim", "flap")
def _rim(rng: random.Random, layout: Layout) -> Fault | None:
    """The patch over the minus tape at the rim of a bare cell is missing or too short."""
    (xc, yc), card = layout.cell_at, layout.card
    if rng.random() < 0.5:
        card = replace(card, tape=tuple(t for t in card.tape if t.id != "rim-patch"))
        bare = (8.0, 11.0)
    else:
        end = rng.uniform(8.5, 10.0)
        shape = box(xc + 5.0, yc - 4.0, xc + end, yc + 4.0)
        card = with_tape(card, Tape("rim-patch", (shape,), patch=True))
        bare = (end, 11.0)
    at = tuple(
        (xc + bare[0] + (bare[1] - bare[0]) * k / 4, yc + 2.5 * m / 2)
        for k in range(5)
        for m in range(-2, 3)
    )
    expect = Expect("cell-rim-touch", "stop", at, frozenset(("right-feeder", "cell")))
    return _fault(layout, card, expect)
