"""How the openings of a card glow, as figures. Lux on the panel's plane, through its sheets."""

from __future__ import annotations

from collections.abc import Callable

from ..records import record


@record
class WindowGlow:
    """One opening of the card, by its index in `Card.openings`.

    `mean`, `brightest` and `darkest` are lux times the transmission of what lies in the opening;
    `evenness` is darkest over brightest (None where no light falls). `hot_spot` is the diameter
    (mm) of a disc as large as the area above half of the brightest, about the light that makes the
    brightest place (None likewise), and `at` that place. `lights` are ids of the lights behind it;
    `soft` tells that a diffuser lies behind all of it; `transmission` is the mean of its sheets.
    """

    opening: int
    mean: float
    brightest: float
    darkest: float
    evenness: float | None
    hot_spot: float | None
    at: tuple[float, float]
    lights: tuple[str, ...]
    soft: bool
    transmission: float


@record
class Cure:
    """What would even an opening; None (or False) where that alone does not.

    `spacer` is how much thicker the settled foam would have to be (mm), `lights` how many lights
    spread over the opening would do, `diffuser` whether one behind the opening is enough.
    """

    spacer: float | None
    lights: int | None
    diffuser: bool


def _no_cure(_: WindowGlow) -> Cure:
    return Cure(None, None, False)


@record
class Glow:
    """The openings with a light behind them that are not even enough, and what would cure each."""

    uneven: tuple[WindowGlow, ...] = ()
    cure: Callable[[WindowGlow], Cure] = _no_cure
