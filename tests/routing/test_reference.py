"""Published Euclidean Steiner optima (OR-Library, Beasley 1992; Winter and Zachariasen)."""

from __future__ import annotations

import math

import pytest

from underlit.routing.bound import spanning_tree, steiner_length, tree_length

OPTIMA = [
    ([(0.7, 0.96), (0.88, 0.46), (0.88, 0.16), (0.19, 0.26), (0.19, 0.06)], 1.6643993),
    (
        [(0.14, 0.45), (0.21, 0.27), (0.75, 0.19), (0.87, 0.34), (0.67, 0.84), (0.48, 0.86)],
        1.5987517,
    ),
    (
        [(0.41, 0.98), (0.76, 0.89), (0.46, 0.61), (0.41, 0.36), (0.15, 0.23), (0.33, 0.2)],
        1.2741137,
    ),
    ([(0.2, 0.9), (0.8, 0.9), (0.5, 0.38)], 1.0396152),
    ([(0.6, 0.5), (0.7, 0.65), (0.73, 0.53), (0.95, 0.4)], 0.5032862),
    ([(0.0, 1.0), (0.9, 0.0), (1.0, 0.1)], 1.4659774),
    ([(0.1, 0.08), (0.1, 0.2), (0.8, 0.2), (0.8, 0.28)], 0.8789125),
    ([(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)], 1.0 + math.sqrt(3.0)),
    ([(0.0, 0.0), (3.0, 0.0), (0.0, 4.0)], 6.7664326),
]


@pytest.mark.parametrize(("points", "optimum"), OPTIMA)
def test_near_the_published_optimum(points: list[tuple[float, float]], optimum: float) -> None:
    scaled = [(100.0 * x, 100.0 * y) for x, y in points]
    length = steiner_length(scaled) / 100.0
    assert optimum - 1e-6 <= length <= 1.015 * optimum


def test_never_longer_than_the_spanning_tree() -> None:
    import random

    import numpy as np

    for seed in range(10):
        draw = random.Random(seed)
        points = [(draw.uniform(0, 100), draw.uniform(0, 100)) for _ in range(20)]
        mst = tree_length(points, spanning_tree(np.array(points)))
        assert 0.824 * mst <= steiner_length(points) <= mst + 1e-9
