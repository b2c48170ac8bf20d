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
    for number in range(1, int(profile.press.most_layers) + 1):
        found = _that_clear(height, press, profile, number)
        if found:
            return min(found, key=lambda one: (len(set(one.foams)), *_thin(one)))
    return None


def thinnest(height: float, press: float | None, profile: Profile) -> Layers | None:
    """The least foam that clears and leaves the travel, in however many layers (`press` as in
    `cheapest`). Of equal thickness the fewest layers, then the fewest kinds."""
    numbers = range(1, int(profile.press.most_layers) + 1)
    found = [one for n in numbers for one in _that_clear(height, press, profile, n)]
    return min(found, key=_least, default=None)


def _thin(one: Layers) -> tuple[float, tuple[str, ...]]:
    return (round(one.thickness, 6), one.foams)


def _least(one: Layers) -> tuple[float, int, int, tuple[str, ...]]:
    return (round(one.thickness, 6), len(one.foams), len(set(one.foams)), one.foams)


def _that_clear(height: float, press: float | None, profile: Profile, number: int) -> list[Layers]:
    """Every choice of so many layers that is high enough and can be pressed."""
    foams, found = profile.foams, []
    for names in combinations_with_replacement(sorted(foams), number):
        thickness = sum(foams[name].thickness for name in names)
        left = settled(thickness, profile)
        travel = None if press is None else left - press
        if left >= height - TOLERANCE and _within(travel, profile.press.travel):
            found.append(Layers(names, thickness, travel))
    return found


def _within(travel: float | None, limits: tuple[float, float]) -> bool:
    return travel is None or min(limits) - TOLERANCE <= travel <= max(limits) + TOLERANCE
