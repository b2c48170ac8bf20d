"""What is said and reported of tape that was laid."""

from __future__ import annotations

from collections.abc import Mapping

import shapely

from ..connectivity.gaps import smallest_gap
from ..language import later, mm, say, say_count
from ..markup.signs import Signed
from ..model.case import Case
from ..routing import Layout
from .ladders import joints_to_lights
from .laying import Point
from .report import rounded

#: What is said of a place that is tighter than what is aimed at.
TIGHT = {
    "gap": later("Plus and minus are {have} apart in the tightest place; I aim at {aim}."),
    "edge": later("Tape is {have} from the edge in the tightest place; I aim at {aim}."),
    "pad": later(
        "The foot with least tape under it has {share} % of what I aim at: rub it down well."
    ),
    "joint": later("The smallest overlap has {share} % of what I aim at: rub it down well."),
}


def signed_strips(case: Case) -> list[Signed]:
    """Every strip of a known side, numbered in laying order."""
    counts = {"positive": 0, "negative": 0}
    found = []
    for conductor, sign in zip(case.circuit.conductors, case.signs, strict=True):
        if conductor.strip is not None and sign is not None:
            counts[sign] += 1
            name = f"{'P' if sign == 'positive' else 'M'}{counts[sign]}"
            found.append(Signed(conductor.strip, sign, name))
    return found


def words_of(
    case: Case, layout: Layout, turns: Mapping[str, tuple[Point, float]], laid: int
) -> str:
    """Plus: 2 strips, 310 mm. Minus: 2 strips, 295 mm. Closest place 3.1 mm."""
    lines = []
    signed = signed_strips(case)
    for sign in ("positive", "negative"):
        own = [one.strip for one in signed if one.sign == sign]
        lines.append(_side(sign, len(own), sum(strip.length for strip in own)))
    gap = _gap(case)
    if gap is not None:
        lines.append(say("Closest place {gap}.", gap=mm(gap)))
    words = [" ".join(lines)]
    if layout.patches:
        words.append(_over_paper(case, layout))
    if turns:
        words.append(say_count("I turned {number} light.", "I turned {number} lights.", len(turns)))
    stayed = len(case.card.strips) - laid
    if stayed and not laid:
        words.append(say("I laid nothing: your own strips reach every light."))
    elif stayed:
        words.append(
            say_count(
                "Your own strip stays as drawn.",
                "Your own {number} strips stay as drawn.",
                stayed,
            )
        )
    if layout.under_aims:
        words.append(_tight(layout))
    if layout.ended:
        words.append(say("I stopped when the time was up; with more time it may become shorter."))
    words.append(say("Next: validate the card."))
    return "\n".join(words)


def _side(sign: str, strips: int, length: float) -> str:
    """How much tape of one side there is (mm)."""
    told = f"{length:.0f}"
    if sign == "positive":
        return say_count(
            "Plus: {number} strip, {length} mm.",
            "Plus: {number} strips, {length} mm.",
            strips,
            length=told,
        )
    return say_count(
        "Minus: {number} strip, {length} mm.",
        "Minus: {number} strips, {length} mm.",
        strips,
        length=told,
    )


def _over_paper(case: Case, layout: Layout) -> str:
    """Where plus and minus cross, and what lies between."""
    signed = sorted(signed_strips(case), key=lambda one: one.strip.order)
    told = []
    for patch in layout.patches:
        spot = shapely.Polygon(patch.corners).centroid
        here = [one.name for one in signed if one.strip.geometry.contains(spot)]
        told.append(say("{upper} over {lower}", upper=here[-1], lower=here[0]))
    return say_count(
        "In {number} place one strip crosses the other ({strips}): stick the paper tape on the "
        "lower strip before you lay the upper one.",
        "In {number} places one strip crosses the other ({strips}): stick the paper tape on the "
        "lower strip before you lay the upper one.",
        len(told),
        strips=", ".join(told),
    )


def _gap(case: Case) -> float | None:
    """The smallest gap between plus and minus (mm), None where there is none."""
    return smallest_gap(case.circuit, case.card, case.signs)


def _tight(layout: Layout) -> str:
    """The tightest place under an aim, and how many there are."""
    first = min(layout.under_aims, key=lambda place: (place.have / max(place.aim, 1e-9), place.at))
    told = say(
        TIGHT[first.what],
        have=mm(first.have),
        aim=mm(first.aim),
        share=f"{100 * first.have / max(first.aim, 1e-9):.0f}",
    )
    more = len(layout.under_aims) - 1
    if not more:
        return told
    such = say_count(
        "{number} more place is a little tight.", "{number} more places are a little tight.", more
    )
    return f"{told} {such}"


def figures_of(
    layout: Layout, turns: Mapping[str, tuple[Point, float]], case: Case, laid: int
) -> dict[str, object]:
    figures = layout.figures
    return {
        "laid": True,
        "length": rounded(figures.length),
        "pieces": figures.pieces,
        "runs": figures.runs,
        "folds": figures.folds,
        "joints": joints_to_lights(case),
        "reference": rounded(figures.reference),
        "ratio": rounded(figures.ratio),
        "under_aims": [
            {
                "what": place.what,
                "at": [rounded(place.at[0]), rounded(place.at[1])],
                "have": rounded(place.have),
                "aim": rounded(place.aim),
            }
            for place in layout.under_aims
        ],
        "turned": {name: rounded(by) for name, (_, by) in turns.items()},
        "pinned": len(case.card.strips) - laid,
        "patches": [
            [[rounded(x), rounded(y)] for x, y in patch.corners] for patch in layout.patches
        ],
        "ended": layout.ended,
        "no_room": [],
    }
