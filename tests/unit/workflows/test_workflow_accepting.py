"""What a maker accepts is set aside until its object changes."""

from __future__ import annotations

import pytest

from rules.cards import bench, card
from underlit.model.card import Card
from underlit.model.finding import Finding
from underlit.rules import NEVER_ACCEPTED
from underlit.workflows.accepting import split_accepted, to_remember, unchanged

MARK = "10.00 20.00 60.00 30.50 152.50"


def fault(rule: str, *objects: str) -> Finding:
    return Finding(rule, "caution", (1.0, 2.0), objects, "Something is wrong.", "Mend it.")


def accepting(mark: str = MARK, **accepts: str) -> Card:
    codes = {name.replace("_", "-"): frozenset(words.split()) for name, words in accepts.items()}
    return card(accepts=codes, marks=dict.fromkeys(codes, mark))


def test_without_a_word_everything_stands() -> None:
    found = (fault("tape-shows", "window-1"), fault("off-base", "minus"))
    assert split_accepted(found, bench(), {}) == (found, ())


def test_an_accepted_rule_of_an_object_is_set_aside_and_others_stand() -> None:
    shows, near, other = (
        fault("edge-too-near", "minus"),
        fault("gap-too-small", "minus", "plus"),
        fault("edge-too-near", "plus"),
    )
    of = accepting(minus="edge-too-near light-dim")
    assert split_accepted((shows, near, other), of, {}) == ((near, other), (shows,))


def test_one_of_several_objects_named_is_enough_and_numbered_names_count() -> None:
    pair = fault("gap-too-small", "plus", "minus")
    piece = fault("tape-shows", "panel#3")
    of = accepting(minus="gap-too-small", panel="tape-shows")
    assert split_accepted((pair, piece), of, {}) == ((), (pair, piece))


@pytest.mark.parametrize("rule", sorted(NEVER_ACCEPTED))
def test_some_rules_are_never_accepted(rule: str) -> None:
    found = (fault(rule, "minus"),)
    assert split_accepted(found, accepting(minus=rule), {}) == (found, ())


def test_which_rules_these_are() -> None:
    assert sorted(NEVER_ACCEPTED) == [
        "cell-rim-touch",
        "coin-cell",
        "light-reversed",
        "light-shorted",
        "light-unfed",
        "polarities-touch",
    ]


def test_it_comes_back_when_the_object_changes() -> None:
    found = (fault("edge-too-near", "minus"),)
    of = accepting(minus="edge-too-near")
    assert split_accepted(found, of, {"minus": MARK}) == ((), found)
    assert split_accepted(found, of, {"minus": MARK.replace("20.00", "20.04")}) == ((), found)
    assert split_accepted(found, of, {"minus": MARK.replace("20.00", "20.20")}) == (found, ())


def test_what_was_remembered_stays_remembered_while_it_is_accepted() -> None:
    of = accepting(minus="edge-too-near", plus="off-base")
    assert to_remember(of, {}) == {"minus": MARK, "plus": MARK}
    old = {"minus": "0.00 0.00 1.00 1.00 4.00", "gone": MARK}
    assert to_remember(of, old) == {"minus": old["minus"], "plus": MARK}


@pytest.mark.parametrize(
    ("now", "before", "same"),
    [
        (MARK, None, True),
        (MARK, MARK, True),
        (MARK, "", False),
        (MARK, "1 2 3", False),
        (MARK, "a b c d e", False),
    ],
)
def test_unchanged(now: str, before: str | None, same: bool) -> None:
    assert unchanged(now, before) == same
