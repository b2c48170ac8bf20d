"""The rules: one per file, named after the fault, in the order of reports.

A rule is a module with a `CODE` and `check(case) -> findings`. `STOPS`, `CAUTIONS` and `NOTES`
give the order of reports; where a code appears with another severity than its table's, it
stands last in that severity.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable

from ..model.case import Case
from ..model.finding import SEVERITIES, Finding
from . import (
    always_on,
    base_shows,
    card_too_thick,
    cell_life_short,
    cell_overdrawn,
    cell_rim_touch,
    cells_in_parallel,
    coin_cell,
    current_too_high,
    edge_too_near,
    foam_on_part,
    folded_touch,
    gap_too_small,
    glow_uneven,
    joint_not_conducting,
    joint_too_small,
    layer_missing,
    light_blocked,
    light_dim,
    light_off_opening,
    light_reversed,
    light_shorted,
    light_unfed,
    loose_piece,
    no_room,
    object_skipped,
    off_base,
    opening_not_lit,
    outline_crosses_itself,
    outline_doubled,
    outline_open,
    outside_panel,
    pad_barely_covered,
    part_incomplete,
    part_resized,
    parts_overlap,
    polarities_touch,
    polarity_label_wrong,
    power_missing,
    sketch_line,
    stack_too_low,
    strip_floating,
    strip_narrow,
    strip_spare,
    tape_on_fold,
    tape_shows,
    uneven_lights,
    voltage_too_low,
    width_not_in_stock,
)

#: Rules in the order of the conventions' tables (those of later actions are not here yet).
STOPS = (
    layer_missing,
    outline_crosses_itself,
    part_incomplete,
    parts_overlap,
    power_missing,
    polarities_touch,
    light_reversed,
    light_unfed,
    light_shorted,
    pad_barely_covered,
    joint_too_small,
    joint_not_conducting,
    cell_rim_touch,
    gap_too_small,
    off_base,
    folded_touch,
    current_too_high,
    voltage_too_low,
    no_room,
)
CAUTIONS = (
    gap_too_small,
    edge_too_near,
    tape_shows,
    base_shows,
    strip_narrow,
    tape_on_fold,
    light_off_opening,
    light_blocked,
    foam_on_part,
    part_resized,
    cells_in_parallel,
    cell_overdrawn,
    uneven_lights,
    light_dim,
    always_on,
    cell_life_short,
    stack_too_low,
    card_too_thick,
    loose_piece,
    opening_not_lit,
    object_skipped,
)
NOTES = (
    object_skipped,
    outline_doubled,
    outline_open,
    sketch_line,
    strip_floating,
    strip_spare,
    polarity_label_wrong,
    glow_uneven,
    outside_panel,
    width_not_in_stock,
    coin_cell,
)
#: What only placing and laying find out: no rules to check a card by, but part of the order.
TOLD = (no_room, opening_not_lit)

#: Every rule that may give a stop: also one whose table says less.
MAY_STOP = frozenset({*STOPS, object_skipped})

RULES = tuple(rule for rule in dict.fromkeys((*STOPS, *CAUTIONS, *NOTES)) if rule not in TOLD)

#: Rules whose findings a maker cannot accept (drawing conventions, section 3).
NEVER_ACCEPTED = frozenset(
    {
        "polarities-touch",
        "light-reversed",
        "light-unfed",
        "light-shorted",
        "cell-rim-touch",
        "coin-cell",  # the standing caution stays
    }
)

_ORDER = {
    severity: {rule.CODE: i for i, rule in enumerate(rules)}
    for severity, rules in zip(SEVERITIES, (STOPS, CAUTIONS, NOTES), strict=True)
}


def check_all(case: Case) -> tuple[Finding, ...]:
    """Every finding of every rule, in the order of reports."""
    return in_order(finding for rule in RULES for finding in rule.check(case))


def check_stops(case: Case) -> tuple[Finding, ...]:
    """What must be mended first, without what only warns: a third less work on a large card."""
    found = (finding for rule in RULES if rule in MAY_STOP for finding in rule.check(case))
    return in_order(finding for finding in found if finding.severity == "stop")


def check_some(case: Case, codes: Collection[str]) -> tuple[Finding, ...]:
    """The findings of some rules only, in the order of reports."""
    return in_order(f for rule in RULES if rule.CODE in codes for f in rule.check(case))


def in_order(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Severity, order of the tables, null place first, then y, x, ids."""
    return tuple(sorted(findings, key=_key))


def _key(finding: Finding) -> tuple[object, ...]:
    order = _ORDER[finding.severity].get(finding.rule, len(RULES))
    x, y = finding.at or (0.0, 0.0)
    return (
        SEVERITIES.index(finding.severity),
        order,
        finding.at is not None,
        round(y, 3),
        round(x, 3),
        finding.objects,
    )
