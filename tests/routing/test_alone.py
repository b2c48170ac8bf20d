"""Pads that no tape can reach whatever is laid: told at once, and never of a pad that has a way."""

from __future__ import annotations

import dataclasses
from random import Random

import pytest
from shapely.geometry import LineString, box

from underlit.routing import Obstacle, Pinned, Refusal, Task, layouts
from underlit.routing.alone import out_of_reach
from underlit.routing.board import Board
from underlit.routing.levels import rooms

from .test_wishes import row

#: Round the second light of a row, 16 mm from its middle all round.
FENCE = box(69, 24, 101, 56).exterior.buffer(1.0)


def least(task: Task) -> Board:
    return Board(task, rooms(task)[-1])


def fenced(area: object = FENCE, **more: object) -> Task:
    return dataclasses.replace(row(3), obstacles=(Obstacle("lace", area, 1.0),), **more)  # type: ignore[arg-type]


def test_feet_behind_a_fence() -> None:
    assert out_of_reach(least(fenced())) == [("light", 1, "positive"), ("light", 1, "negative")]


def test_a_gate_wide_enough_for_one_strip() -> None:
    gate = FENCE.difference(box(95, 36.2, 110, 43.8))
    assert out_of_reach(least(fenced(gate))) == []
    narrow = FENCE.difference(box(95, 36.6, 110, 43.4))
    assert len(out_of_reach(least(fenced(narrow)))) == 2


def test_a_strip_of_her_own_leads_through() -> None:
    strip = LineString([(60, 44), (80, 44)])
    pin = Pinned("mine", strip.buffer(2.5, cap_style="flat"), 5.0, strip, "positive")
    assert out_of_reach(least(fenced(pinned=(pin,)))) == [("light", 1, "negative")]


def test_a_wall_between_the_battery_and_all_lights() -> None:
    """The feet are told, with the neck on their way; not the battery."""
    wall = LineString([(45, 3.5), (45, 73)])
    pin = Pinned("wall", wall.buffer(2.5, cap_style="flat"), 5.0, wall, "positive")
    task = dataclasses.replace(row(3), pinned=(pin,))
    assert out_of_reach(least(task)) == [("light", i, "negative") for i in range(3)]
    (refusal,) = layouts(task)
    assert isinstance(refusal, Refusal)
    assert {frozenset(pad.between or ()) for pad in refusal.pads} == {
        frozenset({"wall", "the edge"})
    }


def test_a_light_that_may_turn_out_of_the_way() -> None:
    """Its feet lie under an obstacle as it is, not once it is turned."""
    blocks = Obstacle("snow", box(75, 39, 95, 41), 1.0)
    task = dataclasses.replace(row(2), obstacles=(blocks,))
    assert out_of_reach(least(task)) == []
    locked = tuple(dataclasses.replace(one, turn="locked") for one in task.lights)
    assert len(out_of_reach(least(dataclasses.replace(task, lights=locked)))) == 2


def test_nothing_is_laid_on_trial_first(monkeypatch: pytest.MonkeyPatch) -> None:
    def never(*_: object) -> None:
        raise AssertionError("a layout was looked for")

    monkeypatch.setattr("underlit.routing.solve.first_board", never)
    (refusal,) = layouts(fenced())
    assert isinstance(refusal, Refusal)
    assert {pad.light for pad in refusal.pads} == {"L2"}


@pytest.mark.parametrize("seed", range(12))
def test_no_card_that_can_be_laid_is_turned_down(seed: int) -> None:
    """Gates of 5 to 10 mm at any place of the fence; what is said at once, trying bears out."""
    random = Random(seed)
    middle, wide = random.uniform(32, 48), random.uniform(5.0, 10.0)
    gate = box(95, middle - wide / 2, 110, middle + wide / 2)
    task = fenced(FENCE.difference(gate), choices=dataclasses.replace(row(3).choices, effort=1))
    shut = bool(out_of_reach(least(task)))
    assert shut == (wide < 7.0) or 7.0 <= wide < 7.6
    if shut:
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr("underlit.routing.solve.out_of_reach", lambda board: [])
            patch.setattr("underlit.routing.solve.explain", lambda *args: ())
            assert isinstance(next(iter(layouts(task))), Refusal)
