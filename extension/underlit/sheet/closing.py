"""What lights the card, and where its reader's hand goes."""

from __future__ import annotations

import shapely

from ..language import later, say
from ..records import record
from .content import Point
from .scene import Piece, Scene

#: What a reader does, by the word of `underlit:closes`, to be said; and where a switch is pressed.
WORDS = {
    "press": later("press the spot over the battery"),
    "slide": later("push the slider"),
    "flap": later("press the flap onto the battery"),
    "tab": later("pull out the paper tab"),
    "open": later("open the card"),
    "always": later("nothing to press: it always shines"),
}
OVER_SWITCH = later("press the spot over the switch")

#: How it goes dark again, to be said; what always shines does not.
DARK_AGAIN = {
    "slide": later("Push it back: it must go dark."),
    "tab": later("Push the tab in again: it must go dark."),
    "open": later("Close it: it must go dark."),
    "always": "",
}

#: What a switch asks for while the card is still open, to be said.
SWITCHING = {"press": later("Press the switch."), "slide": later("Push the switch on.")}

#: Ways that need no finger on any one spot of the front.
ANYWHERE = frozenset({"open", "always"})


@record
class Hand:
    """What a hand moves, how (a word of `underlit:closes`), and where (mm, working view)."""

    piece: Piece
    way: str
    at: Point

    @property
    def spot(self) -> Point | None:
        """What is marked on the front; None where no one spot lights the card."""
        return None if self.way in ANYWHERE else self.at

    @property
    def words(self) -> str:
        """What a reader does."""
        if self.way == "press" and self.piece.kind == "switch":
            return say(OVER_SWITCH)
        return say(WORDS.get(self.way, later("close the switch")))

    @property
    def dark_again(self) -> str:
        """What ends the light, as a sentence; "" where nothing does."""
        return say(DARK_AGAIN.get(self.way, later("Let go: it must go dark.")))


def hand_of(scene: Scene) -> Hand | None:
    """What a hand closes the circuit with: a battery or a switch; None without a battery.

    What always conducts is passed over where anything else closes the circuit. A battery that says
    nothing is pressed, but a switch that says how it closes goes before it.
    """
    if not scene.cells:
        return None
    closing = [piece for piece in (*scene.cells, *scene.others) if piece.closes.strip()]
    moved = [piece for piece in closing if piece.closes.strip() != "always"]
    piece = next(iter(moved or closing), scene.cells[0])
    way = piece.closes.strip() or "press"
    return Hand(piece, way, _grip(scene) if way == "tab" and scene.tabs else piece.at)


def testable(scene: Scene) -> bool:
    """Whether enough is there for a light to shine."""
    return bool(scene.lights and scene.cells and scene.tapes)


def switching_words(scene: Scene) -> str:
    """What to do with the switches of an open card so that its circuit is closed; "" without."""
    ways = [one.closes.strip() for one in scene.others if one.kind == "switch"]
    ways = [way for way in ways if way != "always"]
    if len(ways) > 1:
        return say("Close every switch.")
    return say(SWITCHING.get(ways[0], later("Close the switch."))) if ways else ""


def _grip(scene: Scene) -> Point:
    """Where a pull tab is taken: what of it looks out from under the front, else its middle."""
    tab = scene.tabs[0]
    out = shapely.difference(tab.body, scene.front.buffer(0.0))
    if out.is_empty or scene.front.is_empty:
        return tab.at
    place = shapely.point_on_surface(out)
    return (float(place.x), float(place.y))
