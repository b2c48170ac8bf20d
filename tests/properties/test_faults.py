"""Single faults: found with the right code at the right place, and nothing else."""

from __future__ import annotations

import math

import pytest

from kit.encode import STYLES, encode
from kit.run import validate_text
from oracle.judge import Judgement, judge

from . import more_faults  # its kinds
from .compare import differences
from .faults import Fault, kinds, make_fault

assert more_faults.WORDS
KINDS = kinds()
STYLE_NAMES = sorted(STYLES)
GROUPED = [s for s in STYLE_NAMES if STYLES[s].parts != "baked"]
"""Where coordinates are written out, nothing tells a mirrored part from one drawn like that."""
QUICK = range(4)
MANY = range(100, 100 + math.ceil(1000 / len(KINDS)))


def check_fault(kind: str, seed: int) -> None:
    fault = make_fault(kind, seed)
    styles = GROUPED if kind == "mirrored-part" else STYLE_NAMES
    style = styles[(seed * 7 + KINDS.index(kind)) % len(styles)]
    text, names = encode(fault.card, style, seed)
    assert differences(fault, validate_text(text), names) == []


@pytest.mark.parametrize("seed", QUICK)
@pytest.mark.parametrize("kind", KINDS)
def test_faults_are_found(kind, seed):
    check_fault(kind, seed)


@pytest.mark.slow
@pytest.mark.parametrize("seed", MANY)
@pytest.mark.parametrize("kind", KINDS)
def test_a_thousand_faults_are_found(kind, seed):
    check_fault(kind, seed)


# -- the faults themselves, on pixels ------------------------------------------------------------


def claims(fault: Fault, j: Judgement, after: Judgement) -> list[str]:
    """Where the pixels do not bear out what the fault says of itself.

    `after` is the judgement with the contacts of the short opened. Touching in a mere point and
    what happens when a flap is folded cannot be seen on pixels of the open card.
    """
    rules = {e.rule for e in fault.expects}
    out = []
    if fault.kind != "corner-touch" and j.short != ("polarities-touch" in rules):
        out.append(f"short: {j.short}")
    if after.short:
        out.append("still short with the contact opened")
    out += _places(fault, j)
    for rule, found in (("light-unfed", after.unfed), ("light-reversed", after.reversed)):
        meant = {o for e in fault.expects if e.rule == rule for o in e.objects}
        if {f.split(".")[0] for f in found} != meant:
            out.append(f"{rule}: {found}, meant {meant}")
    if bool(after.floating & {"extra"}) != ("strip-floating" in rules):
        out.append(f"floating: {after.floating}")
    small = [(a, b) for a, b, _ in after.small_joints if frozenset((a, b)) not in fault.opened]
    if bool(small) != ("joint-too-small" in rules):
        out.append(f"joints: {small}")
    low = [p for p, (seen, need) in after.cover.items() if seen < need - 0.4]
    if bool(low) != ("pad-barely-covered" in rules):
        out.append(f"cover: {low}")
    nearest = min(after.edge.values())
    if (nearest < 3.0) != bool(rules & {"edge-too-near", "off-base"}):
        out.append("tape near the edge")
    if (nearest < -0.3) != ("off-base" in rules):
        out.append("tape beyond the edge")
    return out + _gaps(fault, after)


def _places(fault: Fault, j: Judgement) -> list[str]:
    out = []
    for names, expect in zip(fault.opened, fault.expects, strict=False):
        found = [c for c in j.contacts if c.names == names]
        if not found and fault.kind != "corner-touch":
            out.append(f"no contact of {names}")
        if found and min(math.dist(found[0].at, p) for p in expect.at) > 0.2:
            out.append(f"the contact is at {found[0].at}")
    return out


def _gaps(fault: Fault, after: Judgement) -> list[str]:
    small = [g for g in after.gaps if g.distance < g.limit + 0.1]
    meant = [e for e in fault.expects if e.rule == "gap-too-small"]
    if len(small) != len(meant):
        return [f"gaps: {[(g.a, g.b, g.distance) for g in small]}"]
    out = []
    for g, e in zip(small, meant, strict=True):
        if min(math.dist(m, p) for m in g.closest.middles for p in e.at) > 0.4:
            out.append("the gap is elsewhere")
        if ("stop" if g.distance < g.limit / 2 else "caution") != e.severity:
            out.append(f"the gap is {g.distance}")
    return out


def check_claims(kind: str, seed: int) -> None:
    fault = make_fault(kind, seed)
    j = judge(fault.card)
    assert claims(fault, j, judge(fault.card, fault.opened) if fault.opened else j) == []


@pytest.mark.parametrize("seed", QUICK[:1])
@pytest.mark.parametrize("kind", KINDS)
def test_the_pixels_bear_out_the_faults(kind, seed):
    check_claims(kind, seed)


@pytest.mark.slow
@pytest.mark.parametrize("seed", MANY)
@pytest.mark.parametrize("kind", KINDS)
def test_the_pixels_bear_out_a_thousand_faults(kind, seed):
    check_claims(kind, seed)
