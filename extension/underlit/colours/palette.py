"""A colour plan of a card: its colours, its places, and which goes where."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from ..language import say
from ..model.card import Card
from ..records import record
from .paints import Colour
from .places import Fronts, fronts_of
from .plan import Plan, plan_of

#: More places than this are not set by hand.
MOST_PLACES = 120


@record
class Palette:
    """A plan with what it is about. `asked`: how many cards are wanted at least."""

    colours: tuple[Colour, ...]
    fronts: Fronts
    plan: Plan
    asked: int


def palette_of(
    card: Card, lit: Collection[int], colours: Sequence[Colour], choice: str, cards: int
) -> Palette | str:
    """The plan, or a sentence that says why there is none.

    `lit`: numbers of windows with a light; `choice`: see `places.CHOICES`; `cards`: how many.
    """
    fronts = fronts_of(card, lit, choice)
    places = len(fronts.places)
    if not places:
        return _nothing(card, choice)
    if places > MOST_PLACES:
        return say(
            "No colour plan: {places} places to fill are too many to set by hand (at most {most}). "
            'Let other colours fill "loose pieces only".',
            places=places,
            most=MOST_PLACES,
        )
    plan = plan_of(len(colours), places, fronts.neighbours(), cards)
    return Palette(tuple(colours), fronts, plan, cards)


def _nothing(card: Card, choice: str) -> str:
    if not card.panels:
        return say("No colour plan: the front is not drawn yet.")
    if choice == "all" or not card.openings:
        return say("No colour plan: nothing is cut out of this front.")
    if choice == "pieces":
        return say(
            'No colour plan: this front has no loose piece. Let other colours fill "loose pieces '
            'and all windows".'
        )
    return say(
        "No colour plan: this front has no loose piece, and a light shines through every window "
        'that is large enough to fill. To fill those too, let other colours fill "loose pieces '
        'and all windows".'
    )
