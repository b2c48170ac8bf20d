"""Published Euclidean Steiner optima: name, places, length of the shortest tree.

`estein1`: OR-Library (Beasley, EJOR 58, 1992, 284-292; the instances of Soukup and Chow 1973),
optima by Winter and Zachariasen. Square and triangle: closed forms.
"""

from __future__ import annotations

import math

At = tuple[float, float]

OPTIMA: list[tuple[str, list[At], float]] = [
    (
        "estein1-00",
        [(0.7, 0.96), (0.88, 0.46), (0.88, 0.16), (0.19, 0.26), (0.19, 0.06)],
        1.6643993,
    ),
    (
        "estein1-09",
        [(0.14, 0.45), (0.21, 0.27), (0.75, 0.19), (0.87, 0.34), (0.67, 0.84), (0.48, 0.86)],
        1.5987517,
    ),
    (
        "estein1-10",
        [(0.41, 0.98), (0.76, 0.89), (0.46, 0.61), (0.41, 0.36), (0.15, 0.23), (0.33, 0.2)],
        1.2741137,
    ),
    ("estein1-19", [(0.2, 0.9), (0.8, 0.9), (0.5, 0.38)], 1.0396152),
    ("estein1-21", [(0.6, 0.5), (0.7, 0.65), (0.73, 0.53), (0.95, 0.4)], 0.5032862),
    ("estein1-28", [(0.0, 1.0), (0.9, 0.0), (1.0, 0.1)], 1.4659774),
    ("estein1-35", [(0.1, 0.08), (0.1, 0.2), (0.8, 0.2), (0.8, 0.28)], 0.8789125),
    ("square", [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)], 1.0 + math.sqrt(3.0)),
    ("triangle 3-4-5", [(0.0, 0.0), (3.0, 0.0), (0.0, 4.0)], 6.7664326),
]
