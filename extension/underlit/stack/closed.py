"""The closed card: how thick it is, and which letters it fits."""

from __future__ import annotations

import numpy as np
import shapely

from ..model.card import Card
from ..profiles import Profile
from ..records import record
from ..units import TOLERANCE

#: Sheets of card one over the other: front and back of the folded card, back sheet, panel.
CARDS = 4
#: An envelope is two sheets of paper.
ENVELOPE_SHEETS = 2
#: What an envelope is longer and wider than its card (mm). Proposed.
ENVELOPE_ROOM = 6.0


@record
class Closed:
    """Thickness (mm) where there is only foam, and at the thickest place; without envelope.

    `envelope` is what an envelope adds. `size` is the panel's, longer side first (mm).
    """

    flat: float
    thickest: float
    envelope: float
    size: tuple[float, float]


def closed(card: Card, profile: Profile, spacer: float, height: float) -> Closed:
    """The card with so much foam, new (not settled yet), over a tallest part of `height`.

    Thickest: a strip over a strip and the cover under the foam, or the tallest part where it
    stands out over the foam; and the diffuser.
    """
    sheets = CARDS * profile.sheets[profile.stack.panel].thickness
    paper = profile.sheets["paper"].thickness
    under = 2.0 * profile.tape.thickness if card.strips else 0.0
    under += paper if card.covers else 0.0
    over = profile.diffusers[profile.stack.diffuser].thickness if card.diffusers else 0.0
    return Closed(
        flat=sheets + spacer,
        thickest=sheets + max(spacer + under, height) + over,
        envelope=ENVELOPE_SHEETS * paper,
        size=_size(card),
    )


def classes_for(made: Closed, profile: Profile) -> tuple[str, ...]:
    """Names of the post classes that the card in its envelope fits by size and thickness.

    Weight, stiffness and unevenness are not judged: only the post office can tell.
    """
    thick = made.thickest + made.envelope
    long, wide = (side + ENVELOPE_ROOM for side in made.size)
    return tuple(
        name
        for name, one in profile.post.items()
        if thick <= one.thickness + TOLERANCE
        and long <= max(one.length, one.width) + TOLERANCE
        and wide <= min(one.length, one.width) + TOLERANCE
    )


def _size(card: Card) -> tuple[float, float]:
    left, top, right, bottom = shapely.total_bounds(
        [panel.outline for panel in card.panels] or [card.base]
    )
    if np.isnan(left):
        return (0.0, 0.0)
    sides = (float(right - left), float(bottom - top))
    return (max(sides), min(sides))
