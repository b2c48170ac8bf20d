"""How far conductors are apart, patches between them taken into account."""

from __future__ import annotations

import math

import pytest
from shapely.geometry import box

from rules.cards import bench, case, cut, light, patch, strip, tape
from rules.cards import card as make_card
from underlit.connectivity.contacts import PatchStack, conductors_of
from underlit.connectivity.gaps import clearance, closest_place, smallest_gap
from underlit.model.card import Card

LOW = strip("low", ((0, 0), (40, 0)))
HIGH = strip("high", ((20, -20), (20, 20)))


def gap(*laid: object) -> float:
    of = make_card(**tape(laid))  # type: ignore[arg-type]
    first, second = conductors_of(of)[:2]
    return clearance(first, second, PatchStack(of.patches))


def test_two_strips_side_by_side() -> None:
    assert gap(LOW, strip("b", ((0, 8), (40, 8)))) == pytest.approx(3.0)


@pytest.mark.parametrize("margin", [0.5, 2.0, 4.0])
def test_a_patch_adds_what_it_reaches_beyond_the_crossing(margin: float) -> None:
    reach = 2.5 + margin
    paper = patch("p", box(20 - reach, -reach, 20 + reach, reach))
    assert gap(LOW, paper, HIGH) == pytest.approx(margin)


def test_the_narrower_side_of_a_patch_counts() -> None:
    assert gap(
        LOW, patch("p", box(17.5 - 3, -2.5 - 0.7, 22.5 + 3, 2.5 + 3)), HIGH
    ) == pytest.approx(0.7)
    assert gap(
        LOW, patch("p", box(17.5 - 0.6, -2.5 - 3, 22.5 + 3, 2.5 + 3)), HIGH
    ) == pytest.approx(0.6)


def test_a_patch_in_the_wrong_order_adds_nothing() -> None:
    paper = patch("p", box(10, -10, 30, 10))
    assert gap(paper, LOW, HIGH) == 0.0
    assert gap(LOW, HIGH, paper) == 0.0


def test_a_strip_wholly_under_a_patch_still_faces_what_comes_out_beyond_it() -> None:
    assert gap(LOW, patch("p", box(-5, -5, 45, 5)), HIGH) == pytest.approx(2.5)
    both = patch("p", box(-50, -50, 50, 50))
    assert gap(LOW, both, HIGH) == math.inf


def test_the_place_of_a_gap_is_its_middle() -> None:
    assert closest_place(box(0, 0, 10, 5), box(4, 6, 14, 9), 1.0) == pytest.approx(
        (7, 5.5), abs=0.05
    )
    assert closest_place(box(0, 0, 10, 5), box(12, 0, 20, 5), 2.0) == pytest.approx(
        (11, 2.5), abs=0.05
    )


def smallest(of: Card) -> float | None:
    ready = case(of)
    return smallest_gap(ready.circuit, of, ready.signs)


def test_smallest_gap_of_a_card() -> None:
    assert smallest(bench()) == pytest.approx(3.0)
    assert smallest(bench(strips=[bench().strips[0]])) is None
    assert smallest(bench(cells=(), lights=(light("l", (20, 24)),))) == pytest.approx(3.0)


def test_smallest_gap_goes_round_a_patch() -> None:
    """Minus crosses the plus lead over a patch that reaches 2.2 mm beyond."""
    paper = patch("p", box(90 - 4.7, 40 - 4.7, 90 + 4.7, 40 + 4.7))
    over = strip("over", ((57.5, 40), (96, 40)))
    of = bench(paper, over)
    assert case(of).circuit.shorts == ()
    assert smallest(of) == pytest.approx(2.2)


def test_smallest_gap_looks_further_where_patches_hide_the_nearest() -> None:
    wide = patch("p", box(80, 33, 100, 47))
    over = strip("over", ((57.5, 40), (96, 40)))
    assert smallest(bench(wide, over)) == pytest.approx(3.0)
    assert smallest(bench(wide, over, cut("far", box(88, 66, 92, 70)))) == pytest.approx(3.0)


def foot_gap(contact: str, *laid: object) -> float:
    """Gap between a strip at x 0 and the plus foot of a light, which lies over it."""
    lamp = light("l", (4.0, 0.0), 180.0, contact=contact)
    of = make_card(lights=(lamp,), **tape(laid))  # type: ignore[arg-type]
    conductors = conductors_of(of)
    return clearance(conductors[len(of.strips)], conductors[0], PatchStack(of.patches))


def test_a_patch_between_a_foot_and_a_strip_counts_on_the_side_of_contact() -> None:
    """The foot is 3 mm square; the paper reaches 1.2 mm beyond it up and down the strip."""
    run = strip("run", ((0, -20), (0, 20)), 3.0)
    paper = patch("p", box(-5, -2.7, 5, 2.7))
    assert foot_gap("below", run) == 0.0
    assert foot_gap("below", run, paper) == pytest.approx(1.2)
    assert foot_gap("above", run, paper) == 0.0
    assert foot_gap("above", paper, run) == pytest.approx(1.2)
    assert foot_gap("both", run, paper) == 0.0
