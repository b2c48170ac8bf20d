"""layer-missing: nothing of a layer that checking needs.

Checks that the card has a panel or a base, and lights, a battery and tape. Without one of
them there is no circuit to check. Names a layer whose label nearly fits. What lies on such a
layer but is no panel, light or tape (thin lines, loose ends) does not count. An empty Power
layer is `power-missing`, parts that are not whole are `part-incomplete`, not this.

A layer whose label is nearly that of a layer not found ("Die cuts") is a caution: it is not read.
"""

from __future__ import annotations

from collections.abc import Iterator

from ..model.case import Case
from ..model.drawing import LABELS, ROLES, TOOL_ROLES
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

#: What is said where nothing at all is on a layer: it is simply not done yet.
YET = {
    "base": ("There is no panel yet.", "Draw its edge and its windows on Die cut, then step 1."),
    "lights": ("There are no lights yet.", "Next: step 2, put lights under windows."),
    "tape": ("There is no tape yet.", "Next: step 4, lay the tape."),
}


def check(case: Case) -> Iterator[Finding]:
    """One finding per missing role, and a caution per layer that is nearly one of ours."""
    found = list(missing(case))
    yield from found
    named = " ".join(finding.message for finding in found)
    yield from (f for f in _misspelt(case) if f.message.split('"')[1] not in named)


def missing(case: Case, *needed: str) -> Iterator[Finding]:
    """One finding per role that an action needs (first roles of `NEEDS`; none named: all)."""
    layers = {layer.role for layer in case.facts.layers}
    for roles, thing in NEEDS:
        if needed and roles[0] not in needed:
            continue
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


def _misspelt(case: Case) -> Iterator[Finding]:
    """Layers that are not read although their label is nearly one that would be."""
    there = {layer.role for layer in case.facts.layers}
    for layer in case.facts.layers:
        label = layer.label.strip()
        if layer.role is not None or not label:
            continue
        role = _almost(label.lower(), [r for r in ROLES if r not in there | TOOL_ROLES])
        if role is not None:
            yield Finding(
                CODE,
                "caution",
                None,
                (layer.id,) if layer.id else (),
                f'I do not read the layer "{label}" (did you mean "{LABELS[role]}"?).',
                f'Rename it to "{LABELS[role]}", or give it a quite different name.',
            )


def _almost(label: str, roles: list[str]) -> str | None:
    """The role whose default label a label nearly is."""
    for role in roles:
        word = LABELS[role].lower()
        if label[0] == word[0] and abs(len(label) - len(word)) <= 2:
            import difflib  # late: only where a label comes close

            if difflib.SequenceMatcher(None, label, word).ratio() >= 0.8:
                return role
    return None


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
        return _finding(*YET[roles[0]])
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
