"""The stack of a card as everything that speaks of it takes it: one foam, one thickness."""

from __future__ import annotations

from ..model.card import Card
from ..profiles import Profile
from ..records import record
from .closed import Closed, closed
from .foams import Layers, cheapest
from .heights import Tall, bare_height, pressed_height, settled, tallest

#: The spacer of the shipped profiles (mm): nobody has named one where it stands.
SHIPPED_SPACER = 6.0

#: The battery that is meant where none is drawn yet: bare, to be pressed.
USUAL_CELL = "cr2032"


@record
class Planned:
    """`layers` are the cheapest foams that do, None where none does (or nothing says how high).

    `spacer` is the foam that is counted (mm, new): the one that the maker named, else that of
    `layers`, else the profile's. `tall` is None on a card without lights and batteries. A card of
    lights alone is planned for the battery that it will most likely get.
    """

    tall: Tall | None
    layers: Layers | None
    spacer: float
    made: Closed


def planned(card: Card, profile: Profile) -> Planned:
    """Foam and closed thickness of a card."""
    tall = tallest(card, profile)
    if tall is None:
        spacer = profile.stack.spacer
        return Planned(None, None, spacer, closed(card, profile, spacer, 0.0))
    press = _pressed(card, profile)
    height = max(tall.height, press or 0.0)
    layers, spacer = _foam(height, press, profile)
    return Planned(tall, layers, spacer, closed(card, profile, spacer, height))


def panel_height(card: Card, profile: Profile) -> float:
    """From the back sheet up to the panel once the planned foam has settled (mm).

    An empty card is planned for the battery that it will most likely get.
    """
    plan = planned(card, profile)
    if plan.tall is not None:
        return settled(plan.spacer, profile)
    press = _pressed(card, profile)
    return settled(_foam(press or 0.0, press, profile)[1], profile)


def _pressed(card: Card, profile: Profile) -> float | None:
    """The battery to be pressed: the card's own, or the usual one where none is drawn yet."""
    if card.cells or USUAL_CELL not in profile.cells:
        return pressed_height(card, profile)
    return bare_height(profile.cells[USUAL_CELL], profile, False)


def _foam(height: float, press: float | None, profile: Profile) -> tuple[Layers | None, float]:
    """The cheapest foams that do, and the foam that is counted (mm, new)."""
    layers, spacer = cheapest(height, press, profile), profile.stack.spacer
    if layers is not None and spacer == SHIPPED_SPACER:
        spacer = layers.thickness
    return layers, spacer
