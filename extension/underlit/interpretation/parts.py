"""Parts from groups that carry `underlit:part`: features gathered, sizes compared."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from math import log

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from ..geometry.areas import filled_area
from ..model.card import FEATURES, Incomplete, Part
from ..model.drawing import Drawing, PartInstance, Remark, Shape
from ..records import record
from .words import taken


@record
class Parts:
    """All parts of a drawing; `strays` are features that stand outside a part, by run.

    `hidden` are remarks on parts of which nothing is shown.
    """

    complete: tuple[Part, ...]
    incomplete: tuple[Incomplete, ...]
    strays: tuple[tuple[Shape, ...], ...]
    hidden: tuple[Remark, ...] = ()

    def of(self, kind: str) -> tuple[Part, ...]:
        """The complete parts of one kind, in drawing order."""
        return tuple(part for part in self.complete if part.kind == kind)


def read_parts(drawing: Drawing) -> Parts:
    """Gather every part instance of a drawing with its features."""
    inside: dict[int, list[Shape]] = {}
    for shape in drawing.shapes:
        if shape.part is not None and shape.feature:
            inside.setdefault(shape.part, []).append(shape)
    complete: list[Part] = []
    incomplete: list[Incomplete] = []
    names = _unique([instance.id for instance in drawing.parts])
    unseen = _unseen(drawing, inside)
    for i, instance in enumerate(drawing.parts):
        if i in unseen:
            continue
        features = _features(inside.get(i, []))
        wanted = FEATURES.get(instance.kind)
        missing = tuple(name for name in wanted or () if name not in features)
        if wanted is None or missing:
            place = _place(features)
            incomplete.append(Incomplete(names[i], instance.kind, place, missing))
        else:
            complete.append(_part(instance, names[i], features, drawing.page.scale))
    hidden = tuple(unseen.values())
    return Parts(tuple(complete), tuple(incomplete), _strays(drawing.shapes), hidden)


def _unseen(drawing: Drawing, shown: Mapping[int, object]) -> dict[int, Remark]:
    """Parts of which nothing is shown: they do not count. Number -> what says so."""
    found: dict[int, Remark] = {}
    for remark in drawing.remarks:
        if remark.kind == "hidden" and remark.part is not None and remark.part not in shown:
            part = drawing.parts[remark.part]
            words = Remark("hidden", part.id, part.has_id, part.role, remark.at, True, "")
            found.setdefault(remark.part, words)
    return found


def _unique(ids: Sequence[str]) -> list[str]:
    """Ids with `#2`, `#3` behind those that were seen before."""
    seen: dict[str, int] = {}
    names = []
    for name in ids:
        seen[name] = seen.get(name, 0) + 1
        names.append(name if seen[name] == 1 else f"{name}#{seen[name]}")
    return names


def _features(shapes: Iterable[Shape]) -> Mapping[str, BaseGeometry]:
    """Feature name -> area of all shapes that carry it (those without area left out)."""
    found: dict[str, list[BaseGeometry]] = {}
    for shape in shapes:
        area = filled_area(shape.contours, shape.fill_rule)
        if shape.clip is not None:
            area = area.intersection(shape.clip)
        if not area.is_empty:
            found.setdefault(str(shape.feature), []).append(area)
    return {
        name: areas[0] if len(areas) == 1 else shapely.union_all(areas)
        for name, areas in found.items()
    }


def _place(features: Mapping[str, BaseGeometry]) -> tuple[float, float] | None:
    if not features:
        return None
    centre = shapely.union_all(list(features.values())).centroid
    return (centre.x, centre.y)


def _part(
    instance: PartInstance, name: str, features: Mapping[str, BaseGeometry], page_scale: float
) -> Part:
    whole = np.asarray(instance.matrix, dtype=float)[:, :2]
    outer = np.asarray(instance.outer, dtype=float)[:, :2]
    own = np.linalg.solve(outer, whole)
    readings = [_sizes(own), _sizes(whole), _sizes(whole / page_scale)]
    return Part(
        id=name,
        has_id=instance.has_id,
        kind=instance.kind,
        type=instance.attributes.get("type", ""),
        index=instance.index,
        attributes=taken(instance.kind, instance.attributes),
        features=features,
        scale=min(readings, key=_distance),
        mirrored=bool(np.linalg.det(own) < 0.0 and np.linalg.det(whole) < 0.0),
    )


def _sizes(linear: np.ndarray) -> tuple[float, float]:
    """The two scale factors of a (2, 2) map, larger first."""
    large, small = np.linalg.svd(linear, compute_uv=False)
    return (float(large), float(small))


def _distance(scale: tuple[float, float]) -> float:
    """How far a scale is from life size. A part may be drawn in mm, in the units of the
    document or of the group around it; the reading nearest to life size holds."""
    return max(abs(log(max(factor, 1e-9))) for factor in scale)


def _strays(shapes: Sequence[Shape]) -> tuple[tuple[Shape, ...], ...]:
    """Features outside any part, in runs that were drawn one after the other."""
    runs: list[list[Shape]] = []
    for shape in shapes:
        if shape.feature and shape.part is None:
            again = not runs or shape.feature in {s.feature for s in runs[-1]}
            if again or shape.index > runs[-1][-1].index + 1:
                runs.append([])
            runs[-1].append(shape)
    return tuple(tuple(run) for run in runs)
