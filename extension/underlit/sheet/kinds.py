"""Ways of bringing a card onto paper at true size: what each is for, and how it is seen."""

from __future__ import annotations

from collections.abc import Iterable

from ..language import later, say
from ..records import record
from .closing import hand_of
from .content import Box
from .scene import Scene


@record
class Kind:
    """One way of carrying the plan over; `title` and `words` are to be said.

    `front`: not the plan, but the front, seen from there.
    """

    word: str
    title: str
    words: str
    mirrored: bool = False
    front: bool = False

    def flips(self, scene: Scene) -> bool:
        """Whether the working view is turned round on this page."""
        return self.mirrored or (self.front and scene.back)

    def extent(self, scene: Scene) -> Box:
        """What must be on the page (mm, working view)."""
        return scene.front.bounds if self.front else scene.extent

    def said(self, scene: Scene) -> str:
        """The words at its top."""
        words = [say(self.words)]
        if self.front and not scene.scores.is_empty:
            words.append(say("Dotted: score only."))
        if self.front and not scene.through.is_empty:
            words.append(say("Dashed: leave uncut, light shines through."))
        hand = hand_of(scene)
        if self.front and hand is not None and hand.spot is not None:
            words.append(say("Red ring: {hand}.", hand=hand.words))
        if scene.back and not self.front:
            words.append(say("The circuit lies on the back: you see that back here."))
        return " ".join(words)


KINDS = {
    "base": Kind(
        "base",
        later("Print on the back sheet"),
        later(
            "Put your back sheet itself into the printer. Fine lines only: tape and lights will "
            'hide them. Print at 100 % (not "fit to page") and measure the 100 mm line before you'
            " cut."
        ),
    ),
    "trace": Kind(
        "trace",
        later("Trace through"),
        later(
            "Lay the back sheet on this page, on a light table or against a window, and draw the "
            "lines that shine through. Print at 100 % and measure the 100 mm line first."
        ),
    ),
    "window": Kind(
        "window",
        later("Window page: MIRRORED"),
        later(
            "Everything here is the wrong way round on purpose. Go over the lines with a soft "
            "pencil, lay the page face down on the back sheet and rub: the lines come out the "
            "right way round. Or tape it face down to a window."
        ),
        mirrored=True,
    ),
    "stencil": Kind(
        "stencil",
        later("Stencil to prick through"),
        later(
            "Lay this page on the back sheet, prick through every ring with a pin, take the page "
            "away and join the pricks along a ruler. Small crosses: middle of a light."
        ),
    ),
    "front": Kind(
        "front",
        later("The front, to cut by hand"),
        later(
            "Tape this page onto your front and cut through both, windows first, the outline "
            "last; or prick the corners through."
        ),
        front=True,
    ),
}


def offered(scene: Scene) -> Iterable[Kind]:
    """Kinds for which there is something to show."""
    return (kind for kind in KINDS.values() if not (kind.front and scene.front.is_empty))
