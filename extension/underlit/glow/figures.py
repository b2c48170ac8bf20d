"""Per opening: brightest, darkest and mean light, and how large the hot spot is."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from ..geometry.spacing import step_over
from ..model.card import Card, Opening
from ..model.glow import WindowGlow
from ..records import record
from ..units import TOLERANCE
from .field import contributions
from .panes import Layers, Pane, panes_of
from .sources import Sources

#: Sample points per opening.
FINE = 12_000

#: Cells along each side of a close look at a hot spot: 0.5 % of the diameter of a single light's.
CLOSE = 60


@record
class Samples:
    """Points (p, 2) of an opening, transmission (p,). The first of them stand for its area, share
    (i,) mm2 each; the others lie on its edge or under lights."""

    points: np.ndarray
    transmission: np.ndarray
    share: np.ndarray


def window_glow(
    card: Card, index: int, sources: Sources, layers: Layers, fineness: int = FINE
) -> WindowGlow:
    """The figures of one opening."""
    opening = card.openings[index]
    panes = panes_of(opening, layers)
    dark = WindowGlow(index, 0.0, 0.0, 0.0, None, None, opening.at, (), False, _mean(panes))
    if not panes or not sources.ids:
        return dark
    behind = lights_behind(opening, sources)
    samples = sample(panes, sources.at[behind], fineness)
    each = contributions(samples.points, sources)
    light = each.sum(axis=1) * samples.transmission
    top = int(np.argmax(light))
    if light[top] <= 0.0:
        return dark
    inner = light[: len(samples.share)]
    return WindowGlow(
        opening=index,
        mean=float((inner * samples.share).sum() / samples.share.sum()),
        brightest=float(light[top]),
        darkest=float(light.min()),
        evenness=float(light.min() / light[top]),
        hot_spot=_hot_spot(panes, sources, samples, each, top),
        at=(float(samples.points[top, 0]), float(samples.points[top, 1])),
        lights=tuple(sources.ids[i] for i in behind),
        soft=all(pane.soft for pane in panes),
        transmission=_mean(panes),
    )


def _hot_spot(
    panes: Sequence[Pane], sources: Sources, samples: Samples, each: np.ndarray, top: int
) -> float:
    """Diameter of the area above half of the brightest that one light makes.

    A point belongs to the light that gives it most. Looked at closely where the spot is small.
    """
    maker = int(np.argmax(each[top]))
    half = float(each[top].sum() * samples.transmission[top]) / 2.0
    close = _square(panes, samples.points[top], float(sources.depth[maker]))
    bright = _bright(close, contributions(close.points, sources), half, maker)
    away = np.abs(close.points[bright] - samples.points[top]).max(initial=0.0)
    if away > sources.depth[maker] * (1.0 - 2.0 / CLOSE):  # as far as was looked
        close = samples
        bright = _bright(samples, each, half, maker)
    area = max(float(close.share[bright].sum()), float(close.share.min(initial=0.0)))
    return 2.0 * math.sqrt(area / math.pi)


def _bright(samples: Samples, each: np.ndarray, half: float, maker: int) -> np.ndarray:
    """Which of the points that stand for area are above `half` and belong to one light."""
    inner = each[: len(samples.share)]
    light = inner.sum(axis=1) * samples.transmission[: len(inner)]
    found: np.ndarray = (light >= half) & (np.argmax(inner, axis=1) == maker)
    return found


def _square(panes: Sequence[Pane], centre: np.ndarray, reach: float) -> Samples:
    """CLOSE x CLOSE cells about a point, as far as `reach` on each side, where panes are."""
    steps = ((np.arange(CLOSE) + 0.5) * 2.0 / CLOSE - 1.0) * reach
    grid = np.stack(np.meshgrid(steps, steps), axis=-1).reshape(-1, 2) + centre
    inside = [_within(pane.area, grid) for pane in panes]
    counts = [len(part) for part in inside]
    return Samples(
        points=np.concatenate(inside),
        transmission=np.repeat([pane.transmission for pane in panes], counts),
        share=np.full(sum(counts), (2.0 * reach / CLOSE) ** 2),
    )


def _mean(panes: Sequence[Pane]) -> float:
    """Transmission of an opening as a whole."""
    areas = [float(pane.area.area) for pane in panes]
    if not sum(areas) > 0.0:
        return 0.0
    return sum(a * p.transmission for a, p in zip(areas, panes, strict=True)) / sum(areas)


def lights_behind(opening: Opening, sources: Sources) -> np.ndarray:
    """Indices of the lights whose lens centre lies in an opening."""
    if not len(sources.ids):
        return np.zeros(0, dtype=int)
    near = shapely.distance(opening.clear, shapely.points(sources.at)) <= TOLERANCE
    return np.flatnonzero(near)


def sample(panes: Sequence[Pane], under: np.ndarray, count: int) -> Samples:
    """About `count` points spread evenly over the panes, then their corners and `under`."""
    area = sum(float(pane.area.area) for pane in panes)
    pitch = math.sqrt(area / count) if area > 0.0 else 1.0
    inside = [_grid(pane.area, pitch) for pane in panes]
    edge = [shapely.get_coordinates(pane.area) for pane in panes]
    spots = [_within(pane.area, under) for pane in panes]
    shares = [pane.transmission for pane in panes]
    points = [*inside, *(np.concatenate(pair) for pair in zip(edge, spots, strict=True))]
    counts = [len(part) for part in points]
    return Samples(
        points=np.concatenate(points) if points else np.zeros((0, 2)),
        transmission=np.repeat([*shares, *shares], counts),
        share=np.repeat(
            [float(p.area.area) / len(i) for p, i in zip(panes, inside, strict=True)],
            counts[: len(panes)],
        ),
    )


def _grid(area: BaseGeometry, pitch: float) -> np.ndarray:
    """(p, 2) centres of square cells that lie in an area; at least one point."""
    x0, y0, x1, y1 = area.bounds
    pitch = step_over(pitch, area.bounds)
    across = max(1, round((x1 - x0) / pitch))
    down = max(1, round((y1 - y0) / pitch))
    xs = x0 + (np.arange(across) + 0.5) * (x1 - x0) / across
    ys = y0 + (np.arange(down) + 0.5) * (y1 - y0) / down
    grid = np.stack(np.meshgrid(xs, ys), axis=-1).reshape(-1, 2)
    shapely.prepare(area)
    kept: np.ndarray = grid[shapely.contains_xy(area, grid)]
    if not len(kept):
        kept = shapely.get_coordinates(shapely.point_on_surface(area))
    return kept


def _within(area: BaseGeometry, points: np.ndarray) -> np.ndarray:
    """Those of the points (p, 2) that an area holds."""
    found: np.ndarray = points[shapely.contains_xy(area, points)] if len(points) else points
    return found
