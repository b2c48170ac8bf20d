"""How high things stand over the back sheet (mm), cells at their largest."""

from __future__ import annotations

import shapely

from ..connectivity.contacts import is_bare
from ..model.card import PADS, Card, Part
from ..profiles import CellType, Profile
from ..records import record


@record
class Tall:
    """A part and how high it stands with its tape (mm)."""

    part: Part
    height: float


def tallest(card: Card, profile: Profile) -> Tall | None:
    """The tallest light or battery of known type; None without any. Ties: the first."""
    parts = (*card.cells, *card.lights)
    tall = [Tall(part, h) for part in parts if (h := height_of(part, profile)) is not None]
    return max(tall, key=lambda one: one.height, default=None)


def height_of(part: Part, profile: Profile) -> float | None:
    """A light lies on its tape, a bare cell between two, a holder's body on the paper."""
    tape = profile.tape.thickness
    if part.kind == "light" and part.type in profile.lights:
        return profile.lights[part.type].height + tape
    if part.kind != "cell" or part.type not in profile.cells:
        return None
    if _lies_bare(part):
        return bare_height(profile.cells[part.type], profile, _has_flap(part))
    return _holder_height(part, profile)


def bare_height(cell: CellType, profile: Profile, flap: bool) -> float:
    """A bare battery between two tapes, and under the flap of the back sheet that closes it."""
    over = profile.sheets[profile.stack.panel].thickness if flap else 0.0
    return cell.height + 2.0 * profile.tape.thickness + over


def _lies_bare(part: Part) -> bool:
    """Without a holder; one pad of a flap's cell is drawn away from it, on the flap."""
    return is_bare(part) or (_has_flap(part) and any(is_bare(part, pad) for pad in PADS["cell"]))


def _has_flap(part: Part) -> bool:
    return part.attributes.get("closes", "press") == "flap"


def lights_height(card: Card, profile: Profile) -> float:
    """The highest light of known type; 0 without any."""
    heights = (height_of(light, profile) for light in card.lights)
    return max((height for height in heights if height is not None), default=0.0)


def pressed_height(card: Card, profile: Profile) -> float | None:
    """The highest battery that is pressed; None where none is."""
    cells = (cell for cell in card.cells if cell.attributes.get("closes", "press") == "press")
    heights = (h for cell in cells if (h := height_of(cell, profile)) is not None)
    return max(heights, default=None)


def _holder_height(part: Part, profile: Profile) -> float:
    """That of the holder for this cell whose size is nearest; without one the cell's own."""
    box = shapely.oriented_envelope(part.body).exterior.coords
    sides = sorted(shapely.Point(box[i]).distance(shapely.Point(box[i + 1])) for i in (0, 1))
    fits = [holder for holder in profile.holders.values() if holder.cell == part.type]
    own = profile.cells[part.type].height
    if not fits:
        return own
    off = [sum(abs(a - b) for a, b in zip(sides, sorted(h.body), strict=True)) for h in fits]
    return max(own, fits[off.index(min(off))].height)


def settled(spacer: float, profile: Profile) -> float:
    """What is left of so much foam once it has settled (mm)."""
    return spacer * (1.0 - profile.limits.foam_settling)


def needed_spacer(height: float, profile: Profile) -> float:
    """The foam, unpressed, that still clears `height` once it has settled (mm)."""
    return height / (1.0 - profile.limits.foam_settling)
