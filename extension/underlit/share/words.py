"""Everything that the page itself says, in one place.

Sentences of the making sheet are taken from there. All of it is said where it is used
(`say(words.LEAD)`), with its words in braces; all text is plain and escaped when it is written.
"""

from __future__ import annotations

from collections.abc import Sequence

from ..language import joined, later, say, say_count

#: More lights that stay dark than this are counted, not named.
MOST_NAMED = 6

#: The card.
LEAD = later("A paper card with little lights in it.")
GLOWING = later("This is how it glows in a dark room.")
LIGHT_IT = later("{way} to light the card.")
KEEP_LIT = later("Keep it lit")
HOLD = later("Hold it as long as you like: with a finger, the mouse, or the space bar.")
ONCE = later("Touch it again and it is dark.")
ALWAYS = later("This card always shines while its battery lasts.")
RESTING = later("It is dark.")
AS_IF = later("Shown as if all lights burned: battery or tape are not drawn yet.")
NOTHING_BURNS = later("No light burns on this drawing yet, so it stays dark.")
NO_LIGHT = later("There is no light on this drawing yet, so it stays dark.")
NO_FRONT = later("The front of the card is not drawn yet.")
CHANGING = later(
    "Colour changing lights run through their colours by themselves; order and pace are a guess."
)
BY_COMPUTING = later(
    "The glow is computed from the lights, the battery and the windows of the drawing."
)

#: The short word on the spot to press, by what lights the card.
SPOT = {
    "press": later("Press"),
    "flap": later("Press"),
    "slide": later("Push"),
    "tab": later("Pull"),
    "open": later("Open"),
}

#: A card with stops.
NOT_READY = later("Not ready")
NOT_READY_LEAD = later("This card does not work as it is drawn: {faults}. Do not build it yet.")
SEE_FAULTS = later("See what to mend")

#: Making it.
MAKING = later("How it is made")
MAKING_LEAD = later("Move the slider. New things are bold, what lies there already is pale.")
FROM_BEHIND = later("Seen from the back of the sheet, where the circuit lies.")
STEP = later("Step {number} of {count}")
STEP_SLIDER = later("Step")
BEFORE, AFTER = later("Back"), later("Next")
CODES = later(
    "P is plus tape (dark), M is minus tape (light, dark edge), numbered in the order of laying. "
    "Numbers in red are lights."
)
SO_FAR = later("{missing}: only what is drawn so far is shown.")
NO_PICTURE = later("This circuit is too large for a picture here; the making sheet shows it.")

#: Supplies.
SUPPLIES = later("What you need")
SUPPLY_HEAD = (later("What"), later("Unit"), later("One card"), later("{copies} cards"))
ALSO = later(
    "Also: glue, scissors or a craft knife with a metal ruler, a bone folder, a soft pencil."
)
CUTTING = later("Tape to cut for one card")
CUT_HEAD = (
    later("Strip"),
    later("Width (mm)"),
    later("Length (mm)"),
    later("Folds"),
    later("Cut (mm)"),
)
EXTRA = later("Each fold takes one width of tape more; it is in the last column.")

#: Findings.
FOUND = later("What the check found")
FOUND_OF = {
    "stop": later("Mend these first"),
    "caution": later("Look at these"),
    "note": later("Good to know"),
}
ALL_FINE = later(
    "The drawing was checked: circuit ready. Nobody can check from a drawing how well tape sticks, "
    "so test at every step."
)

#: Safety.
SAFETY = later("Keep it safe")
COIN = later("This card holds a coin battery ({kinds}). Keep it away from small children.")
SWALLOWED = later(
    "If a battery may have been swallowed, go to an emergency department at once. Do not wait for "
    "signs."
)
FOR_WHOM = later("For whom is it?")

FOOTER = later("Made with Underlit {version} from {drawing}.")


def windows(number: int) -> str:
    """What the picture of the card shows."""
    return say_count(
        "The card in the dark: {number} window.", "The card in the dark: {number} windows.", number
    )


def shining(lights: int, dark: Sequence[str]) -> str:
    """What is told of the lit card: how many lights it has, and which of them stay dark."""
    if not dark:
        return say_count("It shines: {number} light.", "It shines: {number} lights.", lights)
    names = joined(dark)
    if len(dark) > MOST_NAMED:
        names = say_count("{number} light", "{number} lights", len(dark))
    return say_count(
        "{lit} of {all} lights shine; {dark} stays dark.",
        "{lit} of {all} lights shine; {dark} stay dark.",
        len(dark),
        lit=lights - len(dark),
        all=lights,
        dark=names,
    )


def circuit(strips: int, lights: int) -> str:
    """The name of the picture of the circuit."""
    return say(
        "The circuit: {strips}, {lights}.",
        strips=say_count("{number} strip of tape", "{number} strips of tape", strips),
        lights=say_count("{number} light", "{number} lights", lights),
    )


def more_strips(number: int) -> str:
    """Strips that a long list leaves out."""
    return say_count(
        "And {number} more strip: the making sheet has them all.",
        "And {number} more strips: the making sheet has them all.",
        number,
    )


def more_faults(number: int) -> str:
    """Findings that a long list leaves out."""
    return say_count(
        "And {number} more: validating the card marks it on the drawing.",
        "And {number} more: validating the card marks them all on the drawing.",
        number,
    )
