"""Overlaps that the circuit needs and that are too small, or do not conduct."""

from __future__ import annotations

import pytest

from rules.cards import bench, case, rails, strip
from underlit.connectivity import read_circuit
from underlit.connectivity.joints import Weak, weak_joints
from underlit.model.card import Card


def weak(of: Card, cover: float = 0.4) -> list[Weak]:
    return list(weak_joints(case(of).circuit, cover))


def split(overlap: float, *more: object) -> Card:
    """The minus rail in two pieces that overlap at x 42."""
    left = strip("left", ((10, 28), (42, 28)), polarity="negative")
    right = strip("right", ((42 - overlap, 28), (60, 28), (60, 62.5)), polarity="negative")
    return bench(*more, strips=[rails()[0], left, right])  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("overlap", "count"), [(0.5, 1), (1.98, 1), (1.999, 0), (2.0, 0), (2.1, 0)]
)
def test_overlap_area_against_the_narrower_width_squared(overlap: float, count: int) -> None:
    """0.4 x 5 x 5 = 10 mm2: at 5 mm of width an overlap of 2 mm, met within 0.01 mm."""
    found = weak(split(overlap))
    assert len(found) == count
    for w in found:
        assert w.area == pytest.approx(5.0 * overlap)
        assert w.needed == pytest.approx(10.0)
        assert w.at == pytest.approx((42 - overlap / 2, 28.0))


def test_areas_of_one_pair_add_up() -> None:
    """A comb that overlaps twice by 5 x 1.2 mm."""
    left = strip("left", ((10, 28), (41.2, 28)), polarity="negative")
    second = strip("right", ((40, 28), (60, 28), (60, 62.5)), polarity="negative")
    assert len(weak(bench(strips=[rails()[0], left, second]))) == 1
    more = strip("left", ((10, 28), (41.2, 28)), polarity="negative")
    bridged = strip("round", ((30, 28), (30, 34), (50, 34), (50, 28)), polarity="negative")
    assert weak(bench(bridged, strips=[rails()[0], more, second])) == []


def test_a_dead_end_does_not_need_its_overlap() -> None:
    spare = strip("spare", ((59.5, 40), (30, 40)), polarity="negative")
    assert weak(bench(spare)) == []


def test_a_chain_to_a_foot_needs_every_overlap() -> None:
    left = strip("left", ((10, 28), (30, 28)), polarity="negative")
    middle = strip("middle", ((29.5, 28), (43, 28)), polarity="negative")
    right = strip("right", ((42.5, 28), (60, 28), (60, 62.5)), polarity="negative")
    found = weak(bench(strips=[rails()[0], left, middle, right]))
    assert [w.pair for w in found] == [(2, 1), (3, 2)]


def test_a_short_is_no_joint() -> None:
    touch = strip("touch", ((28, 20), (28, 25.6)), polarity="positive")
    assert case(bench(touch)).circuit.shorts
    assert weak(bench(touch)) == []


def test_plain_tape_that_crosses_both_sides_joins_nothing_that_should_be_joined() -> None:
    over = strip("over", ((57.5, 40), (95, 40)))
    assert weak_joints(read_circuit(bench(over), adhesive_conducts=False), 0.4) == ()
    more = strip("more", ((90, 57.5), (90, 70)))
    chain = [over, strip("side", ((75, 37), (75, 48))), more]
    assert weak_joints(read_circuit(bench(*chain), adhesive_conducts=False), 0.4) == ()


def test_a_plain_piece_between_two_feet_of_one_side_needs_both_its_overlaps() -> None:
    """It also crosses a plus strip, which nobody needs."""
    left = strip("left", ((10, 28), (42, 28)))
    right = strip("right", ((52, 28), (60, 28), (60, 62.5)))
    middle = strip("middle", ((37, 28), (57, 28)))
    across = strip("across", ((47, 20), (47, 34)))
    strips = [rails()[0], left, right, middle, across]
    lights = bench().lights[:2]
    circuit = read_circuit(bench(strips=strips, lights=lights), adhesive_conducts=False)
    names = [c.name for c in circuit.conductors]
    found = [{names[i] for i in w.pair} for w in weak_joints(circuit, 0.4)]
    assert found == [{"middle", "left"}, {"middle", "right"}]


def test_rails_laid_in_plain_pieces_need_their_overlaps() -> None:
    left = strip("left", ((10, 28), (42, 28)))
    right = strip("right", ((37, 28), (60, 28), (60, 62.5)))
    circuit = read_circuit(bench(strips=[rails()[0], left, right]), adhesive_conducts=False)
    found = weak_joints(circuit, 0.4)
    assert [(w.pair, w.conducts) for w in found] == [((2, 1), False)]
    assert found[0].at == pytest.approx((39.5, 28.0))
