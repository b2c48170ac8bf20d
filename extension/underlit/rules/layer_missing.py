"""layer-missing: nothing of a layer that checking needs.

Checks that the card has a panel or a base, and lights, a battery and tape. Without one of
them there is no circuit to check. Names a layer whose label nearly fits. What lies on such a
layer but is no panel, light or tape (thin lines, loose ends) does not count. An empty Power
layer is `power-missing`, parts that are not whole are `part-incomplete`, not this.

A layer whose label is nearly that of a layer not found ("Die cuts") is a caution: it is not read.
"""

from __future__ import annotations

from collections.abc import Iterator

from ..language import later, say
from ..model.case import Case
from ..model.drawing import LABELS, ROLES, TOOL_ROLES
from ..model.finding import Finding
from .object_skipped import severity_of

CODE = "layer-missing"

#: What is needed: any one of these roles; in the order of the steps of the work.
NEEDS = (("base", "die-cut"), ("lights",), ("power",), ("tape",))

#: What is said where there is no such layer, and where one has nearly its label, by the first role.
NONE = {
    "base": (
        later("I find no panel or back sheet layer."),
        later('I find no panel or back sheet layer (did you mean "{near}"?).'),
    ),
    "lights": (
        later("I find no lights layer."),
        later('I find no lights layer (did you mean "{near}"?).'),
    ),
    "power": (
        later("I find no battery layer."),
        later('I find no battery layer (did you mean "{near}"?).'),
    ),
    "tape": (
        later("I find no tape layer."),
        later('I find no tape layer (did you mean "{near}"?).'),
    ),
}

#: What helps where there is no such layer: the step that makes it, or her own on such a layer.
NEXT = {
    "base": later('Next: step 1, get the drawing ready. Or put yours on a layer called "{label}".'),
    "lights": later(
        'Next: step 2, put lights under windows. Or put yours on a layer called "{label}".'
    ),
    "power": later(
        'Next: step 3, put in the battery and press spot. Or put yours on a layer called "{label}".'
    ),
    "tape": later('Next: step 4, lay the tape. Or put yours on a layer called "{label}".'),
}

#: What is said where nothing at all is on a layer: it is simply not done yet.
YET = {
    "base": (
        later("There is no panel yet."),
        later("Draw its edge and its windows on Die cut, then step 1."),
    ),
    "lights": (
        later("There are no lights yet."),
        later("Next: step 2, put lights under windows."),
    ),
    "tape": (later("There is no tape yet."), later("Next: step 4, lay the tape.")),
}

#: What is said where nothing that is on a layer can be used.
USELESS = {
    "base": (
        later("Nothing on the {label} layer is panel or back sheet."),
        later("Draw a closed outline there, or mark a back sheet as Base."),
    ),
    "lights": (
        later("Nothing on the {label} layer is lights."),
        later("Drag lights there from the symbols."),
    ),
    "tape": (
        later("Nothing on the {label} layer is tape."),
        later("Give a line there the width of your tape."),
    ),
}


def check(case: Case) -> Iterator[Finding]:
    """One finding per missing role, and a caution per layer that is nearly one of ours."""
    yield from missing(case)
    named = {_near_miss(case, roles) for roles in NEEDS if _no_layer(case, roles)}
    yield from _misspelt(case, named)


def missing(case: Case, *needed: str) -> Iterator[Finding]:
    """One finding per role that an action needs (first roles of `NEEDS`; none named: all)."""
    for roles in NEEDS:
        if needed and roles[0] not in needed:
            continue
        if _no_layer(case, roles):
            yield _none(case, roles)
        elif not _there(case, roles[0]) and roles != ("power",) and not _named(case, roles):
            yield _nothing_read(case, roles)


def _no_layer(case: Case, roles: tuple[str, ...]) -> bool:
    """Whether what these roles stand for is missing because none of them has a layer."""
    layers = {layer.role for layer in case.facts.layers}
    return not _there(case, roles[0]) and not any(role in layers for role in roles)


def _none(case: Case, roles: tuple[str, ...]) -> Finding:
    alone, nearly = NONE[roles[0]]
    label, near = LABELS[roles[-1]], _near_miss(case, roles)
    if near:
        remedy = say('Rename that layer to "{label}".', label=label)
        return _finding(roles, say(nearly, near=near), remedy)
    return _finding(roles, say(alone), say(NEXT[roles[0]], label=label))


def _misspelt(case: Case, named: set[str | None]) -> Iterator[Finding]:
    """Layers that are not read although their label is nearly one that would be."""
    there = {layer.role for layer in case.facts.layers}
    for layer in case.facts.layers:
        label = layer.label.strip()
        if layer.role is not None or not label or label in named:
            continue
        role = _almost(label.lower(), [r for r in ROLES if r not in there | TOOL_ROLES])
        if role is not None:
            yield Finding(
                CODE,
                "caution",
                None,
                (layer.id,) if layer.id else (),
                say(
                    'I do not read the layer "{label}" (did you mean "{meant}"?).',
                    label=label,
                    meant=LABELS[role],
                ),
                say(
                    'Rename it to "{meant}", or give it a quite different name.',
                    meant=LABELS[role],
                ),
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


def _nothing_read(case: Case, roles: tuple[str, ...]) -> Finding:
    if not any(role in case.facts.used for role in roles):
        return _finding(roles, *map(say, YET[roles[0]]))
    message, remedy = USELESS[roles[0]]
    return _finding(roles, say(message, label=LABELS[roles[-1]]), say(remedy))


def _finding(roles: tuple[str, ...], message: str, remedy: str) -> Finding:
    return Finding(CODE, "stop", None, (), message, remedy, NEEDS.index(roles) + 1)


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
