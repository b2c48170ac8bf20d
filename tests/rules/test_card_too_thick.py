from __future__ import annotations

from dataclasses import replace

import pytest

from rules.cards import bare_cell, bench, case, codes, judge, only, profile
from underlit.errors import UnusableProfile
from underlit.profiles import Profile, load_profile
from underlit.rules.card_too_thick import CODE
from underlit.stack import closed
from underlit.workflows.stacking import stack_report


def posted(name: str, spacer: float = 6.0, limit: float | None = None) -> Profile:
    own = profile()
    post = dict(own.post)
    if limit is not None:
        post[name] = replace(post[name], thickness=limit)
    materials = replace(own.materials(), post=post)
    stack = replace(own.stack, post=name, spacer=spacer)
    return replace(own, stack=stack, materials=lambda: materials)


@pytest.mark.parametrize(("limit", "count"), [(8.1, 1), (8.18, 1), (8.19, 0), (8.2, 0), (9.0, 0)])
def test_below_at_and_above(limit: float, count: int) -> None:
    """4 x 0.35 card + 6.4 foam (two of 1/8 in) over two strips of 0.1 + envelope 2 x 0.1 = 8.2 mm,
    the foam of the report's stack."""
    found = judge(bench(), posted("uk-letter", limit=limit))
    assert codes(found) == [("card-too-thick", "caution")] * count


@pytest.mark.parametrize(("limit", "count"), [(8.7, 1), (8.8, 0)])
def test_a_spacer_that_the_maker_named_counts(limit: float, count: int) -> None:
    """1.4 + 7.0 + 0.2 + 0.2 = 8.8 mm."""
    found = judge(bench(), posted("uk-letter", 7.0, limit=limit))
    assert codes(found) == [("card-too-thick", "caution")] * count


@pytest.mark.parametrize("spacer", [6.0, 7.0])
def test_the_thickness_is_that_of_the_report(spacer: float) -> None:
    own = posted("uk-letter", spacer)
    report = stack_report(case(bench(), own))
    assert report is not None
    made = closed(bench(), own, float(str(report["spacer"])), 5.0)
    assert report["thickest"] == pytest.approx(made.thickest)
    thick = report["thickest_in_envelope"]
    assert f"is {thick:g} mm thick" in only(bench(), CODE, "caution", own).message
    assert "Check with your post office." in str(report["note"])
    assert "checked" in str(report["note"])


def test_only_where_a_letter_was_named() -> None:
    assert judge(bench()) == []
    finding = only(bench(), CODE, "caution", posted("uk-letter"))
    for words in ("is 8.2 mm thick", "the 5 mm of uk-letter", "flat it is 8 mm", "0.2 mm less"):
        assert words in finding.message
    assert "uk-large-letter" in finding.remedy
    assert "check with your post office" in finding.remedy


def test_a_bare_thin_battery_brings_it_down() -> None:
    """A bare CR2016: 1.8 mm; one layer of 3 mm leaves 2.55 - 1.8 = 0.75 of travel;
    1.4 + 3 + 0.2 + 0.2 = 4.8 mm, under 5. A bare CR2025 (2.7) takes 2 + 1.6 = 3.6: 5.4 mm."""
    remedy = only(bench(), CODE, "caution", posted("uk-letter")).remedy
    assert "bare CR2016" in remedy
    assert "4.8 mm thick" in remedy
    assert "CR2025" not in remedy
    larger = only(bench(), CODE, "caution", posted("uk-letter", limit=5.5)).remedy
    assert "bare CR2025" in larger
    assert "5.4 mm thick" in larger


def test_less_foam_comes_first() -> None:
    """6.5 mm were named; 3 + 1.6 mm still clear the 3.75 under a flap (4.412 are needed):
    1.4 + 4.6 + 0.2 + 0.2 = 6.4 mm."""
    flap = bench(cells=(bare_cell(closes="flap"),))
    found = [f for f in judge(flap, posted("uk-letter", 6.5, 6.5)) if f.rule == CODE]
    assert found[0].remedy.startswith("Lay foam of 3 mm + 1.6 mm instead of 6.5 mm")
    assert "6.4 mm thick" in found[0].remedy


def test_a_battery_that_would_not_do_is_not_named() -> None:
    own = posted("uk-letter")
    strict = replace(own, limits=replace(own.limits, least_hours=12.0))
    remedy = next(f for f in judge(bench(), strict) if f.rule == CODE).remedy
    assert "CR2016" not in remedy
    assert remedy.startswith("No thinner battery or foam")


def test_settings_name_it_and_a_slip_is_told() -> None:
    assert load_profile("hand-laid", {"stack": {"post": "uk-letter"}}).stack.post == "uk-letter"
    with pytest.raises(UnusableProfile, match="uk-letter"):
        load_profile("hand-laid", {"stack": {"post": "uk-leter"}})
