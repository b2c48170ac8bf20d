"""Every drawing of sample_svgs/faulty gives exactly the findings that stand beside it."""

from __future__ import annotations

import json
import math

import pytest

from rules.draw_faulty import ANYWHERE, FOLDER, drawn
from rules.drawings import validated
from underlit import rules

NAMES = sorted(path.stem for path in FOLDER.glob("*.svg"))


def test_the_script_draws_what_lies_there() -> None:
    there = {path.name: path.read_text(encoding="utf-8") for path in FOLDER.iterdir()}
    assert there == drawn(), "run tests/rules/draw_faulty.py"


def test_every_rule_has_one() -> None:
    assert {rule.CODE for rule in rules.RULES} <= set(NAMES)
    severities = {
        (entry["rule"], entry["severity"])
        for name in NAMES
        for entry in json.loads((FOLDER / f"{name}.expected.json").read_text(encoding="utf-8"))
    }
    tables = zip(("stop", "caution"), (rules.STOPS, rules.CAUTIONS), strict=True)
    wanted = {(r.CODE, s) for s, table in tables for r in table if r not in rules.TOLD}
    missing = wanted - severities
    assert not missing


@pytest.mark.parametrize("name", NAMES)
def test_exactly_what_is_expected(name: str) -> None:
    expected = json.loads((FOLDER / f"{name}.expected.json").read_text(encoding="utf-8"))
    report = validated((FOLDER / f"{name}.svg").read_text(encoding="utf-8")).report
    found = report["findings"]
    assert isinstance(found, list)

    def key(row):  # type: ignore[no-untyped-def]
        return (row["rule"], row["severity"], tuple(row["objects"]))

    assert sorted(map(key, found)) == sorted(map(key, expected))
    for row in expected:
        place = next(f["at"] for f in found if key(f) == key(row))
        assert (place is None) == (row["at"] is None), row
        if place is not None and row["rule"] not in ANYWHERE:
            assert math.dist(place, row["at"]) <= 1.0, (row, place)
    worst = {row["severity"] for row in expected}
    verdicts = {"stop": "not-ready", "caution": "ready-with-cautions"}
    assert report["verdict"] == next((v for s, v in verdicts.items() if s in worst), "ready")
