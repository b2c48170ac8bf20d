"""light-blocked: something lies over a light's lens.

Foam, a cover without a hole there, or another part's body, seen from above. (Whether the way
from the lens up to the window is free in depth needs the thicknesses and is not judged yet.)
"""

from __future__ import annotations

from collections.abc import Iterator

import shapely

from ..model.card import Part
from ..model.case import Case
from ..model.finding import Finding

CODE = "light-blocked"

#: What can be cut away over a lens.
SHEETS = ("Foam", "The cover")

#: Over the lens by less than this is drawing noise (mm2).
NOISE = 0.01


def check(case: Case) -> Iterator[Finding]:
    """One finding per light."""
    card = case.card
    over = [("Foam", sheet.object, sheet.geometry) for sheet in card.foam]
    over += [("The cover", sheet.object, sheet.geometry) for sheet in card.covers]
    over += [(case.call(part), part.id, part.body) for part in case.bodies]
    tree = shapely.STRtree([geometry for _, _, geometry in over])
    for light in card.lights:
        lens = light.features["lens"]
        for i in sorted(tree.query(lens, predicate="intersects")):
            word, name, geometry = over[i]
            hidden = geometry.intersection(lens)
            if name != light.id and hidden.area > NOISE:
                yield _finding(case, light, word, name, hidden)
                break


def _finding(case: Case, light: Part, word: str, name: str, hidden: shapely.Geometry) -> Finding:
    share = 100.0 * hidden.area / light.features["lens"].area
    at = hidden.centroid
    return Finding(
        CODE,
        "caution",
        (at.x, at.y),
        (light.id, name),
        f"{word} lies over the lens of {case.inner(light)} ({share:.0f} % of it).",
        "Cut it away over the lens, or move the light."
        if word in SHEETS
        else "Move one of the two.",
    )
