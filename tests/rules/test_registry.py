"""The registry of rules: order of reports, severities, words."""

from __future__ import annotations

import random
import re

import pytest

from rules.cards import bench, case, light, strip
from rules.draw_faulty import FOLDER
from rules.drawings import read, validated
from underlit import rules
from underlit.language import figure, mm
from underlit.model.finding import Finding
from underlit.rules.wording import against
from underlit.workflows.validate import case_of

JARGON = re.compile(
    r"\b(nets?|polarit\w+|conductors?|centroids?|pads?|cells?|routes?|routing|joints?|ratio)\b",
    re.I,
)


def finding(rule: str, severity: str, at: tuple[float, float] | None, *objects: str) -> Finding:
    return Finding(rule, severity, at, objects, "A.", "B.")


def test_order_of_reports() -> None:
    ordered = [
        finding("layer-missing", "stop", None),
        finding("light-unfed", "stop", (9, 1), "a"),
        finding("light-unfed", "stop", (1, 2), "a"),
        finding("light-unfed", "stop", (2, 2), "a"),
        finding("light-unfed", "stop", (2, 2), "b"),
        finding("gap-too-small", "stop", (0, 0)),
        finding("folded-touch", "stop", (0, 0)),
        finding("object-skipped", "stop", (0, 0)),
        finding("gap-too-small", "caution", (0, 0)),
        finding("loose-piece", "caution", (0, 0)),
        finding("object-skipped", "caution", (0, 0)),
        finding("object-skipped", "note", (0, 0)),
        finding("coin-cell", "note", None),
    ]
    for seed in range(5):
        mixed = ordered.copy()
        random.Random(seed).shuffle(mixed)
        assert list(rules.in_order(mixed)) == ordered


def test_codes_are_unique_and_every_rule_is_in_a_table() -> None:
    codes = [rule.CODE for rule in rules.RULES]
    assert len(set(codes)) == len(codes)
    assert {r.CODE for r in rules.RULES} >= rules.NEVER_ACCEPTED


def test_rules_give_only_severities_of_their_tables() -> None:
    """object-skipped alone may also be a stop, and then stands last."""
    bridge = strip("bridge", ((28, 20), (28, 33)), polarity="positive")
    found = rules.check_all(case(bench(bridge, lights=(light("x", (35, 24), 90.0),))))
    tables = {"stop": rules.STOPS, "caution": rules.CAUTIONS, "note": rules.NOTES}
    for f in found:
        assert f.rule in {rule.CODE for rule in tables[f.severity]}


@pytest.mark.parametrize("name", sorted(path.stem for path in FOLDER.glob("*.svg")))
def test_messages_speak_like_a_card_maker(name: str) -> None:
    rows = validated((FOLDER / f"{name}.svg").read_text(encoding="utf-8")).report["findings"]
    assert isinstance(rows, list)
    for row in rows:
        for text in (row["message"], row["remedy"]):
            assert not JARGON.search(text), text
            assert text[0].isupper() or text[0].isdigit() or text[0] == '"'
            assert text.endswith((".", ".)"))


def test_figures_as_a_maker_reads_them() -> None:
    assert [figure(v) for v in (1.3, 4.0, 0.04, 0.0, 12.26)] == ["1.3", "4", "0.04", "0", "12.3"]
    assert mm(2.5) == "2.5 mm"
    assert [against(v, 2.0) for v in (1.3, 1.96, 1.996)] == ["1.3", "1.96", "1.996"]


@pytest.mark.parametrize("name", sorted(path.stem for path in FOLDER.glob("*.svg")))
def test_stops_alone_are_the_stops_of_all(name: str) -> None:
    judged = case_of(*read((FOLDER / f"{name}.svg").read_text(encoding="utf-8")))
    stops = [f for f in rules.check_all(judged) if f.severity == "stop"]
    alone = rules.check_stops(judged)
    assert [(f.rule, f.at, f.objects) for f in alone] == [(f.rule, f.at, f.objects) for f in stops]
