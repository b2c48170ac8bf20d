"""The colour plan that a maker asks for: what it takes, and what the report says of it."""

from __future__ import annotations

from ..colours.paints import Colour, read_colours
from ..colours.palette import Palette, palette_of
from ..colours.places import CHOICES
from ..errors import UnknownChoice
from ..language import say, say_count
from ..model.case import Case
from ..records import record
from ..sheet.scene import Scene
from .report import rounded


@record
class Wanted:
    """Colours of the fronts, and which places they fill."""

    colours: tuple[Colour, ...]
    refill: str


def read_wanted(colours: str, refill: str) -> Wanted | None:
    """What is asked for by the words of a shell or dialog, None without colours.

    Raises UnknownChoice.
    """
    if refill not in CHOICES:
        raise UnknownChoice(
            say(
                "--refill is {known} or {last}, not {word}.",
                known=", ".join(CHOICES[:-1]),
                last=CHOICES[-1],
                word=refill,
            )
        )
    if not colours.strip():
        return None
    return Wanted(read_colours(colours), refill)


def palette_for(
    case: Case, scene: Scene, wanted: Wanted | None, copies: int
) -> Palette | str | None:
    """The plan of a card, a sentence where there is none, None where none is wanted."""
    if wanted is None:
        return None
    lit = {light.window for light in scene.lights if light.window is not None}
    return palette_of(case.card, lit, wanted.colours, wanted.refill, copies)


def fronts_of(palette: Palette | str | None) -> tuple[int, int] | None:
    """Colours, and fronts of each colour, that a plan takes; None without one."""
    if not isinstance(palette, Palette):
        return None
    return len(palette.colours), palette.plan.rounds


def letters_of(palette: Palette | str | None) -> tuple[str, ...]:
    """The places that pieces of other colours go into, by their letters."""
    if not isinstance(palette, Palette):
        return ()
    return tuple(place.letter for place in palette.fronts.places)


def palette_figures(palette: Palette | str | None) -> dict[str, object] | None:
    """The report's key `colours` of `supplies`; places in page mm."""
    if not isinstance(palette, Palette):
        return None
    names = [colour.name for colour in palette.colours]
    return {
        "colours": names,
        "fronts_of_each": palette.plan.rounds,
        "places": [
            {"place": p.letter, "name": p.name, "window": p.window,
             "at": [rounded(v) for v in p.at]}
            for p in palette.fronts.places
        ],
        "cards": [
            {"front": names[made.front], "pieces": [names[k] for k in made.pieces]}
            for made in palette.plan.cards
        ],
        "possible": palette.plan.possible,
        "neighbours_alike": palette.plan.alike,
    }  # fmt: skip


def palette_words(palette: Palette | str | None, printed: bool) -> list[str]:
    """What the closing message says; `printed`: there is a sheet for the plan to stand on."""
    if palette is None or isinstance(palette, str):
        return [palette] if palette else []
    if not printed:
        return [say("No colour plan: it stands on the making sheet, which you left out.")]
    return [
        say_count(
            "Colour plan: {number} card from {colours} colours, all different.",
            "Colour plan: {number} cards from {colours} colours, all different.",
            len(palette.plan.cards),
            colours=len(palette.colours),
        )
    ]
