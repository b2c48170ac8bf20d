"""The whole page: one file without anything from outside."""

from __future__ import annotations

import base64
import hashlib
from collections.abc import Sequence
from xml.etree import ElementTree as ET

from ..language import say, spoken
from ..model.card import Card
from ..model.finding import Finding
from ..records import record
from ..sheet.content import Point
from ..sheet.scene import Scene
from ..sheet.steps import Step
from ..sheet.supplies import Supplies
from . import words
from .card import Said, card_section, card_style, stage_of
from .circuit import diagram_of
from .closing import Spot
from .elements import element, paragraph
from .frames import Frames
from .lists import findings_section, making_section, safety_section, supplies_section
from .script import SCRIPT
from .style import STYLE


@record
class Share:
    """What a page is made of. `faults` is None for a card that works, `lacking` for a whole one."""

    title: str
    drawing: str
    version: str
    card: Card
    scene: Scene
    spot: Spot | None
    steps: Sequence[Step]
    supplies: Supplies
    findings: Sequence[Finding]
    said: Said
    circuit_says: str
    faults: str | None
    lacking: str | None


def page_of(share: Share, frames: Frames | None, fine: float, circuit: str) -> bytes:
    """The file: HTML in UTF-8. `circuit`: how it is drawn, full | plain | none."""
    stage = stage_of(share.card, share.spot)
    style = STYLE if stage is None else f"{STYLE}\n{card_style(stage, share.spot, frames)}\n"
    stamp = say(words.NOT_READY) if share.faults else None
    diagram = None
    if circuit != "none":
        diagram = diagram_of(
            share.scene, share.steps, share.circuit_says, stamp, _places(share), circuit == "plain"
        )
    main = element("main", {})
    if share.faults:
        main.append(_banner(share.faults))
    main.append(_header(share.title, frames is not None))
    hero = element("section", {"id": "glow", "aria-label": share.title})
    if stage is None:
        hero.append(paragraph(say(words.NO_FRONT)))
    else:
        ready = share.faults is None
        hero.extend(card_section(share.card, stage, share.spot, frames, share.said, ready, fine))
    main.append(hero)
    main.append(making_section(share.scene, share.steps, diagram, share.lacking))
    main.append(supplies_section(share.supplies))
    main.append(findings_section(share.findings))
    main.append(safety_section(share.scene))
    footer = say(words.FOOTER, version=share.version, drawing=share.drawing)
    body = element("body", {}, main, element("footer", {}, footer))
    body.append(element("script", {}, SCRIPT))
    page = element("html", {"lang": spoken()}, _head(share.title, style), body)
    text = ET.tostring(page, encoding="unicode", method="html")
    return f"<!DOCTYPE html>\n{text}".encode("utf-8", "replace")


def _places(share: Share) -> list[Point | None]:
    """Where the stops are, as the hand sees them that works on the circuit's side."""
    left, _, right, _ = share.card.base.bounds
    places = [f.at for f in share.findings if f.severity == "stop"]
    if not share.scene.back:
        return places
    return [None if at is None else (left + right - at[0], at[1]) for at in places]


def _head(title: str, style: str) -> ET.Element:
    """What a browser must know first, above all that nothing may come from a network."""
    rules = (
        f"default-src 'none'; img-src data:; style-src '{_hash(style)}'; "
        f"script-src '{_hash(SCRIPT)}'; base-uri 'none'; form-action 'none'"
    )
    return element(
        "head", {},
        element("meta", {"charset": "utf-8"}),
        element("meta", {"http-equiv": "Content-Security-Policy", "content": rules}),
        element("meta", {"name": "viewport", "content": "width=device-width, initial-scale=1"}),
        element("meta", {"name": "color-scheme", "content": "dark"}),
        element("title", {}, title),
        element("style", {}, style),
    )  # fmt: skip


def _hash(text: str) -> str:
    """The only text that may run or style, by its hash (CSP level 2)."""
    digest = hashlib.sha256(text.encode("utf-8")).digest()
    return f"sha256-{base64.b64encode(digest).decode('ascii')}"


def _banner(faults: str) -> ET.Element:
    """NOT READY, in sight wherever one reads."""
    return element(
        "p", {"class": "banner", "role": "alert"},
        element("strong", {}, say(words.NOT_READY)),
        f" {say(words.NOT_READY_LEAD, faults=faults)} ",
        element("a", {"href": "#found"}, say(words.SEE_FAULTS)),
    )  # fmt: skip


def _header(title: str, glows: bool) -> ET.Element:
    lead = f"{say(words.LEAD)} {say(words.GLOWING)}" if glows else say(words.LEAD)
    return element("header", {}, element("h1", {}, title), paragraph(lead))
