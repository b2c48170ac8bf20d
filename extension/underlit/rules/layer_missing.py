"""layer-missing: nothing of a layer that checking needs.

Checks that the card has a panel or a base, and lights, a battery and tape. Without one of
them there is no circuit to check. Names a layer whose label nearly fits. What lies on such a
layer but is no panel, light or tape (thin lines, loose ends) does not count. An empty Power
layer is `power-missing`, parts that are not whole are `part-incomplete`, not this.
"""

from __future__ import annotations

from collections.abc import Iterator

from ..model.case import Case
from ..model.drawing import LABELS, ROLES
from ..model.finding import Finding
from .object_skipped import severity_of

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
    layers = {layer.role for layer in case.facts.layers}
    for roles, thing in NEEDS:
        if _there(case, roles[0]):
            continue
        if any(role in layers for role in roles):
            if roles != ("power",) and not _named(case, roles):
                yield _nothing_read(case, roles, thing)
            continue
        near = _near_miss(case, roles)
        hint = f' (did you mean "{near}"?)' if near else ""
        remedy = (
            f'Rename that layer to "{LABELS[roles[-1]]}".'
            if near
            else f'Put them on a layer called "{LABELS[roles[-1]]}".'
        )
        yield _finding(f"I find no {thing} layer{hint}.", remedy)


def _there(case: Case, role: str) -> bool:
    """Whether the card has what the role stands for."""
    card = case.card
    return {
        "base": bool(card.panels) or not card.base.is_empty,
        "lights": bool(card.lights),
        "power": bool(card.cells),
        "tape": bool(card.strips),
    }[role]


def _named(case: Case, roles: tuple[str, ...]) -> bool:
    """Whether another stop says already why nothing could be read."""
    facts = case.facts
    if roles == ("lights",) and (facts.strays or any(p.kind == "light" for p in facts.incomplete)):
        return True
    return any(r.role in roles and severity_of(r) == "stop" for r in facts.remarks)


def _nothing_read(case: Case, roles: tuple[str, ...], thing: str) -> Finding:
    label = LABELS[roles[-1]]
    if not any(role in case.facts.used for role in roles):
        return _finding(f"The {label} layer is empty.", "Draw or drag them there.")
    remedy = {
        "base": "Draw a closed outline there, or mark a back sheet as Base.",
        "lights": "Drag lights there from the symbols.",
        "tape": "Give a line there the width of your tape.",
    }[roles[0]]
    return _finding(f"Nothing on the {label} layer is {thing}.", remedy)


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
