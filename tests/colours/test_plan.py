"""Colour plans against exhaustive search, and against what is known of Latin rectangles."""

from __future__ import annotations

from collections import Counter
from itertools import combinations, permutations, product
from math import factorial

import numpy as np
import pytest

from underlit.colours.plan import Made, plan_of
from underlit.colours.shifts import cost_of, rounds_of, shifts_of

#: Permutations of K things that leave none in its place (OEIS A000166).
DERANGEMENTS = {2: 1, 3: 2, 4: 9, 5: 44}


def rows_of(colours: int) -> list[tuple[int, ...]]:
    """All ways to use each colour once in one place, none in a front of its own."""
    return [
        row
        for row in permutations(range(colours))
        if all(c != front for front, c in enumerate(row))
    ]


def most_cards(colours: int, places: int) -> int:
    """The most cards from one front of each colour, by trying every choice of cards."""
    every = [
        (front, pieces)
        for front in range(colours)
        for pieces in product(*[[c for c in range(colours) if c != front]] * places)
    ]

    def go(start: int, used: frozenset[tuple[int, int]]) -> int:
        best = 0
        for i in range(start, len(every)):
            front, pieces = every[i]
            takes = {(-1, front), *enumerate(pieces)}
            if not takes & used:
                best = max(best, 1 + go(i + 1, used | takes))
        return best

    return go(0, frozenset())


def least_alike(colours: int, places: int, neighbours: list[tuple[int, int]]) -> int:
    """The fewest neighbours alike over all cards of any one round, shifts or not."""
    rows = rows_of(colours)
    return min(
        sum(some[a][k] == some[b][k] for a, b in neighbours for k in range(colours))
        for some in product(rows, repeat=places)
    )


def check(cards: tuple[Made, ...], colours: int) -> None:
    """Every piece used once, none in a front of its own colour, no card twice."""
    for k in range(0, len(cards), colours):
        some = cards[k : k + colours]
        for row in ([c.front for c in some], *zip(*[c.pieces for c in some], strict=True)):
            assert sorted(row) == list(range(colours))
    assert all(card.front not in card.pieces for card in cards)
    assert len({(card.front, card.pieces) for card in cards}) == len(cards)


@pytest.mark.parametrize(("colours", "places"), [(2, 1), (2, 3), (3, 1), (3, 2), (3, 3), (4, 1)])
def test_no_plan_makes_more_cards(colours: int, places: int) -> None:
    plan = plan_of(colours, places, ())
    check(plan.cards, colours)
    assert len(plan.cards) == most_cards(colours, places) == colours


@pytest.mark.parametrize(
    ("colours", "places", "neighbours"),
    [
        (2, 2, [(0, 1)]),
        (3, 2, [(0, 1)]),
        (3, 3, [(0, 1), (1, 2)]),
        (3, 3, [(0, 1), (1, 2), (0, 2)]),
        (3, 5, [(0, 1), (1, 2), (2, 3), (3, 4), (4, 0)]),
        (4, 3, [(0, 1), (1, 2), (0, 2)]),
        (4, 4, [(0, 1), (0, 2), (0, 3), (1, 2), (1, 3), (2, 3)]),
    ],
)
def test_no_plan_has_fewer_neighbours_alike(
    colours: int, places: int, neighbours: list[tuple[int, int]]
) -> None:
    """Against every choice of permutations, not of shifts only."""
    plan = plan_of(colours, places, neighbours)
    check(plan.cards, colours)
    assert plan.alike == least_alike(colours, places, neighbours)
    counted = sum(c.pieces[a] == c.pieces[b] for c in plan.cards for a, b in neighbours)
    assert plan.alike == counted


@pytest.mark.parametrize("colours", DERANGEMENTS)
def test_the_reference_is_a_search_through_all(colours: int) -> None:
    """Rows are derangements; Latin rectangles of two rows are K! times as many."""
    rows = rows_of(colours)
    assert len(rows) == DERANGEMENTS[colours]
    two = sum(
        all(a != b for a, b in zip(first, second, strict=True))
        for first in permutations(range(colours))
        for second in permutations(range(colours))
    )
    assert two == factorial(colours) * DERANGEMENTS[colours]


@pytest.mark.parametrize("colours", range(2, 8))
def test_up_to_one_place_less_than_colours_all_places_differ(colours: int) -> None:
    """Then front and pieces of a card have colours of their own: a Latin rectangle."""
    every = list(combinations(range(colours - 1), 2))
    plan = plan_of(colours, colours - 1, every)
    check(plan.cards, colours)
    assert plan.alike == 0
    assert all(len({card.front, *card.pieces}) == colours for card in plan.cards)


@pytest.mark.parametrize(("colours", "places"), [(2, 3), (3, 1), (3, 2), (3, 3), (4, 2)])
def test_rounds_make_every_card_there_is(colours: int, places: int) -> None:
    neighbours = [(k, k + 1) for k in range(places - 1)]
    plan = plan_of(colours, places, neighbours, 10_000)
    check(plan.cards, colours)
    every = colours * (colours - 1) ** places
    assert len(plan.cards) == plan.possible == every
    assert plan.rounds == (colours - 1) ** places


def test_rounds_that_part_neighbours_come_first() -> None:
    ring = [(k, (k + 1) % 6) for k in range(6)]
    shifts = shifts_of(6, ring, 3)
    alike = [cost_of(other, ring)[0] for other in rounds_of(shifts, 3)]
    assert alike[:6] == [0] * 6
    assert len(alike) == 3**6


@pytest.mark.parametrize("seed", range(12))
def test_the_search_finds_the_best_shifts(seed: int) -> None:
    rng = np.random.default_rng(seed)
    places, ways = int(rng.integers(4, 8)), int(rng.integers(2, 4))
    pairs = [p for p in combinations(range(places), 2) if rng.random() < 0.6]
    found = shifts_of(places, pairs, ways)
    every = product(range(1, ways + 1), repeat=places)
    assert cost_of(found, pairs) == min(cost_of(other, pairs) for other in every)


def test_many_places_are_spread_evenly_after_few_steps() -> None:
    """A lace of 900 places in rows, four ways: two would do for its neighbours."""
    side = 30
    pairs = [(k, k + 1) for k in range(side * side) if (k + 1) % side]
    pairs += [(k, k + side) for k in range(side * (side - 1))]
    shifts = shifts_of(side * side, pairs, 4)
    assert cost_of(shifts, pairs)[0] == 0
    assert max(Counter(shifts).values()) - min(Counter(shifts).values()) <= 0.2 * side * side


def test_a_search_that_runs_out_of_steps_keeps_what_it_has() -> None:
    pairs = list(combinations(range(9), 2))
    assert len(shifts_of(9, pairs, 3, most_steps=1)) == 9
    assert cost_of(shifts_of(9, pairs, 3, most_steps=1), pairs) == (9, 9)


@pytest.mark.parametrize(("colours", "places"), [(1, 3), (3, 0)])
def test_what_makes_no_plan_is_refused(colours: int, places: int) -> None:
    with pytest.raises(ValueError, match="two colours and one place"):
        plan_of(colours, places, ())
