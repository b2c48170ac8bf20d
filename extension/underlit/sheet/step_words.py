"""The sentences of steps that depend on how a card is made."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from ..language import joined, say, say_count
from .closing import switching_words, testable
from .foam_words import no_foam_words
from .kinds import Kind
from .scene import Piece, Scene, Tape

#: More places than this are told as a span of letters.
MOST_LETTERS = 8


def plan_words(scene: Scene, printed: Sequence[Kind]) -> str:
    """How the plan comes onto the back sheet, by the kinds of true-size pages that are printed."""
    ways = [kind for kind in printed if not kind.front]
    if len(ways) > 1:
        return say(
            "Take one of the true-size pages of the making sheet. Draw every strip, every light "
            "with its + and -, and the battery."
        )
    if ways:
        return say(
            'Take the true-size page "{page}" of the making sheet and do as it says. Every strip, '
            "every light with its + and -, and the battery must be there.",
            page=say(ways[0].title),
        )
    drawn = say("Then draw every strip, every light with its + and -, and the battery.")
    if scene.back:
        first = say(
            "No true-size page of the back sheet comes with these steps: print the making sheet "
            "with one."
        )
    else:
        first = say(
            "No true-size page of the back sheet comes with these steps: print the making sheet "
            "with one, or measure on the drawing."
        )
    return f"{first} {drawn}"


def laying_title(tapes: Sequence[Tape]) -> str:
    """Which tapes of one side are laid."""
    names = joined([tape.label for tape in tapes])
    if tapes[0].sign == "positive":
        return say("Lay plus {names}", names=names)
    if tapes[0].sign == "negative":
        return say("Lay minus {names}", names=names)
    return say("Lay spare {names}", names=names)


def running_on_words(scene: Scene, tape: Tape, below: str) -> str:
    """How a tape is laid on those of its side that lie there already."""
    if scene.conducts:
        return say(
            "{tape} runs on over {below}: overlap by the tape's width and press hard.",
            tape=tape.label, below=below,
        )  # fmt: skip
    if not tape.ends:
        return say(
            "{tape} runs on over {below}: overlap by the tape's width and solder the two "
            "before any battery is in. The iron burns skin and card.",
            tape=tape.label, below=below,
        )  # fmt: skip
    return say(
        "{tape} runs on over {below}: fold its end under, so that metal lies on metal: this glue "
        "does not conduct.",
        tape=tape.label, below=below,
    )  # fmt: skip


def held_words(far: Piece) -> str:
    """Where a loose light is held for the test."""
    plus, minus = far.tapes("positive-pad"), far.tapes("negative-pad")
    if plus and minus:
        return say(
            "Hold a loose light at the far end, where light {number} will be: plus foot on {plus}, "
            "minus foot on {minus}.",
            number=far.number, plus=joined(plus), minus=joined(minus),
        )  # fmt: skip
    return say(
        "Hold a loose light at the far end, where light {number} will be: its feet on the two "
        "tapes.",
        number=far.number,
    )


def battery_in_words(scene: Scene) -> str:
    """How the battery gets to its place for a test, and what else closes the circuit."""
    words = (
        say("Hold the battery in its place, tape on both faces.")
        if scene.cells[0].bare
        else say("Put the battery into its holder and close it.")
    )
    return f"{words} {switching_words(scene)}".rstrip()


def this_side_up_words(cell: Piece) -> str:
    """Which battery is put in, and which of its faces looks up."""
    kind = cell.type.upper()
    if cell.up == "minus":
        return say("Put the {cell} in last, minus side (the smaller face) up.", cell=kind)
    return say("Put the {cell} in last, plus side (marked +) up.", cell=kind)


def over_it_words(cell: Piece) -> list[str]:
    """Which strips reach the upper face of a bare battery, and how; a flap brings its own down."""
    upper = cell.tapes("negative-pad" if cell.up == "minus" else "positive-pad")
    if cell.closes == "flap" or not upper:
        return []
    if cell.closes in ("", "press"):
        return [
            say_count(
                "{tapes} comes over it: leave the end of that strip unstuck until now, then bend "
                "it over the battery, a little above it, where pressing brings it down.",
                "{tapes} come over it: leave the ends of these strips unstuck until now, then "
                "bend them over the battery, a little above it, where pressing brings them down.",
                len(upper),
                tapes=joined(upper),
            )
        ]
    return [
        say_count(
            "{tapes} comes over it: leave the end of that strip unstuck until now, then bend it "
            "over the upper face.",
            "{tapes} come over it: leave the ends of these strips unstuck until now, then bend "
            "them over the upper face.",
            len(upper),
            tapes=joined(upper),
        )
    ]


def kept_off_words(scene: Scene, cell: Piece) -> str:
    """What keeps a battery off its contact until the card is read."""
    if scene.tabs:
        return say("Slip the paper tab between battery and tape.")
    if cell.bare:
        return say(
            "For the post: slip a strip of paper between battery and tape, to be pulled out."
        )
    return say(
        "For the post: slip a strip of paper between battery and the contact of its holder, to be "
        "pulled out."
    )


def glued_words(scene: Scene) -> Iterable[str]:
    """What becomes of pieces that come out of the windows, where vellum carries them."""
    if scene.glued:
        yield say_count(
            "Glue the {number} loose piece back in place.",
            "Glue the {number} loose pieces back in place.",
            scene.glued,
        )


def filling_words(scene: Scene, letters: Sequence[str]) -> Iterable[str]:
    """How pieces of other colours come into the front, by the letters of their places."""
    span = joined(letters)
    if len(letters) > MOST_LETTERS:
        span = say("{first} to {last}", first=letters[0], last=letters[-1])
    yield say_count(
        "{number} place of this front takes a piece of another colour: {letters}. The colour plan "
        "says which, card by card.",
        "{number} places of this front take pieces of other colours: {letters}. The colour plan "
        "says which, card by card.",
        len(letters),
        letters=span,
    )
    if scene.diffusers.is_empty:
        yield say(
            "Glue a strip of thin paper over each place from behind, then set the piece in from "
            "the front."
        )
    else:
        yield say(
            "Set each piece in from the front, onto the vellum; where none lies, glue a strip of "
            "thin paper over the place from behind first."
        )


def lowering_words(scene: Scene) -> Iterable[str]:
    """How the front comes down."""
    if not scene.lights:
        yield say("Lower it onto the card.")
    else:
        over = (
            say(
                "Hold the front over the battery without touching, look through the windows for "
                "the lights, then lower it."
            )
            if scene.foam.is_empty
            else say(
                "Hold the front over the foam without touching, look through the windows for the "
                "lights, then lower it."
            )
        )
        first = say("Test once more.") if testable(scene) else ""
        yield f"{first} {over}".lstrip()
    yield from no_foam_words(scene)


def loose_words(scene: Scene) -> Iterable[str]:
    """What becomes of pieces that come out of the windows, where no vellum carries them."""
    if scene.glued and scene.diffusers.is_empty:
        yield say_count(
            "Glue {number} piece back into the windows, as drawn.",
            "Glue {number} pieces back into the windows, as drawn.",
            scene.glued,
        )
    if scene.loose:
        yield say_count(
            "{number} piece falls out of the windows.",
            "{number} pieces fall out of the windows.",
            scene.loose,
        )
