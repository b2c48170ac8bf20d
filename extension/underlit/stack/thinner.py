"""A thinner card: less foam that still clears, a thinner or bare battery."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from ..connectivity.contacts import is_bare
from ..model.card import Card
from ..profiles import Profile
from ..records import record
from .closed import closed
from .foams import Layers, cheapest, thinnest
from .heights import height_of, lights_height, pressed_height
from .planned import planned


@record
class Thinner:
    """One way: the battery (a name in the profile; None: as it is), bare or as drawn, the foam and
    what the card then measures at its thickest in its envelope (mm)."""

    cell: str | None
    bare: bool
    layers: Layers
    thick: float


def thinner(card: Card, profile: Profile) -> Iterator[Thinner]:
    """Ways to a thinner card, the least change first: foam, then a thinner battery of the same
    width (most charge first), then a bare one instead of its holder."""
    own = planned(card, profile)
    cell_heights = [h for cell in card.cells if (h := height_of(cell, profile)) is not None]
    pressed, lights = pressed_height(card, profile) is not None, lights_height(card, profile)
    now = max(cell_heights, default=0.0)
    for layers, thick in _foams(card, profile, max(lights, now), now if pressed else None):
        if layers.thickness < own.spacer:
            yield Thinner(None, False, layers, thick)
    for name, bare, height in _cells(card, profile):
        press = height if pressed else None
        for layers, thick in _foams(card, profile, max(lights, height), press):
            yield Thinner(name, bare, layers, thick)


def _foams(
    card: Card, profile: Profile, tall: float, press: float | None
) -> Iterator[tuple[Layers, float]]:
    """The cheapest foam over something so tall, then the least; how thick the card is then."""
    choices = (cheapest(tall, press, profile), thinnest(tall, press, profile))
    for layers in choices if tall > 0.0 else ():
        if layers is not None:
            yield layers, _thick(card, profile, layers, tall)


def _thick(card: Card, profile: Profile, layers: Layers, tall: float) -> float:
    made = closed(card, profile, layers.thickness, tall)
    return made.thickest + made.envelope


def _cells(card: Card, profile: Profile) -> Iterator[tuple[str, bool, float]]:
    """(name, bare instead of in a holder, height) of batteries that could take the place.

    Of several batteries on a card all would have to change: they are of one type, or none is.
    """
    types = {cell.type for cell in card.cells}
    if len(types) != 1 or not types <= set(profile.cells):
        return
    (now,) = types
    old = profile.cells[now]
    held = not all(_lies_bare(card, k) for k in range(len(card.cells)))
    names = [n for n, c in profile.cells.items() if c.diameter == old.diameter]
    names = [n for n in names if profile.cells[n].height <= old.height]
    order = sorted(names, key=lambda n: (-profile.cells[n].capacity_mah, n))
    if held:
        for name in order:
            as_held = [replace(cell, type=name) for cell in card.cells]
            heights = [h for cell in as_held if (h := height_of(cell, profile)) is not None]
            fits = any(holder.cell == name for holder in profile.holders.values())
            if name != now and fits and heights:
                yield name, False, max(heights)
    for name in order:
        if held or name != now:
            bare = profile.cells[name].height + 2.0 * profile.tape.thickness
            yield name, held, bare


def _lies_bare(card: Card, k: int) -> bool:
    cell = card.cells[k]
    return is_bare(cell) or cell.attributes.get("closes") == "flap"
