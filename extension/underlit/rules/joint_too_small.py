"""joint-too-small: two strips hardly overlap.

Overlaps fail first, months later. All overlaps of one pair together must reach `joint-cover`
x the square of the narrower width, where the circuit needs that pair and the two are not
joined well in another way. Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator

from ..connectivity.joints import Weak, weak_joints
from ..language import figure, say
from ..model.case import Case
from ..model.finding import Finding
from .wording import against

CODE = "joint-too-small"


def check(case: Case) -> Iterator[Finding]:
    """One finding per pair of strips."""
    for weak in weak_joints(case.circuit, case.profile.limits.joint_cover):
        if weak.conducts:
            yield _finding(case, weak)


def _finding(case: Case, weak: Weak) -> Finding:
    names = tuple(case.circuit.conductors[i].name for i in weak.pair)
    return Finding(
        CODE,
        "stop",
        weak.at,
        names,
        say(
            "These two strips hardly overlap ({area} of {needed} mm²).",
            area=against(weak.area, weak.needed),
            needed=figure(weak.needed),
        ),
        say("Let one run on by a tape's width."),
    )
