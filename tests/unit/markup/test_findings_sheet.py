"""The whole sheet: marks apart, faults left visible, a legend clear of everything."""

from __future__ import annotations

from collections.abc import Sequence
from math import hypot

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from kit.legends import check_nothing_covers, everything, is_entry, words
from underlit.markup.findings import Sheet, findings_sheet
from underlit.markup.marks import LOOKS
from underlit.markup.primitives import Group, Path, Text
from underlit.model.drawing import Page
from underlit.model.finding import SEVERITIES, Finding

PAGE = Page(125.0, 168.0, 1.0)
EXTENT = (0.0, 0.0, 125.0, 168.0)
CHECKED = "I checked gaps.\nNot checked: how well the tape sticks."

MESSAGE = "Plus and minus are only 1.3 mm apart here; a hand needs 2."
REMEDY = "Move one; lay this strip first, along a ruler."

COIN = Finding("coin-cell", "note", None, ("cell",), "Coin batteries kill.", "Out of reach.")


def finding(severity: str, at: tuple[float, float] | None, message: str = MESSAGE) -> Finding:
    return Finding("gap-too-small", severity, at, ("a",), message, REMEDY)


def verdict_of(findings: Sequence[Finding]) -> str:
    found = {f.severity for f in findings}
    if "stop" in found:
        return "not-ready"
    return "ready-with-cautions" if "caution" in found else "ready"


def sheet_of(
    findings: Sequence[Finding],
    accepted: Sequence[Finding] = (),
    extent: tuple[float, float, float, float] = EXTENT,
    page: Page = PAGE,
) -> Sheet:
    return findings_sheet(page, extent, findings, accepted, CHECKED, verdict_of(findings))


def in_order(findings: Sequence[Finding]) -> list[Finding]:
    return sorted(findings, key=lambda f: SEVERITIES.index(f.severity))


def group(sheet: Sheet, name: str) -> Group:
    (found,) = (g for g in sheet.groups if g.name == name)
    return found


PLACES = st.one_of(
    st.none(),
    st.just((60.0, 80.0)),
    st.tuples(st.floats(59.0, 61.0), st.floats(79.0, 81.0)),
    st.tuples(st.sampled_from([0.0, 125.0]), st.floats(0.0, 168.0)),
    st.tuples(st.floats(-60.0, 260.0), st.floats(-60.0, 260.0)),
)
FINDINGS = st.lists(
    st.builds(
        finding,
        st.sampled_from(SEVERITIES),
        PLACES,
        st.text(st.sampled_from("Wm i1.ÄЖ灯\n"), max_size=300),
    ),
    max_size=30,
).map(in_order)


@settings(max_examples=60, deadline=None)
@given(FINDINGS, st.booleans())
def test_nothing_covers_anything(findings: list[Finding], coin: bool) -> None:
    sheet = sheet_of([*findings, COIN] if coin else findings, findings[:2])
    check_nothing_covers(sheet)


@settings(max_examples=40, deadline=None)
@given(FINDINGS)
def test_every_mark_points_at_its_place(findings: list[Finding]) -> None:
    sheet = sheet_of(findings)
    placed = [n for n, f in enumerate(findings, 1) if f.at is not None]
    assert [mark.number for mark in sheet.marks] == placed
    for mark in sheet.marks:
        found = findings[mark.number - 1]
        assert mark.place == found.at
        assert mark.severity == found.severity
        lines = [i for i in group(sheet, f"place-{mark.number}").items if isinstance(i, Path)]
        assert lines
        assert all(line.points[-1] == found.at for line in lines)
        assert words(group(sheet, f"mark-{mark.number}")) == [str(mark.number)]


@settings(max_examples=40, deadline=None)
@given(FINDINGS)
def test_legend_says_every_word(findings: list[Finding]) -> None:
    sheet = sheet_of(findings)
    for number, found in enumerate(findings, 1):
        lines = words(group(sheet, f"legend-{number}"))
        text = "".join("".join(lines).split())
        assert "".join(f"{found.message}{found.remedy}".split()) in text
        assert lines[-1] == str(number)


def test_marks_are_painted_above_all_leader_lines() -> None:
    sheet = sheet_of([finding("stop", (60.0, 80.0)) for _ in range(9)])
    names = [g.name for g in sheet.groups]
    places = [i for i, name in enumerate(names) if name.startswith("place")]
    marks = [i for i, name in enumerate(names) if name.startswith("mark")]
    assert max(places) < min(marks)
    assert names.index("place-1") == max(places), "the gravest point lies on top"


def test_names_are_unique() -> None:
    sheet = sheet_of([finding("note", (1.0 * i, 5.0)) for i in range(20)], [COIN])
    names = [g.name for g in sheet.groups]
    assert len(set(names)) == len(names)


def test_a_single_mark_stands_beside_its_place_inside_the_page() -> None:
    for at in ((60.0, 80.0), (0.5, 0.5), (124.5, 0.5), (0.5, 167.5), (124.5, 167.5)):
        (mark,) = sheet_of([finding("stop", at)]).marks
        assert 5.0 < hypot(mark.centre[0] - at[0], mark.centre[1] - at[1]) < 12.0
        assert mark.reach <= mark.centre[0] <= PAGE.width - mark.reach
        assert mark.reach <= mark.centre[1] <= PAGE.height - mark.reach


def test_a_mark_does_not_hide_another_fault() -> None:
    first = sheet_of([finding("stop", (60.0, 80.0))]).marks[0]
    both = sheet_of([finding("stop", (60.0, 80.0)), finding("note", first.centre)]).marks
    assert both[0].centre != first.centre
    for mark in both:
        for other in both:
            away = hypot(mark.centre[0] - other.place[0], mark.centre[1] - other.place[1])
            assert away > mark.reach + 1.0


def test_faults_at_one_place_fan_out_with_free_leader_lines() -> None:
    sheet = sheet_of([finding("stop", (60.0, 80.0)) for _ in range(5)])
    discs = {m.number: shapely.Point(m.centre).buffer(m.reach) for m in sheet.marks}
    for mark in sheet.marks:
        way = shapely.LineString([mark.place, mark.centre])
        assert way.length < 16.0
        assert not any(way.intersects(disc) for n, disc in discs.items() if n != mark.number)


@pytest.mark.parametrize("extent", [EXTENT, (-40.0, -30.0, 300.0, 400.0), (10.0, 10.0, 50.0, 50.0)])
def test_legend_stands_clear_of_everything(extent: tuple[float, float, float, float]) -> None:
    sheet = sheet_of([finding("stop", (124.9, 3.0)), finding("caution", (120.0, 90.0))], (), extent)
    assert sheet.panel[0] >= max(extent[2], PAGE.width) + 5.0
    assert sheet.panel[1] == 0.0


def test_coin_words_are_in_the_legend_without_mark_or_number() -> None:
    found = [finding("stop", (10.0, 10.0)), COIN]
    sheet = sheet_of(found)
    assert [m.number for m in sheet.marks] == [1]
    block = group(sheet, "legend-2")
    assert all(isinstance(item, Text) for item in block.items)
    assert "2" not in words(block)
    assert "Coin batteries kill. Out of reach." in everything(sheet)


@pytest.mark.parametrize(
    ("severity", "heading"),
    [("stop", "Not ready yet"), ("caution", "Ready, with cautions"), ("note", "Circuit ready")],
)
def test_verdict_in_words(severity: str, heading: str) -> None:
    sheet = sheet_of([finding(severity, None)])
    assert words(group(sheet, "legend-head"))[0] == heading
    assert LOOKS[severity].word in words(group(sheet, "legend-1"))
    assert not sheet.marks


def test_count_in_words() -> None:
    found = [finding("stop", None)] * 2 + [finding("caution", None), finding("note", None), COIN]
    head = words(group(sheet_of(found), "legend-head"))
    assert head == ["Not ready yet", "2 faults to mend, 1 caution, 1 note"]


def test_what_is_not_there_yet_is_no_fault() -> None:
    yet = Finding("power-missing", "stop", None, (), "There is no battery yet.", "Step 3.")
    head = words(group(sheet_of([yet, finding("note", None)]), "legend-head"))
    assert head == ["Not ready yet", "1 thing still to come, 1 note"]


@pytest.mark.parametrize("found", [[], [COIN], [finding("note", (5.0, 5.0))]])
def test_with_nothing_wrong_it_says_what_was_checked_and_what_not(found: list[Finding]) -> None:
    sheet = sheet_of(found)
    lines = words(group(sheet, "legend-checked"))
    assert lines == ["I checked gaps.", "Not checked: how well the tape sticks."]


def test_with_a_fault_it_does_not() -> None:
    assert "I checked" not in everything(sheet_of([finding("caution", None)]))


def test_accepted_findings_stand_last_and_short() -> None:
    accepted = [finding("caution", (9.0, 9.0), f"Tape shows in window {n}.") for n in range(1, 8)]
    sheet = sheet_of([finding("stop", (10.0, 10.0)), COIN], accepted)
    legend = [g.name for g in sheet.groups if g.name.startswith("legend")]
    assert legend[-1] == "legend-accepted"
    text = " ".join(words(group(sheet, "legend-accepted")))
    assert text.startswith("Accepted by you: Tape shows in window 1.")
    assert text.endswith("Tape shows in window 4. And 3 more.")
    assert len(sheet.marks) == 1


def test_what_is_still_to_come_is_not_headed_as_a_fault() -> None:
    coming = Finding("layer-missing", "stop", None, (), "There is no tape yet.", "Next: step 4.")
    assert "Faults to mend" not in everything(sheet_of([coming, COIN]))
    both = everything(sheet_of([coming, finding("stop", (10.0, 10.0))]))
    assert both.index("Still to come") < both.index("There is no tape yet.")
    assert both.index("There is no tape yet.") < both.index("Faults to mend")


def test_columns_are_filled_in_turn_and_say_that_they_go_on() -> None:
    sheet = sheet_of([finding("stop", (60.0, 80.0)) for _ in range(30)])
    numbers = [g.items[-1] for g in sheet.groups if is_entry(g)]
    starts = [item.at[0] for item in numbers if isinstance(item, Text)]
    assert len(starts) == 30
    assert starts == sorted(starts)
    assert 3 <= len(set(starts)) <= 5
    assert "Faults to mend, continued" in everything(sheet)
    assert sheet.panel[3] <= 200.0 + 10.0


def test_many_findings_make_a_panel_that_is_no_ribbon() -> None:
    sheet = sheet_of([finding("stop", (60.0, 80.0)) for _ in range(300)])
    width, height = sheet.panel[2] - sheet.panel[0], sheet.panel[3] - sheet.panel[1]
    assert 0.5 < width / height < 2.0


@pytest.mark.parametrize("at", [(np.nan, 1.0), (np.inf, 1.0), (1.0, -np.inf), (1e300, 0.0)])
def test_a_place_that_is_none_goes_to_the_legend_only(at: tuple[float, float]) -> None:
    sheet = sheet_of([finding("stop", at)])
    assert not sheet.marks
    assert np.isfinite(sheet.panel).all()


def test_same_findings_same_sheet() -> None:
    rng = np.random.default_rng(7)
    found = [finding("stop", (float(x), float(y))) for x, y in rng.uniform(0, 150, (60, 2))]
    assert repr(sheet_of(found)) == repr(sheet_of(found))


@pytest.mark.parametrize("spread", [0.0, 3.0, 120.0])
def test_many_findings_all_get_a_mark_of_their_own(spread: float) -> None:
    rng = np.random.default_rng(3)
    found = [
        finding("stop", (float(x), float(y)))
        for x, y in rng.uniform(0.0, 1.0, (400, 2)) * spread + 20.0
    ]
    marks = sheet_of(found).marks
    assert [mark.number for mark in marks] == list(range(1, 401))
    assert len({mark.centre for mark in marks}) == 400
