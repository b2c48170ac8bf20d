"""Flap batteries: tape on the flap and where it lands, judged by Validate with the flap folded."""

from __future__ import annotations

import dataclasses
import time
from pathlib import Path

import pytest
import shapely
from lxml import etree

from underlit.connectivity.folding import flaps_of
from underlit.model.case import Case
from underlit.model.drawing import Drawing
from underlit.profiles import load_profile
from underlit.routing import route
from underlit.workflows import route as action
from underlit.workflows.board import Wish
from underlit.workflows.flaps import flap_pad, landing_obstacles
from underlit.workflows.laying import with_tape
from underlit.workflows.validate import case_of
from underlit_host.read_drawing import read_drawing

CARD = Path(__file__).parents[2] / "sample_svgs" / "faulty" / "folded-touch.svg"


@pytest.fixture(scope="module")
def card() -> tuple[Drawing, Case, Case]:
    """The card of `folded-touch`: without its strips; read so; read with them."""
    drawing = read_drawing(etree.parse(str(CARD)).getroot(), "card")
    profile = load_profile("hand-laid", {}, None)
    laid = case_of(drawing, profile)
    bare = with_tape(drawing, (), {}, frozenset(s.object for s in laid.card.strips))
    return bare, case_of(bare, profile), laid


def test_the_other_side_keeps_off_flap_and_landing(card) -> None:
    _, _, laid = card
    (flap,) = flaps_of(laid.card)
    own, other = landing_obstacles(laid)
    assert (own.polarity, other.polarity) == ("positive", "negative")
    assert flap_pad(flap) == "positive-pad"
    assert other.area.covers(flap.moving.buffer(-0.01))
    strips = [s.geometry for s in laid.card.strips if s.polarity == "positive"]
    on_flap = shapely.union_all(strips).intersection(flap.moving)
    assert on_flap.area > 100.0
    assert not own.area.intersects(on_flap.buffer(0.9))
    covered = [p.geometry for p in laid.card.patches] + [flap.cell.body]
    landed = flap.land(on_flap).difference(shapely.union_all(covered))
    assert landed.area > 50.0
    assert other.area.buffer(0.01).covers(landed)


def test_a_layout_that_would_touch_when_folded_is_laid_otherwise(card, monkeypatch) -> None:
    """The first layout is made to have minus tape where plus lands: the next has not."""
    bare, case, laid = card
    tasks = []

    def first_wrong(task, clock):
        tasks.append(task)
        result = route(task, clock)
        if len(tasks) > 1:
            return result
        drawn = {s.polarity: list(s.line.coords) for s in laid.card.strips if s.line is not None}
        plus = [(max(x, 80.0), y) for x, y in drawn["positive"]]  # no farther than the contact
        stub = [(68.0, 94.0), (98.0, 94.0), (98.0, 112.0)]
        wrong = [
            dataclasses.replace(result.strips[0], points=tuple(points), polarity=side)
            for side, points in (
                ("positive", plus),
                ("negative", drawn["negative"]),
                ("negative", stub),
            )
        ]
        angles = {light.id: action.angle_of(light) for light in case.card.lights}
        return dataclasses.replace(result, strips=tuple(wrong), angles=angles)

    monkeypatch.setattr(action, "route", first_wrong)
    outcome = action.lay_tape(bare, case.profile, Wish(effort=1), False, time.monotonic)
    assert len(tasks) == 2
    names = {o.name for o in tasks[1].obstacles} - {o.name for o in tasks[0].obstacles}
    assert names == {"the flap", "where the flap lands"}
    assert outcome.laid
