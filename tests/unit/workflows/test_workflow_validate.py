"""Validating as a whole: verdict, what is selected, what is remembered, what is drawn."""

from __future__ import annotations

import json

import pytest
from lxml import etree

from rules.draw_faulty import FOLDER, SPOTS, Draft, clean, lamp, minus, strip, text_of
from rules.drawings import read, validated
from underlit.model.finding import Finding
from underlit.workflows.validate import Validation, validate, verdict_of
from underlit_host.write_drawing import draw_findings

EDGE = ((15.0, 48.0), (58.0, 48.0), (58.0, 145.5))


def accepting(way: tuple[tuple[float, float], ...] = EDGE, words: str = "edge-too-near") -> Draft:
    """The minus strip ends 1.5 mm before the edge, and its maker accepts that."""
    draft = clean()
    draft.layers["tape"][1] = strip(draft.sheet, "minus", way, "negative", underlit__accept=words)
    return draft


def rules(result: Validation, key: str) -> list[str]:
    rows = result.report[key]
    assert isinstance(rows, list)
    return [row["rule"] for row in rows if row["rule"] != "coin-cell"]


def written_back(text: str) -> tuple[Validation, str]:
    """Validate and write the findings into the drawing, as the action does."""
    drawing, profile = read(text)
    result = validate(drawing, profile)
    root = etree.fromstring(text.encode("utf-8"))
    draw_findings(root, drawing, result.sheet, result.remember)
    return result, etree.tostring(root, encoding="unicode")


@pytest.mark.parametrize(
    ("severities", "verdict"),
    [
        ((), "ready"),
        (("note", "note"), "ready"),
        (("caution", "note"), "ready-with-cautions"),
        (("caution", "stop"), "not-ready"),
    ],
)
def test_verdicts(severities: tuple[str, ...], verdict: str) -> None:
    found = [Finding("x", severity, None, (), "A.", "B.") for severity in severities]
    assert verdict_of(found) == verdict


def test_the_first_faulty_object_is_selected() -> None:
    draft = clean()
    draft.layers["lights"][1] = lamp(draft.sheet, 2, SPOTS[1], 90.0)
    assert validated(text_of(draft)).select == ("light-2",)
    assert validated(text_of(clean())).select == ()


def test_an_opening_is_selected_by_its_object() -> None:
    text = (FOLDER / "tape-shows.svg").read_text(encoding="utf-8")
    assert validated(text).select == ("moon",)


def test_the_report_is_plain_json_and_the_same_every_time() -> None:
    text = (FOLDER / "folded-touch.svg").read_text(encoding="utf-8")
    first, second = (json.dumps(validated(text).report, allow_nan=False) for _ in range(2))
    assert first == second


@pytest.mark.parametrize("name", ["coin-cell", "polarities-touch", "tape-shows", "strip-floating"])
def test_its_own_marks_change_nothing(name: str) -> None:
    """Run on the tool's own output: the same findings, and a second run draws the same."""
    text = (FOLDER / f"{name}.svg").read_text(encoding="utf-8")
    first, once = written_back(text)
    second, twice = written_back(once)
    assert first.report == second.report
    assert once == twice


def test_accepted_is_remembered_and_comes_back_when_the_object_changes() -> None:
    first, once = written_back(text_of(accepting()))
    assert (rules(first, "findings"), rules(first, "accepted")) == ([], ["edge-too-near"])
    assert set(first.remember) == {"minus"}
    second, twice = written_back(once)
    assert (rules(second, "findings"), rules(second, "accepted")) == ([], ["edge-too-near"])
    moved = twice.replace("155.5", "156")
    assert moved != twice
    third, thrice = written_back(moved)
    assert (rules(third, "findings"), rules(third, "accepted")) == (["edge-too-near"], [])
    assert third.report["verdict"] == "ready-with-cautions"
    fourth, _ = written_back(thrice)
    assert rules(fourth, "findings") == ["edge-too-near"]


def test_what_is_no_longer_accepted_is_forgotten() -> None:
    _, once = written_back(text_of(accepting()))
    assert "underlit:remembered" in once
    plain = once.replace('underlit:accept="edge-too-near"', "")
    result, again = written_back(plain)
    assert rules(result, "findings") == ["edge-too-near"]
    assert result.remember == {}
    assert "underlit:remembered" not in again


def test_accepting_one_rule_does_not_accept_another() -> None:
    result = validated(text_of(accepting(words="tape-shows gap-too-small")))
    assert (rules(result, "findings"), rules(result, "accepted")) == (["edge-too-near"], [])


def test_a_part_may_accept_too_and_turning_it_counts_as_a_change() -> None:
    def blocked(angle: float) -> str:
        draft = clean()
        text = lamp(draft.sheet, 2, SPOTS[1], angle)
        text = text.replace('id="light-2"', 'id="light-2" underlit:accept="light-off-opening"')
        draft.layers["lights"][1] = text
        del draft.layers["die-cut"][2]
        return text_of(draft)

    first, once = written_back(blocked(-90))
    assert rules(first, "accepted") == ["light-off-opening"]
    turned = once.replace("rotate(-90)", "rotate(-84)", 2)
    assert rules(written_back(turned)[0], "findings") == ["light-off-opening"]


def test_the_legend_says_the_same_as_the_report() -> None:
    draft = clean()
    draft.layers["tape"][1] = minus(draft.sheet, ((27, 48), (58, 48), (58, 112.5)))
    result, drawn = written_back(text_of(draft))
    rows = result.report["findings"]
    assert isinstance(rows, list)
    words = " ".join(etree.fromstring(drawn).xpath("//text()"))
    assert "minus foot" in " ".join(words.split())
    assert rows[0]["message"] in result.summary
