"""Every card of *Harbour Lane* is ready, and what makes it safe is needed."""

from __future__ import annotations

import re
from typing import Any

import pytest

from kit.run import validate_text
from samples.write_samples import CARDS, FOLDER

#: Panel size in mm, lights, openings.
EXPECTED = {
    "lantern.svg": ([105.0, 148.0], 1, 9),
    "lighthouse.svg": ([108.0, 140.0], 3, 5),
    "firefly-jar.svg": ([105.0, 148.0], 5, 5),
    "street.svg": ([210.0, 100.0], 12, 12),
    "night-garden.svg": ([148.0, 148.0], 8, 14),
}


def _text(name: str) -> str:
    return (FOLDER / name).read_text("utf-8")


def _without(text: str, ident: str) -> str:
    """The drawing without one element that has no children."""
    cut, count = re.subn(rf'\n *<\w+ [^>]*\bid="{ident}"[^>]*/>', "", text)
    assert count == 1
    return cut


def _changed(text: str, old: str, new: str) -> str:
    assert old in text
    return text.replace(old, new)


def _alarms(report: dict[str, Any]) -> set[str]:
    return {f["rule"] for f in report["findings"] if f["severity"] != "note"}


#: Large bare windows with a single light: each has a bright spot, and may keep it.
SPOTTED = {"lantern.svg": ["pane-middle"], "night-garden.svg": ["moth", "moon", "aster", "daisy"]}


@pytest.mark.parametrize("name", sorted(CARDS))
def test_ready_with_nothing_but_bright_spots_and_the_standing_note(name: str) -> None:
    report = validate_text(_text(name))
    *spots, last = [(f["severity"], f["rule"], f["objects"]) for f in report["findings"]]
    assert last[:2] == ("note", "coin-cell")
    assert spots == [("note", "glow-uneven", [window]) for window in SPOTTED.get(name, [])]
    assert report["accepted"] == []
    assert report["verdict"] == "ready"


@pytest.mark.parametrize("name", sorted(CARDS))
def test_read_as_drawn(name: str) -> None:
    report = validate_text(_text(name))
    panel, lights, openings = EXPECTED[name]
    assert report["card"]["panel"] == panel
    assert len(report["card"]["openings"]) == openings
    assert [light["lit"] for light in report["lights"]] == [True] * lights
    assert all(light["opening"] for light in report["lights"])
    assert len({light["opening"] for light in report["lights"]}) == lights
    assert [net["polarity"] for net in report["nets"]] == ["positive", "negative"]


@pytest.mark.parametrize("name", sorted(CARDS))
def test_laid_to_the_aims(name: str) -> None:
    tape = validate_text(_text(name))["tape"]
    assert tape["smallest_gap"] >= 3.0
    assert tape["joints"] <= 1


@pytest.mark.parametrize("name", sorted(CARDS))
def test_the_battery_put_in_the_other_way_turns_every_light(name: str) -> None:
    text = _text(name)
    start = text.index('id="battery"')
    end = text.index("</g>", start)
    pads = {"positive-pad": "negative-pad", "negative-pad": "positive-pad"}
    battery = re.sub("(?:posi|nega)tive-pad", lambda m: pads[m.group()], text[start:end])
    report = validate_text(text[:start] + battery + text[end:])
    reversed_ = [f for f in report["findings"] if f["rule"] == "light-reversed"]
    assert len(reversed_) == EXPECTED[name][1]


def test_the_lantern_needs_its_paper_over_the_rim() -> None:
    report = validate_text(_without(_text("lantern.svg"), "rim-paper"))
    assert _alarms(report) == {"cell-rim-touch"}


def test_the_lantern_may_not_be_folded_often() -> None:
    report = validate_text(_changed(_text("lantern.svg"), ' underlit:moves="once"', ""))
    assert _alarms(report) == {"tape-on-fold"}


def test_the_lighthouse_needs_its_collar() -> None:
    report = validate_text(_without(_text("lighthouse.svg"), "rim-collar"))
    assert _alarms(report) == {"cell-rim-touch"}


def test_the_lighthouse_in_foil_would_break_at_the_flap() -> None:
    text = _changed(
        _text("lighthouse.svg"),
        'underlit:profile="hand-laid"',
        """underlit:profile="hand-laid" underlit:settings='{"tape": {"use": "foil-5"}}'""",
    )
    assert _alarms(validate_text(text)) == {"tape-on-fold"}


def test_the_lighthouse_stays_lit_through_the_flap_only() -> None:
    report = validate_text(_without(_text("lighthouse.svg"), "flap-fold"))
    assert "always-on" in _alarms(report)


def test_the_foam_of_the_hidden_layer_counts() -> None:
    over_battery = "M 46 129 L 54 129 L 54 137 L 46 137 Z"
    text, count = re.subn(
        r'd="[^"]*"([^>]*id="foam-4")', rf'd="{over_battery}"\1', _text("lighthouse.svg")
    )
    assert count == 1
    assert _alarms(validate_text(text)) == {"foam-on-part"}


def test_the_garden_needs_the_paper_at_the_crossing() -> None:
    report = validate_text(_without(_text("night-garden.svg"), "crossing-paper"))
    assert _alarms(report) == {"polarities-touch"}
    (found,) = (f for f in report["findings"] if f["severity"] == "stop")
    assert found["at"] == pytest.approx([69.0, 112.0], abs=1.0)


def test_the_garden_needs_its_pieces_glued() -> None:
    report = validate_text(_changed(_text("night-garden.svg"), ' underlit:glued="true"', ""))
    assert _alarms(report) == {"loose-piece"}


@pytest.mark.parametrize(("number", "window"), [(1, "house-fronts#4"), (12, "house-fronts#9")])
def test_a_window_of_the_street_without_its_light_shows_bare_tape(number: int, window: str) -> None:
    report = validate_text(_without(_text("street.svg"), f"light-{number}"))
    assert len(report["lights"]) == 11
    (found,) = (f for f in report["findings"] if f["severity"] != "note")
    assert (found["rule"], found["objects"]) == ("tape-shows", [window])
