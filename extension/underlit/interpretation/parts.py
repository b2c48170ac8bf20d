"""Parts from groups that carry `underlit:part`: features gathered, sizes compared."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from ..geometry.areas import filled_area
from ..model.card import FEATURES, Incomplete, Part
from ..model.drawing import Drawing, PartInstance, Shape
from ..records import record


@record
class Parts:
    """All parts of a drawing; `strays` are features that stand outside a part, by run."""

    complete: tuple[Part, ...]
    incomplete: tuple[Incomplete, ...]
    strays: tuple[tuple[Shape, ...], ...]

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
    for i, instance in enumerate(drawing.parts):
        features = _features(inside.get(i, []))
        wanted = FEATURES.get(instance.kind)
        missing = tuple(name for name in wanted or () if name not in features)
        if wanted is None or missing:
            place = _place(features)
            incomplete.append(Incomplete(names[i], instance.kind, place, missing))
        else:
            complete.append(_part(instance, names[i], features, drawing.page.scale))
    return Parts(tuple(complete), tuple(incomplete), _strays(drawing.shapes))


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
    linear = np.asarray(instance.matrix, dtype=float)[:, :2]
    sizes = np.linalg.svd(linear, compute_uv=False)
    return Part(
        id=name,
        has_id=instance.has_id,
        kind=instance.kind,
        type=instance.attributes.get("type", ""),
        index=instance.index,
        attributes=instance.attributes,
        features=features,
        scale=_scale(sizes, page_scale),
        mirrored=bool(np.linalg.det(linear) < 0.0),
    )


def _scale(sizes: np.ndarray, page_scale: float) -> tuple[float, float]:
    """The two scale factors against the part's own size.

    A part may be drawn in mm or in the units of the document; whichever reading is nearer
    to life size holds.
    """
    readings = [sizes, sizes / page_scale]
    best = min(readings, key=lambda s: float(np.abs(np.log(np.maximum(s, 1e-9))).max()))
    return (float(best[0]), float(best[1]))


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
