"""Pads that no tape can reach, were the tape of their side alone on the card.

A quick look before laying: where one is found, no order of laying and no turn of lights helps.
"""

from __future__ import annotations

import math

import shapely
from shapely.geometry import Point, Polygon
from shapely.geometry.base import BaseGeometry

from .board import Board
from .nets import Key, fixed_pad
from .pins import pins_of

#: Areas nearer to each other than this count as one (mm).
CLOSE = 0.1


def out_of_reach(board: Board) -> list[Key]:
    """Pads that are cut off from the first pad of their net whatever is laid.

    Only what surely is: tape may run in all of the free area and on strips that stay, and a light
    may turn as it is allowed to. Where nothing can be reached from a switch or resistor that a net
    begins at, and that lies in the smaller room, it is its pad.
    """
    found: list[Key] = []
    for net, spec in enumerate(board.nets):
        root, others = spec.pads[0], spec.pads[1:]
        ways = [board.free[net], *(pin.area for pin in pins_of(board, net))]
        ways += [fixed_pad(board.task, key) for key in spec.pads if key[0] != "light"]
        parts = shapely.get_parts(shapely.union_all([way.buffer(CLOSE / 2.0) for way in ways]))
        start = fixed_pad(board.task, root)
        joined = shapely.union_all([part for part in parts if part.intersects(start)])
        shut = [key for key in others if not joined.intersects(_anywhere(board, key))]
        walled_in = max(part.area for part in parts) > joined.area
        if root[0] == "part" and len(shut) == len(others) and walled_in:
            shut = [root]  # the switch that the net begins at, not all that it leads to
        found += shut
    return found


def _anywhere(board: Board, key: Key) -> BaseGeometry:
    """Where a pad can be, its light turned in any way that is allowed."""
    kind, i, _ = key
    if kind != "light":
        return fixed_pad(board.task, key)
    corners = board.corners(key)
    light = board.task.lights[i]
    if light.turn == "locked":
        return Polygon(corners)
    return Point(light.at).buffer(max(math.dist(light.at, c) for c in corners.tolist()))
