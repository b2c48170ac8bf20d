"""Which lights a maker says misbehave: by id, or by what is selected."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Iterable

from lxml import etree

from underlit.errors import UnknownChoice
from underlit.language import say
from underlit.model.drawing import Drawing

from .names import SVG

KINDS = ("dark", "flicker", "always")


def chosen_lights(
    root: etree._Element, drawing: Drawing, options: Namespace
) -> tuple[frozenset[str], ...]:
    """Ids of lights that stay dark, flicker, shine unpressed. Raises UnknownChoice.

    Without any choice every light stays dark.
    """
    if options.see not in KINDS:
        raise UnknownChoice(say("--see is dark, flicker or always, not {text}.", text=options.see))
    lights = {part.id for part in drawing.parts if part.kind == "light"}
    if not lights:
        raise UnknownChoice(
            say("There is no light in this drawing, so there is no fault to look for.")
        )
    found = {kind: set(_lights(root, lights, getattr(options, kind))) for kind in KINDS}
    found[options.see] |= set(_lights(root, lights, options.ids))
    if not any(found.values()):
        found[options.see] = lights
    return tuple(frozenset(found[kind]) for kind in KINDS)


def _lights(root: etree._Element, lights: set[str], names: Iterable[str]) -> Iterable[str]:
    """The lights that are named, or that hold what is named. Raises UnknownChoice."""
    for name in names:
        element = next((el for el in root.iter(SVG + "*") if el.attrib.get("id") == name), None)
        around = [] if element is None else [element, *element.iterancestors()]
        light = next((el.attrib["id"] for el in around if el.attrib.get("id") in lights), None)
        if light is None:
            call = name if element is None else element.findtext(SVG + "title") or name
            raise UnknownChoice(
                say("{name} is no light. Select the lights that stay dark.", name=call)
            )
        yield light
