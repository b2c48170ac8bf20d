"""Judgement and report brought to the same few words, so that they can be compared."""

from __future__ import annotations

from typing import Any

from .judge import LIMITS, MINUS, PLUS, Judgement, Limits

WORDS = {PLUS: "positive", MINUS: "negative", 0: "none", 2: "both"}

MARGIN = 0.15
"""What is nearer to a limit than this is left out, mm."""


def plain_id(name: str) -> str:
    return name.split("#", maxsplit=1)[0].split(".", maxsplit=1)[0]


def nets_of(j: Judgement, names: dict[str, str]) -> set[tuple[str, frozenset[str]]]:
    """Polarity and strips of every net that has tape."""
    return {
        (WORDS[j.polarity[n]], frozenset(names[plain_id(s)] for s in strips))
        for n, strips in j.nets().items()
    }


def reported_nets(report: dict[str, Any]) -> set[tuple[str, frozenset[str]]]:
    return {
        (n["polarity"], frozenset(plain_id(s) for s in n["strips"]))
        for n in report["nets"]
        if n["strips"]
    }


def named(report: dict[str, Any], rule: str, severity: str | None = None) -> set[str]:
    """Objects that findings of the rule name."""
    return {
        plain_id(o)
        for f in report["findings"]
        if f["rule"] == rule and severity in (None, f["severity"])
        for o in f["objects"]
    }


def marginal(j: Judgement, limits: Limits = LIMITS) -> str | None:
    """Why this card is too near to a limit to be judged on pixels, if it is."""
    for c in j.contacts:
        if c.depth < MARGIN / 2:
            return f"contact of {sorted(c.names)} is only {c.depth:.2f} mm deep"
    for a, b, distance in j.near_misses:
        if distance < MARGIN:
            return f"{a} and {b} are {distance:.2f} mm apart"
    for g in j.gaps:
        for limit in (g.limit / 2, g.limit):
            if len({r < limit for r in g.readings}) > 1:
                return f"gap of {g.a} and {g.b} can be read in two ways"
        for limit in (0.0, g.limit / 2, g.limit):
            if abs(g.distance - limit) < MARGIN:
                return f"gap of {g.a} and {g.b} is {g.distance:.2f} mm"
    for pad, (seen, need) in j.cover.items():
        if abs(seen - need) < MARGIN * 3:
            return f"{pad} has {seen:.2f} of {need:.2f} mm2"
    for name, distance in j.edge.items():
        for limit in (-limits.over_base, 0.0, limits.edge):
            if abs(distance - limit) < MARGIN:
                return f"{name} is {distance:.2f} mm from the edge"
    for a, b, share in j.small_joints:
        if share > 0.8:
            return f"overlap of {a} and {b} is {share:.2f} of the smallest"
    return None
