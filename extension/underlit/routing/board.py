"""The board while it is being routed: nets, where their tape may run, the trees laid so far."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np
import shapely
from shapely.affinity import rotate, translate
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from .cover import At, share
from .folds import Folds
from .free import Room, free_area
from .nets import Key, corners_of, fixed_corners, fixed_pad, nets_of, ring_segments
from .openings import Windows
from .segments import NONE, clear
from .task import Light, Task
from .tree import Tree

if TYPE_CHECKING:
    from .crossing import Crossing

#: How far around a light's body its own gap holds (mm).
AROUND = 2.0


class Board:
    """One attempt: a task with its distances, the lights' angles, one tree per net."""

    def __init__(self, task: Task, room: Room) -> None:
        self.task, self.room = task, room
        self.nets = nets_of(task)
        self.net_of = {key: n for n, net in enumerate(self.nets) for key in net.pads}
        self.angles = [float(light.angle) for light in task.lights]
        self.trees: list[Tree | None] = [None] * len(self.nets)
        self.free = [free_area(task, room, n, self.nets) for n in range(len(self.nets))]
        for area in self.free:
            shapely.prepare(area)
        #: counts changes
        self.version = 0
        self._zone_gap = [_gap_in_zone(light, task.limits.gap) for light in task.lights]
        #: length of Steiner trees, once it is known (shared by all boards of one attempt)
        self.reference: list[float] = []
        self.windows = Windows(task)
        self.folds = Folds(task, room.steepest)
        #: crossings over paper
        self.crossings: tuple[Crossing, ...] = ()
        self._local = [_own_pads(light) for light in task.lights]
        self._pads: dict[int, tuple[float, dict[str, np.ndarray]]] = {}
        self._rings: dict[Key, tuple[float, np.ndarray]] = {}
        self._fences: dict[int, tuple[np.ndarray, np.ndarray]] = {}
        self._areas: dict[Key, tuple[float, Polygon]] = {}
        #: shares of pads under tape, by pad, angle and tape (shared by all boards of one attempt)
        self._shares: dict[tuple[object, ...], float] = {}

    def clone(self) -> Board:
        """The same attempt with trees and angles of its own."""
        new = object.__new__(Board)
        new.__dict__.update(self.__dict__)
        new.angles = list(self.angles)
        new.trees = [t.copy() if t is not None else None for t in self.trees]
        new._pads, new._fences, new._areas, new._rings = {}, {}, {}, {}
        return new

    def corners(self, key: Key) -> np.ndarray:
        """(n, 2) corners of a pad where it is now."""
        kind, i, pad = key
        if kind != "light":
            return fixed_corners(self.task, key)
        known = self._pads.get(i)
        if known is None or known[0] != self.angles[i]:
            known = (self.angles[i], self.light_pads(i, self.angles[i]))
            self._pads[i] = known
        return known[1][pad]

    def light_pads(self, i: int, angle: float) -> dict[str, np.ndarray]:
        """Corners of both pads of a light at an angle (degrees)."""
        c, s = math.cos(math.radians(angle)), math.sin(math.radians(angle))
        turn = np.array([[c, s], [-s, c]])
        at = np.array(self.task.lights[i].at)
        return {pad: points @ turn + at for pad, points in self._local[i].items()}

    def pad_gap(self, key: Key) -> float:
        """Gap (mm) between a light's pad and other tape: less than elsewhere, by its profile."""
        light = self.task.lights[key[1]]
        return max(
            light.gap, self.room.gap - max(0.0, self.task.limits.gap - self._zone_gap[key[1]])
        )

    def zone(self, i: int) -> BaseGeometry:
        """Where a light's own gap holds: its body and all within 2 mm."""
        light = self.task.lights[i]
        body = rotate(light.body.buffer(AROUND), self.angles[i], origin=(0, 0))
        area: BaseGeometry = translate(body, *light.at)
        return area

    def pad_area(self, key: Key) -> float:
        """Area of a pad (mm2)."""
        kind, i, pad = key
        area: BaseGeometry = (
            getattr(self.task.lights[i], pad) if kind == "light" else fixed_pad(self.task, key)
        )
        return float(area.area)

    def pad(self, key: Key) -> Polygon:
        """A pad where it is now."""
        kind, i, _ = key
        angle = self.angles[i] if kind == "light" else 0.0
        known = self._areas.get(key)
        if known is None or known[0] != angle:
            known = (angle, Polygon(self.corners(key)))
            self._areas[key] = known
        return known[1]

    def ring(self, key: Key) -> np.ndarray:
        """(n, 4) sides of a light's pad where it is now."""
        known = self._rings.get(key)
        if known is None or known[0] != self.angles[key[1]]:
            known = (self.angles[key[1]], ring_segments(self.corners(key)))
            self._rings[key] = known
        return known[1]

    def covered(self, key: Key, angle: float, at: At, around: Sequence[At]) -> float:
        """Share of a pad at an angle under strips from `at` to the places around."""
        mark = (key, angle, at, *around)
        known = self._shares.get(mark)
        if known is None:
            turned = key[0] == "light" and angle != self.angles[key[1]]
            pad = Polygon(self.light_pads(key[1], angle)[key[2]]) if turned else self.pad(key)
            folded = self.task.choices.corners == "fold"
            known = share(pad, at, around, self.task.limits.width / 2.0, folded)
            self._shares[mark] = known
        return known

    def centre(self, key: Key) -> tuple[float, float]:
        """Middle of a pad where it is now."""
        rows = self.corners(key).tolist()
        return (sum(r[0] for r in rows) / len(rows), sum(r[1] for r in rows) / len(rows))

    def changed(self, *nets: int) -> None:
        """A tree or an angle has changed: of these nets, or (none named) of all."""
        self.version += 1
        if nets and len(self.nets) == 2:
            for n in nets:
                self._fences.pop(1 - n, None)
        else:
            self._fences.clear()

    def fence(self, net: int) -> tuple[np.ndarray, np.ndarray]:
        """Segments that a centre line of the net keeps away from, and how far."""
        known = self._fences.get(net)
        if known is None:
            known = self._fence(net)
            self._fences[net] = known
        return known

    def _fence(self, net: int) -> tuple[np.ndarray, np.ndarray]:
        room = self.room
        rows = [NONE, *self.others(net)]
        apart = [np.full(len(some), 2.0 * room.half + room.gap) for some in rows]
        for key, n in self.net_of.items():
            if n != net and key[0] == "light":
                rows.append(self.ring(key))
                apart.append(np.full(len(rows[-1]), room.half + self.pad_gap(key)))
        return np.concatenate(rows), np.concatenate(apart)

    def others(self, net: int) -> list[np.ndarray]:
        """(n, 4) centre lines of each other net's tape.

        Without those of pinned strips of the other side: of them `free` keeps clear already, by
        what they cover.
        """
        side = self.nets[net].polarity
        return [
            tree.segments(stays=self.nets[n].polarity == side)
            for n, tree in enumerate(self.trees)
            if n != net and tree is not None
        ]

    def legal(self, net: int, segments: np.ndarray) -> bool:
        """Whether centre lines (k, 4) of a net keep all distances."""
        if not clear(segments, *self.fence(net)):
            return False
        lines = shapely.linestrings(segments.reshape(-1, 2, 2))
        if self.folds.lines and not self.folds.allowed(segments).all():
            return False
        return bool(shapely.covers(self.free[net], lines).all())


def _gap_in_zone(light: Light, gap: float) -> float:
    """The gap that holds round a light's pads: its own where its surroundings reach that far."""
    zone = light.body.buffer(AROUND + 0.01)
    pads = (light.positive, light.negative)
    covered = all(zone.covers(pad.buffer(gap, quad_segs=4)) for pad in pads)
    return min(gap, light.gap) if covered else gap


def _own_pads(light: Light) -> dict[str, np.ndarray]:
    return {
        "positive": corners_of(light.positive),
        "negative": corners_of(light.negative),
    }
