"""What the rule on bright spots asks: which lit openings are not even enough, and what cures them.

Built for a quick look at each validation: an opening that a bound shows to be even is passed over,
the others are looked at on few points, and only those that fail on many.
"""

from __future__ import annotations

from functools import partial

import numpy as np
import shapely

from ..model.card import Card, Opening
from ..model.case import Case
from ..model.glow import Glow, WindowGlow
from ..profiles import GlowRule
from ..units import TOLERANCE
from .panes import Layers, layers_of
from .sources import REACH, Sources, chosen, sources_of

#: Points of the first look, and of the figures of an opening that fails it.
COARSE = 400
CLOSER = 3_000


def uneven_glow(case: Case, sources: Sources | None = None) -> Glow:
    """The lit openings of a card that are less even than the profile's limit, with their cures.

    `sources`: the lights as they burn; None: those that burn, with their currents.
    """
    card, profile = case.card, case.profile
    if not card.openings or case.apart:
        return Glow()
    if sources is None:
        sources = sources_of(card, case.lit, profile, currents=case.pressed_ma)
    if not len(sources.ids):
        return Glow()
    tree = shapely.STRtree(shapely.points(sources.at))
    layers = layers_of(card, profile)
    found = []
    for index, near in _lit(card, sources, tree):
        some = chosen(sources, near)
        if _surely_even(card.openings[index], some, layers):
            continue
        from .figures import window_glow  # late: few openings need a look at each point

        if is_uneven(window_glow(card, index, some, layers, COARSE), profile.glow):
            found.append(window_glow(card, index, some, layers, CLOSER))
    if not found:
        return Glow()
    from .cures import cure_of  # late: only an uneven window needs one

    return Glow(tuple(found), partial(cure_of, case, sources, layers))


def is_uneven(window: WindowGlow, rule: GlowRule) -> bool:
    """Held against the profile's limit, the softer one behind a diffuser."""
    limit = rule.soft_evenness if window.soft else rule.evenness
    return window.evenness is not None and window.evenness < limit


def _lit(card: Card, sources: Sources, tree: shapely.STRtree) -> list[tuple[int, np.ndarray]]:
    """Openings with a light behind them, each with the lights within reach."""
    outlines = np.array([opening.clear for opening in card.openings], dtype=object)
    hits = tree.query(outlines, predicate="dwithin", distance=TOLERANCE)[0]
    lit = sorted(set(hits.tolist()))  # numpy.unique would import numpy.ma: 10 ms
    reach = REACH * float(sources.depth.max())
    whole, near = tree.query(outlines[lit], predicate="dwithin", distance=reach)
    return [(i, np.sort(near[whole == k])) for k, i in enumerate(lit)]


def _surely_even(opening: Opening, sources: Sources, layers: Layers) -> bool:
    """Whether an opening of one pane is even enough by the bound alone, no point looked at."""
    soft = bool(shapely.covers(layers.diffuser, opening.clear))
    if not soft and shapely.intersects(layers.diffuser, opening.clear):
        return False
    rule = layers.profile.glow
    return least_evenness(opening, sources) >= (rule.soft_evenness if soft else rule.evenness)


def least_evenness(opening: Opening, sources: Sources) -> float:
    """A bound from below for an opening of one pane: every light at its farthest corner, over
    every light at its nearest place."""
    corners = shapely.get_coordinates(opening.clear)
    away = np.hypot(*(corners[:, None, :] - sources.at).transpose(2, 0, 1)).max(axis=0)
    nearest = shapely.distance(opening.clear, shapely.points(sources.at))
    powers = (sources.order + 3.0) / 2.0
    strength = sources.candela * sources.depth ** (sources.order + 1.0)
    least = (strength / (away**2 + sources.depth**2) ** powers).sum()
    most = (strength / (nearest**2 + sources.depth**2) ** powers).sum()
    return float(least / most)
