"""Everything that the page itself says, in one place.

Sentences of the making sheet are taken from there. Words in braces are filled in by `str.format`;
all text is plain and escaped when it is written.
"""

from __future__ import annotations

LANGUAGE = "en"

#: The card.
LEAD = "A paper card with little lights in it."
GLOWING = "This is how it glows in a dark room."
DARK_CARD = "The card in the dark: {windows}."
LIGHT_IT = "{way} to light the card."
KEEP_LIT = "Keep it lit"
HOLD = "Hold it as long as you like: with a finger, the mouse, or the space bar."
ONCE = "Touch it again and it is dark."
ALWAYS = "This card always shines while its battery lasts."
SHINING = {"all": "It shines: {lit}.", "some": "{lit} of {all} shine; {dark} stay dark."}
RESTING = "It is dark."
AS_IF = "Shown as if all lights burned: battery or tape are not drawn yet."
NOTHING_BURNS = "No light burns on this drawing yet, so it stays dark."
NO_LIGHT = "There is no light on this drawing yet, so it stays dark."
NO_FRONT = "The front of the card is not drawn yet."
CHANGING = (
    "Colour changing lights run through their colours by themselves; order and pace are a guess."
)
BY_COMPUTING = "The glow is computed from the lights, the battery and the windows of the drawing."

#: The short word on the spot to press, by what lights the card.
SPOT = {
    "press": "Press",
    "flap": "Press",
    "slide": "Push",
    "tab": "Pull",
    "open": "Open",
    "always": "Light",
}

#: A card with stops.
NOT_READY = "Not ready"
NOT_READY_LEAD = "This card does not work as it is drawn: {faults}. Do not build it yet."
SEE_FAULTS = "See what to mend"

#: Making it.
MAKING = "How it is made"
MAKING_LEAD = "Move the slider. New things are bold, what lies there already is pale."
FROM_BEHIND = "Seen from the back of the sheet, where the circuit lies."
STEP = "Step {number} of {count}"
STEP_SLIDER = "Step"
BEFORE, AFTER = "Back", "Next"
CIRCUIT = "The circuit: {strips}, {lights}."
CODES = (
    "P is plus tape (dark), M is minus tape (light, dark edge), numbered in the order of laying. "
    "Numbers in red are lights."
)
SO_FAR = "{missing}: only what is drawn so far is shown."
NO_PICTURE = "This circuit is too large for a picture here; the making sheet shows it."

#: Supplies.
SUPPLIES = "What you need"
SUPPLY_HEAD = ("What", "Unit", "One card", "{copies} cards")
ALSO = "Also: glue, scissors or a craft knife with a metal ruler, a bone folder, a soft pencil."
CUTTING = "Tape to cut for one card"
CUT_HEAD = ("Strip", "Width (mm)", "Length (mm)", "Folds", "Cut (mm)")
EXTRA = "Each folded corner takes one width of tape more; it is in the last column."
MORE_STRIPS = "And {count} more strips: the making sheet has them all."

#: Findings.
FOUND = "What the check found"
FOUND_OF = {
    "stop": "Mend these first",
    "caution": "Look at these",
    "note": "Good to know",
}
MORE_FAULTS = "And {count} more: validating the card marks them all on the drawing."
ALL_FINE = (
    "The drawing was checked: circuit ready. Nobody can check from a drawing how well tape sticks, "
    "so test at every step."
)

#: Safety.
SAFETY = "Keep it safe"
COIN = "This card holds a coin battery ({kinds}). Keep it away from small children."
SWALLOWED = (
    "If a battery may have been swallowed, go to an emergency department at once. Do not wait for "
    "signs."
)
FOR_WHOM = "For whom is it?"

FOOTER = "Made with Underlit {version} from {drawing}."
