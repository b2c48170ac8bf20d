"""The comparer itself: it must see what is missing, misplaced, doubled and too much."""

from __future__ import annotations

import pytest

from kit.card import to_page

from .compare import differences
from .faults import Fault, make_fault


@pytest.fixture(scope="module")
def fault() -> Fault:
    return make_fault("touch", 3)


def report(*findings):
    return {"findings": list(findings)}


def finding(fault, rule="polarities-touch", severity="stop", at=None, objects=("extra",)):
    at = at or to_page(fault.card, fault.expects[0].at[0])
    return {
        "rule": rule,
        "severity": severity,
        "at": list(at),
        "objects": list(objects),
        "message": "",
    }


def check(fault, *findings):
    same = {t.id: t.id for t in fault.card.tape} | {p.id: p.id for p in fault.card.parts}
    return [d.split(":")[0] for d in differences(fault, report(*findings), same)]


def test_the_right_finding(fault):
    assert check(fault, finding(fault)) == []


def test_notes_and_later_rules_are_not_too_much(fault):
    note = finding(fault, rule="coin-cell", severity="note")
    later = finding(fault, rule="light-dim", severity="caution")
    assert check(fault, finding(fault), note, later) == []


def test_nothing_found(fault):
    assert check(fault) == ["missing"]


def test_found_twice(fault):
    assert check(fault, finding(fault), finding(fault)) == ["too much"]


def test_another_caution(fault):
    assert check(fault, finding(fault), finding(fault, "tape-shows", "caution")) == ["too much"]


@pytest.mark.parametrize(
    "wrong", [{"rule": "gap-too-small"}, {"severity": "caution"}, {"objects": ("light-1",)}]
)
def test_wrong_in_one_thing(fault, wrong):
    assert check(fault, finding(fault, **wrong)) == ["missing", "too much"]


@pytest.mark.parametrize(("off", "right"), [(0.9, True), (1.1, False)])
def test_within_a_millimetre(fault, off, right):
    x, y = to_page(fault.card, fault.expects[0].at[0])
    told = check(fault, finding(fault, at=(x + off, y)))
    assert (told == []) == right
