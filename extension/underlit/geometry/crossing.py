"""Where a single outline runs over itself so that the fill rule matters."""

from __future__ import annotations

from collections import Counter

import numpy as np
import shapely

from .filling import closed, faces_of, winding_numbers

#: Areas by the two fill rules that differ by no more than this are the same (mm2).
ALIKE = 0.01


def self_crossing(points: np.ndarray, rule: str) -> tuple[tuple[float, float], float] | None:
    """The crossing of a closed (n, 2) outline that makes its area doubtful, and how much.

    The area in doubt (mm2) is that by which `rule` and even-odd differ. None where it is no
    more than 0.01 mm2, as for every simple outline.
    """
    if rule == "evenodd" or len(points) < 4:
        return None
    faces = faces_of([points])
    if len(faces) < 2:
        return None
    places = shapely.get_coordinates(shapely.point_on_surface(faces))
    turns = winding_numbers([points], places)
    doubtful = faces[(turns != 0) & (turns % 2 == 0)]
    amount = float(shapely.area(doubtful).sum())
    if amount <= ALIKE + 1e-9:
        return None
    worst = doubtful[int(np.argmax(shapely.area(doubtful)))]
    return _node_on(points, worst), amount


def _node_on(points: np.ndarray, face: shapely.Polygon) -> tuple[float, float]:
    """The uppermost place on the edge of a face where the outline meets itself."""
    runs = shapely.get_parts(shapely.union_all([shapely.linestrings(closed(points))]))
    ends = np.concatenate(
        [
            shapely.get_coordinates(shapely.get_point(runs, 0)),
            shapely.get_coordinates(shapely.get_point(runs, -1)),
        ]
    )
    meeting = [place for place, times in Counter(map(tuple, ends.tolist())).items() if times > 2]
    nodes = np.array(meeting).reshape(-1, 2)
    nodes = nodes[shapely.distance(face, shapely.points(nodes)) < 1e-6] if len(nodes) else nodes
    if not len(nodes):
        place = face.point_on_surface()
        return (place.x, place.y)
    x, y = nodes[np.lexsort((nodes[:, 0], nodes[:, 1]))[0]]
    return (float(x), float(y))
