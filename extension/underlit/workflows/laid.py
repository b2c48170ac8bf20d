"""What is said and reported of tape that was laid."""

from __future__ import annotations

from collections.abc import Mapping

import shapely

from ..connectivity.gaps import smallest_gap
from ..markup.signs import Signed
from ..model.case import Case
from ..routing import Layout
from ..rules.wording import count, figure, mm
from .laying import Point
from .report import rounded


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
    for sign, word in (("positive", "Plus"), ("negative", "Minus")):
        own = [one.strip for one in signed if one.sign == sign]
        length = sum(strip.length for strip in own)
        lines.append(f"{word}: {count(len(own), 'strip', 'strips')}, {length:.0f} mm.")
    gap = _gap(case)
    if gap is not None:
        lines.append(f"Closest place {mm(gap)}.")
    words = [" ".join(lines)]
    if layout.patches:
        words.append(_over_paper(case, layout))
    if turns:
        words.append(f"I turned {count(len(turns), 'light', 'lights')}.")
    stayed = len(case.card.strips) - laid
    if stayed:
        verb = "stays" if stayed == 1 else "stay"
        words.append(f"Your own {count(stayed, 'strip', 'strips')} {verb} as drawn.")
    if layout.under_aims:
        words.append(_tight(layout))
    if layout.ended:
        words.append("I stopped when the time was up; with more time it may become shorter.")
    words.append("Next: validate the card.")
    return "\n".join(words)


def _over_paper(case: Case, layout: Layout) -> str:
    """Where plus and minus cross, and what lies between."""
    signed = sorted(signed_strips(case), key=lambda one: one.strip.order)
    told = []
    for patch in layout.patches:
        spot = shapely.Polygon(patch.corners).centroid
        here = [one.name for one in signed if one.strip.geometry.contains(spot)]
        told.append(f"{here[-1]} over {here[0]}")
    where = count(len(told), "place", "places")
    return (
        f"In {where} one strip crosses the other ({', '.join(told)}): stick the paper tape on the "
        "lower strip before you lay the upper one."
    )


def _gap(case: Case) -> float | None:
    """The smallest gap between plus and minus (mm), None where there is none."""
    return smallest_gap(case.circuit, case.card, case.signs)


def _tight(layout: Layout) -> str:
    """The tightest place under an aim, and how many there are."""
    first = min(layout.under_aims, key=lambda place: (place.have / max(place.aim, 1e-9), place.at))
    what = {
        "gap": "Plus and minus are",
        "edge": "Tape is",
        "pad": "Tape under a foot is",
        "joint": "An overlap is",
    }[first.what]
    if first.what in {"gap", "edge"}:
        kind = "apart" if first.what == "gap" else "from the edge"
        told = f"{what} {mm(first.have)} {kind} in the tightest place; I aim at {mm(first.aim)}."
    else:
        told = f"{what} {figure(100 * first.have / first.aim)} % of what I aim at."
    more = len(layout.under_aims) - 1
    return told + (f" ({more} more such {'place' if more == 1 else 'places'}.)" if more else "")


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
        "joints": dict(figures.joints),
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
