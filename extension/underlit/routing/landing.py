"""Where tape lands on a pad, and what other tape leaves free until it has."""

from __future__ import annotations

import math

import numpy as np
import shapely
from shapely.geometry import Point, Polygon
from shapely.geometry.base import BaseGeometry

from .board import Board
from .free import capsules
from .nets import Key

#: Lights nearer to each other than this share the room round their feet (mm between the lenses).
CROWDED = 15.0

OTHER = {"positive": "negative", "negative": "positive"}


def landing(board: Board, free: BaseGeometry, key: Key) -> tuple[float, float]:
    """The place on a pad where its tape starts: the middle, or as near to it as there is room."""
    centre = board.centre(key)
    if free.is_empty or shapely.intersects_xy(free, *centre):
        return centre
    zone = Polygon(board.corners(key)).buffer(-0.3)
    near = shapely.shortest_line(free.intersection(zone), Point(centre))
    if near is None or near.is_empty:
        return centre
    x, y = near.coords[0]
    # a hair further in, off the boundary
    far = math.dist((x, y), centre)
    return (x + (x - centre[0]) / far * 0.02, y + (y - centre[1]) / far * 0.02)


def reserved(board: Board, key: Key, passing: bool = False) -> BaseGeometry:
    """What other tape keeps off round a light's pad that has none yet, so that its own can land.

    A polygon round a circle; one side of it touches the circle towards the light's other pad.
    Where lights are crowded, feet of both sides give way by the same amount; `passing`: two feet
    of one side leave room for the other side's tape between them.
    """
    x, y = board.centre(key)
    p, q = board.centre(("light", key[1], OTHER[key[2]]))
    wanted = 2.0 * board.room.half + board.room.gap
    radius = min(wanted, math.dist((x, y), (p, q)) - 0.01)
    apart = _near_feet(board, key, OTHER[key[2]])
    if apart < wanted:
        radius = min(radius, (wanted + apart) / 2.0)
    if passing:
        radius = min(radius, _near_feet(board, key, key[2]) / 2.0 - 0.05)
    towards = np.array([[x, y, x + 1e-5 * (p - x), y + 1e-5 * (q - y)]])
    return capsules(towards, max(radius, 0.1))[0]


def _near_feet(board: Board, key: Key, side: str) -> float:
    """How far the nearest foot of a side is, of other lights crowded round a pad's own (mm)."""
    here, lights = board.centre(key), board.task.lights
    own = lights[key[1]].at
    found = [
        math.dist(here, board.centre(("light", i, side)))
        for i, light in enumerate(lights)
        if i != key[1] and math.dist(own, light.at) < CROWDED
    ]
    return min(found, default=math.inf)
