"""What would even an opening that has a bright spot: more foam, more lights, a diffuser."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from ..model.case import Case
from ..model.glow import Cure, WindowGlow
from .field import contributions
from .figures import Samples, sample
from .panes import Layers, panes_of
from .sources import Sources, chosen

#: Cures are looked for on so many points of the opening.
POINTS = 400

#: More foam than this is no cure for a card (mm), nor are more lights than this in one opening.
MOST_FOAM = 12
MOST_LIGHTS = 6

#: Rounds of moving lights to the middle of the places that they are nearest to.
ROUNDS = 12


def cure_of(case: Case, sources: Sources, layers: Layers, window: WindowGlow) -> Cure:
    """What alone would make an opening even enough, each computed with the field itself."""
    opening = case.card.openings[window.opening]
    samples = sample(panes_of(opening, layers), np.zeros((0, 2)), POINTS)
    rule = case.profile.glow
    limit = rule.soft_evenness if window.soft else rule.evenness
    return Cure(
        spacer=_foam(samples, sources, limit, 1.0 - case.profile.limits.foam_settling),
        lights=_lights(samples, sources, window, limit),
        diffuser=not window.soft and (window.evenness or 0.0) >= rule.soft_evenness,
    )


def _evenness(samples: Samples, sources: Sources) -> float:
    light = contributions(samples.points, sources).sum(axis=1) * samples.transmission
    return float(light.min() / light.max())


def _foam(samples: Samples, sources: Sources, limit: float, settled: float) -> float | None:
    """Whole millimetres of foam more that do."""
    for more in range(1, MOST_FOAM + 1):
        deeper = replace(sources, depth=sources.depth + more * settled)
        if _evenness(samples, deeper) >= limit:
            return float(more)
    return None


def _lights(samples: Samples, sources: Sources, window: WindowGlow, limit: float) -> int | None:
    """How many lights like the first one behind the opening do, spread over it."""
    own = [i for i, name in enumerate(sources.ids) if name in window.lights]
    others = [i for i in range(len(sources.ids)) if i not in own]
    for count in range(len(own) + 1, MOST_LIGHTS + 1):
        which = np.array([*others, *([own[0]] * count)])
        at = np.concatenate([sources.at[others], spread(samples, count)])
        more = chosen(sources, which, at)
        if _evenness(samples, more) >= limit:
            return count
    return None


def spread(samples: Samples, count: int) -> np.ndarray:
    """(count, 2) places spread evenly over an opening: each in the middle of what it is nearest to.

    Lloyd's rounds from places that lie as far from each other as they can; not the best there is.
    """
    points = samples.points[: len(samples.share)]
    places = points[[int(np.argmin(_squares(points, points.mean(axis=0)[None])[:, 0]))]]
    while len(places) < min(count, len(points)):
        farthest = int(np.argmax(_squares(points, places).min(axis=1)))
        places = np.concatenate([places, points[[farthest]]])
    for _ in range(ROUNDS):
        nearest = np.argmin(_squares(points, places), axis=1)
        held = np.maximum(np.bincount(nearest, minlength=len(places)), 1)
        sums = [np.bincount(nearest, points[:, k], len(places)) / held for k in (0, 1)]
        places = np.column_stack(sums)
    if len(places) < count:  # an opening smaller than a handful of points
        places = np.concatenate([places, np.repeat(places[:1], count - len(places), axis=0)])
    return places


def _squares(points: np.ndarray, places: np.ndarray) -> np.ndarray:
    """(p, n) squared distances."""
    gaps = points[:, None, :] - places
    squares: np.ndarray = np.einsum("pnk,pnk->pn", gaps, gaps)
    return squares
