"""Strips that lie on each other for long, against the closed form of two coupled lines.

Two lines of r ohms a mm each, coupled by g siemens a mm over a length L, from the start of one to
the end of the other: R = r L / 2 + (r / k) coth(k L / 2), k = sqrt(2 r g) (a lossy line's
differential mode; the common mode shares the current).
"""

from __future__ import annotations

from math import sqrt, tanh

import pytest
from shapely import affinity
from shapely.geometry import box

from rules import cards
from rules.cards import SPOTS, bench, case, light, strip
from underlit.electrical.overlaps import short_pieces
from underlit.model.operation import PRESSED, Change


def coupled(length: float, ohms: float, joint: float, width: float = 5.0) -> float:
    r, g = ohms / width, width / joint
    k = sqrt(2.0 * r * g)
    return r * length / 2.0 + r / k / tanh(k * length / 2.0)


def test_short_overlaps_stay_whole() -> None:
    square = box(0, 0, 5, 5)
    assert list(short_pieces(square, 5.0)) == [square]
    assert len(list(short_pieces(box(0, 0, 6.2, 5), 5.0))) == 1


@pytest.mark.parametrize("angle", [0.0, 33.0])
def test_long_ones_are_cut_across(angle: float) -> None:
    long = affinity.rotate(box(0, 0, 60, 5), angle)
    pieces = list(short_pieces(long, 5.0))
    assert len(pieces) == 10
    assert [piece.area for piece in pieces] == pytest.approx([30.0] * 10)


@pytest.mark.parametrize("length", [8.0, 20.0, 45.0])
@pytest.mark.parametrize("joint", [2.0, 250.0])
def test_the_resistance_of_a_long_overlap(length: float, joint: float) -> None:
    """As much as a resistor before the one light of the card whose plus rail has no overlap."""
    ohms = 0.5
    own = cards.with_tape(
        ohms_per_square=ohms, joint_ohm_mm2=joint, pad_ohm_mm2=2.0 * ohms, joint_aged_ohm_mm2=joint
    )
    one = (light("light-1", SPOTS[0]),)
    start = 30.0
    two = [
        strip("far", ((10, 20), (start + length, 20))),
        strip("near", ((start, 20), (90, 20), (90, 62.5))),
        cards.rails()[1],
    ]
    overlapped, plain = case(bench(strips=two, lights=one), own), case(bench(lights=one), own)
    assert overlapped.supply is not None
    assert plain.supply is not None
    more = coupled(length, ohms, joint) - ohms / 5.0 * length
    mine = overlapped.supply.operate(Change()).lights["light-1"].amps[PRESSED]
    extra = Change(resistors={"light-1": more})
    right = plain.supply.operate(extra).lights["light-1"].amps[PRESSED]
    assert mine == pytest.approx(right, rel=2e-3)
