"""Whole cards against ngspice, their squares and overlaps counted by hand from the drawing.

Current enters a contact evenly: between the middles of two contacts lies their distance over the
width, and at a contact a long on a strip w wide a / 6 w squares are shared with the strip.
"""

from __future__ import annotations

import shutil

import numpy as np
import pytest

from electrical.nets import BLUE, GREEN, RED, network, spice_currents
from rules import cards
from rules.cards import bench, case, holder, light, strip, two_feet
from underlit.model.card import Card
from underlit.model.operation import AGED, MINUTE, PRESSED
from underlit.profiles import Profile

pytestmark = pytest.mark.skipif(shutil.which("ngspice") is None, reason="ngspice is missing")

SHEET, PAD, JOINT = 0.2, (2.0, 5.0), (2.0, 25.0)
CELL = (15.0, 60.0, 100.0)
CORNER = 0.5587288

#: Kinds as the profile has them (green's series resistance is rounded there).
KINDS = {"red": RED, "blue": BLUE, "green": (*GREEN[:2], 20.7), "warm-white": BLUE}

Ohms = list[tuple[int, int, float]]


def own() -> Profile:
    return cards.with_tape(ohms_per_square=SHEET)


def run(length: float) -> float:
    """Ohms of a straight run 5 mm wide."""
    return length / 5.0 * SHEET


def foot(aged: bool, area: float, along: float) -> float:
    """Ohms under a foot that lies `along` mm on its strip."""
    return PAD[aged] / area - along / 30.0 * SHEET


def overlap(aged: bool) -> float:
    """Ohms of an overlap of 5 x 5 mm, shared with the tape of both strips."""
    return max(JOINT[aged] / 25.0 - 2.0 * 5.0 / 30.0 * SHEET, 0.0)


def compare(card: Card, hand: dict[int, np.ndarray]) -> None:
    operation = case(card, own()).operation
    assert operation is not None
    for state, expected in hand.items():
        mine = np.array([flow.amps[state] for flow in operation.lights.values()])
        np.testing.assert_allclose(mine, expected, rtol=1e-3, atol=1e-6)


STATES = [(PRESSED, CELL[0], False), (MINUTE, CELL[1], False), (AGED, CELL[2], True)]
XS = (20.0, 35.0, 50.0)


def minus_rail(aged: bool) -> Ohms:
    """Minus feet at nodes 20, 21, 22 on tape 10, 11, 12; the battery's minus foot is node 0."""
    found: Ohms = [(10, 11, run(15.0)), (11, 12, run(15.0))]
    # from x 50 to the corner's square at 57.5, the corner, from 30.5 down to the foot at 60
    found.append((12, 1, run(57.5 - 50.0) + CORNER * SHEET + run(60.0 - 30.5)))
    found.append((1, 0, foot(aged, 4.0 * 5.0, 5.0)))
    return found + [(20 + i, 10 + i, foot(aged, 9.0, 3.0)) for i in range(3)]


@pytest.mark.parametrize("kinds", [("red", "blue", "green"), ("warm-white",) * 3])
def test_mixed_colours_an_overlap_and_a_resistor(kinds: tuple[str, ...]) -> None:
    """Plus: a rail to x 72, overlapped by one from x 67 on, a corner, 100 ohms, a lead."""
    rails = [
        strip("far", ((10, 20), (72, 20))),
        strip("near", ((67, 20), (90, 20), (90, 40))),
        strip("lead", ((90, 43), (90, 62.5))),
        cards.rails()[1],
    ]
    resistor = two_feet("resistor", "r", (90, 41.5), 90.0, ohms="100")
    lights = tuple(
        light(f"light-{i}", (x, 24.0), type=kind)
        for i, (x, kind) in enumerate(zip(XS, kinds, strict=True))
    )
    hand = {}
    for state, ohm, aged in STATES:
        rows = minus_rail(aged)
        rows += [(30 + i, 40 + i, foot(aged, 9.0, 3.0)) for i in range(3)]
        rows += [(40, 41, run(15.0)), (41, 42, run(15.0)), (42, 43, run(69.5 - 50.0))]
        rows.append((43, 44, overlap(aged)))
        # the first foot of the resistor lies from y 36 to 39, the second from 44 to 47
        down = run(87.5 - 69.5) + CORNER * SHEET + run(37.5 - 22.5)
        rows.append((44, 45, down))
        rows += [(45, 46, foot(aged, 9.0, 3.0)), (46, 47, 100.0), (47, 48, foot(aged, 9.0, 3.0))]
        rows += [(48, 49, run(60.0 - 45.5)), (49, 50, foot(aged, 20.0, 5.0))]
        fed = [(30 + i, 20 + i, *KINDS[kind]) for i, kind in enumerate(kinds)]
        hand[state] = spice_currents(network(51, rows, fed, [(50, 0, 3.0, ohm)]))
    compare(bench(strips=rails, lights=lights, resistors=(resistor,)), hand)


def test_two_batteries_side_by_side() -> None:
    """Two alike in the same place, each on the tape through feet of its own."""
    lights = tuple(light(f"light-{i}", (x, 24.0)) for i, x in enumerate(XS))
    hand = {}
    for state, ohm, aged in STATES:
        rows = minus_rail(aged)
        rows += [(30 + i, 40 + i, foot(aged, 9.0, 3.0)) for i in range(3)]
        rows += [(40, 41, run(15.0)), (41, 42, run(15.0))]
        rows.append((42, 43, run(87.5 - 50.0) + CORNER * SHEET + run(60.0 - 22.5)))
        # the second battery's feet: as those of the first, on the same places
        rows += [(43, 50, foot(aged, 20.0, 5.0)), (43, 51, PAD[aged] / 20.0)]
        rows += [(1, 2, PAD[aged] / 20.0)]
        fed = [(30 + i, 20 + i, *KINDS["warm-white"]) for i in range(3)]
        cells = [(50, 0, 3.0, ohm), (51, 2, 3.0, ohm)]
        hand[state] = spice_currents(network(52, rows, fed, cells))
    operation = case(bench(lights=lights, cells=(holder(), holder("b2"))), own()).operation
    assert operation is not None
    for state, expected in hand.items():
        mine = [flow.amps[state] for flow in operation.lights.values()]
        assert mine == pytest.approx(expected, rel=3e-3)
