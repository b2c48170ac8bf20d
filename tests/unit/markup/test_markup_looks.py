"""Severities told apart by shape and by lightness, in grey and for other colour vision."""

from __future__ import annotations

from itertools import combinations

import numpy as np
import pytest

from underlit.markup.legend import INK, PAPER, SOFT
from underlit.markup.marks import HALO, LOOKS, mark_items, place_items
from underlit.markup.placing import REACH
from underlit.markup.primitives import Circle, Path, Text
from underlit.markup.text import text_width
from underlit.model.finding import SEVERITIES

#: Machado, Oliveira and Fernandes 2009, severity 1.0, on linear RGB.
VISIONS = {
    "usual": np.eye(3),
    "protan": np.array(
        [
            [0.152286, 1.052583, -0.204868],
            [0.114503, 0.786281, 0.099216],
            [-0.003882, -0.048116, 1.051998],
        ]
    ),
    "deutan": np.array(
        [
            [0.367322, 0.860646, -0.227968],
            [0.280085, 0.672501, 0.047413],
            [-0.011820, 0.042940, 0.968881],
        ]
    ),
}

TAPES = ("#003f66", "#e69f00")


def luminance(colour: str, vision: str = "usual") -> float:
    """Relative luminance (WCAG 2)."""
    srgb = np.array([int(colour[i : i + 2], 16) / 255.0 for i in (1, 3, 5)])
    linear = np.where(srgb <= 0.04045, srgb / 12.92, ((srgb + 0.055) / 1.055) ** 2.4)
    seen = np.clip(VISIONS[vision] @ linear, 0.0, 1.0)
    return float(seen @ np.array([0.2126, 0.7152, 0.0722]))


def contrast(a: str, b: str, vision: str = "usual") -> float:
    low, high = sorted((luminance(a, vision), luminance(b, vision)))
    return (high + 0.05) / (low + 0.05)


def test_contrast_formula() -> None:
    assert contrast("#000000", "#ffffff") == pytest.approx(21.0)
    assert contrast("#003f66", "#e69f00") == pytest.approx(4.9, abs=0.1)


@pytest.mark.parametrize("vision", sorted(VISIONS))
@pytest.mark.parametrize("severity", SEVERITIES)
def test_figures_stand_out(severity: str, vision: str) -> None:
    look = LOOKS[severity]
    assert contrast(look.figure, look.fill, vision) >= 4.5


@pytest.mark.parametrize("vision", sorted(VISIONS))
def test_severities_differ_in_lightness(vision: str) -> None:
    for a, b in combinations(SEVERITIES, 2):
        assert contrast(LOOKS[a].fill, LOOKS[b].fill, vision) >= 1.9, (a, b)


@pytest.mark.parametrize("vision", sorted(VISIONS))
def test_points_and_rims_stand_out_from_their_halo(vision: str) -> None:
    for look in LOOKS.values():
        assert contrast(look.dark, HALO, vision) >= 4.5
        assert contrast(look.outline, HALO, vision) >= 4.5


def test_halo_stands_out_where_the_mark_does_not() -> None:
    for tape in TAPES:
        for look in LOOKS.values():
            assert max(contrast(HALO, tape), contrast(look.outline, tape)) >= 3.0


def test_no_severity_has_the_colour_of_a_tape() -> None:
    def rgb(colour: str) -> np.ndarray:
        return np.array([int(colour[i : i + 2], 16) for i in (1, 3, 5)])

    for look in LOOKS.values():
        assert min(np.linalg.norm(rgb(look.fill) - rgb(tape)) for tape in TAPES) > 60


def test_legend_text_stands_out() -> None:
    assert contrast(INK, PAPER) >= 7.0
    assert contrast(SOFT, PAPER) >= 7.0


def test_every_severity_has_its_own_shape_colour_and_word() -> None:
    assert tuple(LOOKS) == SEVERITIES
    for name in ("shape", "fill", "word"):
        assert len({getattr(look, name) for look in LOOKS.values()}) == len(SEVERITIES)
    bodies = [mark_items(severity, 1, (0.0, 0.0))[1] for severity in SEVERITIES]
    kinds = [(type(b), b.points[0][0] if isinstance(b, Path) else b.radius) for b in bodies]
    assert [kind for kind, _ in kinds] == [Path, Circle, Path]
    assert kinds[0][1] == 0.0, "a diamond starts at its tip"
    assert kinds[2][1] < 0.0, "a square starts at its corner"


@pytest.mark.parametrize("severity", SEVERITIES)
@pytest.mark.parametrize("number", [1, 8, 10, 88, 100, 888, 1000, 8888])
def test_figures_lie_inside_their_shape_and_marks_inside_their_reach(
    severity: str, number: int
) -> None:
    halo, body, figures = mark_items(severity, number, (50.0, 60.0))
    assert isinstance(figures, Text)
    look = LOOKS[severity]
    half = text_width(figures.text, figures.size, figures.bold) / 2.0
    top, bottom = figures.at[1] - 0.76 * figures.size - 60.0, figures.at[1] - 60.0
    for x, y in ((half, top), (half, bottom)):
        inside = {
            "diamond": abs(x) + abs(y) <= look.half,
            "circle": np.hypot(x, y) <= look.half,
            "square": max(abs(x), abs(y)) <= look.half,
        }[look.shape]
        assert inside, (severity, number, x, y)
    for item in (halo, body):
        assert farthest(item, (50.0, 60.0)) <= REACH + 1e-9


def farthest(item: Path | Circle, centre: tuple[float, float]) -> float:
    if isinstance(item, Circle):
        return item.radius + item.width / 2.0
    ends = np.hypot(*(np.array(item.points) - centre).T)
    return float(ends.max() + item.width / 2.0)


@pytest.mark.parametrize("severity", SEVERITIES)
def test_leader_ends_exactly_at_the_place_and_starts_under_the_mark(severity: str) -> None:
    place, centre = (20.0, 30.0), (26.0, 24.0)
    lines = [item for item in place_items(severity, place, centre) if isinstance(item, Path)]
    dots = [item for item in place_items(severity, place, centre) if isinstance(item, Circle)]
    assert lines
    assert dots
    for line in lines:
        assert line.points[-1] == place
        assert np.hypot(*np.subtract(line.points[0], centre)) < LOOKS[severity].half
    assert all(dot.at == place for dot in dots)
    assert max(farthest(dot, place) for dot in dots) <= 1.0, "it must not hide a 2 mm gap"
