"""A small pen for the sample cards: SVG written by hand, in millimetres of the card.

A `Sheet` collects layers and turns card millimetres into the units of its document (mm or px).
Shapes inside groups and symbols are drawn `local`: about their own origin, without the margin.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterable
from xml.sax.saxutils import escape, quoteattr

Point = tuple[float, float]

PX_PER_MM = 96.0 / 25.4

#: All strips of the sample cards (mm).
TAPE_WIDTH = 5.0

#: Labels of the layers by role.
LABELS = {
    "die-cut": "Die cut",
    "base": "Base",
    "folds": "Folds",
    "lights": "Lights",
    "power": "Power",
    "tape": "Tape",
    "foam": "Foam",
    "cover": "Cover",
    "diffuser": "Diffuser",
    "marks": "Marks",
}

INK = "#2f3c57"
PLUS = "fill:none;stroke:#003f66;stroke-width:{tape};stroke-linejoin:miter;stroke-linecap:butt"
MINUS = "fill:none;stroke:#e69f00;stroke-width:{tape};stroke-linejoin:miter;stroke-linecap:butt"
PAPER = "fill:#fff4d2;stroke:#cdb98a;stroke-width:{hair}"
NIGHT = "fill:#6c93e0;fill-opacity:0.4;fill-rule:evenodd;stroke:none"
CUT = "fill:none;stroke:#2f3c57;stroke-width:{line};stroke-linejoin:round"
PATCH = "fill:#fbfaf5;stroke:#8d8a80;stroke-width:{hair};fill-rule:evenodd"
FOAM = "fill:#8f86ad;fill-opacity:0.3;fill-rule:evenodd;stroke:#6d6592;stroke-width:{hair}"
VELLUM = "fill:#ffffff;fill-opacity:0.3;stroke:#8fa7b8;stroke-width:{hair}"
COVER = "fill:#e9e2cf;fill-opacity:0.38;fill-rule:evenodd;stroke:#b3a98c;stroke-width:{hair}"
FOLD = "fill:none;stroke:#a0522d;stroke-width:{line};stroke-dasharray:{dash}"

TOKEN = re.compile(r"[A-Za-z]|-?\d+(?:\.\d+)?")


def num(value: float) -> str:
    """At most three decimals, no trailing zeros, no negative zero."""
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


class Sheet:
    """One card: its page, settings and layers."""

    def __init__(
        self,
        title: str,
        desc: str,
        card: tuple[float, float],
        settings: dict[str, object] | None = None,
        margin: float = 10.0,
        unit: str = "mm",
    ) -> None:
        self.title, self.desc = title, desc
        self.size = (card[0] + 2 * margin, card[1] + 2 * margin)
        self.margin = margin
        self.k = PX_PER_MM if unit == "px" else 1.0
        self.settings = settings or {}
        self.css: list[str] = []
        self.defs: list[str] = []
        self.layers: list[str] = []

    # ---- numbers and styles -------------------------------------------------------------

    def at(self, x: float, y: float, local: bool = False) -> Point:
        """Card millimetres in document units."""
        shift = 0.0 if local else self.margin
        return (x + shift) * self.k, (y + shift) * self.k

    def style(self, text: str) -> str:
        """Fill in widths that are given in mm."""
        return text.format(
            tape=num(TAPE_WIDTH * self.k),
            hair=num(0.2 * self.k),
            line=num(0.35 * self.k),
            bold=num(0.6 * self.k),
            dash=f"{num(2 * self.k)},{num(1.2 * self.k)}",
        )

    def d(self, text: str, local: bool = False) -> str:
        """Path data in card mm (absolute M L H V C Q A Z) in document units."""
        out: list[str] = []
        command, count = "", 0
        shift = 0.0 if local else self.margin
        for token in TOKEN.findall(text):
            if token.isalpha():
                command, count = token, 0
                out.append(token)
                continue
            value = float(token)
            if command == "A" and count % 7 in (2, 3, 4):
                out.append(num(value))
            elif command == "A" and count % 7 in (0, 1):
                out.append(num(value * self.k))
            else:
                out.append(num((value + shift) * self.k))
            count += 1
        return " ".join(out)

    # ---- elements -----------------------------------------------------------------------

    def path(self, d: str, style: str = "", local: bool = False, **more: str) -> str:
        """A path; `style` empty leaves paint to a class or to the group."""
        return _element("path", {"d": self.d(d, local), **self._paint(style), **more})

    def circle(
        self, x: float, y: float, r: float, style: str = "", local: bool = False, **more: str
    ) -> str:
        cx, cy = self.at(x, y, local)
        where = {"cx": num(cx), "cy": num(cy), "r": num(r * self.k)}
        return _element("circle", {**where, **self._paint(style), **more})

    def rect(
        self,
        box: tuple[float, float, float, float],
        style: str = "",
        rx: float = 0.0,
        local: bool = False,
        **more: str,
    ) -> str:
        """A rectangle from (x, y, width, height)."""
        x, y = self.at(box[0], box[1], local)
        where = {"x": num(x), "y": num(y), "width": num(box[2] * self.k)}
        where["height"] = num(box[3] * self.k)
        if rx:
            where["rx"] = num(rx * self.k)
        return _element("rect", {**where, **self._paint(style), **more})

    def move(self, x: float, y: float, angle: float = 0.0) -> str:
        """A transform that puts local things at a place of the card."""
        tx, ty = self.at(x, y)
        turn = f" rotate({num(angle)})" if angle else ""
        return f"translate({num(tx)},{num(ty)}){turn}"

    def shift(self, old: Point, new: Point, turn: float = 0.0) -> str:
        """A transform that carries what lies at `old` to `new`, turned about itself."""
        (x, y), (dx, dy) = self.at(*old), ((new[0] - old[0]) * self.k, (new[1] - old[1]) * self.k)
        about = f" rotate({num(turn)},{num(x)},{num(y)})" if turn else ""
        return f"translate({num(dx)},{num(dy)}){about}"

    def use(self, target: str, ident: str, transform: str) -> str:
        return _element("use", {"id": ident, "xlink:href": f"#{target}", "transform": transform})

    def _paint(self, style: str) -> dict[str, str]:
        return {"style": self.style(style)} if style else {}

    # ---- layers and file ----------------------------------------------------------------

    def layer(self, role: str, parts: Iterable[str], label: str = "", hidden: bool = False) -> None:
        """Add a layer on top. A label of one's own needs the role as an attribute."""
        attributes = {"id": f"layer-{role}", "inkscape:groupmode": "layer"}
        attributes["inkscape:label"] = label or LABELS[role]
        if label and role in LABELS:
            attributes["underlit:role"] = role
        if hidden:
            attributes["style"] = "display:none"
        self.layers.append(group(attributes, parts, 1))

    def text(self) -> str:
        width, height = self.size
        shown = "" if self.k != 1.0 else "mm"
        root = {
            "width": num(width * self.k) + shown,
            "height": num(height * self.k) + shown,
            "viewBox": f"0 0 {num(width * self.k)} {num(height * self.k)}",
            "version": "1.1",
            "id": "card",
            "underlit:profile": "hand-laid",
        }
        if self.settings:
            root["underlit:settings"] = json.dumps(self.settings)
        spaces = {
            "xmlns": "http://www.w3.org/2000/svg",
            "xmlns:xlink": "http://www.w3.org/1999/xlink",
            "xmlns:inkscape": "http://www.inkscape.org/namespaces/inkscape",
            "xmlns:sodipodi": "http://sodipodi.sourceforge.net/DTD/sodipodi-0.dtd",
            "xmlns:underlit": "urn:underlit:card:1",
        }
        lines = ['<?xml version="1.0" encoding="UTF-8"?>', "<svg"]
        lines += [f"   {name}={quoteattr(value)}" for name, value in (spaces | root).items()]
        lines[-1] += ">"
        lines += [f"  <title>{escape(self.title)}</title>", f"  <desc>{escape(self.desc)}</desc>"]
        unit = "px" if self.k != 1.0 else "mm"
        view = {"id": "view", "pagecolor": "#ffffff", "inkscape:document-units": unit}
        lines.append("  " + _element("sodipodi:namedview", view))
        if self.css or self.defs:
            lines += ["  <defs>"]
            if self.css:
                lines += ["    <style>", *(f"      {rule}" for rule in self.css), "    </style>"]
            lines += [_indent(item, 2) for item in self.defs]
            lines += ["  </defs>"]
        return "\n".join([*lines, *self.layers, "</svg>", ""])


def group(attributes: dict[str, str], parts: Iterable[str], depth: int = 0) -> str:
    """A group with its children, indented."""
    head = _element("g", attributes)[:-2].rstrip() + ">"
    return "\n".join(
        [
            _indent(head, depth),
            *(_indent(part, depth + 1) for part in parts),
            _indent("</g>", depth),
        ]
    )


def _element(tag: str, attributes: dict[str, str]) -> str:
    names = {
        key.rstrip("_").replace("__", ":").replace("_", "-"): value
        for key, value in attributes.items()
    }
    inside = " ".join(f"{key}={quoteattr(value)}" for key, value in names.items())
    return f"<{tag} {inside} />"


def _indent(text: str, depth: int) -> str:
    pad = "  " * depth
    return "\n".join(pad + line for line in text.split("\n"))
