"""The closing words."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Any

import pytest

from rules.cards import NOTHING, bench, case, holder, light, strip, with_cell, with_light
from underlit.model.card import Card
from underlit.model.finding import Finding
from underlit.rules import check_all
from underlit.rules.wording import span
from underlit.workflows.report import build_report
from underlit.workflows.telling import (
    MOST_ALIKE,
    closing_message,
    finding_lines,
    glow_words,
    shell_summary,
    tally,
)
from underlit.workflows.validate import verdict_of

JARGON = re.compile(
    r"\b(net|polarity|conductor|centroid|lens centroid|pad|cell|route|joint)s?\b", re.I
)


def told(of: Card) -> tuple[str, str]:
    ready = case(of)
    found = check_all(ready)
    verdict = verdict_of(found)
    message = closing_message(found, (), verdict, glow_words(ready))
    return message, shell_summary(ready, found, (), verdict)


def test_a_good_card_says_what_was_checked_and_what_was_not() -> None:
    message, summary = told(bench())
    assert message.startswith("Circuit ready.")
    assert "I checked" in message
    assert "Not checked" in message
    assert "children" in message
    assert "3 lights (3 lit), 3 windows, 2 strips of tape." in summary


def test_a_faulty_card_counts_and_names_the_first() -> None:
    bridge = strip("bridge", ((28, 20), (28, 33)), polarity="positive")
    message, summary = told(bench(bridge, lights=(*bench().lights[:2], light("x", (50, 24), 90))))
    assert message.startswith("Not ready yet. 2 faults to mend")
    assert "touch here" in message
    assert re.search(r"1\. stop at 28\.0, 28\.0 mm:", summary)


def test_what_is_not_there_yet_is_no_fault() -> None:
    message, summary = told(bench(cells=()))
    assert message.startswith("Not ready yet. 1 thing still to come, listed beside the page.")
    assert "There is no battery yet. Next: step 3" in message
    assert "fault" not in message + summary


@pytest.mark.parametrize(("lacking", "first"), [
    ({"strips": [], "cells": ()}, "There is no battery yet. Next: step 3"),
    ({"strips": [], "cells": (), "lights": ()}, "There are no lights yet. Next: step 2"),
    ({"strips": []}, "There is no tape yet. Next: step 4"),
])  # fmt: skip
def test_what_comes_first_is_the_earliest_step(lacking: dict[str, Any], first: str) -> None:
    found = check_all(case(bench(**lacking), facts=replace(NOTHING, used=frozenset({"base"}))))
    assert f"First: {first}" in closing_message(found, (), verdict_of(found))


def test_a_caution_is_ready_with_cautions() -> None:
    end = strip("end", ((60, 45), (60, 79)), polarity="negative")
    message, _ = told(bench(end))
    assert message.startswith("Ready, with cautions. 1 caution, marked on the drawing.")


def test_how_bright_in_words_before_figures() -> None:
    message, summary = told(bench())
    words = re.search(r"Estimate: 3 lights fine \(each ([\d.]+) to ([\d.]+) mA", message)
    assert words is not None
    assert float(words[1]) < 1.9 < float(words[2])
    assert re.search(r", [\d.]+ to \d+ hours of light, or \d+ to \d+ presses of 10 s", summary)
    slide = glow_words(case(bench(cells=(holder(closes="slide"),))))
    assert slide.endswith(" hours of light.")
    assert glow_words(case(bench(cells=()))) == ""


def test_the_band_told_reaches_over_all_lights() -> None:
    kinds = ("warm-white", "red", "warm-white", "red", "blue", "warm-white")
    lights = tuple(light(f"l{i}", (15.0 + 6.0 * i, 24.0), type=k) for i, k in enumerate(kinds))
    judged = case(bench(lights=lights), with_light("red", resistor_ohm=220.0))
    assert judged.operation is not None
    bands = judged.operation.band(judged.operation.lights).values()
    low, high = 1e3 * min(b[0] for b in bands), 1e3 * max(b[1] for b in bands)
    words = re.search(r"each ([\d.]+) to ([\d.]+) mA", glow_words(judged))
    assert words is not None
    assert float(words[1]) == pytest.approx(low, rel=0.05)
    assert float(words[2]) == pytest.approx(high, rel=0.05)


def test_counts() -> None:
    assert tally(()) == ""


def test_no_jargon() -> None:
    bridge = strip("bridge", ((28, 20), (28, 33)), polarity="positive")
    for text in (*told(bench()), *told(bench(bridge))):
        assert not JARGON.search(text), JARGON.search(text)


def test_one_light_is_not_each() -> None:
    one = bench(lights=bench().lights[:1])
    assert re.match(r"Estimate: 1 light fine \([\d.]+ to [\d.]+ mA", glow_words(case(one)))


def test_hours_beyond_a_year_are_not_counted() -> None:
    assert span(9000.0, 20_000.0) == "more than a year"
    assert span(4000.0, 20_000.0) == "4000 hours to more than a year"
    assert span(8.9, 32.1) == "8.9 to 32 hours"
    assert span(0.21, 0.87) == "13 to 52 minutes"
    assert span(0.0016, 0.0033) == "less than a minute"
    assert span(1.98, 11.0, 2.0) == "1.98 to 11 hours"
    assert span(1.9, 11.0, 2.0) == "1.9 to 11 hours"


def test_a_dark_card_has_neither_current_nor_hours() -> None:
    dark = case(bench(lights=bench().lights[:1]), with_light(resistor_ohm=60_000.0))
    assert glow_words(dark) == "Estimate: 1 light dark."


def test_lights_that_age_puts_out_are_told() -> None:
    """A chip needs 2.5 volts: what an aged battery no longer brings it."""
    chips = tuple(replace(one, type="colour-change") for one in bench().lights)
    words = "Once the battery and the overlaps have aged, "
    assert glow_words(case(bench(lights=chips), with_cell(aged_ohm=6000.0))).endswith(
        f"{words}all stay dark."
    )
    assert words not in glow_words(case(bench(lights=chips)))
    mixed = (*chips[:1], *bench().lights[1:])
    assert f"{words}1 of them stays dark." in glow_words(
        case(bench(lights=mixed), with_cell(aged_ohm=600.0))
    )


def test_a_shorted_card_is_told_as_the_report_has_it() -> None:
    bridge = strip("bridge", ((20, 20), (20, 28)), polarity="positive")
    shorted = case(bench(bridge))
    assert glow_words(shorted) == "Estimate, as drawn: 3 lights dark."
    report = build_report("validate", "card.svg", shorted, (), (), "not-ready")
    assert not any(light["lit"] or light["relative_brightness"] for light in report["lights"])  # type: ignore[attr-defined]
    assert [cell["hours"] for cell in report["cells"]] == [None]  # type: ignore[attr-defined]


def test_many_findings_of_one_kind_are_cut_short_and_keep_their_numbers() -> None:
    one = Finding("outline-open", "note", None, (), "A gap.", "Close it.")
    other = Finding("sketch-line", "note", None, (), "A sketch.", "Nothing to do.")
    lines = finding_lines([one] * (MOST_ALIKE + 5) + [other])
    assert len(lines) == MOST_ALIKE + 2
    assert lines[MOST_ALIKE].startswith(f" {MOST_ALIKE + 6}. note: A sketch.")
    assert lines[-1].strip() == f"... and 5 more like number {MOST_ALIKE}."
