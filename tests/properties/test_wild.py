"""Random harm: the tool and the pixels must agree on what is wrong.

Cards nearer than 0.15 mm to a limit are left out and counted.
"""

from __future__ import annotations

import functools
from typing import Any

import pytest

from kit.encode import STYLES, encode
from kit.run import validate_text
from oracle.facts import marginal, named, nets_of, plain_id, reported_nets
from oracle.judge import LIMITS, Judgement, judge

from .compare import short_text
from .wild import wild_layout

STYLE_NAMES = sorted(STYLES)
QUICK = range(40)
MANY = range(1000, 1600)


@functools.cache
def judged(seed: int) -> Judgement:
    return judge(wild_layout(seed).card)


def left_out(seed: int) -> str | None:
    """Why this card is not compared: too near to a limit, or open to more than one reading."""
    j = judged(seed)
    card = wild_layout(seed).card
    if not j.short:
        for p in card.lights:
            for feature in ("positive-pad", "negative-pad"):
                name = f"{p.id}.{feature}"
                net = j.net_of[name]
                lone = [q for q in card.lights if _on(j, q.id, net)]
                if j.polarity[net] == 0 and name in j.cover and len(lone) > 1:
                    return "several lights on a strip without a side"
                if name in j.unfed and name in j.cover and _more_ways(card, j, net):
                    return "a resistor or a second cell pad on a cut-off strip"
    return marginal(j)


def _on(j: Judgement, light: str, net: int) -> bool:
    names = (f"{light}.positive-pad", f"{light}.negative-pad")
    return any(n in j.cover and j.net_of[n] == net for n in names)


def _more_ways(card, j: Judgement, net: int) -> bool:  # type: ignore[no-untyped-def]
    return any(
        j.net_of[f"{p.id}.{f}"] == net
        for p in card.power
        if p.kind == "resistor"
        for f in ("contact-1", "contact-2")
    )


def disagreements(seed: int) -> list[str]:
    """Where report and pixels differ."""
    layout, j = wild_layout(seed), judged(seed)
    text, names = encode(layout.card, STYLE_NAMES[seed % len(STYLE_NAMES)], seed)
    report = validate_text(text)
    touch = [f for f in report["findings"] if f["rule"] == "polarities-touch"]
    if bool(touch) != j.short:
        return [f"short on pixels: {j.short}, told: {[short_text(f) for f in touch]}"]
    if j.short:
        return []
    lights = {names[p.id] for p in layout.card.lights}
    out = _nets(j, report, names)
    out += _sets(j, report, names, lights)
    return out + _gaps(j, report)


def _nets(j: Judgement, report: dict[str, Any], names: dict[str, str]) -> list[str]:
    seen, told = nets_of(j, names), reported_nets(report)
    return [f"nets: {sorted(map(str, seen ^ told))}"] if seen != told else []


def _sets(
    j: Judgement, report: dict[str, Any], names: dict[str, str], lights: set[str]
) -> list[str]:
    low = {p for p, (seen, need) in j.cover.items() if seen < need}
    off = {n for n, d in j.edge.items() if d < -LIMITS.over_base}
    near = {n for n, d in j.edge.items() if -LIMITS.over_base <= d < LIMITS.edge}
    strips = {names[plain_id(n)] for n in j.edge}
    pairs = (
        ("light-reversed", j.reversed, lights),
        ("light-unfed", j.unfed, lights),
        ("light-shorted", j.shorted, lights),
        ("pad-barely-covered", {p for p in low if names[plain_id(p)] in lights}, lights),
        ("off-base", off, strips),
        ("edge-too-near", near, strips),
        ("strip-floating", j.floating, strips),
    )
    out = []
    for rule, seen, among in pairs:
        expected = {names[plain_id(s)] for s in seen}
        told = named(report, rule) & among
        if told != expected:
            out.append(f"{rule}: pixels {sorted(expected)}, told {sorted(told)}")
    return out


def _gaps(j: Judgement, report: dict[str, Any]) -> list[str]:
    out = []
    bands = (("stop", 0.0, 0.5), ("caution", 0.5, 1.0))
    for severity, low, high in bands:
        seen = any(low * g.limit <= g.distance < high * g.limit for g in j.gaps)
        told = any(
            (f["rule"], f["severity"]) == ("gap-too-small", severity) for f in report["findings"]
        )
        if seen != told:
            found = [(g.a, g.b, round(g.distance, 2), g.limit) for g in j.gaps if g.distance < 2.2]
            out.append(f"gap {severity}: told {told}, pixels {found}")
    return out


@pytest.mark.parametrize("seed", QUICK)
def test_tool_and_pixels_agree(seed):
    if left_out(seed) is None:
        assert disagreements(seed) == []


@pytest.mark.slow
@pytest.mark.parametrize("seed", MANY)
def test_tool_and_pixels_agree_on_many(seed):
    if left_out(seed) is None:
        assert disagreements(seed) == []


def test_few_cards_are_left_out():
    reasons = [r for r in map(left_out, QUICK) if r]
    assert len(reasons) <= len(QUICK) * 0.4, reasons


def test_the_harm_is_varied():
    found = [judged(s) for s in QUICK]
    assert sum(j.short for j in found) >= 5
    assert sum(bool(j.unfed) for j in found) >= 5
    assert sum(bool(j.reversed) for j in found) >= 1
    assert sum(bool(j.floating) for j in found) >= 3
    assert sum(min(j.edge.values()) < LIMITS.edge for j in found) >= 3
