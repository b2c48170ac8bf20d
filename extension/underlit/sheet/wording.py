"""Words about a scene: names of tapes and places as a card maker says them."""

from __future__ import annotations

from ..language import figure, joined, later, say, say_count
from ..model.naming import light_type
from .closing import hand_of
from .content import Point
from .scene import Piece, Scene, Tape
from .supplies import cut_length, fold_extra

#: Parts by kind as a label names them, to be said.
NAMES = {
    "cell": later("battery"),
    "switch": later("switch"),
    "resistor": later("resistor"),
    "pull-tab": later("pull tab"),
}


def name_of(scene: Scene, piece: Piece) -> str:
    """A battery, switch, resistor or tab by its name alone: "battery", "switch 2" of several."""
    alike = [one.id for one in (*scene.cells, *scene.others, *scene.tabs) if one.kind == piece.kind]
    name = say(NAMES[piece.kind])
    return name if len(alike) == 1 else f"{name} {alike.index(piece.id) + 1}"


def tape_words(tape: Tape) -> str:
    """What to cut for one tape."""
    length, width = figure(tape.length), figure(tape.width)
    if not tape.roll:
        wide, high = (f"{side:.0f}" for side in tape.box)
        return say(
            "Cut this shape from a conductive sheet of {wide} x {high} mm (it runs {length} mm).",
            wide=wide, high=high, length=length,
        )  # fmt: skip
    cut = cut_length(tape)
    if not tape.all_folds:
        return say("{length} mm long, {width} mm wide. Cut {cut} mm.",
                   length=length, width=width, cut=cut)  # fmt: skip
    extra = figure(fold_extra(tape))
    if tape.folds and tape.ends:
        return say(
            "{length} mm long, {width} mm wide. Cut {cut} mm (folded corners and ends take "
            "{extra} mm).",
            length=length, width=width, cut=cut, extra=extra,
        )  # fmt: skip
    if tape.ends:
        return say_count(
            "{length} mm long, {width} mm wide. Cut {cut} mm ({number} folded end takes {extra} "
            "mm).",
            "{length} mm long, {width} mm wide. Cut {cut} mm ({number} folded ends take {extra} "
            "mm).",
            tape.ends, length=length, width=width, cut=cut, extra=extra,
        )  # fmt: skip
    return say_count(
        "{length} mm long, {width} mm wide. Cut {cut} mm ({number} folded corner takes {extra} "
        "mm).",
        "{length} mm long, {width} mm wide. Cut {cut} mm ({number} folded corners take {extra} "
        "mm).",
        tape.folds, length=length, width=width, cut=cut, extra=extra,
    )  # fmt: skip


def foot_words(light: Piece) -> str:
    """Light 4: plus foot on P1, minus foot on M1."""
    plus, minus = (joined(light.tapes(f"{side}-pad")) for side in ("positive", "negative"))
    return say(
        "Light {number}: {plus}, {minus}.",
        number=light.number,
        plus=say("plus foot on {tapes}", tapes=plus) if plus else say("plus foot: no tape yet"),
        minus=say("minus foot on {tapes}", tapes=minus)
        if minus
        else say("minus foot: no tape yet"),
    )


def light_kinds(scene: Scene) -> str:
    """3 warm white and 1 red."""
    kinds: dict[str, int] = {}
    for light in scene.lights:
        kinds[light.type] = kinds.get(light.type, 0) + 1
    return joined([f"{n} {light_type(kind)}" for kind, n in kinds.items()])


def lights_words(scene: Scene) -> str:
    """8 warm white lights; 3 warm white and 1 red light."""
    return say_count("{kinds} light", "{kinds} lights", len(scene.lights), kinds=light_kinds(scene))


def place_words(scene: Scene, at: Point) -> str:
    """Where something lies on the front, as its reader sees it: "at the bottom, in the middle"."""
    shape = scene.front if not scene.front.is_empty else scene.base
    left, top, right, bottom = shape.bounds
    across = (at[0] - left) / max(right - left, 1e-6)
    down = (at[1] - top) / max(bottom - top, 1e-6)
    if scene.back:
        across = 1.0 - across
    rows = (say("at the top"), say("halfway down"), say("at the bottom"))
    columns = (say("left"), say("in the middle"), say("right"))
    return f"{rows[_third(down)]}, {columns[_third(across)]}"


def _third(share: float) -> int:
    """0, 1 or 2: which third of a whole a share lies in."""
    return 0 if share < 1 / 3 else 1 if share < 2 / 3 else 2


def closing_words(scene: Scene) -> str:
    """What lights the card."""
    hand = hand_of(scene)
    return say("close the switch") if hand is None else hand.words
