"""sketch-line: thin lines on Tape are a plan, not tape.

An unfilled stroke under 1.5 mm is taken as a sketch of where tape could run.
"""

from __future__ import annotations

from collections.abc import Iterator

import shapely

from ..language import say, say_count
from ..model.case import Case
from ..model.finding import Finding

CODE = "sketch-line"


def check(case: Case) -> Iterator[Finding]:
    """All sketches in one finding."""
    sketches = case.facts.sketches
    if not sketches:
        return
    points = sketches[0].contours[0].points
    middle = shapely.points(points).tolist()[len(points) // 2]
    yield Finding(
        CODE,
        "note",
        (middle.x, middle.y),
        tuple(dict.fromkeys(shape.id for shape in sketches)),
        say_count(
            "{number} thin line is taken as a sketch, not as tape.",
            "{number} thin lines are taken as a sketch, not as tape.",
            len(sketches),
        ),
        say("For tape, give the line the width of your tape."),
    )
