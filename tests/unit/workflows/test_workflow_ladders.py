"""How many overlaps lie in series between the battery and the worst light."""

from __future__ import annotations

from rules.cards import bench, case, rails, strip, two_feet
from underlit.model.card import Card
from underlit.workflows.ladders import joints_to_worst_light

PLUS, MINUS = rails()


def worst(of: Card) -> int:
    return joints_to_worst_light(case(of))


def pieces(*stops: float) -> list:  # type: ignore[type-arg]
    """The minus rail in pieces that overlap by 5 mm at each stop."""
    ends = [10.0, *stops]
    rail = [
        strip(f"piece-{i}", ((a, 28), (b + 5, 28)), polarity="negative")
        for i, (a, b) in enumerate(zip(ends, stops, strict=False))
    ]
    return [PLUS, *rail, strip("last", ((ends[-1], 28), (60, 28), (60, 62.5)), polarity="negative")]


def test_one_piece_has_none() -> None:
    assert worst(bench()) == 0


def test_each_overlap_on_the_way_counts() -> None:
    assert worst(bench(strips=pieces(27.5))) == 1
    assert worst(bench(strips=pieces(24.0, 42.5))) == 2


def test_the_best_way_to_the_worst_light_counts() -> None:
    by_pass = strip(
        "by-pass", ((12, 26), (12, 36), (57, 36), (57, 45), (61, 45)), polarity="negative"
    )
    assert worst(bench(by_pass, strips=pieces(18.0, 30.0, 42.5))) < 3


def test_there_and_back_are_added() -> None:
    short = strip("plus-a", ((10, 20), (45, 20)), polarity="positive")
    long = strip("plus-b", ((40, 20), (90, 20), (90, 62.5)), polarity="positive")
    strips = [short, long, *pieces(27.5)[1:]]
    assert worst(bench(strips=strips)) == 2


def test_a_switch_or_resistor_is_no_overlap() -> None:
    rail = strip("rail", ((10, 28), (60, 28), (60, 37)), polarity="negative")
    lead = strip("lead", ((60, 43), (60, 62.5)), polarity="negative")
    link = two_feet("resistor", "r", (60, 40), 90.0, ohms="47")
    assert worst(bench(strips=[PLUS, rail, lead], resistors=(link,))) == 0


def test_a_light_that_is_not_reached_does_not_count() -> None:
    assert worst(bench(strips=[PLUS])) == 0
