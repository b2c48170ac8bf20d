"""Layers of foam: the cheapest that clear what lies under the panel."""

from __future__ import annotations

from itertools import combinations_with_replacement

from ..profiles import Profile
from ..records import record
from ..units import TOLERANCE
from .heights import settled


@record
class Layers:
    """Foams by their names in the profile, lowest first; `thickness` unpressed, mm.

    `travel`: what the panel goes down until it meets the battery to press; None without one.
    """

    foams: tuple[str, ...]
    thickness: float
    travel: float | None


def cheapest(height: float, press: float | None, profile: Profile) -> Layers | None:
    """The cheapest layers that clear `height` once settled and leave the travel of a press.

    `press` is the height of the battery to be pressed (None: nothing is). Prices differ, so
    cheapest means the fewest layers, then the fewest kinds, then the least foam. None where no
    combination within `most-layers` does.
    """
    rule, foams = profile.press, profile.foams
    for number in range(1, int(rule.most_layers) + 1):
        found = []
        for names in combinations_with_replacement(sorted(foams), number):
            thickness = sum(foams[name].thickness for name in names)
            left = settled(thickness, profile)
            travel = None if press is None else left - press
            if left >= height - TOLERANCE and _within(travel, rule.travel):
                found.append((len(set(names)), round(thickness, 6), names, travel))
        if found:
            _, thickness, names, travel = min(found, key=lambda one: one[:3])
            return Layers(names, thickness, travel)
    return None


def _within(travel: float | None, limits: tuple[float, float]) -> bool:
    return travel is None or min(limits) - TOLERANCE <= travel <= max(limits) + TOLERANCE
