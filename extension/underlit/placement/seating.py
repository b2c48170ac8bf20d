"""Where lights should be: the visual centre of an opening, or several places spread along it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from ..model.card import Opening
from ..records import record
from ..units import TOLERANCE
from .brightness import Illuminance
from .counting import length_of, share_out
from .outcome import Unlit, Wish, unlit
from .poles import QUARTER, Pole, clearances, visual_centre
from .room import BETWEEN_BODIES
from .spreading import grid, spread

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

#: Next-best places tried in one opening, and how much clearance counts as the same (mm).
NEXT_BEST = 60
SAME = 0.25

#: More lights than this in one opening stand in rows: nobody tapes so many strewn ones.
CROWD = 12


@record
class Seat:
    """One light to be placed: where it should be in its opening."""

    opening: Opening
    at: tuple[float, float]


@record
class Seats:
    """Where lights should be, openings that cannot have any, and how many each should have.

    `proposed`: how many by length, where the battery feeds fewer.
    An opening that is to have more than `CROWD` has no seats: its lights stand in rows.
    """

    seats: tuple[Seat, ...]
    dark: tuple[Unlit, ...]
    wanted: Mapping[str, int]
    proposed: int | None


def seats_for(openings: Sequence[Opening], wish: Wish, illuminance: Illuminance) -> Seats:
    """Where lights should be, and the openings that cannot have any."""
    dark: list[Unlit] = []
    fit: list[tuple[Opening, Pole]] = []
    lens = wish.light.lens
    for opening in openings:
        pole = visual_centre(opening.clear, lens / 2.0)
        if pole is None:
            dark.append(unlit(opening, "covered", 0.0, lens))
        elif pole.radius < lens / 2.0 - TOLERANCE:
            dark.append(unlit(opening, "too-small", 2.0 * pole.radius, lens, pole.at))
        else:
            fit.append((opening, pole))
    counts, proposed = _counts(fit, wish)
    fed = sum(counts)
    seats: list[Seat] = []
    wanted: dict[str, int] = {}
    for (opening, pole), n in zip(fit, counts, strict=True):
        if n == 0:
            dark.append(unlit(opening, "battery", fed, len(fit), pole.at))
            continue
        wanted[opening.name] = n
        if n <= CROWD:
            places = _places(opening, pole, n, wish, illuminance)
            seats += [Seat(opening, place) for place in places]
    more = sum(proposed) if sum(proposed) > fed else None
    return Seats(tuple(seats), tuple(dark), wanted, more)


def _counts(fit: Sequence[tuple[Opening, Pole]], wish: Wish) -> tuple[list[int], list[int]]:
    """Lights for each opening, and how many they would be without a limit of the battery."""
    if wish.count is not None:
        return [wish.count] * len(fit), []
    lengths = [length_of(opening.clear, pole.radius) for opening, pole in fit]
    return share_out(lengths, wish.most), share_out(lengths, None)


def _places(
    opening: Opening, pole: Pole, n: int, wish: Wish, illuminance: Illuminance
) -> list[tuple[float, float]]:
    if n == 1:
        return [pole.at]
    apart = min(wish.light.body) + BETWEEN_BODIES
    found = spread(opening.clear, n, wish.light.lens / 2.0, apart, illuminance)
    return [(x, y) for x, y in found.tolist()] or [pole.at]


def next_best(seat: Seat, lens: float) -> Floats:
    """(k, 2) other places in its opening for the lens: most clearance first, then nearest."""
    clear: BaseGeometry = seat.opening.clear
    allowed = shapely.buffer(clear, TOLERANCE / 2.0 - lens / 2.0, quad_segs=QUARTER)
    if allowed.is_empty:
        return np.empty((0, 2))
    places, _ = grid(allowed, NEXT_BEST)
    free = clearances(clear, places)
    away = np.hypot(*(places - seat.at).T)
    return np.asarray(places[np.lexsort((away, -np.floor(free / SAME)))])
