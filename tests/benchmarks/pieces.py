"""How long single pieces of work take, in process: strips painted, outlines sorted, marks placed,
foam looked for on lace that has no room for it.

    python tests/benchmarks/pieces.py

Prints medians of three runs and the growth exponent over each row of sizes; only exponents can be
compared between machines.
"""

from __future__ import annotations

import math
import statistics
import sys
import time
from collections.abc import Callable
from pathlib import Path

import numpy as np
import shapely

ROOT = Path(__file__).parent.parent.parent
sys.path[:0] = [str(ROOT / "extension"), str(ROOT / "tests")]

from rules.cards import bench, case, window  # noqa: E402
from underlit.foam import ground_of, lay_out  # noqa: E402
from underlit.geometry.areas import painted_areas  # noqa: E402
from underlit.geometry.relations import relate  # noqa: E402
from underlit.markup.findings import findings_sheet  # noqa: E402
from underlit.model.card import Panel  # noqa: E402
from underlit.model.drawing import Contour, Page, Shape, Stroke  # noqa: E402
from underlit.model.finding import Finding  # noqa: E402


def strips(count: int) -> Callable[[], object]:
    """Bent strips all over a large page."""
    places = np.random.default_rng(1).uniform(0, 500, (count, 2))
    bend = np.array([(0.0, 0.0), (30.0, 0.0), (30.0, 20.0)])
    nib = Stroke(5.0, "butt", "miter", 4.0, np.eye(2))
    shapes = [
        Shape(
            f"s{i}", True, i, "tape", "path",
            (Contour(bend + place, np.array([0.0, 90.0, 0.0]), False),),
            False, "nonzero", nib, None, {},
        )
        for i, place in enumerate(places)
    ]  # fmt: skip
    return lambda: painted_areas(shapes)


def notches(count: int) -> Callable[[], object]:
    """A large outline with many notches in its edge."""
    large = shapely.Point(0, 0).buffer(400, quad_segs=2500)
    angles = np.linspace(0, 6, count)
    small = [shapely.Point(400 * np.cos(a), 400 * np.sin(a)).buffer(2) for a in angles]
    areas = np.array([large, *small], dtype=object)
    return lambda: relate(areas)


def marks(count: int) -> Callable[[], object]:
    """Findings close together."""
    places = np.random.default_rng(3).uniform(20.0, 140.0, (count, 2))
    found = [Finding("gap-too-small", "stop", (x, y), (), "m", "r") for x, y in places.tolist()]
    page = Page(168.0, 168.0, 1.0)
    box = (0.0, 0.0, 168.0, 168.0)
    return lambda: findings_sheet(page, box, found, (), "", "not-ready")


def lace(count: int) -> Callable[[], object]:
    """Foam under threads of 3 mm between windows: nowhere room for a piece."""
    columns = math.isqrt(count)
    places = [(5 + 10 * (k % columns), 5 + 10 * (k // columns)) for k in range(columns**2)]
    sheet = shapely.box(0, 0, 10 * columns + 10, 10 * columns + 10)
    holes = tuple(window(k, shapely.box(x, y, x + 7, y + 7)) for k, (x, y) in enumerate(places))
    panels = (Panel("p", sheet),)
    card = case(bench(panels=panels, base=sheet, openings=holes, lights=(), cells=(), strips=[]))
    ground = ground_of(card.card, card.profile, 6.4, False)
    return lambda: [lay_out(ground, style, 30.0) for style in ("pads", "frame")]


def seconds(work: Callable[[], object]) -> float:
    """Median of three runs."""
    spent = []
    for _ in range(3):
        start = time.perf_counter()
        work()
        spent.append(time.perf_counter() - start)
    return statistics.median(spent)


def main() -> None:
    """Print one row per piece of work."""
    rows = (
        (strips, (750, 1500, 3000)), (notches, (30, 60, 120)), (marks, (100, 200, 400)),
        (lace, (100, 196, 400)),
    )  # fmt: skip
    for make, sizes in rows:
        spent = [seconds(make(size)) for size in sizes]
        exponent = math.log(spent[-1] / spent[0]) / math.log(sizes[-1] / sizes[0])
        told = "  ".join(f"{n}: {s:.3f} s" for n, s in zip(sizes, spent, strict=True))
        print(f"{make.__name__:8s} {told}  exponent {exponent:.2f}")


if __name__ == "__main__":
    main()
