"""The steps in making order: what to do, in words, and what is new in each."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np
import shapely

from ..language import figure, joined, say, say_count
from ..records import record
from .closing import hand_of, testable
from .far_light import far_light
from .foam_words import foam_words
from .kinds import KINDS, Kind
from .order import making_order
from .scene import Paper, Piece, Scene, Tape
from .step_words import (
    battery_in_words,
    filling_words,
    glued_words,
    held_words,
    kept_off_words,
    laying_title,
    loose_words,
    lowering_words,
    over_it_words,
    plan_words,
    running_on_words,
    this_side_up_words,
)
from .wording import foot_words, lights_words, tape_words

Thing = Tape | Paper | Piece

#: So many lights in one step, and so many steps for the tapes of one card at most.
LIGHTS_AT_ONCE, TAPE_STEPS = 4, 40


@record
class Step:
    """One step. `new` is drawn strongly, `done` lies there already; `show` names a special picture.

    show: "" | "test-light" | "guides" | "fold" | "far-end" | "cover" | "vellum" |
    "pieces" | "foam" | "front" | "done".
    `at` is a place to point at (mm of the card).
    """

    title: str
    words: tuple[str, ...]
    new: tuple[Thing, ...] = ()
    done: tuple[Thing, ...] = ()
    show: str = ""
    at: tuple[float, float] | None = None


def steps_of(
    scene: Scene, filled: Sequence[str] = (), printed: Sequence[Kind] = tuple(KINDS.values())
) -> list[Step]:
    """All steps of a card, as far as its parts are there.

    `filled`: letters of the places that a colour plan fills with pieces of other colours.
    `printed`: kinds of true-size pages that come with them.
    """
    steps = [*_beginning(scene, printed)]
    done: list[Thing] = []
    for group in (_laying(scene), _fixed(scene), _tape_test(scene), _lights(scene)):
        for step in group:
            steps.append(_after(step, done))
            done += step.new
    for step in (*_battery(scene), *_closing(scene, filled)):
        steps.append(_after(step, done))
        done += step.new
    return steps


def _after(step: Step, done: Sequence[Thing]) -> Step:
    return Step(step.title, step.words, step.new, tuple(done), step.show, step.at)


def _beginning(scene: Scene, printed: Sequence[Kind]) -> Iterable[Step]:
    if scene.lights:
        yield Step(
            say("Test every light before you peel it"),
            (
                say(
                    "You need {lights}. Hold each light to a loose battery for a second: its plus "
                    "foot to the flat face with the + sign, its minus foot to the other face.",
                    lights=lights_words(scene),
                ),
                say("It shines? Good. Mark its plus foot with a dot of pen."),
            ),
            show="test-light",
        )
    yield Step(
        say("Draw the plan on the back sheet"),
        (
            plan_words(scene, printed),
            *((say("Crease the fold now, before tape lies on it."),) if scene.folds else ()),
            *(
                (say("Work on the back of the sheet: all pictures show that back."),)
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
        say("How to fold a corner"),
        (
            say(
                "1 Lay the tape up to the far edge of the corner. 2 Fold it straight back on "
                "itself and crease. 3 Fold it over across the corner so that it runs the new way, "
                "glue down."
            ),
            say(
                "One piece holds better than two that overlap. Rub the corner with a bone folder. "
                "Each corner takes {width} mm more tape; the lengths below have it in.",
                width=figure(tape.width),
            ),
        ),
        show="fold",
    )


def _laying_step(scene: Scene, group: Sequence[Thing]) -> Step:
    first = group[0]
    if isinstance(first, Paper):
        how = say(
            "Stick the paper tape over the place shown. No metal may look out at its edges: the "
            "next strip, or the battery's rim, must not touch the one below."
        )
        return Step(say("Stick the paper tape"), (how,), tuple(group))
    tapes = [thing for thing in group if isinstance(thing, Tape)]
    words = [tape_words(tapes[0])] if len(tapes) == 1 else [
        f"{tape.label}: {tape_words(tape)}" for tape in tapes
    ]  # fmt: skip
    for tape in tapes:
        below = _lies_on(scene, tape)
        if below:
            words.append(running_on_words(scene, tape, joined(below)))
    words.append(say("Peel little by little, lay along the line, rub down."))
    return Step(laying_title(tapes), tuple(words), tuple(group))


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
        title = say("Set the switch")
        if one.kind != "switch":
            title = say("Set the resistor of {ohms} ohm", ohms=one.ohms)
        on = [say("one foot on {tapes}", tapes=joined(tapes)) for _, tapes in one.on if tapes]
        words = say("Tape its feet down as shown.")
        if on:
            words = say("Its feet lie on the tape: {feet}. Tape each foot down.",
                        feet=", ".join(on))  # fmt: skip
        yield Step(title, (words,), (one,))
    for cell in scene.cells:
        if not cell.bare:
            plus, minus = cell.tapes("positive-pad"), cell.tapes("negative-pad")
            words = say("Still empty. Tape each foot down.")
            if plus and minus:
                words = say(
                    "Still empty: plus foot on {plus}, minus foot on {minus}. Tape each foot down.",
                    plus=joined(plus), minus=joined(minus),
                )  # fmt: skip
            yield Step(say("Fix the battery holder"), (words,), (cell,))


def _tape_test(scene: Scene) -> Iterable[Step]:
    far = far_light(scene)
    if far is None or not testable(scene):
        return
    yield Step(
        say("Test the tape with a loose light"),
        (
            f"{battery_in_words(scene)} {held_words(far)}",
            say(
                "Dark? Turn the light round. Still dark? Press every overlap and corner. Then take "
                "the battery out again."
            ),
        ),
        show="far-end",
        at=far.at,
    )


def _lights(scene: Scene) -> Iterable[Step]:
    lights = scene.lights
    for k in range(0, len(lights), LIGHTS_AT_ONCE):
        some = lights[k : k + LIGHTS_AT_ONCE]
        names = joined([str(light.number) for light in some])
        sticking = say("Metal feet down on the tape, lens up. Rub each foot.")
        yield Step(
            say_count("Stick light {names}", "Stick lights {names}", len(some), names=names),
            (*(foot_words(light) for light in some), *((sticking,) if k == 0 else ())),
            tuple(some),
        )
    if testable(scene):
        must = say_count(
            "{number} light must shine. Press the feet of a dark one. Mend now, while everything "
            "lies open.",
            "{number} lights must shine. Press the feet of a dark one. Mend now, while everything "
            "lies open.",
            len(lights),
        )
        yield Step(
            say("Test all lights"),
            (f"{battery_in_words(scene)} {must}", say("Take the battery out again.")),
            show="all-lights",
        )


def _battery(scene: Scene) -> Iterable[Step]:
    for cell in scene.cells:
        words = [this_side_up_words(cell)]
        if cell.bare:
            words.append(
                say(
                    "Its rim is plus: no minus tape may touch it. A ring of foam or card round it "
                    "keeps it in place."
                )
            )
            words += over_it_words(cell)
        if cell.closes == "flap":
            words.append(say("Crease the flap so that its tape comes down on the battery."))
        words.append(kept_off_words(scene, cell))
        title = say("Set the battery")
        if len(scene.cells) > 1:
            title = say("Set battery {number}", number=cell.number)
        yield Step(title, tuple(words), (cell, *scene.tabs))


def _closing(scene: Scene, filled: Sequence[str]) -> Iterable[Step]:
    if not scene.covers.is_empty:
        yield Step(
            say("Lay the cover"),
            (say("It hides the tape. Its holes come over the lights: nothing may lie on a lens."),),
            show="cover",
        )
    if not scene.diffusers.is_empty:
        yield Step(
            say("Glue the vellum behind the windows"),
            (
                say("Glue only at its edges, on the inside of the front."),
                *(() if filled else glued_words(scene)),
            ),
            show="vellum",
        )
    if filled:
        yield Step(
            say("Glue in the coloured pieces"), tuple(filling_words(scene, filled)), show="pieces"
        )
    if not scene.foam.is_empty:
        yield Step(
            say("Stick the foam"),
            foam_words(scene),
            show="foam",
        )
    if not scene.front.is_empty:
        yield Step(
            say("Put the front on"),
            (
                *lowering_words(scene),
                *(() if filled else loose_words(scene)),
            ),
            show="front",
        )
    hand = hand_of(scene)
    if hand is not None and testable(scene):
        words = f"{hand.words[0].upper()}{hand.words[1:]}. {hand.dark_again}"
        yield Step(
            say("Test the finished card"),
            (words if hand.dark_again else say("It must shine."),
             say("Cut out the note for its reader and put it in. Close the pocket of the battery "
                 "for good.")),
            show="done",
        )  # fmt: skip


def everything(scene: Scene) -> tuple[Thing, ...]:
    """All that lies on the base."""
    order: list[Thing] = [*making_order(scene)]
    return (*order, *scene.others, *scene.lights, *scene.cells, *scene.tabs)


def bounds_of(scene: Scene) -> np.ndarray:
    """Bounds of base and front together (4,), mm."""
    return np.asarray(shapely.total_bounds([scene.base, scene.front]))
