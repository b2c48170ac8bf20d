"""Which battery an order means, how it is drawn, and the foam that goes with it."""

from __future__ import annotations

from dataclasses import replace

from ..errors import UnknownChoice
from ..language import say
from ..markup.part_shapes import Disc, PartDrawing, bare_cell, flap_cell, holder
from ..markup.part_shapes.others import AROUND_RIM, WITHIN_CAP
from ..model.card import Card
from ..placement.power_data import Wish
from ..profiles import Profile
from ..records import record
from ..stack import SHIPPED_SPACER, USUAL_CELL, Layers, bare_height, planned, settled
from .part_areas import features_of, placed_part

CLOSES = ("press", "slide", "flap", "tab", "open", "always")

#: Ways of closing that get a pull tab unless it is refused: what lies in the post is pressed by
#: every stack of mail, and what lies in a drawer runs flat.
TABBED = frozenset({"press", "flap", "tab"})


@record
class Order:
    """Options of the action. Empty words and None: not given.

    `pinned`: the battery that is there is the tool's own, and pinned.
    """

    type: str = ""
    closes: str = ""
    up: str = "plus"
    tab: bool | None = None
    replace: bool = False
    pinned: bool = False


@record
class Kind:
    """The battery that an order means, as it is wanted and as it can be drawn."""

    wish: Wish
    cell: str
    holder: str | None


def kind_of(order: Order, profile: Profile) -> Kind:
    """The battery that is asked for. Raises UnknownChoice."""
    word = order.type or USUAL_CELL
    if word not in profile.cells and word not in profile.holders:
        known = ", ".join((*profile.cells, *profile.holders))
        raise UnknownChoice(
            say('I know no battery "{word}". Use one of: {known}.', word=word, known=known)
        )
    bare = word in profile.cells
    name = word if bare else profile.holders[word].cell
    if name not in profile.cells:
        raise UnknownChoice(
            say(
                'Holder {word} is for a battery "{name}" that your profile lacks.',
                word=word,
                name=name,
            )
        )
    own = "press" if bare else profile.holders[word].closes
    closes = order.closes or ("press" if own == "always" else own)
    tab = order.tab if order.tab is not None else closes in TABBED
    _check(order, closes, bare, tab)
    drawing = cell_drawing(word, closes, order.up, profile)
    return Kind(_wish(drawing, word, name, closes, order.up, tab, profile), name, _none(bare, word))


def _none(bare: bool, word: str) -> str | None:
    return None if bare else word


def _check(order: Order, closes: str, bare: bool, tab: bool) -> None:
    if closes not in CLOSES:
        raise UnknownChoice(
            say("--closes is one of {known}, not {word}.", known=", ".join(CLOSES), word=closes)
        )
    if order.up not in {"plus", "minus"}:
        raise UnknownChoice(say("--up is plus or minus, not {word}.", word=order.up))
    if closes == "flap" and not bare:
        raise UnknownChoice(
            say("A flap closes a bare battery, not one in a holder: use cr2032, say.")
        )
    if order.up == "minus" and not bare:
        raise UnknownChoice(say("A battery in a holder lies plus side up."))
    if closes == "tab" and not tab:
        raise UnknownChoice(
            say("A battery that closes by a pull tab needs one: do not refuse the tab.")
        )


def cell_drawing(
    word: str, closes: str, up: str, profile: Profile, fold_at: float | None = None
) -> PartDrawing:
    """The battery (or holder) as it is drawn."""
    if word in profile.holders:
        kind = profile.holders[word]
        return holder(kind, profile.cells[kind.cell], closes=closes)
    if closes == "flap":
        return flap_cell(word, profile.cells[word], fold_at=fold_at, up=up)
    return bare_cell(word, profile.cells[word], closes=closes, up=up)


def _wish(
    drawing: PartDrawing,
    word: str,
    name: str,
    closes: str,
    up: str,
    tab: bool,
    profile: Profile,
) -> Wish:
    cell, areas = profile.cells[name], features_of(drawing)
    pads = {pad: areas[pad] for pad in ("positive-pad", "negative-pad")}
    body = areas["body"]
    if word in profile.holders:
        height = profile.holders[word].height
        return Wish(body, pads, False, cell.diameter / 2.0, height, closes, up, tab=tab)
    contact = drawing.feature("positive-pad")
    return Wish(
        body,
        pads,
        True,
        cell.diameter / 2.0,
        bare_height(cell, profile, closes == "flap"),
        closes,
        up,
        collar=cell.diameter / 2.0 + AROUND_RIM + profile.patch.margin,
        hole=WITHIN_CAP * cell.cap_radius,
        contact=contact.radius if isinstance(contact, Disc) else 0.0,
        tab=tab,
    )


def with_foam(kind: Kind, card: Card, profile: Profile) -> Kind:
    """The battery with the foam that a card has once it is placed: that of the one plan."""
    wish, word = kind.wish, kind.holder or kind.cell
    part = placed_part(cell_drawing(word, wish.closes, wish.up, profile), "", (0.0, 0.0), 0.0, {})
    plan = planned(replace(card, cells=(*card.cells, part)), profile)
    foam = plan.layers
    if foam is None or foam.thickness != plan.spacer:
        named = plan.spacer != SHIPPED_SPACER
        travel = settled(plan.spacer, profile) - wish.height
        foam = Layers((), plan.spacer, travel) if named else None
    return replace(kind, wish=replace(wish, foam=foam))
