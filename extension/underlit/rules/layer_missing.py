"""layer-missing: nothing of a layer that checking needs.

Checks that the card has a panel or a base, and lights, a battery and tape. Without one of
them there is no circuit to check. Names a layer whose label nearly fits. An empty Power
layer is `power-missing`, not this.
"""

from __future__ import annotations

from collections.abc import Iterator

from ..model.case import Case
from ..model.drawing import LABELS, ROLES
from ..model.finding import Finding

CODE = "layer-missing"

#: What is needed: any one of these roles, and what a maker calls it.
NEEDS = (
    (("base", "die-cut"), "panel or back sheet"),
    (("lights",), "lights"),
    (("power",), "battery"),
    (("tape",), "tape"),
)


def check(case: Case) -> Iterator[Finding]:
    """One finding per missing role."""
    there = {layer.role for layer in case.facts.layers}
    for roles, thing in NEEDS:
        if any(role in case.facts.used for role in roles):
            continue
        if any(role in there for role in roles):
            if roles != ("power",):
                yield _finding(
                    f"The {LABELS[roles[-1]]} layer is empty.", "Draw or drag them there."
                )
            continue
        near = _near_miss(case, roles)
        hint = f' (did you mean "{near}"?)' if near else ""
        remedy = (
            f'Rename that layer to "{LABELS[roles[-1]]}".'
            if near
            else f'Put them on a layer called "{LABELS[roles[-1]]}".'
        )
        yield _finding(f"I find no {thing} layer{hint}.", remedy)


def _finding(message: str, remedy: str) -> Finding:
    return Finding(CODE, "stop", None, (), message, remedy)


def _near_miss(case: Case, roles: tuple[str, ...]) -> str | None:
    """The label of a layer of no role that is nearly one of the wanted."""
    import difflib  # late: only where a layer is missing

    labels = {
        layer.label.strip().lower(): layer.label
        for layer in case.facts.layers
        if layer.role is None
    }
    taken = {role for role in ROLES if role in {layer.role for layer in case.facts.layers}}
    for role in roles:
        if role in taken:
            continue
        for word in (LABELS[role].lower(), role):
            hits = difflib.get_close_matches(word, sorted(labels), n=1, cutoff=0.6)
            if hits:
                return labels[hits[0]].strip()
    return None
