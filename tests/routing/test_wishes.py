"""Pinned strips, sketches, rails, tape that does not conduct, parts in line, bad input."""

from __future__ import annotations

import dataclasses
import math

import pytest
from shapely.affinity import translate
from shapely.geometry import LineString, box

from underlit.routing import (
    Choices,
    Layout,
    Obstacle,
    OwnOpening,
    Pinned,
    Refusal,
    Task,
    TwoPad,
    layouts,
    route,
)
from underlit.routing.nets import nets_of

from .boards import BARE, holder, light, random_board
from .test_layouts import tape_findings
from .verifier import area_of, faults

ONE = Choices(effort=1)


def row(n: int = 4, turn: str = "free", **more: object) -> Task:
    """Lights in a row to the right of the cell."""
    lights = tuple(light(f"L{i + 1}", (60.0 + 25.0 * i, 40.0), 0.0, turn) for i in range(n))
    base = box(0, 0, 80.0 + 25.0 * n, 80.0)
    return Task(base, lights, (holder((28.0, 40.0), 90.0),), choices=ONE, **more)  # type: ignore[arg-type]


def layout_of(task: Task) -> Layout:
    found = route(task)
    assert isinstance(found, Layout)
    assert faults(task, found) == []
    return found


def test_pinned_strip_is_kept_and_completed() -> None:
    whole = layout_of(row())
    first = whole.strips[0]
    line = LineString(first.points[: max(2, len(first.points) // 2)])
    pin = Pinned("mine", line.buffer(2.5, cap_style="flat"), 5.0, line, first.polarity)
    lights = tuple(dataclasses.replace(li, angle=whole.angles[li.id]) for li in row().lights)
    task = dataclasses.replace(row(), lights=lights, pinned=(pin,))
    completed = layout_of(task)
    laid = sum(area_of(s).intersection(pin.area).area for s in completed.strips)
    assert completed.figures.length < whole.figures.length
    assert laid < 0.35 * pin.area.area


def test_pinned_strip_of_the_other_side_is_an_obstacle() -> None:
    line = LineString([(20, 15), (150, 15)])
    pin = Pinned("mine", line.buffer(2.5), 5.0, line, "negative")
    layout_of(dataclasses.replace(row(), pinned=(pin,)))


def test_sketch_is_followed() -> None:
    sketch = LineString([(30, 56), (55, 55), (110, 55), (135, 52)])
    plain = layout_of(row())
    drawn = layout_of(dataclasses.replace(row(), sketches=(sketch,)))

    def followed(layout: Layout) -> float:
        lines = [LineString(s.points).buffer(3.0) for s in layout.strips]
        return max(sketch.intersection(a).length for a in lines) / sketch.length

    assert followed(plain) < 0.3
    assert followed(drawn) > 0.6


def test_rails_turn_all_lights_alike() -> None:
    task = dataclasses.replace(row(), choices=Choices(effort=1, style="rails"))
    layout = layout_of(task)
    assert len(layout.strips) == 2
    assert len(set(layout.angles.values())) == 1
    assert max(layout.figures.joints.values()) == 0


def test_tape_that_does_not_conduct_has_no_plain_joint() -> None:
    for seed in (1, 2):
        task = random_board(5, seed, choices=Choices(effort=1, conducts=False))
        assert task is not None
        layout = layout_of(task)
        firsts = {
            p: next(i for i, s in enumerate(layout.strips) if s.polarity == p)
            for p in ("positive", "negative")
        }
        for i, strip in enumerate(layout.strips):
            assert i in firsts.values() or strip.joint == "folded-end"


@pytest.mark.parametrize("count", [1, 2])
def test_switches_in_line(count: int) -> None:
    base = box(0, 0, 170, 110)
    lights = tuple(light(f"L{i + 1}", (70.0 + 28.0 * i, 70.0)) for i in range(3))
    parts = []
    for k in range(count):
        at = (60.0 + 35.0 * k, 25.0)
        pads = [translate(box(-1.5, -1.5, 1.5, 1.5), at[0] + s * 6, at[1]) for s in (-1, 1)]
        parts.append(TwoPad(f"S{k + 1}", pads[0], pads[1], translate(box(-4, -2, 4, 2), *at)))
    task = Task(
        base, lights, (holder((28.0, 55.0), 90.0),), parts=tuple(parts), limits=BARE, choices=ONE
    )
    layout = layout_of(task)
    assert tape_findings(task, layout) == []


def test_a_switch_is_entered_on_the_side_from_which_its_way_is_shorter_in_all() -> None:
    """The far contact of the second switch is the nearer one to the first, but leads back."""

    def switch(name: str, x: float, y: float) -> TwoPad:
        left, right = box(x - 7, y - 2, x - 3, y + 2), box(x + 3, y - 2, x + 7, y + 2)
        return TwoPad(name, left, right, box(x - 5, y - 3, x + 5, y + 3))

    places = ((110.0, 30.0), (120.0, 60.0), (110.0, 90.0))
    lights = tuple(light(f"L{i + 1}", at) for i, at in enumerate(places))
    parts = (switch("S1", 60.0, 80.0), switch("S2", 60.0, 30.0))
    cells = (holder((28.0, 55.0), 90.0),)
    task = Task(box(0, 0, 150, 110), lights, cells, parts=parts, limits=BARE, choices=ONE)
    ways = [net.pads for net in nets_of(task)]
    assert ("part", 1, "first") in ways[1]
    assert ("part", 1, "second") in ways[2]
    layout = layout_of(task)
    assert tape_findings(task, layout) == []


def test_light_under_each_opening() -> None:
    task = row(3)
    openings = tuple(
        OwnOpening(f"O{i}", translate(box(-8, -7, 8, 7), *li.at), 0.5)
        for i, li in enumerate(task.lights)
    )
    task = dataclasses.replace(task, openings=openings)
    layout = layout_of(task)
    assert tape_findings(task, layout) == []


def corridor(width: float) -> Task:
    keep = (
        Obstacle("window 1", box(65, 2, 85, 60 - width / 2), 1.0),
        Obstacle("window 2", box(65, 60 + width / 2, 85, 118), 1.0),
    )
    lights = (light("L1", (105.0, 60.0)), light("L2", (130.0, 60.0)))
    cell = holder((30.0, 60.0), 90.0, radius=8.0)
    return Task(box(0, 0, 150, 120), lights, (cell,), keep, limits=BARE, choices=ONE)


@pytest.mark.parametrize("width", [14.5, 15.0, 18.0])
def test_both_sides_pass_a_corridor(width: float) -> None:
    first = next(iter(layouts(corridor(width))))
    assert isinstance(first, Layout)
    assert faults(corridor(width), first) == []


@pytest.mark.parametrize("width", [11.0])
def test_neck_is_named_with_what_it_needs(width: float) -> None:
    refusal = route(corridor(width))
    assert isinstance(refusal, Refusal)
    neck = refusal.pads[0]
    assert set(neck.between) == {"window 1", "window 2"}
    assert neck.available == pytest.approx(width, abs=0.05)
    assert 14.0 <= neck.needed <= 14.9  # two strips of 5, a gap of 2, 1 mm to each window
    assert 1 <= len(neck.cures) <= 3
    assert neck.cures[0].kind == "wider"
    assert neck.cures[0].amount == pytest.approx(neck.needed - neck.available, abs=2e-3)
    missing = neck.needed - neck.available
    assert isinstance(next(iter(layouts(corridor(width + missing + 0.02)))), Layout)
    assert isinstance(next(iter(layouts(corridor(width + missing / 2)))), Refusal)


def test_bad_input_is_refused_with_a_reason() -> None:
    good = row(2)
    for bad in (
        dataclasses.replace(good, cells=()),
        dataclasses.replace(good, lights=()),
        dataclasses.replace(good, lights=(light("L1", (500.0, 40.0)),)),
    ):
        refusal = route(bad)
        assert isinstance(refusal, Refusal)
        assert len(refusal.reasons) == 1
    across = [
        Pinned(sign, LineString(p).buffer(2.5), 5.0, LineString(p), sign)
        for sign, p in (("positive", [(20, 10), (100, 10)]), ("negative", [(60, 5), (60, 30)]))
    ]
    refusal = route(dataclasses.replace(good, pinned=tuple(across)))
    assert isinstance(refusal, Refusal)
    (reason,) = refusal.reasons
    assert reason.kind == "pins-touch"
    assert reason.about == ("positive", "negative")
    assert reason.at == pytest.approx((60.0, 10.0), abs=0.01)


def test_clock_only_cuts_off() -> None:
    task = random_board(8, 1, choices=Choices(effort=3, seconds=1.0))
    assert task is not None
    ticks = iter(range(10**6))
    found = list(layouts(task, lambda: float(next(ticks))))
    assert isinstance(found[-1], Layout)
    assert found[-1].ended
    assert math.isfinite(found[-1].cost)
    assert faults(task, found[-1]) == []
