"""joint-not-conducting: an overlap of tape whose glue does not conduct.

Such a strip is no connection to the one under it unless its end is folded under
(`underlit:joint="folded-end"`) or soldered. Only overlaps that the circuit needs are named.
"""

from __future__ import annotations

from collections.abc import Iterator

from ..connectivity.joints import weak_joints
from ..language import say
from ..model.case import Case
from ..model.finding import Finding

CODE = "joint-not-conducting"


def check(case: Case) -> Iterator[Finding]:
    """One finding per pair of strips."""
    for weak in weak_joints(case.circuit, case.profile.limits.joint_cover):
        if not weak.conducts:
            yield Finding(
                CODE,
                "stop",
                weak.at,
                tuple(case.circuit.conductors[i].name for i in weak.pair),
                say("This tape's glue does not conduct: the overlap is no connection."),
                say(
                    "Fold the end under and give the strip the word folded-end (the README says "
                    "how), or fold the corner in one piece."
                ),
            )
