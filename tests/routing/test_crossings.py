"""Crossings over paper: only where there is no other way, as few as can be, and they hold."""

from __future__ import annotations

import dataclasses
from random import Random

import pytest
from shapely.geometry import LineString, Polygon, box

from kit.run import validate_text
from underlit.routing import Choices, Layout, Pinned, Refusal, Task, route

from .boards import BARE, drawing, holder, light, random_board
from .test_layouts import OF_TAPE
from .verifier import faults

ONE = Choices(effort=1)
OVER = Choices(effort=1, patches=True)


def pin(name: str, points, sign: str, **more: object) -> Pinned:
    line = LineString(points)
    return Pinned(name, line.buffer(2.5, cap_style="flat"), 5.0, line, sign, **more)  # type: ignore[arg-type]


def fenced(sign: str, turn: str = "free", choices: Choices = OVER) -> Task:
    """A row of lights behind a strip of the maker from edge to edge."""
    lights = tuple(light(f"L{i + 1}", (75.0 + 25.0 * i, 40.0), 0.0, turn) for i in range(3))
    wall = pin("mine", [(52, 3), (52, 77)], sign)
    cell = holder((28.0, 40.0), 90.0)
    return Task(box(0, 0, 150, 80), lights, (cell,), pinned=(wall,), limits=BARE, choices=choices)


def tape_faults(task: Task, layout: Layout) -> list[str]:
    report = validate_text(drawing(task, layout))
    pins = {p.id for p in task.pinned}  # that the maker's own strip is not needed is hers to know
    found = [f for f in report["findings"] if f["rule"] in OF_TAPE]
    return [
        f["rule"] + ": " + f["message"]
        for f in found
        if not (f["rule"] == "strip-spare" and set(f["objects"]) <= pins)
    ]


@pytest.mark.parametrize("sign", ["positive", "negative"])
@pytest.mark.parametrize("turn", ["free", "locked"])
def test_one_crossing_opens_a_fence(sign: str, turn: str) -> None:
    refused = route(fenced(sign, turn, ONE))
    assert isinstance(refused, Refusal)
    task = fenced(sign, turn)
    layout = route(task)
    assert isinstance(layout, Layout)
    assert len(layout.patches) == 1
    assert faults(task, layout) == []
    assert tape_faults(task, layout) == []


def test_paper_reaches_the_margin_on_every_side() -> None:
    task = fenced("negative")
    task = dataclasses.replace(task, limits=dataclasses.replace(task.limits, patch=3.5))
    layout = route(task)
    assert isinstance(layout, Layout)
    paper = Polygon(layout.patches[0].corners)
    crossed = [LineString(s.points) for s in layout.strips if s.polarity == "positive"]
    crossed = [line for line in crossed if line.crosses(task.pinned[0].line)]
    at = crossed[0].intersection(task.pinned[0].line)
    assert paper.contains(at.buffer(2.5 + 3.5))
    assert not paper.contains(at.buffer(2.5 + 3.6))


def test_no_paper_where_there_is_a_way() -> None:
    for seed in range(2):
        task = random_board(4, seed, choices=OVER)
        assert task is not None
        layout = route(task)
        assert isinstance(layout, Layout)
        assert layout.patches == ()


def test_paper_that_is_there_is_a_bridge() -> None:
    """The maker's own patch over her strip: tape crosses there, and no other paper is laid."""
    paper = box(46.0, 20.0, 58.0, 32.0)
    task = fenced("positive", choices=ONE)
    task = dataclasses.replace(task, pinned=(dataclasses.replace(task.pinned[0], paper=paper),))
    layout = route(task)
    assert isinstance(layout, Layout)
    assert layout.patches == ()
    assert faults(task, layout) == []
    assert tape_faults(task, layout) == []
    over = [LineString(s.points).intersection(task.pinned[0].line) for s in layout.strips]
    assert any(not spot.is_empty and paper.contains(spot) for spot in over)


def test_two_fences_need_two_crossings() -> None:
    task = fenced("positive")
    more = pin("other", [(100, 3), (100, 77)], "positive")
    lights = tuple(light(f"L{i + 1}", (76.0 + 50.0 * i, 40.0)) for i in range(2))
    task = dataclasses.replace(task, lights=lights, pinned=(*task.pinned, more))
    layout = route(task)
    assert isinstance(layout, Layout)
    assert len(layout.patches) == 2
    assert faults(task, layout) == []
    assert tape_faults(task, layout) == []


@pytest.mark.parametrize("seed", range(4))
def test_strewn_lights_behind_fences(seed: int) -> None:
    """Fences askew, lights strewn to both sides of them."""
    random = Random(f"fence-{seed}")
    top, foot = random.uniform(45, 85), random.uniform(45, 85)
    sign = random.choice(["positive", "negative"])
    line = [(top, 4.5), (foot, 115.5)]
    wall = pin("mine", line, sign)
    cell = holder((22.0, random.uniform(25, 95)), 90.0)
    lights: list[tuple[float, float]] = []
    while len(lights) < 5:
        p = (random.uniform(14, 146), random.uniform(14, 106))
        spot = box(p[0] - 9, p[1] - 9, p[0] + 9, p[1] + 9)
        near = wall.area.distance(spot) < 5 or spot.distance(cell.body) < 12
        if not near and all(abs(p[0] - q[0]) + abs(p[1] - q[1]) > 26 for q in lights):
            lights.append(p)
    made = tuple(light(f"L{i + 1}", p) for i, p in enumerate(lights))
    task = Task(box(0, 0, 160, 120), made, (cell,), pinned=(wall,), limits=BARE, choices=OVER)
    layout = route(task)
    assert isinstance(layout, Layout)
    behind = [p for p in lights if p[0] > top + (foot - top) * p[1] / 120.0]
    assert len(layout.patches) == bool(behind)
    assert faults(task, layout) == []
    assert tape_faults(task, layout) == []
