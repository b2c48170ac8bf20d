"""The light that tests the tape best: the one at its far end."""

from __future__ import annotations

import shapely

from .scene import Piece, Scene, Tape


def far_light(scene: Scene) -> Piece | None:
    """The light that is furthest from the battery along the tape, by air where that is unknown."""
    if not (scene.lights and scene.cells):
        return None
    cell = scene.cells[0]
    tapes = {tape.label: tape for tape in scene.tapes}

    def away(light: Piece) -> float:
        total = 0.0
        for foot in ("positive-pad", "negative-pad"):
            shared = [t for t in light.tapes(foot) if t in cell.tapes(foot)]
            a, b = dict(light.feet)[foot].centroid, dict(cell.feet)[foot].centroid
            ways = [_along(tapes[label], a, b) for label in shared]
            total += min(ways) if ways else float(a.distance(b))
        return total

    return max(scene.lights, key=lambda light: (round(away(light), 3), -light.number))


def _along(tape: Tape, a: shapely.Point, b: shapely.Point) -> float:
    """Way between two places along the edge of a tape: about twice that along its middle."""
    edge = shapely.get_parts(shapely.boundary(tape.geometry))
    ring = max(edge, key=shapely.length)
    here, there = ring.project(a), ring.project(b)
    way = abs(here - there)
    return float(min(way, ring.length - way))
