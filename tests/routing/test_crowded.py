"""Lights that stand near each other: laid where there is room, refused at once where feet clash."""

from __future__ import annotations

import pytest
from shapely.geometry import box

from underlit.routing import Choices, Layout, Refusal, Task, layouts
from underlit.routing.precheck import reasons

from .boards import BARE, holder, light
from .test_no_way import lay, told, written
from .verifier import faults


def pair(apart: tuple[float, float], angles: tuple[float, float], turns: tuple[str, str]) -> Task:
    """Two lights, the second so far from the first (mm), on an open sheet."""
    there = (80.0 + apart[0], 45.0 + apart[1])
    lights = (
        light("L1", (80.0, 45.0), angles[0], turns[0]),
        light("L2", there, angles[1], turns[1]),
    )
    return Task(
        box(0, 0, 140, 90),
        lights,
        (holder((30.0, 45.0), 90.0),),
        limits=BARE,
        choices=Choices(effort=1),
    )


LOCKED = ("locked", "locked")


@pytest.mark.parametrize(
    ("apart", "angles"),
    [((13.5, 0.0), (0.0, 0.0)), ((14.0, 0.0), (0.0, 0.0)), ((0.0, 11.0), (0.0, 180.0))],
    ids=["feet 2.5 mm apart", "feet 3 mm apart", "one over the other, turned against it"],
)
def test_locked_lights_with_little_room_between_are_reached(
    apart: tuple[float, float], angles: tuple[float, float]
) -> None:
    task = pair(apart, angles, LOCKED)
    layout = next(iter(layouts(task)))
    assert isinstance(layout, Layout)
    assert faults(task, layout) == []


def test_a_plus_and_a_minus_foot_of_two_locked_lights_too_near() -> None:
    task = pair((11.6, 0.0), (0.0, 0.0), LOCKED)
    (reason,) = reasons(task)
    assert (reason.kind, reason.about) == ("lights-too-close", ("L1", "L2"))
    assert (reason.have, reason.needed) == (pytest.approx(0.6), 1.0)
    assert sorted(x for x, _ in reason.ends) == pytest.approx([85.5, 86.1])
    assert isinstance(next(iter(layouts(task))), Refusal)


@pytest.mark.parametrize(
    ("apart", "angles", "turns"),
    [
        ((12.01, 0.0), (0.0, 0.0), LOCKED),
        ((11.6, 0.0), (0.0, 180.0), LOCKED),
        ((0.0, 5.2), (0.0, 0.0), LOCKED),
        ((11.6, 0.0), (0.0, 0.0), ("free", "locked")),
        ((11.6, 0.0), (0.0, 0.0), ("45", "45")),
    ],
    ids=["as far as they may", "plus to plus", "side by side", "one turns", "both by eighths"],
)
def test_no_false_alarm(
    apart: tuple[float, float], angles: tuple[float, float], turns: tuple[str, str]
) -> None:
    assert reasons(pair(apart, angles, turns)) == ()


def test_it_is_told_in_one_finding_with_its_place_drawn() -> None:
    outcome = lay(written(pair((11.6, 0.0), (0.0, 0.0), LOCKED)), turn="locked")
    finding = told(outcome)
    assert finding["rule"] == "no-room"
    assert finding["message"] == (
        "A plus foot and a minus foot of light 1 and light 2 are 0.6 mm apart; they need 1 mm."
    )
    assert finding["remedy"] == "Move one of them by 0.4 mm, or let it turn."
    assert finding["objects"] == ["L1", "L2"]
    assert any(group.name == "narrow-1" for group in outcome.sheet.groups)


def test_moved_as_told_they_are_no_longer_too_near() -> None:
    assert reasons(pair((12.0, 0.0), (0.0, 0.0), LOCKED)) == ()
