"""The steps in making order: what to do, in words, and what is new in each."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np
import shapely

from ..records import record
from .closing import hand_of, switching_words, testable
from .foam_words import foam_words, no_foam_words
from .order import making_order
from .scene import Paper, Piece, Scene, Tape
from .wording import (
    SIDES,
    count,
    foot_words,
    joined,
    lights_words,
    short,
    tape_words,
)

Thing = Tape | Paper | Piece

#: So many lights in one step, and so many steps for the tapes of one card at most.
LIGHTS_AT_ONCE, TAPE_STEPS = 4, 40


@record
class Step:
    """One step. `new` is drawn strongly, `done` lies there already; `show` names a special picture.

    show: "" | "test-light" | "guides" | "fold" | "far-end" | "cover" | "vellum" | "foam" | "front".
    `at` is a place to point at (mm of the card).
    """

    title: str
    words: tuple[str, ...]
    new: tuple[Thing, ...] = ()
    done: tuple[Thing, ...] = ()
    show: str = ""
    at: tuple[float, float] | None = None


def steps_of(scene: Scene) -> list[Step]:
    """All steps of a card, as far as its parts are there."""
    steps = [*_beginning(scene)]
    done: list[Thing] = []
    for group in (_laying(scene), _fixed(scene), _tape_test(scene), _lights(scene)):
        for step in group:
            steps.append(_after(step, done))
            done += step.new
    for step in (*_battery(scene), *_closing(scene)):
        steps.append(_after(step, done))
        done += step.new
    return steps


def _after(step: Step, done: Sequence[Thing]) -> Step:
    return Step(step.title, step.words, step.new, tuple(done), step.show, step.at)


def _beginning(scene: Scene) -> Iterable[Step]:
    if scene.lights:
        yield Step(
            "Test every light before you peel it",
            (
                f"You need {lights_words(scene)}. Hold each light to a loose battery for a second: "
                "its plus foot to the flat face with the + sign, its minus foot to the other face.",
                "It shines? Good. Mark its plus foot with a dot of pen.",
            ),
            show="test-light",
        )
    yield Step(
        "Draw the plan on the back sheet",
        (
            "Take one of the true-size pages. Draw every strip, every light with its + and -, and "
            "the battery.",
            *(("Crease the fold now, before tape lies on it.",) if scene.folds else ()),
            *(
                ("Work on the back of the sheet: all pictures show that back.",)
                if scene.back
                else ()
            ),
        ),
        show="guides",
    )


def _laying(scene: Scene) -> Iterable[Step]:
    """Tape strip by strip, papers in between; the fold is shown before the first folded strip."""
    order = making_order(scene)
    tapes = [thing for thing in order if isinstance(thing, Tape)]
    at_once = max(1, -(-len(tapes) // TAPE_STEPS))
    shown = False
    group: list[Thing] = []
    for k, thing in enumerate(order):
        if isinstance(thing, Tape) and thing.folds and not shown:
            shown = True
            yield _fold_step(thing)
        group.append(thing)
        following = order[k + 1] if k + 1 < len(order) else None
        if len(group) >= at_once or type(following) is not type(thing):
            yield _laying_step(scene, group)
            group = []


def _fold_step(tape: Tape) -> Step:
    return Step(
        "How to fold a corner",
        (
            "1 Lay the tape up to the far edge of the corner. 2 Fold it straight back on itself "
            "and crease. 3 Fold it over across the corner so that it runs the new way, glue down.",
            "One piece holds better than two that overlap. Rub the corner with a bone folder. "
            f"Each corner takes {short(tape.width)} mm more tape; the lengths below have it in.",
        ),
        show="fold",
    )


def _laying_step(scene: Scene, group: Sequence[Thing]) -> Step:
    first = group[0]
    if isinstance(first, Paper):
        how = (
            "Stick the paper tape over the place shown. No metal may look out at its edges: the "
            "next strip, or the battery's rim, must not touch the one below."
        )
        return Step("Stick the paper tape", (how,), tuple(group))
    tapes = [thing for thing in group if isinstance(thing, Tape)]
    side = SIDES[tapes[0].sign]
    names = joined([tape.label for tape in tapes])
    words = [tape_words(tapes[0])] if len(tapes) == 1 else [
        f"{tape.label}: {tape_words(tape)}" for tape in tapes
    ]  # fmt: skip
    for tape in tapes:
        below = _lies_on(scene, tape)
        if below:
            how = (
                "overlap by the tape's width and press hard."
                if scene.conducts
                else "fold its end under, so that metal lies on metal: this glue does not conduct."
            )
            words.append(f"{tape.label} runs on over {joined(below)}: {how}")
    words.append("Peel little by little, lay along the line, rub down.")
    return Step(f"Lay {side} {names}", tuple(words), tuple(group))


def _lies_on(scene: Scene, tape: Tape) -> list[str]:
    """Labels of tapes of the same side under this one."""
    return [
        other.label
        for other in scene.tapes
        if other.order < tape.order and other.sign == tape.sign
        and other.geometry.intersects(tape.geometry)
    ] if tape.overlap > 0.0 else []  # fmt: skip


def _fixed(scene: Scene) -> Iterable[Step]:
    """Switches, resistors, the holder of the battery."""
    for one in scene.others:
        what = "switch" if one.kind == "switch" else f"resistor of {one.ohms} ohm"
        on = [f"one foot on {joined(tapes)}" for _, tapes in one.on if tapes]
        words = f"Its feet lie on the tape: {', '.join(on)}. Tape each foot down." if on else (
            "Tape its feet down as shown."
        )  # fmt: skip
        yield Step(f"Set the {what}", (words,), (one,))
    for cell in scene.cells:
        if not cell.bare:
            plus, minus = cell.tapes("positive-pad"), cell.tapes("negative-pad")
            where = f": plus foot on {joined(plus)}, minus foot on {joined(minus)}"
            yield Step(
                "Fix the battery holder",
                (f"Still empty{where if plus and minus else ''}. Tape each foot down.",),
                (cell,),
            )


def _tape_test(scene: Scene) -> Iterable[Step]:
    far = far_light(scene)
    if far is None or not testable(scene):
        return
    plus, minus = far.tapes("positive-pad"), far.tapes("negative-pad")
    where = (
        f"plus foot on {joined(plus)}, minus foot on {joined(minus)}"
        if plus and minus
        else "its feet on the two tapes"
    )
    yield Step(
        "Test the tape with a loose light",
        (
            f"{_battery_in(scene)} Hold a loose light at the far end, where light "
            f"{far.number} will be: {where}.",
            "Dark? Turn the light round. Still dark? Press every overlap and corner. Then take the "
            "battery out again.",
        ),
        show="far-end",
        at=far.at,
    )


def _battery_in(scene: Scene) -> str:
    """How the battery gets to its place for a test, and what else closes the circuit."""
    words = (
        "Hold the battery in its place, tape on both faces."
        if scene.cells[0].bare
        else "Put the battery into its holder and close it."
    )
    return f"{words} {switching_words(scene)}".rstrip()


def far_light(scene: Scene) -> Piece | None:
    """The light that is furthest from the battery along the tape, by air where that is unknown."""
    if not (scene.lights and scene.cells):
        return None
    cell = scene.cells[0]
    tapes = {tape.label: tape for tape in scene.tapes}

    def away(light: Piece) -> float:
        total = 0.0
        for foot in ("positive-pad", "negative-pad"):
            shared = [t for t in light.tapes(foot) if t in cell.tapes(foot)]
            a, b = dict(light.feet)[foot].centroid, dict(cell.feet)[foot].centroid
            ways = [_along(tapes[label], a, b) for label in shared]
            total += min(ways) if ways else float(a.distance(b))
        return total

    return max(scene.lights, key=lambda light: (round(away(light), 3), -light.number))


def _along(tape: Tape, a: shapely.Point, b: shapely.Point) -> float:
    """Way between two places along the edge of a tape: about twice that along its middle."""
    edge = shapely.get_parts(shapely.boundary(tape.geometry))
    ring = max(edge, key=shapely.length)
    here, there = ring.project(a), ring.project(b)
    way = abs(here - there)
    return float(min(way, ring.length - way))


def _lights(scene: Scene) -> Iterable[Step]:
    lights = scene.lights
    for k in range(0, len(lights), LIGHTS_AT_ONCE):
        some = lights[k : k + LIGHTS_AT_ONCE]
        names = joined([str(light.number) for light in some])
        word = "light" if len(some) == 1 else "lights"
        sticking = "Metal feet down on the tape, lens up. Rub each foot."
        yield Step(
            f"Stick {word} {names}",
            (*(foot_words(light) for light in some), *((sticking,) if k == 0 else ())),
            tuple(some),
        )
    if testable(scene):
        yield Step(
            "Test all lights",
            (
                f"{_battery_in(scene)} {count(len(lights), 'light', 'lights')} must "
                "shine. Press the feet of a dark one. Mend now, while everything lies open.",
                "Take the battery out again.",
            ),
            show="all-lights",
        )


def _battery(scene: Scene) -> Iterable[Step]:
    for cell in scene.cells:
        up = "plus side (marked +)" if cell.up != "minus" else "minus side (the smaller face)"
        words = []
        words.append(f"Put the {cell.type.upper()} in last, {up} up.")
        if cell.bare:
            words.append(
                "Its rim is plus: no minus tape may touch it. "
                "A ring of foam or card round it keeps it in place."
            )
        if cell.closes == "flap":
            words.append("Crease the flap so that its tape comes down on the battery.")
        words.append(
            "Slip the paper tab between battery and tape."
            if scene.tabs
            else f"For the post: slip a strip of paper between battery and {_meets(cell)}, to be "
            "pulled out."
        )
        yield Step(f"Set {cell.call}", tuple(words), (cell, *scene.tabs))


def _meets(cell: Piece) -> str:
    """What a battery touches that a strip of paper can keep it off."""
    return "tape" if cell.bare else "the contact of its holder"


def _closing(scene: Scene) -> Iterable[Step]:
    if not scene.covers.is_empty:
        yield Step(
            "Lay the cover",
            ("It hides the tape. Its holes come over the lights: nothing may lie on a lens.",),
            show="cover",
        )
    if not scene.diffusers.is_empty:
        yield Step(
            "Glue the vellum behind the windows",
            ("Glue only at its edges, on the inside of the front.",
             *((f"Glue the {count(scene.glued, 'loose piece', 'loose pieces')} back in place.",)
               if scene.glued else ())),
            show="vellum",
        )  # fmt: skip
    if not scene.foam.is_empty:
        yield Step(
            "Stick the foam",
            foam_words(scene),
            show="foam",
        )
    if not scene.front.is_empty:
        yield Step(
            "Put the front on",
            (
                *_lowering(scene),
                *_loose_words(scene),
            ),
            show="front",
        )
    hand = hand_of(scene)
    if hand is not None and testable(scene):
        words = f"{hand.words[0].upper()}{hand.words[1:]}. {hand.dark_again}"
        yield Step(
            "Test the finished card",
            (words if hand.dark_again else "It must shine.",
             "Cut out the note for its reader and put it in. Close the pocket of the battery for "
             "good."),
            show="done",
        )  # fmt: skip


def _lowering(scene: Scene) -> Iterable[str]:
    """How the front comes down."""
    over = "battery" if scene.foam.is_empty else "foam"
    first = "Test once more. " if testable(scene) else ""
    if scene.lights:
        yield (
            f"{first}Hold the front over the {over} without touching, look through the windows for "
            "the lights, then lower it."
        )
    else:
        yield "Lower it onto the card."
    yield from no_foam_words(scene)


def _loose_words(scene: Scene) -> Iterable[str]:
    """What becomes of pieces that come out of the windows, where no vellum carries them."""
    if scene.glued and scene.diffusers.is_empty:
        yield f"Glue {count(scene.glued, 'piece', 'pieces')} back into the windows, as drawn."
    if scene.loose:
        yield f"{count(scene.loose, 'piece falls', 'pieces fall')} out of the windows."


def everything(scene: Scene) -> tuple[Thing, ...]:
    """All that lies on the base."""
    order: list[Thing] = [*making_order(scene)]
    return (*order, *scene.others, *scene.lights, *scene.cells, *scene.tabs)


def bounds_of(scene: Scene) -> np.ndarray:
    """Bounds of base and front together (4,), mm."""
    return np.asarray(shapely.total_bounds([scene.base, scene.front]))
