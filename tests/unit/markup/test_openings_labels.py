"""Numbers of windows and pieces: legible, on what they name, clear of what will cover them."""

from __future__ import annotations

from math import cos, pi, sin

import pytest
import shapely
from shapely.geometry import Point, Polygon, box
from shapely.geometry.base import BaseGeometry

from underlit.markup.labels import fitting, words_box
from underlit.markup.numbering import LIGHT_REACH, SMALLEST
from underlit.markup.openings import PIECE_SIZES, opening_groups, piece_groups
from underlit.markup.primitives import Group, Text
from underlit.model.card import Opening

#: Widths of letters over their size, measured on DejaVu Sans Bold.
WIDTH = {"Piece 12": 0.596, "7": 0.696, "12": 0.696}


def place_of(group: Group) -> tuple[BaseGeometry, float]:
    """The box of the words of a group, and the size of their type."""
    (text,) = (item for item in group.items if isinstance(item, Text))
    width = 0.7 * text.size * len(text.text)
    x, y = text.at
    left = x - width / 2.0 if text.anchor == "middle" else x
    return box(left, y - 0.73 * text.size, left + width, y), text.size


def window(area: Polygon, number: int = 1) -> Opening:
    at = (area.centroid.x, area.centroid.y)
    return Opening(number, f"w{number}", f"w{number}", at, area, area, 0, False)


def star(x: float, y: float, r: float) -> Polygon:
    turns = [(k * pi / 5.0, r if k % 2 else 0.5 * r) for k in range(10)]
    return Polygon([(x + d * sin(t), y - d * cos(t)) for t, d in turns])


@pytest.mark.parametrize("number", [1, 12, 147])
@pytest.mark.parametrize(
    "area",
    [box(0, 0, 18, 18), box(3, 5, 90, 60), Point(50, 50).buffer(12), star(40, 40, 24)],
)
def test_a_light_in_the_middle_leaves_the_number_to_be_read(area: Polygon, number: int) -> None:
    (group,) = opening_groups([window(area, number)])
    words, size = place_of(group)
    middle = shapely.get_coordinates(shapely.maximum_inscribed_circle(area))[0]
    assert size >= SMALLEST
    assert area.buffer(0.02).covers(words)
    assert words.distance(Point(middle)) > LIGHT_REACH - 0.1


def test_where_there_is_no_room_beside_a_light_it_stands_in_the_middle() -> None:
    (group,) = opening_groups([window(box(0, 0, 9, 9))])
    words, size = place_of(group)
    assert words.centroid.distance(Point(4.5, 4.5)) < 0.1
    assert size > 4.0


def test_a_row_of_equal_windows_has_its_numbers_at_one_place() -> None:
    areas = [box(x, 0.1 * x, x + 20, 0.1 * x + 20) for x in (0, 30, 60, 90)]
    groups = opening_groups([window(area, n) for n, area in enumerate(areas, 1)])
    offsets = {
        (round(words.bounds[0] - area.bounds[0], 3), round(words.bounds[1] - area.bounds[1], 3))
        for area, (words, _) in zip(areas, map(place_of, groups), strict=True)
    }
    assert len(offsets) == 1


class TestPieces:
    def grid(self) -> list[BaseGeometry]:
        return [box(15 + 20 * i, 15 + 20 * j, 30 + 20 * i, 30 + 20 * j)
                for i in range(4) for j in range(5)]  # fmt: skip

    def test_on_the_paper_clear_of_windows(self) -> None:
        panel, windows = box(10, 10, 100, 120), self.grid()
        (group,) = piece_groups([(1, panel, windows)])
        words, size = place_of(group)
        assert size in PIECE_SIZES
        assert panel.covers(words)
        assert not any(words.intersects(hole) for hole in windows)

    def test_beside_a_piece_that_is_too_small_clear_of_all_others(self) -> None:
        pieces = [box(0, 0, 60, 60), box(70, 0, 77, 8), box(70, 10, 77, 18), box(80, 0, 87, 8)]
        groups = piece_groups([(n, piece, ()) for n, piece in enumerate(pieces, 1)])
        places = [place_of(group)[0] for group in groups]
        for number, words in enumerate(places[1:3], 1):
            assert words.distance(pieces[number]) < 1.0
            assert not any(words.intersects(piece) for piece in pieces)
        for i, words in enumerate(places):
            assert not any(words.intersects(other) for other in places[:i])

    def test_with_no_room_anywhere_it_stands_on_its_piece(self) -> None:
        pieces = [box(8 * i, 8 * j, 8 * i + 8, 8 * j + 8) for i in range(5) for j in range(5)]
        groups = piece_groups([(n, piece, ()) for n, piece in enumerate(pieces, 1)])
        words, size = place_of(groups[12])
        assert words.centroid.distance(pieces[12].centroid) < 0.1
        assert size == PIECE_SIZES[-1]


def test_the_first_size_that_fits_nearest_to_what_was_wanted() -> None:
    at, size = fitting("12", box(0, 0, 30, 4), (9.0, 3.0, 2.0), (0.0, 2.0)) or ((0, 0), 0)
    assert size == 3.0
    assert at == pytest.approx((3.0 * (0.7 + 0.15), 2.0), abs=0.1)
    assert fitting("12", box(0, 0, 30, 2), (9.0, 3.0), (0.0, 2.0)) is None
    assert fitting("12", Polygon(), (9.0, 3.0), (0.0, 2.0)) is None


def test_boxes_hold_their_words() -> None:
    for text, width in WIDTH.items():
        left, top, right, bottom = words_box(text, (10.0, 10.0), 4.0)
        assert right - left > width * 4.0 * len(text)
        assert bottom - top > 0.73 * 4.0
