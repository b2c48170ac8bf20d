"""The stack of a card as everything that speaks of it takes it: one foam, one thickness."""

from __future__ import annotations

from ..model.card import Card
from ..profiles import Profile
from ..records import record
from .closed import Closed, closed
from .foams import Layers, cheapest
from .heights import Tall, pressed_height, tallest

#: The spacer of the shipped profiles (mm): nobody has named one where it stands.
SHIPPED_SPACER = 6.0


@record
class Planned:
    """`layers` are the cheapest foams that do, None where none does (or nothing says how high).

    `spacer` is the foam that is counted (mm, new): the one that the maker named, else that of
    `layers`, else the profile's. `tall` is None on a card without lights and batteries.
    """

    tall: Tall | None
    layers: Layers | None
    spacer: float
    made: Closed


def planned(card: Card, profile: Profile) -> Planned:
    """Foam and closed thickness of a card."""
    tall = tallest(card, profile)
    layers = None
    if tall is not None:
        layers = cheapest(tall.height, pressed_height(card, profile), profile)
    spacer = profile.stack.spacer
    if layers is not None and spacer == SHIPPED_SPACER:
        spacer = layers.thickness
    height = 0.0 if tall is None else tall.height
    return Planned(tall, layers, spacer, closed(card, profile, spacer, height))
