from __future__ import annotations

from dataclasses import replace

import pytest
from shapely.geometry import box

from rules.cards import bare_cell, bench, codes, holder, judge, light, near, only, profile, sheet
from underlit.profiles import Profile, load_profile
from underlit.rules.stack_too_low import SHIPPED_SPACER

PAD = (sheet("foam", "foam", box(2, 2, 98, 6)),)


def with_spacer(spacer: float) -> Profile:
    own = profile()
    return replace(own, stack=replace(own.stack, spacer=spacer))


def low(spacer: float, **values: object) -> list[tuple[str, str]]:
    found = judge(bench(foam=PAD, **values), with_spacer(spacer))
    return [code for code in codes(found) if code[0] == "stack-too-low"]


FOUND = [("stack-too-low", "caution")]


@pytest.mark.parametrize(
    ("spacer", "found"), [(5.85, FOUND), (5.88, []), (5.8824, []), (5.9, []), (6.0, [])]
)
def test_below_at_and_above_a_holder(spacer: float, found: list[tuple[str, str]]) -> None:
    """A holder of 5 mm needs 5 / 0.85 = 5.882 mm; what is within 0.01 mm meets it."""
    assert low(spacer) == found


def test_a_bare_battery_lies_between_two_strips_and_under_its_flap() -> None:
    """(3.2 + 2 x 0.1 + 0.35 of folded card) / 0.85 = 4.412 mm."""
    cells = (bare_cell(closes="flap"),)
    assert low(4.38, cells=cells) == FOUND
    assert low(4.41, cells=cells) == []


def test_without_a_battery_the_lights_count() -> None:
    """(1.0 + 0.1) / 0.85 = 1.294 mm."""
    lights = (light("a", (20, 24)),)
    assert low(1.25, cells=(), lights=lights) == FOUND
    assert low(1.3, cells=(), lights=lights) == []


def test_one_layer_beside_a_holder_is_too_low_and_a_doubled_one_fits() -> None:
    """Common practice in the trade."""
    assert low(3.0) == FOUND
    assert low(6.0) == []


def test_no_spacer_named_is_no_fault() -> None:
    """A good card deserves no alarm: nobody knows how thick the foam is that is drawn."""
    tall = replace(profile(), limits=replace(profile().limits, foam_settling=0.5))
    assert judge(bench(), tall) == []
    assert judge(bench(foam=PAD), tall) == []
    named = replace(tall, stack=replace(tall.stack, spacer=6.01))
    assert codes(judge(bench(foam=PAD), named)) == FOUND
    assert load_profile("hand-laid").stack.spacer == SHIPPED_SPACER


def test_it_says_how_much_and_what_to_lay() -> None:
    finding = only(bench(cells=(holder(),)), "stack-too-low", "caution", with_spacer(5.0))
    near(finding, 75, 60)
    assert finding.objects == ("battery",)
    assert "0.75 mm too thin" in finding.message or "0.8 mm too thin" in finding.message
    assert "Lay foam of" in finding.remedy
