"""Compares a report with what must be in it; returns sentences, none when all is right."""

from __future__ import annotations

import math
from typing import Any

from kit.card import Card, to_page

from .faults import Expect, Fault

LATER = frozenset(
    (
        "current-too-high",
        "voltage-too-low",
        "cell-overdrawn",
        "uneven-lights",
        "light-dim",
        "cell-life-short",
        "glow-uneven",
        "stack-too-low",
        "card-too-thick",
        "opening-not-lit",
        "no-room",
    )
)
"""Rules about currents, glow, height, placing and routing: these layouts say nothing about them."""

NEAR = 1.0
"""A finding is at the right place within this, mm."""

Finding = dict[str, Any]


def serious(report: dict[str, Any]) -> list[Finding]:
    """Stops and cautions of the rules that the layouts are about."""
    return [
        f
        for f in report["findings"]
        if f["severity"] in ("stop", "caution") and f["rule"] not in LATER
    ]


def short_text(f: Finding) -> str:
    return f"{f['severity']} {f['rule']} at {f['at']} of {f['objects']}: {f['message']}"


def plain_id(name: str) -> str:
    """`id#2` -> `id`."""
    return name.split("#", maxsplit=1)[0]


def matches(f: Finding, e: Expect, card: Card, names: dict[str, str]) -> bool:
    """Right rule, severity, place and object."""
    if (f["rule"], f["severity"]) != (e.rule, e.severity) or f["at"] is None:
        return False
    if not {plain_id(o) for o in f["objects"]} & {names[o] for o in e.objects}:
        return False
    return min(math.dist(to_page(card, p), f["at"]) for p in e.at) <= NEAR


def differences(fault: Fault, report: dict[str, Any], names: dict[str, str]) -> list[str]:
    """What is missing, twice, or too much."""
    left = list(report["findings"])
    out = []
    for e in fault.expects:
        hit = next((f for f in left if matches(f, e, fault.card, names)), None)
        if hit is None:
            places = [tuple(round(v, 2) for v in to_page(fault.card, p)) for p in e.at[:1]]
            out.append(f"missing: {e.severity} {e.rule} at {places} of {sorted(e.objects)}")
        else:
            left.remove(hit)
    for f in serious({"findings": left}):
        if not _allowed(f, fault, names):
            out.append(f"too much: {short_text(f)}")
    return out


def _allowed(f: Finding, fault: Fault, names: dict[str, str]) -> bool:
    named = {plain_id(o) for o in f["objects"]}
    return any(
        f["rule"] == rule and named & {names[o] for o in objects} for rule, objects in fault.allowed
    )
