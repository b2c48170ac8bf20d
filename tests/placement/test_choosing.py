"""Which openings are chosen, and the words for choices that cannot be."""

from __future__ import annotations

import pytest
import shapely

from placement.cards import opening
from underlit.errors import UnknownChoice
from underlit.model.card import Opening
from underlit.placement.lights import choose, read_count, read_numbers, read_place, read_turn


def card() -> list[Opening]:
    found = [opening(i, shapely.box(20 * i, 0, 20 * i + 10, 10)) for i in (1, 2, 3)]
    small = shapely.box(22, 2, 25, 5)
    pair = [
        Opening(4 + k, f"pair#{k + 1}", "pair", (5, 5), shapely.box(0, y, 9, y + 9), small, 0)
        for k, y in enumerate((40, 60))
    ]
    return found + pair


def names(*args, **kwargs) -> list[str]:
    return [o.name for o in choose(card(), *args, **kwargs)]


def test_all_where_nothing_is_asked_for() -> None:
    assert names() == ["w1", "w2", "w3", "pair#1", "pair#2"]


def test_by_name_number_and_place_each_once_in_the_order_of_the_card() -> None:
    assert names(["w3", "w1"], [3], [(25.0, 5.0)]) == ["w1", "w3"]
    assert names(["pair"]) == ["pair#1", "pair#2"]
    assert names(["pair#2"]) == ["pair#2"]
    assert names(numbers=[2, 4]) == ["w2", "pair#1"]


def test_the_smallest_window_over_a_place() -> None:
    inner = [*card(), opening(9, shapely.box(22, 2, 26, 6))]
    assert [o.name for o in choose(inner, places=[(24.0, 4.0)])] == ["w9"]


@pytest.mark.parametrize(
    ("wish", "words"),
    [
        ({"names": ["moon"]}, "moon is no window"),
        ({"numbers": [7]}, "There is no window 7; this card has windows 1 to 5."),
        ({"places": [(300.0, 5.0)]}, "There is no window at 300, 5 mm."),
    ],
)
def test_what_is_no_window_is_said(wish, words) -> None:
    with pytest.raises(UnknownChoice, match=words):
        choose(card(), **wish)


def test_nothing_to_choose_from() -> None:
    with pytest.raises(UnknownChoice, match="no window to light yet"):
        choose([])


def test_number_lists() -> None:
    assert read_numbers("1,4,7-9") == (1, 4, 7, 8, 9)
    assert read_numbers(" 3 , 2-3 ") == (3, 2)


@pytest.mark.parametrize("text", ["", "a", "1,,2", "9-7", "1-2-3", "-4", "1.5", "1-99999", "²"])
def test_what_is_no_number_list(text) -> None:
    with pytest.raises(UnknownChoice, match=r"[Ww]indow"):
        read_numbers(text)


def test_places_counts_and_turns() -> None:
    assert read_place("12.5, 40") == (12.5, 40.0)
    assert (read_count("auto"), read_count("3")) == (None, 3)
    assert (read_turn("free"), read_turn("45"), read_turn("-90")) == ("free", "45", 270.0)
    assert read_turn("45.0") == 45.0


@pytest.mark.parametrize("text", ["1", "1,2,3", "x,y", "nan,1", "inf,2", ""])
def test_what_is_no_place(text) -> None:
    with pytest.raises(UnknownChoice, match="A place looks like"):
        read_place(text)


@pytest.mark.parametrize("text", ["0", "-1", "2.5", "many", "", "201"])
def test_what_is_no_count(text) -> None:
    with pytest.raises(UnknownChoice, match="number of lights"):
        read_count(text)


@pytest.mark.parametrize("text", ["left", "nan", "", "inf"])
def test_what_is_no_turn(text) -> None:
    with pytest.raises(UnknownChoice, match="The turn is"):
        read_turn(text)
