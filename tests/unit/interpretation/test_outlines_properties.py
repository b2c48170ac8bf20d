"""Random drawings: nesting against counting by hand, and readings that must not change."""

from __future__ import annotations

from math import hypot

import numpy as np
import pytest
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st

from underlit.geometry.areas import EMPTY
from underlit.interpretation.outlines import Outlines, read_outlines
from underlit.model.drawing import Contour, Page, Shape
from unit.build import circle, contour, shape

FAR_PAGE = Page(5000.0, 5000.0, 1.0)

Ring = tuple[int, int, int]

ring = st.tuples(st.integers(0, 60), st.integers(0, 60), st.integers(1, 30))


def clear_of_each_other(rings: list[Ring]) -> list[Ring]:
    """Rings of which no two come nearer than 1 mm, first come first served."""
    kept: list[Ring] = []
    for x, y, r in rings:
        gaps = [
            max(hypot(x - a, y - b) - r - s, abs(r - s) - hypot(x - a, y - b)) for a, b, s in kept
        ]
        if all(gap >= 1.0 for gap in gaps):
            kept.append((x, y, r))
    return kept


def depth_by_hand(rings: list[Ring], k: int) -> int:
    x, y, r = rings[k]
    return sum(hypot(x - a, y - b) < s - r for a, b, s in rings)


def read(shapes: list[Shape]) -> Outlines:
    return read_outlines(shapes, FAR_PAGE, EMPTY)


@given(
    rings=st.lists(ring, min_size=1, max_size=40), compound=st.booleans(), seed=st.integers(0, 9)
)
@settings(max_examples=60, deadline=None)
def test_levels_agree_with_counting_by_hand(rings: list[Ring], compound: bool, seed: int) -> None:
    rings = clear_of_each_other(rings)
    order = np.random.default_rng(seed).permutation(len(rings))
    contours = [circle(*rings[k], points=48) for k in order]
    if compound:
        found = read([shape("die-cut", contours, "all")])
    else:
        found = read([shape("die-cut", c, f"c{k}") for k, c in enumerate(contours)])
    depths = [depth_by_hand(rings, k) for k in range(len(rings))]
    assert len(found.panels) == depths.count(0)
    assert len(found.openings) == sum(d % 2 == 1 for d in depths)
    assert len(found.loose) == sum(d % 2 == 0 and d > 0 for d in depths)
    assert [o.number for o in found.openings] == list(range(1, len(found.openings) + 1))
    for piece in found.loose:
        assert found.openings[piece.opening].outline.contains(piece.outline)
        assert found.openings[piece.opening].panel == piece.panel


box = st.tuples(st.integers(0, 60), st.integers(0, 60), st.integers(3, 30), st.integers(3, 30)).map(
    lambda b: [(b[0], b[1]), (b[0] + b[2], b[1]), (b[0] + b[2], b[1] + b[3]), (b[0], b[1] + b[3])]
)


def moved(points: list[tuple[float, float]], change: int) -> Contour:
    """The outline shifted, turned by a right angle, mirrored, or run from another start."""
    places = np.array(points, dtype=float)
    if change == 1:
        places = places + np.array([713.0, 401.0])
    elif change == 2:
        places = places @ np.array([[0.0, 1.0], [-1.0, 0.0]]) + np.array([900.0, 900.0])
    elif change == 3:
        places = places * np.array([-1.0, 1.0]) + np.array([900.0, 0.0])
    elif change == 4:
        places = np.roll(places, 2, axis=0)[::-1]
    return contour(places)


CUT_AWAY = [(0, 0, 3, 6), (0, 6, 3, 3), (0, 6, 4, 3), (1, 4, 3, 5)]
"""The third outline is cut away altogether by the others."""


def corners(x: int, y: int, w: int, h: int) -> list[tuple[int, int]]:
    return [(x, y), (x + w, y), (x + w, y + h), (x, y + h)]


@example([corners(*b) for b in CUT_AWAY], 1)
@given(boxes=st.lists(box, min_size=1, max_size=10), change=st.integers(1, 4))
@settings(max_examples=60, deadline=None)
def test_moving_turning_and_mirroring_changes_nothing(
    boxes: list[list[tuple[float, float]]], change: int
) -> None:
    assume(len({str(b) for b in boxes}) == len(boxes))
    sizes = {abs(b[2][0] - b[0][0]) * abs(b[2][1] - b[0][1]) for b in boxes}
    assume(len(sizes) == len(boxes))  # among crossing panels of one size the first drawn counts
    before = read([shape("die-cut", moved(b, 0), f"b{k}") for k, b in enumerate(boxes)])
    after = read([shape("die-cut", moved(b, change), f"b{k}") for k, b in enumerate(boxes)])
    assert [(p.object, round(p.outline.area, 6)) for p in before.panels] == [
        (p.object, round(p.outline.area, 6)) for p in after.panels
    ]
    for kind in ("openings", "loose"):
        found = [
            sorted((t.object, round(t.outline.area, 6)) for t in getattr(reading, kind))
            for reading in (before, after)
        ]
        assert found[0] == found[1]
    assert before.notches == after.notches
    assert sorted(f.rule for f in before.findings) == sorted(f.rule for f in after.findings)
    for thing in (*after.panels, *after.openings, *after.loose):
        assert thing.outline.is_valid
        assert not thing.outline.is_empty


@pytest.mark.parametrize("count", [250, 1000])
def test_stroke_to_path_lace_is_read_once(count: int) -> None:
    shapes = [shape("die-cut", contour([(5, 5), (700, 5), (700, 500), (5, 500)]), "panel")]
    for k in range(count):
        x, y = 20 + 12 * (k % 50), 20 + 12 * (k // 50)
        shapes.append(shape("die-cut", [circle(x, y, 4.1, 12), circle(x, y, 3.9, 12)], f"w{k}"))
    found = read(shapes)
    assert (len(found.openings), found.doubled, found.loose) == (count, count, ())
