"""Words about a scene: names of tapes and places as a card maker says them."""

from __future__ import annotations

from collections.abc import Sequence

from .closing import hand_of
from .content import Point
from .scene import Piece, Scene, Tape
from .supplies import cut_length, light_words

SIDES = {"positive": "plus", "negative": "minus", None: "spare"}


def joined(words: Sequence[str]) -> str:
    """1, 2 and 3."""
    words = list(words)
    if not words:
        return ""
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"


def short(value: float) -> str:
    """112.5, 84 (mm, one decimal where there is one)."""
    return f"{value:.1f}".removesuffix(".0")


def count(number: int, one: str, many: str) -> str:
    """1 light, 3 lights."""
    return f"{number} {one if number == 1 else many}"


def tape_words(tape: Tape) -> str:
    """What to cut for one tape."""
    if not tape.roll:
        return (
            f"Cut this shape from a conductive sheet of {tape.box[0]:.0f} x {tape.box[1]:.0f} mm "
            f"(it runs {short(tape.length)} mm)."
        )
    words = f"{short(tape.length)} mm long, {short(tape.width)} mm wide. Cut {cut_length(tape)} mm"
    if tape.folds:
        words += f" ({count(tape.folds, 'folded corner takes', 'folded corners take')} "
        words += f"{short(tape.folds * tape.width)} mm)"
    return words + "."


def foot_words(light: Piece) -> str:
    """Light 4: plus foot on P1, minus foot on M1."""
    parts = []
    for foot, word in (("positive-pad", "plus"), ("negative-pad", "minus")):
        tapes = light.tapes(foot)
        parts.append(f"{word} foot on {joined(tapes)}" if tapes else f"{word} foot: no tape yet")
    return f"Light {light.number}: {', '.join(parts)}."


def light_kinds(scene: Scene) -> str:
    """3 warm white and 1 red."""
    kinds: dict[str, int] = {}
    for light in scene.lights:
        kinds[light.type] = kinds.get(light.type, 0) + 1
    return joined([f"{n} {light_words(kind)}" for kind, n in kinds.items()])


def lights_words(scene: Scene) -> str:
    """8 warm white lights; 3 warm white and 1 red light."""
    return f"{light_kinds(scene)} {'light' if len(scene.lights) == 1 else 'lights'}"


def place_words(scene: Scene, at: Point) -> str:
    """Where something lies on the front, as its reader sees it: "at the bottom, in the middle"."""
    shape = scene.front if not scene.front.is_empty else scene.base
    left, top, right, bottom = shape.bounds
    across = (at[0] - left) / max(right - left, 1e-6)
    down = (at[1] - top) / max(bottom - top, 1e-6)
    if scene.back:
        across = 1.0 - across
    row = "at the top" if down < 1 / 3 else "halfway down" if down < 2 / 3 else "at the bottom"
    column = "left" if across < 1 / 3 else "in the middle" if across < 2 / 3 else "right"
    return f"{row}, {column}"


def closing_words(scene: Scene) -> str:
    """What lights the card."""
    hand = hand_of(scene)
    return "close the switch" if hand is None else hand.words
