"""Cards on which no tape can be laid: one finding each, at its place, and nothing is changed."""

from __future__ import annotations

import dataclasses
import re
import time

import pytest
from lxml import etree
from shapely.affinity import translate
from shapely.geometry import LineString, box

from kit.legends import words
from underlit.markup.primitives import Path
from underlit.profiles import load_profile
from underlit.routing import NoRoom, Obstacle, Pinned, Refusal, Task, TwoPad, layouts
from underlit.routing.board import Board
from underlit.routing.explain import explain
from underlit.routing.nets import Key
from underlit.routing.probing import probe
from underlit.rules import no_room
from underlit.workflows.board import Wish
from underlit.workflows.route import Routed, lay_tape
from underlit.workflows.validate import case_of
from underlit_host.read_drawing import read_drawing

from .boards import drawing, light, unlaid
from .test_wishes import corridor, row

PROFILE = load_profile("hand-laid", {}, None)


def lay(text: str, **wish: object) -> Routed:
    """Lay the tape of a drawing given as SVG, in this process."""
    root = etree.fromstring(text.encode())
    wishes = Wish(effort=1, **wish)  # type: ignore[arg-type]
    return lay_tape(read_drawing(root, "card.svg"), PROFILE, wishes, False, time.monotonic)


def told(outcome: Routed) -> dict:
    """The one finding of a card on which nothing was laid."""
    assert not outcome.laid
    assert outcome.strips == outcome.patches == ()
    assert outcome.turns == {}
    (finding,) = outcome.report["findings"]
    assert finding["severity"] == "stop"
    return finding


def pin(name: str, points: list[tuple[float, float]], sign: str) -> Pinned:
    return Pinned(name, LineString(points).buffer(2.5), 5.0, None, sign)


def written(task: Task) -> str:
    return drawing(task, unlaid(task))


def test_pinned_strips_that_short() -> None:
    short = (pin("a", [(20, 10), (100, 10)], "positive"), pin("b", [(60, 8), (60, 25)], "negative"))
    finding = told(lay(written(dataclasses.replace(row(2), pinned=short))))
    assert finding["rule"] == "polarities-touch"
    assert finding["at"] == pytest.approx([60.0, 10.0], abs=0.1)


def test_a_light_off_the_sheet() -> None:
    task = row(2)
    off = dataclasses.replace(task, lights=(light("L1", (300.0, 40.0)), task.lights[1]))
    finding = told(lay(written(off)))
    assert (finding["rule"], finding["objects"], finding["at"]) == ("no-room", ["L1"], [300, 40])
    assert finding["message"] == "Light 1 does not lie on the back sheet."


def test_a_light_without_feet() -> None:
    text = re.sub(
        r'<path underlit:feature="(positive|negative)-pad"[^>]*/>', "", written(row(2)), count=2
    )
    finding = told(lay(text))
    assert (finding["rule"], finding["objects"]) == ("part-incomplete", ["L1"])


def test_feet_closer_than_tape_and_gap_allow() -> None:
    task = row(2)
    close = dataclasses.replace(
        task.lights[0], positive=box(0.2, -1.5, 3.2, 1.5), negative=box(-3.2, -1.5, -0.2, 1.5)
    )
    finding = told(lay(written(dataclasses.replace(task, lights=(close, task.lights[1])))))
    assert "0.4 mm apart" in finding["message"]
    assert finding["at"] == [60, 40]


def test_no_battery() -> None:
    text = re.sub(r'<g id="B1".*?</g>', "", written(row(2)))
    assert told(lay(text))["rule"] == "power-missing"


def test_a_switch_that_no_tape_can_reach() -> None:
    """Told of the switch and its feet, not of a light that has the same number."""
    at = (105.0, 15.0)
    feet = [translate(box(s - 1.5, -1.5, s + 1.5, 1.5), *at) for s in (-5.5, 5.5)]
    switch = TwoPad("S1", feet[0], feet[1], translate(box(-4, -2, 4, 2), *at))
    lace = Obstacle("lace", translate(box(-16, -10, 16, 10), *at).exterior.buffer(1.0), 1.0)
    outcome = lay(written(dataclasses.replace(row(2), parts=(switch,), obstacles=(lace,))))
    assert not outcome.laid
    found = outcome.report["findings"]
    assert {tuple(f["objects"]) for f in found} == {("S1",)}
    words = [f["message"] for f in found]
    assert any("first foot of the switch" in one for one in words), words
    assert any("second foot of the switch" in one for one in words), words


def test_a_neck_in_words() -> None:
    outcome = lay(written(corridor(11.0)), seconds=600.0)
    assert not outcome.laid
    first = outcome.report["findings"][0]
    assert re.fullmatch(
        r"No way for the tape to the (plus|minus) foot of light \d: between window \d and window "
        r"\d it needs 14\.\d mm and has 11\.",
        first["message"],
    )
    assert re.match(
        r"Make the passage between window \d and window \d 3\.\d mm wider\.", first["remedy"]
    )
    assert "Take tape of 3 mm." in first["remedy"]
    assert first["at"][1] == pytest.approx(60.0, abs=0.1)
    assert all(f["at"] is not None for f in outcome.report["findings"])
    neck = outcome.report["routing"]["no_room"][0]
    assert neck["available"] == pytest.approx(11.0, abs=0.01)
    assert neck["needed"] - neck["available"] == pytest.approx(3.6, abs=0.6)
    check_drawn(outcome, neck)


def check_drawn(outcome: Routed, neck: dict) -> None:
    """The line across the neck, its figures, and a ring round every foot behind it."""
    (top, bottom) = sorted(neck["across"], key=lambda end: end[1])
    assert (top[1], bottom[1]) == pytest.approx((54.5, 65.5), abs=0.01)
    assert top[0] == pytest.approx(bottom[0], abs=0.01)
    groups = {group.name: group for group in outcome.sheet.groups}
    (drawn,) = (group for name, group in groups.items() if name.startswith("narrow"))
    assert re.fullmatch(r"needs 14\.\d mm has 11 mm", " ".join(words(drawn)))
    lines = [sorted(i.points, key=lambda p: p[1]) for i in drawn.items if isinstance(i, Path)]
    assert any(line == [pytest.approx(top), pytest.approx(bottom)] for line in lines)
    for number, finding in enumerate(outcome.report["findings"], 1):
        assert f"foot-{number}" in groups
        assert finding["at"] == pytest.approx([(top[0] + bottom[0]) / 2, 60.0], abs=0.1)


def test_what_is_told_of_places_between_things() -> None:
    case = case_of(read_drawing(etree.fromstring(written(row(1)).encode()), "c.svg"), PROFILE)
    told = no_room.finding(
        case, "L1", "negative", (1.0, 2.0), ("window 1", "window 1"), 14.5, 12.7, ()
    )
    assert told.message == (
        "No way for the tape to the minus foot of light 1: beside window 1 a passage needs "
        "14.5 mm and has 12.7."
    )
    tight = no_room.finding(case, "L1", "negative", (1.0, 2.0), ("window 1", "a"), 9.0, 9.2, ())
    assert tight.message == (
        "No way for the tape to the minus foot of light 1: it is tight between window 1 and a."
    )
    hair = no_room.finding(case, "L1", "negative", (1.0, 2.0), ("window 1", "a"), 5.03, 5.0, ())
    assert hair.message.endswith("it needs 5.1 mm and has 5.")
    assert no_room.wider(("window 1", "window 1"), 1.8) == (
        "Make the passage beside window 1 1.8 mm wider."
    )


def test_a_locked_light_that_faces_a_wall_is_to_turn_or_to_move() -> None:
    """The plus foot lies half under a window; turned half round, or moved, tape can land."""
    task = row(1, "locked")
    wall = Obstacle("window 1", translate(box(4.5, -25, 9, 25), *task.lights[0].at), 1.0)
    task = dataclasses.replace(task, obstacles=(wall,))
    refusal = next(iter(layouts(task)))
    assert isinstance(refusal, Refusal)
    (pad,) = refusal.pads
    assert isinstance(pad, NoRoom)
    assert (pad.light, pad.pad) == ("L1", "positive")
    assert set(pad.between) == {"L1", "window 1"}
    kinds = {cure.kind for cure in pad.cures}
    assert {"turn", "move"} <= kinds
    move = next(cure for cure in pad.cures if cure.kind == "move")
    assert move.way[0] < -1.0
    x, y = task.lights[0].at
    there = dataclasses.replace(task.lights[0], at=(x + move.way[0], y + move.way[1]))
    opened = next(iter(layouts(dataclasses.replace(task, lights=(there,)))))
    assert not isinstance(opened, Refusal)


@pytest.mark.parametrize("tries", [7, 8])
def test_nothing_more_is_tried_out_once_the_time_is_over(tries: int) -> None:
    """Every pad that was cut off is told all the same."""
    task = corridor(12.0)
    lights = tuple(dataclasses.replace(li, turn="45") for li in task.lights)
    task = dataclasses.replace(task, lights=lights)
    keys: list[Key] = [("light", 0, "positive"), ("light", 0, "negative")]
    tried: list[Task] = []

    def lay(task: Task, negotiating: bool = True) -> Board | None:
        tried.append(task)
        return probe(task, negotiating)

    explain(task, keys, lay, lambda: False)
    assert len(tried) > 11
    tried.clear()
    found = explain(task, keys, lay, lambda: len(tried) >= tries)
    assert [pad.pad for pad in found] == ["positive", "negative"]
    assert all(pad.between for pad in found)
    assert len(tried) == tries
