"""Places of cards: what counts, what is cut out of what, who is a neighbour."""

from __future__ import annotations

import pytest
import shapely

from sheet.made import case, sample
from underlit.colours.places import Fronts, fronts_of, letter


def card(paths: str) -> str:
    """A front of 100 x 100 mm with outlines in it."""
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" xmlns:underlit="urn:underlit:card:1" '
        'width="120mm" height="120mm" viewBox="0 0 120 120"><g underlit:role="die-cut">'
        f'<path id="p" d="M10 10h100v100h-100z"/>{paths}</g></svg>'
    )


def square(name: str, x: float, y: float, size: float) -> str:
    return f'<path id="{name}" d="M{x} {y}h{size}v{size}h-{size}z"/>'


def fronts(text: str, choice: str = "unlit", lit: tuple[int, ...] = ()) -> Fronts:
    return fronts_of(case(text).card, lit, choice)


def names(some: Fronts) -> list[str]:
    return [place.name for place in some.places]


def test_a_ring_and_its_island_are_two_places_that_touch() -> None:
    found = fronts(card(square("ring", 30, 30, 40) + square("island", 40, 40, 20)))
    assert sorted((p.name, p.outline.area) for p in found.places) == [
        ("island", pytest.approx(400.0)), ("ring", pytest.approx(1200.0)),
    ]  # fmt: skip
    assert found.neighbours() == ((0, 1),)
    assert found.paper.area == pytest.approx(10000.0 - 1600.0)


def test_neighbours_are_near() -> None:
    row = square("a", 20, 20, 10) + square("b", 39, 20, 10) + square("c", 61, 20, 10)
    found = fronts(card(row))
    assert names(found) == ["a", "b", "c"]
    assert found.neighbours() == ((0, 1),)  # 9 mm, then 12 mm


def test_choices() -> None:
    text = card(
        square("lit", 20, 20, 20) + square("dark", 60, 20, 15) + square("speck", 20, 80, 4)
        + square("ring", 50, 50, 40) + square("island", 60, 60, 20)
    )  # fmt: skip
    lit = next(o.number for o in case(text).card.openings if o.name == "lit")
    assert names(fronts(text, "pieces", (lit,))) == ["island"]
    assert sorted(names(fronts(text, "unlit", (lit,)))) == ["dark", "island", "ring"]
    every = fronts(text, "all", (lit,))
    assert set(names(every)) == {"lit", "dark", "ring", "island", "speck"}
    assert [p.name for p in every.places if p.lit] == ["lit"]
    assert [p.window for p in every.places if p.name == "island"] == [None]


@pytest.mark.parametrize("name", ["night-garden", "lantern", "street", "lighthouse"])
@pytest.mark.parametrize("choice", ["unlit", "pieces", "all"])
def test_paper_windows_and_places_make_up_the_front(name: str, choice: str) -> None:
    """Nothing is lost between them and nothing counted twice."""
    of = case(sample(name)).card
    found = fronts_of(of, (), choice)
    parts = [found.paper, found.windows, *(p.outline for p in found.places)]
    whole = shapely.union_all([panel.outline for panel in of.panels])
    assert sum(part.area for part in parts) == pytest.approx(whole.area, abs=0.1)
    assert shapely.union_all(parts).symmetric_difference(whole).area < 0.1


def test_letters_run_row_by_row() -> None:
    """The street's windows are cut by hand: rows of six whose heights differ by tenths of a mm."""
    found = fronts(sample("street"), "all")
    xs = [place.at[0] for place in found.places]
    assert xs[:6] == sorted(xs[:6])
    assert xs[6:] == sorted(xs[6:])
    assert max(p.at[1] for p in found.places[:6]) < min(p.at[1] for p in found.places[6:])
    assert "".join(place.letter for place in found.places) == "ABCDEFGHIJKL"


def test_letters_go_on_after_z() -> None:
    assert [letter(n) for n in (0, 25, 26, 51, 52, 701, 702)] == [
        "A", "Z", "AA", "AZ", "BA", "ZZ", "AAA",
    ]  # fmt: skip
