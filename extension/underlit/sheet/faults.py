"""What is left to mend, numbered once for the list and for the marks on the circuit."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from ..model.finding import Finding, told_once
from ..records import record
from . import look
from .content import Area, Disc, Item, Line, Point, Words
from .drawing import Fit
from .labels import Labels
from .scene import Scene

#: Severities in the order of lists; those that are marked on the circuit.
ORDER, MARKED = ("stop", "caution", "note"), ("stop", "caution")

#: Half the width of a mark and the size of its figures (mm).
HALF, FIGURES = 3.0, 2.7

#: What stands in the list but is no fault of any place.
STANDING = "coin-cell"


@record
class Numbered:
    """A finding with its number."""

    number: int
    finding: Finding


def numbered(findings: Sequence[Finding]) -> tuple[Numbered, ...]:
    """Findings as they are told, worst first, numbered through; without the standing caution."""
    told = [finding for _, finding in told_once(findings) if finding.rule != STANDING]
    some = [f for kind in ORDER for f in told if f.severity == kind]
    return tuple(Numbered(n, finding) for n, finding in enumerate(some, 1))


def place_of(scene: Scene, finding: Finding) -> Point | None:
    """Where a finding stands in the working view."""
    if finding.at is None or not scene.back:
        return finding.at
    left, _, right, _ = scene.base.bounds
    return (left + right - finding.at[0], finding.at[1])


def marked(scene: Scene, faults: Iterable[Numbered]) -> list[tuple[Numbered, Point]]:
    """Faults and cautions that have a place."""
    found = []
    for fault in faults:
        place = place_of(scene, fault.finding)
        if place is not None and fault.finding.severity in MARKED:
            found.append((fault, place))
    return found


def fault_marks(some: Iterable[tuple[Numbered, Point]], fit: Fit, labels: Labels) -> list[Item]:
    """A numbered mark on or beside every place, with a line to it where it stands aside.

    To be placed before other words, which then keep off it.
    """
    items: list[Item] = []
    for fault, place in some:
        at = fit.point(place)
        for item in labels.put(str(fault.number), at, FIGURES, around=HALF):
            if isinstance(item, Words):
                stop = fault.finding.severity == "stop"
                middle = (item.at[0], item.at[1] - 0.36 * FIGURES)
                items += _point(at, middle)
                items += _mark(stop, middle)
                colour = look.ON_FAULT if stop else look.ON_CAUTION
                items.append(Words(item.at, item.text, FIGURES, True, "middle", colour))
    return items


def _point(at: Point, middle: Point) -> list[Item]:
    """The place itself, where its mark stands aside."""
    if abs(at[0] - middle[0]) + abs(at[1] - middle[1]) < 0.5:
        return []
    return [Line((at, middle), 0.3, look.FAULT), Disc(at, 0.7, look.FAULT, "#ffffff", 0.2)]


def _mark(stop: bool, at: Point) -> list[Item]:
    """As on the drawing: a dark diamond for a fault, a light disc with a dark rim for a caution."""
    x, y = at
    if not stop:
        return [Disc(at, 0.85 * HALF, look.CAUTION, look.ON_CAUTION, 0.35)]
    corners = ((x, y - HALF), (x + HALF, y), (x, y + HALF), (x - HALF, y))
    return [Area((corners,), look.FAULT, "#ffffff", 0.25)]
