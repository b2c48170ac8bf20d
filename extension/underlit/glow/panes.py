"""What an opening is made of: areas that let one share of the light through.

Open = 1; a diffuser and the uncut paper of a glow area: by the profile. What is glued back into an
opening keeps all light back; `Opening.clear` is without it already. A cover lies down on the tape,
at the feet of the lights, so it keeps no light from the panel (one over a lens is `light-blocked`).
"""

from __future__ import annotations

import shapely
from shapely.geometry.base import BaseGeometry

from ..model.card import Card, Opening
from ..profiles import Profile
from ..records import record

#: Slivers between sheets that are nothing (mm2).
NOTHING = 1e-6


@record
class Pane:
    """One area of an opening (page mm) and the share of light that comes through it."""

    area: BaseGeometry
    transmission: float
    soft: bool


@record
class Layers:
    """The diffusers of a card as one area; transmissions are looked up when needed."""

    diffuser: BaseGeometry
    profile: Profile


def layers_of(card: Card, profile: Profile) -> Layers:
    """What lies behind the openings of a card."""
    return Layers(shapely.union_all([sheet.geometry for sheet in card.diffusers]), profile)


def panes_of(opening: Opening, layers: Layers) -> tuple[Pane, ...]:
    """The areas of an opening, none overlapping another."""
    stack, profile = layers.profile.stack, layers.profile
    start = profile.sheets[stack.panel].transmission if opening.through else 1.0
    clear = opening.clear
    if clear.area <= NOTHING:
        return ()
    if layers.diffuser.is_empty or not shapely.intersects(layers.diffuser, clear):
        return (Pane(clear, start, False),)
    through = start * profile.diffusers[stack.diffuser].transmission
    covered = Pane(shapely.intersection(clear, layers.diffuser), through, True)
    bare = Pane(shapely.difference(clear, layers.diffuser), start, False)
    return tuple(pane for pane in (covered, bare) if pane.area.area > NOTHING)
