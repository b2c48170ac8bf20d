"""Steps, supplies, findings and cautions as HTML."""

from __future__ import annotations

from collections.abc import Sequence
from xml.etree import ElementTree as ET

from ..language import decimal, figure, joined, say
from ..model.finding import Finding, told_once
from ..sheet.notes import CAUTIONS, DEFER, WHOM
from ..sheet.scene import Scene
from ..sheet.steps import Step
from ..sheet.supplies import Supplies, Supply
from . import words
from .circuit import Diagram
from .elements import element, listed, paragraph

#: Longer lists belong on the making sheet.
MOST_ROWS = 200


def making_section(
    scene: Scene, steps: Sequence[Step], diagram: Diagram | None, remark: str | None
) -> ET.Element:
    """The slider, the picture that it moves, and all steps as a list."""
    section = element("section", {"id": "making"}, element("h2", {}, say(words.MAKING)))
    if remark:
        section.append(paragraph(remark))
    if not steps:
        return section
    section.append(element("p", {"class": "scripted"}, say(words.MAKING_LEAD)))
    if diagram is None:
        section.append(paragraph(say(words.NO_PICTURE)))
    else:
        section.append(element("div", {"class": "table"}, diagram.svg))
    section.append(_controls(len(steps)))
    rows = [_step(step, i, diagram, len(steps)) for i, step in enumerate(steps)]
    section.append(element("div", {"aria-live": "polite"},
                           element("ol", {"id": "steps"}, *rows)))  # fmt: skip
    section.append(paragraph(say(words.CODES), "small"))
    if scene.back:
        section.append(paragraph(say(words.FROM_BEHIND), "small"))
    return section


def _controls(count: int) -> ET.Element:
    slider = {"id": "slider", "type": "range", "min": "1", "max": str(count), "step": "1",
              "value": "1", "aria-label": say(words.STEP_SLIDER)}  # fmt: skip
    return element(
        "div", {"class": "controls scripted"},
        element("button", {"id": "before", "type": "button"}, say(words.BEFORE)),
        element("input", slider),
        element("button", {"id": "after", "type": "button"}, say(words.AFTER)),
    )  # fmt: skip


def _step(step: Step, index: int, diagram: Diagram | None, count: int) -> ET.Element:
    where = say(words.STEP, number=index + 1, count=count)
    data = {}
    if diagram is not None:
        data["data-new"] = " ".join(diagram.names[thing] for thing in step.new)
        data["data-own"] = diagram.own.get(index, "")
    head = element("h3", {}, element("span", {"class": "count"}, where), f" {step.title}")
    return element("li", data, head, *(paragraph(text) for text in step.words))


def supplies_section(supplies: Supplies) -> ET.Element:
    """What to buy, and the tape to cut. Prices are the maker's own business and stay out."""
    copies = supplies.copies
    head = [say(word) for word in words.SUPPLY_HEAD[:3]]
    if copies > 1:
        head.append(say(words.SUPPLY_HEAD[3], copies=copies))
    rows = [_supply(line, copies) for line in supplies.lines]
    section = element("section", {"id": "supplies"}, element("h2", {}, say(words.SUPPLIES)))
    if rows:
        section.append(_table(say(words.SUPPLIES), head, rows, 2))
    section.append(paragraph(say(words.ALSO), "small"))
    cuts = [
        [tape.label, figure(tape.width), figure(tape.length), str(tape.all_folds), str(cut)]
        for use in supplies.tape
        for tape, cut in zip(use.tapes, use.cuts, strict=True)
    ]
    if cuts:
        section.append(element("h3", {}, say(words.CUTTING)))
        columns = [say(word) for word in words.CUT_HEAD]
        section.append(_table(say(words.CUTTING), columns, cuts[:MOST_ROWS], 1))
        if len(cuts) > MOST_ROWS:
            section.append(paragraph(words.more_strips(len(cuts) - MOST_ROWS)))
        if any(tape.all_folds for use in supplies.tape for tape in use.tapes):
            section.append(paragraph(say(words.EXTRA), "small"))
    return section


def _supply(line: Supply, copies: int) -> list[str]:
    each = decimal(f"{line.per_card:.2f}".rstrip("0").rstrip("."))
    row = [line.what, line.unit, each]
    return [*row, str(line.total)] if copies > 1 else row


def _table(
    title: str, head: Sequence[str], rows: Sequence[Sequence[str]], first_number: int
) -> ET.Element:
    """A table; columns from `first_number` on hold figures."""

    def kind(column: int) -> dict[str, str]:
        return {"class": "figure"} if column >= first_number else {}

    heads = [element("th", {"scope": "col", **kind(k)}, word) for k, word in enumerate(head)]
    body = [
        element("tr", {}, element("th", {"scope": "row"}, row[0]),
                *(element("td", kind(k), cell) for k, cell in enumerate(row[1:], 1)))
        for row in rows
    ]  # fmt: skip
    table = element(
        "table", {}, element("caption", {"class": "unseen"}, title),
        element("thead", {}, element("tr", {}, *heads)), element("tbody", {}, *body),
    )  # fmt: skip
    return element("div", {"class": "wide"}, table)


def findings_section(findings: Sequence[Finding]) -> ET.Element:
    """What the check found, worst first, as on the making sheet."""
    section = element("section", {"id": "found"}, element("h2", {}, say(words.FOUND)))
    told = [finding for _, finding in told_once(findings)]
    for severity, title in words.FOUND_OF.items():
        some = [f for f in told if f.severity == severity and f.rule != "coin-cell"]
        if some:
            section.append(element("h3", {}, say(title)))
            texts = [f"{f.message} {f.remedy}" for f in some[:MOST_ROWS]]
            section.append(listed(texts, severity, numbered=severity == "stop"))
            if len(some) > MOST_ROWS:
                section.append(paragraph(words.more_faults(len(some) - MOST_ROWS)))
    if not any(f.severity != "note" for f in findings):
        section.append(paragraph(say(words.ALL_FINE)))
    return section


def safety_section(scene: Scene) -> ET.Element:
    """Coin batteries and children first."""
    section = element("section", {"id": "safety"}, element("h2", {}, say(words.SAFETY)))
    if scene.cells:
        kinds = joined(list(dict.fromkeys(cell.type.upper() for cell in scene.cells)))
        strong = element("strong", {}, say(words.COIN, kinds=kinds))
        section.append(element("p", {"class": "warning"}, strong, f" {say(words.SWALLOWED)}"))
    section.append(listed(map(say, CAUTIONS)))
    section.append(element("h3", {}, say(words.FOR_WHOM)))
    section.append(listed(map(say, WHOM)))
    section.append(paragraph(say(DEFER), "small"))
    return section
