"""Contacts: what meets what, and what a patch in the laying order keeps apart."""

from __future__ import annotations

import pytest
import shapely
from shapely.geometry import box

from rules.cards import bare_cell, bench, card, cut, holder, light, patch, strip, tape
from underlit.connectivity.contacts import conductors_of, find_contacts, is_bare, meeting, pad_sides
from underlit.model.card import Card
from underlit.model.circuit import Contact

ACROSS = strip("across", ((0, 0), (40, 0)))
DOWN = strip("down", ((20, -20), (20, 20)))


def contacts(of: Card, conducts: bool = True) -> tuple[Contact, ...]:
    return find_contacts(of, conductors_of(of), conducts)


def crossing(*laid: object) -> tuple[Contact, ...]:
    return contacts(card(**tape(laid)))  # type: ignore[arg-type]


def test_conductors_stand_in_laying_order_then_feet_of_parts() -> None:
    found = [(c.name, c.pad) for c in conductors_of(bench())]
    assert found[:4] == [
        ("plus", None),
        ("minus", None),
        ("light-1", "positive-pad"),
        ("light-1", "negative-pad"),
    ]
    assert found[-2:] == [("battery", "positive-pad"), ("battery", "negative-pad")]


def test_a_crossing_is_one_contact_of_the_overlap() -> None:
    (contact,) = crossing(ACROSS, DOWN)
    assert (contact.upper, contact.lower) == (1, 0)
    assert contact.area == pytest.approx(25.0)
    assert contact.at == pytest.approx((20.0, 0.0))


@pytest.mark.parametrize(
    ("gap", "touches"), [(0.0, True), (0.009, True), (0.011, False), (0.5, False)]
)
def test_what_is_nearer_than_the_tolerance_touches(gap: float, touches: bool) -> None:
    found = crossing(cut("a", box(0, 0, 10, 5)), cut("b", box(10 + gap, 0, 20, 5)))
    assert len(found) == touches
    if touches:
        assert found[0].area == 0.0
        assert found[0].at == pytest.approx((10.0 + gap / 2, 2.5), abs=0.01)


def test_corners_that_meet_in_a_point_touch() -> None:
    (contact,) = crossing(cut("a", box(0, 0, 10, 5)), cut("b", box(10, 5, 20, 10)))
    assert contact.at == pytest.approx((10.0, 5.0))


def test_crossing_twice_gives_two_contacts() -> None:
    hook = strip("hook", ((10, -10), (10, 10), (30, 10), (30, -10)))
    found = crossing(ACROSS, hook)
    assert [c.at for c in found] == [pytest.approx((10, 0)), pytest.approx((30, 0))]


def test_a_patch_between_keeps_a_crossing_apart() -> None:
    assert crossing(ACROSS, patch("p", box(15, -5, 25, 5)), DOWN) == ()


@pytest.mark.parametrize("order", [("patch", ACROSS, DOWN), (ACROSS, DOWN, "patch")])
def test_a_patch_under_or_over_both_strips_keeps_nothing_apart(order: tuple[object, ...]) -> None:
    paper = patch("p", box(15, -5, 25, 5))
    assert len(crossing(*(paper if t == "patch" else t for t in order))) == 1


def test_a_patch_that_is_too_small_leaves_a_contact_beside_it() -> None:
    (contact,) = crossing(ACROSS, patch("p", box(15, -5, 21, 5)), DOWN)
    assert contact.area == pytest.approx(1.5 * 5.0)
    assert contact.at == pytest.approx((21.75, 0.0))


def test_a_patch_just_as_large_as_the_crossing_still_lets_the_edges_touch() -> None:
    found = crossing(ACROSS, patch("p", box(17.5, -2.5, 22.5, 2.5)), DOWN)
    assert [c.at for c in found] == [pytest.approx((20, -2.5)), pytest.approx((20, 2.5))]
    assert crossing(ACROSS, patch("p", box(17.48, -2.52, 22.52, 2.52)), DOWN) == ()


def test_two_patches_together_keep_a_crossing_apart() -> None:
    halves = (patch("p", box(15, -5, 20, 5)), patch("q", box(19, -5, 25, 5)))
    assert crossing(ACROSS, *halves, DOWN) == ()


def test_tape_that_does_not_conduct_needs_a_prepared_end() -> None:
    ends = (strip("a", ((0, 0), (22.5, 0))), strip("b", ((20, -2.5), (20, 20))))
    folded = strip("b", ((20, -2.5), (20, 20)), joint="folded-end")
    assert [c.conducts for c in contacts(card(**tape(ends)), False)] == [False]
    assert [c.conducts for c in contacts(card(**tape((ends[0], folded))), False)] == [True]
    soldered = strip("b", ((20, -2.5), (20, 20)), joint="soldered")
    assert [c.conducts for c in contacts(card(**tape((ends[0], soldered))), False)] == [True]


def test_a_foot_conducts_whatever_the_glue() -> None:
    assert all(c.conducts for c in contacts(bench(), False))


def on_foot(contact: str, *laid: object) -> int:
    lamp = light("l", (4.0, 0.0), 180.0, contact=contact)  # plus foot at (0, 0)
    of = card(lights=(lamp,), **tape(laid))  # type: ignore[arg-type]
    return len([c for c in contacts(of) if c.upper == len(of.strips)])


PAPER = patch("p", box(-5, -5, 2, 5))
RAIL = strip("rail", ((0, -20), (0, 20)), width=3.0)


@pytest.mark.parametrize(
    ("contact", "laid", "meets"),
    [
        ("below", (RAIL, PAPER), False),
        ("below", (PAPER, RAIL), True),
        ("above", (RAIL, PAPER), True),
        ("above", (PAPER, RAIL), False),
        ("both", (RAIL, PAPER), True),
        ("both", (PAPER, RAIL), True),
        ("both", (PAPER, RAIL, PAPER), False),
        ("below", (RAIL,), True),
        ("above", (RAIL,), True),
    ],
)
def test_a_patch_counts_on_the_side_from_which_the_strip_meets_the_foot(
    contact: str, laid: tuple[object, ...], meets: bool
) -> None:
    assert on_foot(contact, *laid) == meets


def test_bare_is_a_battery_whose_contacts_lie_within_its_disc() -> None:
    assert is_bare(bare_cell())
    assert not is_bare(holder())
    open_flap = bare_cell(plus=(30.0, 0.0))
    assert not is_bare(open_flap)
    assert is_bare(open_flap, apart="positive-pad")


def test_tape_goes_over_and_under_the_upper_face_of_a_bare_battery() -> None:
    assert pad_sides(bare_cell(), "positive-pad") == ("below", "above")
    assert pad_sides(bare_cell(), "negative-pad") == ("below",)
    down = bare_cell(up="minus")
    assert pad_sides(down, "negative-pad") == ("below", "above")
    assert pad_sides(down, "positive-pad") == ("below",)
    assert pad_sides(holder(), "positive-pad") == ("below",)


def test_meeting_names_each_connected_place() -> None:
    comb = shapely.union_all([box(0, 0, 1, 10), box(4, 0, 5, 10)])
    assert len(meeting(comb, box(-1, 4, 6, 6))) == 2
    assert meeting(comb, box(1.5, 0, 3.5, 5)) == []
