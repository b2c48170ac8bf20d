"""Good layouts: the pixels say so, the tool finds nothing, and both see the same nets."""

from __future__ import annotations

import math

import pytest

from kit.card import to_page
from kit.encode import STYLES, encode
from kit.run import validate_text
from oracle.facts import marginal, named, nets_of, reported_nets
from oracle.judge import Judgement, judge

from .compare import serious, short_text
from .layouts import Layout, good_layout

STYLE_NAMES = sorted(STYLES)
QUICK = range(60)
MANY = range(1000, 2000)
NOTES = {"coin-cell", "width-not-in-stock", "strip-spare"}


def flaws(layout: Layout, j: Judgement) -> list[str]:
    """What is not good about a layout that is meant to be."""
    out = [
        f"{what}: {found}"
        for what, found in (
            ("short", j.shorted_nets),
            ("unfed", j.unfed),
            ("reversed", j.reversed),
            ("shorted", j.shorted),
            ("floating", j.floating),
            ("small joints", j.small_joints),
        )
        if found
    ]
    for name, polarity in layout.polarity.items():
        if j.polarity[j.net_of[name]] != polarity:
            out.append(f"polarity of {name}")
    if j.smallest_gap < 2.4 or min(j.edge.values()) < 3.4:
        out.append(f"gap {j.smallest_gap}, edge {min(j.edge.values())}")
    return out


def check_good(seed: int) -> None:
    layout = good_layout(seed)
    j = judge(layout.card)
    assert flaws(layout, j) == []
    assert marginal(j) is None
    text, names = encode(layout.card, STYLE_NAMES[seed % len(STYLE_NAMES)], seed)
    report = validate_text(text)
    assert [short_text(f) for f in serious(report)] == []
    notes = [f["rule"] for f in report["findings"] if f["severity"] == "note"]
    assert set(notes) <= NOTES, notes
    assert notes.count("coin-cell") == 1
    assert reported_nets(report) == nets_of(j, names)
    check_lights(layout, report, names)
    if j.smallest_gap < 4.8:
        assert report["tape"]["smallest_gap"] == pytest.approx(j.smallest_gap, abs=0.12)


def check_lights(layout: Layout, report, names) -> None:
    card = layout.card
    turned = math.degrees(math.atan2(card.motion[1], card.motion[0]))
    found = {x["id"]: x for x in report["lights"]}
    assert set(found) == {names[p.id] for p in card.lights}
    paired = {id_ for pair in layout.pairs for id_ in pair}
    for p in card.lights:
        told = found[names[p.id]]
        assert math.dist(told["at"], to_page(card, p.at)) < 0.01
        assert math.remainder(told["angle"] - p.angle - turned, 360) == pytest.approx(0, abs=0.01)
        assert told["opening"] is not None
        assert told["lit"] or p.id in paired


@pytest.mark.parametrize("seed", QUICK)
def test_good_layouts_have_no_finding(seed):
    check_good(seed)


@pytest.mark.slow
@pytest.mark.parametrize("seed", MANY)
def test_a_thousand_good_layouts_have_no_finding(seed):
    check_good(seed)


def test_the_layouts_are_varied():
    layouts = [good_layout(s) for s in QUICK]
    parts = {p.kind for x in layouts for p in x.card.power}
    assert parts == {"cell", "switch", "resistor"}
    assert sum(x.flap for x in layouts) > 3
    assert sum(x.crossing is not None for x in layouts) > 5
    assert sum(bool(x.pairs) for x in layouts) > 3
    assert {len(x.card.lights) for x in layouts} >= set(range(1, 11))
    assert len({round(x.card.motion[0], 3) for x in layouts}) > 20


def test_a_named_finding_is_seen_by_the_helper():
    report = {"findings": [{"rule": "x", "severity": "stop", "objects": ["a#2"]}]}
    assert named(report, "x") == {"a"}
    assert named(report, "x", "note") == set()
