"""What the preview draws: the picture of the glow, and how its options are read."""

from __future__ import annotations

import math
from base64 import b64encode
from collections.abc import Callable

from lxml import etree

from underlit.errors import UnknownChoice
from underlit.language import say
from underlit.workflows.preview import Preview

from .layers import Ids, add_made, tool_layer
from .names import SVG
from .write_drawing import append_sheet, number

ACTION = "preview_glow"
XLINK = "http://www.w3.org/1999/xlink"
HREF = f"{{{XLINK}}}href"

etree.register_namespace("xlink", XLINK)  # a drawing without the prefix gets this one each time


def draw_glow(root: etree._Element, shown: Preview) -> None:
    """Replace what is on the Glow layer by the picture; nothing where there is none."""
    if shown.picture is None or shown.png is None:
        return
    layer = tool_layer(root, "glow")
    group = append_sheet(root, layer, (), ACTION, "underlit-glow")
    picture = add_made(group, "image", ACTION, "underlit-glow-picture", Ids(root))
    x0, y0, x1, y1 = shown.picture.box
    for key, value in (("x", x0), ("y", y0), ("width", x1 - x0), ("height", y1 - y0)):
        picture.attrib[key] = number(value)
    picture.attrib["preserveAspectRatio"] = "none"
    picture.attrib[HREF] = "data:image/png;base64," + b64encode(shown.png).decode("ascii")
    etree.SubElement(picture, SVG + "title").text = say("The card in a dim room")


def positive(name: str, unit: str) -> Callable[[str], float | None]:
    """Reader of an option that is a number above 0; empty: not given."""

    def read(text: str) -> float | None:
        if not text.strip():
            return None
        value = _number(text.replace(",", "."))
        if value is None or value <= 0.0:
            raise UnknownChoice(
                say("{name} is more than 0 {unit}, not {text}.", name=name, unit=unit, text=text)
            )
        return value

    return read


def place(name: str) -> Callable[[str], tuple[float, float]]:
    """Reader of an option that is a place on the page: X,Y in mm."""

    def read(text: str) -> tuple[float, float]:
        values = [_number(part) for part in text.split(",")]
        if len(values) != 2 or values[0] is None or values[1] is None:
            raise UnknownChoice(
                say(
                    "{name} is a place on the page in mm, as 52.5,70, not {text}.",
                    name=name,
                    text=text,
                )
            )
        return (values[0], values[1])

    return read


def picture_file(text: str) -> str:
    """Reader of the option that names a PNG file."""
    if text.strip() and not text.strip().lower().endswith(".png"):
        raise UnknownChoice(say("--png is a file whose name ends in .png, not {text}.", text=text))
    return text.strip()


def _number(text: str) -> float | None:
    try:
        value = float(text)
    except ValueError:
        return None
    return value if math.isfinite(value) else None
