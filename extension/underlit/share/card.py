"""The card in the dark, its glow, and the button on the spot to press."""

from __future__ import annotations

from xml.etree import ElementTree as ET

import shapely
from shapely.geometry.base import BaseGeometry

from ..language import say
from ..model.card import Card
from ..records import record
from . import words
from .closing import Spot
from .elements import element, number, paragraph, path_of
from .frames import Frames

#: The spot to press is marked by a ring of this radius (mm).
RING = 9.0

#: Room around the card (mm).
AIR = 2.0


@record
class Said:
    """What the page says around the card."""

    windows: str
    closing: str
    shining: str
    remarks: tuple[str, ...]


@record
class Stage:
    """The part of the drawing that is shown: x, y, width, height (mm)."""

    left: float
    top: float
    width: float
    height: float

    @property
    def view(self) -> str:
        """As the viewBox of an SVG."""
        return " ".join(map(number, (self.left, self.top, self.width, self.height)))


def stage_of(card: Card, spot: Spot | None) -> Stage | None:
    """Front and spot to press; None where no front is drawn."""
    if not card.panels:
        return None
    shapes: list[BaseGeometry] = [panel.outline for panel in card.panels]
    if spot is not None:
        shapes.append(shapely.Point(spot.at).buffer(RING))
    left, top, right, bottom = (float(v) for v in shapely.total_bounds(shapes))
    wide, high = right - left + 2.0 * AIR, bottom - top + 2.0 * AIR
    return Stage(left - AIR, top - AIR, wide, high)


def card_section(
    card: Card, stage: Stage, spot: Spot | None, frames: Frames | None, said: Said, ready: bool,
    fine: float,
) -> list[ET.Element]:  # fmt: skip
    """Stage, toggle and what is said about them. What always shines has nothing to press."""
    picture = element(
        "svg",
        {"viewBox": stage.view, "role": "img", "aria-labelledby": "card-says"},
        element("title", {"id": "card-says"}, said.windows),
        *_card(card, frames, fine),
        *([] if ready else [_stamp(stage)]),
    )
    lights = frames is not None
    always = lights and spot is not None and spot.always
    box = element(
        "div", {"id": "card", "class": "card lit" if always else "card"},
        element("div", {"class": "room"}), picture,
    )  # fmt: skip
    parts = [box]
    if always:
        parts.append(element("p", {"id": "state"}, said.shining))
    elif lights:
        if spot is not None:
            box.append(_button(spot, said))
        parts += [_toggle(), _state(said)]
    return [*parts, *(paragraph(text, "small") for text in said.remarks)]


def _card(card: Card, frames: Frames | None, fine: float) -> list[ET.Element]:
    panel = shapely.union_all([one.outline for one in card.panels])
    holes = shapely.union_all([one.clear for one in card.openings if not one.through])
    paper = path_of(shapely.difference(panel, holes), fine)
    parts = [
        element("defs", {}, _paper_shade(), element(
            "clipPath", {"id": "outline"},
            element("path", {"d": path_of(panel, fine), "clip-rule": "evenodd"}))),
        element("path", {"class": "hollow", "d": path_of(panel, fine), "fill-rule": "evenodd"}),
        element("path", {"class": "paper", "d": paper, "fill-rule": "evenodd"}),
    ]  # fmt: skip
    if frames is not None:
        parts.append(_glow(frames))
    return parts


def _paper_shade() -> ET.Element:
    """Paper by moonlight, from the upper left."""
    shades = (("0", "#2f3a61"), ("0.55", "#1f284a"), ("1", "#161d39"))
    stops = [element("stop", {"offset": at, "stop-color": ink}) for at, ink in shades]
    return element(
        "linearGradient", {"id": "moon", "x1": "0", "y1": "0", "x2": "0.7", "y2": "1"}, *stops
    )


def _glow(frames: Frames) -> ET.Element:
    left, top, right, bottom = frames.box
    place = {"x": number(left), "y": number(top), "width": number(right - left),
             "height": number(bottom - top), "preserveAspectRatio": "none"}  # fmt: skip
    images = [
        element("image", {**place, "class": f"frame frame-{i}", "href": uri})
        for i, uri in enumerate(frames.uris)
    ]
    kind = "glow changing" if len(images) > 1 else "glow"
    return element("g", {"class": kind, "clip-path": "url(#outline)"}, *images)


def _stamp(stage: Stage) -> ET.Element:
    """NOT READY across the card, from corner to corner."""
    x, y = stage.left + stage.width / 2.0, stage.top + stage.height / 2.0
    size = min(stage.width, stage.height) / 6.5
    turn = f"rotate(-28 {number(x)} {number(y)})"
    place = {"x": number(x), "y": number(y), "font-size": number(size), "transform": turn}
    return element("text", {"class": "stamp", "aria-hidden": "true", **place}, say(words.NOT_READY))


def _button(spot: Spot, said: Said) -> ET.Element:
    label = say(words.LIGHT_IT, way=said.closing)
    attributes = {"id": "press", "type": "button", "aria-pressed": "false", "aria-label": label,
                  "data-way": "hold" if spot.held else "turn"}  # fmt: skip
    word = words.SPOT.get(spot.way, words.SPOT["press"])
    return element("button", attributes, element("span", {}, say(word)))


def _toggle() -> ET.Element:
    box = {"id": "keep", "type": "checkbox", "role": "switch"}
    return element("label", {"class": "keep scripted"}, element("input", box),
                   element("span", {}, say(words.KEEP_LIT)))  # fmt: skip


def _state(said: Said) -> ET.Element:
    told = {"data-lit": said.shining, "data-dark": say(words.RESTING)}
    state = {"id": "state", "class": "scripted", "role": "status", **told}
    return element("p", state, say(words.RESTING))


def card_style(stage: Stage, spot: Spot | None, frames: Frames | None) -> str:
    """The few rules that depend on the card: its shape, the place of the button, its light."""
    tint = frames.tint if frames else "#000000"
    rules = [
        f".card{{--ratio:{stage.width / stage.height:.4f};--tint:{tint}}}",
    ]
    if spot is not None and not spot.always:
        x = 100.0 * (spot.at[0] - stage.left) / stage.width
        y = 100.0 * (spot.at[1] - stage.top) / stage.height
        wide = 200.0 * RING / stage.width
        rules.append(f"#press{{left:{x:.3f}%;top:{y:.3f}%;width:max(48px,{wide:.3f}%)}}")
    return "\n".join(rules)
