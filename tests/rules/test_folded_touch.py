from __future__ import annotations

import pytest
from shapely.geometry import box

from rules.cards import (
    SPOTS,
    bare_cell,
    bench,
    codes,
    cut,
    fold,
    judge,
    light,
    near,
    only,
    patch,
    strip,
    with_limits,
)
from underlit.model.card import Card

TALL = box(0, 0, 100, 100)
LINE = fold("fold", ((0, 66), (100, 66)), "once", "battery")


def flap(*laid: object, contact: tuple[float, float] = (0.0, 28.0), up: str = "minus") -> Card:
    """The battery lies bare at (75, 52); its plus contact lies on the flap below y 66.

    Folded about y 66, what is at y lands at 132 - y: the contact at (75, 80) on the battery.
    """
    cell = bare_cell("battery", (75, 52), plus=contact, minus=(0, 0), closes="flap", up=up)
    plus = strip(
        "plus", ((10, 20), (40, 20), (40, 15), (92, 15), (92, 80), (72, 80)), polarity="positive"
    )
    minus = strip("minus", ((10, 28), (75, 28), (75, 55)), polarity="negative")
    guard = patch("guard", box(70.5, 39, 79.5, 44.5))
    return bench(
        *laid,  # type: ignore[arg-type]
        strips=[plus, minus, guard],
        cells=(cell,),
        folds=(LINE,),
        base=TALL,
        panels=(),
        openings=(),
        lights=(light("light", SPOTS[0]),),
    )


def test_a_good_flap() -> None:
    assert judge(flap()) == []


def test_plus_on_the_flap_meets_minus_when_it_closes() -> None:
    """A side arm at y 75 lands on y 57, where minus tape lies left of the battery."""
    arm = strip("arm", ((92, 90), (50, 90)), polarity="positive")
    lead = strip("lead", ((75, 28), (52, 28), (52, 44)), polarity="negative")
    tail = strip("tail", ((92, 77.5), (92, 92.5)), polarity="positive")
    finding = only(flap(tail, arm, lead), "folded-touch", "stop")
    assert set(finding.objects) == {"arm", "lead"}
    near(finding, 52, 42.25)
    assert "flap closes" in finding.message


def test_a_patch_on_either_of_them_keeps_them_apart() -> None:
    arm = strip("arm", ((92, 90), (50, 90)), polarity="positive")
    lead = strip("lead", ((75, 28), (52, 28), (52, 44)), polarity="negative")
    tail = strip("tail", ((92, 77.5), (92, 92.5)), polarity="positive")
    on_lead = patch("paper", box(48, 37, 56, 46))
    on_arm = patch("paper", box(46, 85, 58, 95))
    assert judge(flap(tail, arm, lead, on_lead)) == []
    assert judge(flap(tail, arm, lead, on_arm)) == []
    under = flap(on_arm, tail, arm, lead)
    assert codes(judge(under)) == [("folded-touch", "stop")]


def test_within_the_battery_s_body_they_may_lie_over_each_other() -> None:
    """The plus strip at y 80 lands on y 52, over the minus strip under the battery."""
    assert judge(flap()) == []


def test_two_places_are_two_findings() -> None:
    arm = strip("arm", ((92, 90), (20, 90)), polarity="positive")
    tail = strip("tail", ((92, 77.5), (92, 92.5)), polarity="positive")
    one = strip("one", ((75, 28), (52, 28), (52, 44)), polarity="negative")
    two = strip("two", ((52, 28), (30, 28), (30, 44)), polarity="negative")
    found = judge(flap(tail, arm, one, two))
    assert codes(found) == [("folded-touch", "stop")] * 2


@pytest.mark.parametrize(("off", "count"), [(0.0, 0), (8.0, 0), (9.0, 0), (11.0, 1), (13.0, 1)])
def test_the_contact_must_land_on_the_battery(off: float, count: int) -> None:
    """A contact of 3 mm radius, `off` beside the battery's middle (radius 10)."""
    found = judge(flap(cut("foot", box(72 + 0, 77, 92, 83), "positive"), contact=(off, 28.0)))
    assert [f for f in codes(found) if f[0] == "folded-touch"] == [("folded-touch", "stop")] * count
    for finding in found:
        if finding.rule == "folded-touch":
            near(finding, 75 + off, 80)
            assert "misses" in finding.message


def test_another_share() -> None:
    of = flap(contact=(9.0, 28.0))
    assert "folded-touch" in {f.rule for f in judge(of, with_limits(pad_cover=0.9))}


def test_a_flap_without_a_contact_on_it() -> None:
    cell = bare_cell("battery", (75, 60), closes="flap")
    line = fold("f", ((0, 72), (100, 72)), "once", "battery")
    found = judge(bench(cells=(cell,), folds=(line,)))
    assert "folded-touch" in {f.rule for f in found}
    assert any("no contact" in f.message for f in found)
