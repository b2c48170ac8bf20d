"""What must not change when a card is turned, moved, mirrored, rewritten: rule, severity, place."""

from __future__ import annotations

import functools
import math
from typing import Any

import pytest

from kit.card import Card
from kit.encode import STYLES, encode, styled
from kit.run import validate_shell, validate_text

from .changes import Where, as_filled, mirrored, pushed, split, splittable, swapped, turned
from .compare import LATER, plain_id
from .faults import make_fault
from .layouts import good_layout
from .wild import wild_layout

NEAR = 0.1
"""The same place, mm."""

ANYWHERE = ("width-not-in-stock",)
"""One finding for many strips: which of them it is put on is left open."""

FAULTS = (
    "touch",
    "sliver-bridge",
    "gap",
    "open",
    "patch-too-small",
    "reversed-light",
    "pad-barely-covered",
    "short-through-a-pad",
    "short-through-the-flap",
    "scaled-part",
    "floating-strip",
)
CARDS = [f"fault {k} 7" for k in FAULTS] + ["good 3", "good 5"] + [f"wild {s}" for s in range(6)]


@functools.cache
def card_of(name: str) -> Card:
    kind, *rest = name.split()
    if kind == "fault":
        return make_fault(rest[0], int(rest[1])).card
    return (good_layout if kind == "good" else wild_layout)(int(rest[0])).card


Found = list[tuple[str, str, Any, frozenset[str]]]


def found(card: Card, style: str = "plain", seed: int = 0, serious: bool = False) -> Found:
    """Rule, severity, place and the card's own ids of every finding."""
    text, names = encode(card, style, seed)
    return told(validate_text(text), names, serious)


def told(report: dict[str, Any], names: dict[str, str], serious: bool = False) -> Found:
    back = {v: k for k, v in names.items()}
    return [
        (
            f["rule"],
            f["severity"],
            f["at"],
            frozenset(back.get(plain_id(o), plain_id(o)) for o in f["objects"]),
        )
        for f in report["findings"]
        if f["rule"] not in LATER and not (serious and f["severity"] == "note")
    ]


@functools.cache
def first(name: str) -> tuple[Any, ...]:
    return tuple(found(card_of(name)))


def same(before: Found, after: Found, where: Where, objects: bool = True) -> list[str]:
    """What differs, each finding paired with the nearest of its kind."""
    left = list(after)
    out = []
    for rule, severity, at, names in before:
        place = None if at is None else where((at[0], at[1]))
        hit = next(
            (
                g
                for g in left
                if g[:2] == (rule, severity)
                and (not objects or g[3] == names)
                and (rule in ANYWHERE or _together(place, g[2]))
            ),
            None,
        )
        if hit is None:
            out.append(f"gone: {severity} {rule} at {place} of {sorted(names)}")
        else:
            left.remove(hit)
    return out + [f"new: {g[1]} {g[0]} at {g[2]} of {sorted(g[3])}" for g in left]


def _together(a: Any, b: Any) -> bool:
    if a is None or b is None:
        return a is b
    return math.dist(a, b) <= NEAR


def but_widths(findings: Found) -> Found:
    """Without the note on widths: a filled outline has no width of its own."""
    return [f for f in findings if f[0] not in ANYWHERE]


def stay(p: tuple[float, float]) -> tuple[float, float]:
    return p


def test_the_cards_have_findings():
    rules = {rule for name in CARDS for rule, *_ in first(name)}
    assert rules >= {"polarities-touch", "gap-too-small", "light-unfed", "light-reversed"}


@pytest.mark.parametrize("angle", [90.0, 180.0, 33.3, -127.0])
@pytest.mark.parametrize("name", CARDS)
def test_turned(name, angle):
    card, where = turned(card_of(name), angle)
    assert same(list(first(name)), found(card), where) == []


@pytest.mark.parametrize("name", CARDS)
def test_moved(name):
    card, where = pushed(card_of(name), 17.23, 5.071)
    assert same(list(first(name)), found(card), where) == []


@pytest.mark.parametrize("name", CARDS)
def test_mirrored(name):
    if "mirrored" in name:
        pytest.skip("a mirrored part is as good as new in a mirror")
    card, where = mirrored(card_of(name))
    assert same(list(first(name)), found(card), where) == []


@pytest.mark.parametrize("name", CARDS)
def test_swapped_polarities(name):
    card = card_of(name)
    if card.folds:
        pytest.skip("a bare cell's rim is plus")
    changed, where = swapped(card)
    assert same(list(first(name)), found(changed), where) == []


@pytest.mark.parametrize("name", CARDS)
def test_a_strip_split_in_two(name):
    card = card_of(name)
    named = {o for *_, names in first(name) for o in names}
    for id_ in splittable(card, named)[:3]:
        changed, where = split(card, id_)
        before = found(card, serious=True)
        assert same(before, found(changed, serious=True), where, objects=False) == []


@pytest.mark.parametrize("name", CARDS)
def test_strokes_as_filled_outlines(name):
    changed, where = as_filled(card_of(name))
    assert same(but_widths(list(first(name))), but_widths(found(changed)), where) == []


@pytest.mark.parametrize("style", sorted(STYLES))
@pytest.mark.parametrize("name", CARDS)
def test_written_in_another_style(name, style):
    objects = STYLES[style].die == "objects"  # in a compound path the openings have no ids
    before, again = list(first(name)), found(card_of(name), style, seed=5)
    if STYLES[style].strokes == "outline":
        before, again = but_widths(before), but_widths(again)
    assert same(before, again, stay, objects) == []


@pytest.mark.parametrize("unit", ["px", "tenth", "inch"])
@pytest.mark.parametrize("name", CARDS[:4])
def test_other_units(name, unit):
    text, names = encode(card_of(name), styled("plain", unit=unit))
    assert same(list(first(name)), told(validate_text(text), names), stay) == []


@pytest.mark.parametrize("name", [CARDS[0], CARDS[4], CARDS[8], "good 3"])
def test_the_tools_own_output(name):
    text, names = encode(card_of(name))
    report, drawing = validate_shell(text)
    assert same(list(first(name)), told(report, names), stay) == []
    assert same(list(first(name)), told(validate_text(drawing), names), stay) == []
    again, twice = validate_shell(drawing)
    assert same(list(first(name)), told(again, names), stay) == []
    assert twice == drawing
