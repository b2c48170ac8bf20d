"""How much is tried is counted, and what of a strip lies in openings is measured."""

from __future__ import annotations

import dataclasses

import numpy as np
import pytest
import shapely
from shapely.geometry import Point, box

from underlit.routing import Choices, Layout, OwnOpening, layouts, solve
from underlit.routing.allowance import moves_of
from underlit.routing.openings import AT_ONCE, Windows, length_within

from .boards import random_board
from .test_wishes import row
from .verifier import faults


def test_more_may_be_tried_with_more_lights_and_more_effort() -> None:
    few, many = row(5), row(60)
    more = dataclasses.replace(many, choices=Choices(effort=2))
    assert moves_of(few) < moves_of(many) < moves_of(more)
    assert moves_of(many) == pytest.approx(2.0 / 3.0 * moves_of(more))


def laid(seed: int) -> list[Layout]:
    found = list(layouts(random_board(8, seed, choices=Choices(effort=2))))
    assert all(isinstance(one, Layout) for one in found)
    return [one for one in found if isinstance(one, Layout)]


def test_few_moves_end_the_search_and_leave_a_sound_layout(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    whole = laid(1)
    monkeypatch.setattr(solve, "moves_of", lambda task: 300.0)
    short = laid(1)
    task = random_board(8, 1, choices=Choices(effort=2))
    assert faults(task, short[-1]) == []
    # the same beginning, the search over sooner; nobody's clock has ended it
    assert short[0].figures.length == whole[0].figures.length
    assert short[-1].cost > whole[-1].cost
    assert not short[-1].ended


def openings() -> Windows:
    """A dozen openings, some with an island of card in them."""
    random = np.random.default_rng(5)
    areas = []
    for k in range(12):
        x, y = 20.0 * (k % 4), 20.0 * (k // 4)
        area = shapely.union_all(
            [Point(x + a, y + b).buffer(r) for a, b, r in random.uniform(3.0, 7.0, (3, 3))]
        )
        areas.append(area.difference(Point(x + 5.0, y + 5.0).buffer(1.5)) if k % 2 else area)
    own = tuple(OwnOpening(str(k), area, 0.5) for k, area in enumerate(areas))
    return Windows(dataclasses.replace(row(), openings=own), tuple(np.linspace(0.5, 2.0, 12)))


@pytest.mark.parametrize("count", [3, 400])
def test_price_is_the_length_within_the_openings(count: int) -> None:
    """Against shapely's intersection of each line with each opening."""
    windows = openings()
    assert (len(windows.sides) * count > AT_ONCE) == (count == 400)
    rows = np.random.default_rng(count).uniform(-10.0, 90.0, (count, 4))
    lines = shapely.linestrings(rows.reshape(-1, 2, 2))
    inside = shapely.length(shapely.intersection(lines[:, None], windows.areas[None, :]))
    wanted = (inside * windows.rates).sum(axis=1)
    assert wanted.max() > 5.0
    assert windows.price(rows) == pytest.approx(wanted, abs=1e-9)
    links = [tuple(one) for one in rows.tolist()]
    assert windows.together(links) == pytest.approx(wanted.sum())
    assert windows.together(links[:2] * 2) == pytest.approx(2.0 * wanted[:2].sum())


def test_lines_along_sides_and_through_corners() -> None:
    square = Windows(
        dataclasses.replace(row(), openings=(OwnOpening("1", box(0, 0, 10, 10), 0.5),)), (1.0,)
    )
    lines = {
        (-5.0, -5.0, 15.0, 15.0): 200.0**0.5,
        (0.0, 0.0, 10.0, 10.0): 200.0**0.5,
        (5.0, -5.0, 5.0, 5.0): 5.0,
        (2.0, 3.0, 5.0, 7.0): 5.0,
        (5.0, 5.0, 5.0, 5.0): 0.0,
        (12.0, 5.0, 20.0, 5.0): 0.0,
        (-9.0, 1.0, -1.0, 1.0): 0.0,
    }
    got = length_within(np.array(list(lines)), square.sides, np.ones(1))
    assert got == pytest.approx(list(lines.values()))
