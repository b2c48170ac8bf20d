"""What is painted: presentation attributes, style attributes, style sheets, inheritance.

Order of the cascade (CSS 2.1 6.4, SVG 1.1 6.4): presentation attributes, rules by specificity
and order, the style attribute, then the `!important` ones of rules and of the style attribute.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from functools import lru_cache

from .lengths import Unreadable, read_length

Declarations = Mapping[str, str]

#: Properties that children take over.
INHERITED = frozenset(
    {
        "clip-rule",
        "color",
        "fill",
        "fill-opacity",
        "fill-rule",
        "stroke",
        "stroke-linecap",
        "stroke-linejoin",
        "stroke-miterlimit",
        "stroke-opacity",
        "stroke-width",
        "visibility",
    }
)

#: Properties of the object alone.
OWN = frozenset({"clip-path", "display", "mask", "opacity", "vector-effect"})

PROPERTIES = INHERITED | OWN

_NOTHING: Declarations = {}


class Style:
    """The computed style of an element; `own` holds what its children do not take over."""

    __slots__ = ("own", "props")

    def __init__(self, props: Declarations, own: Declarations) -> None:
        self.props = props
        self.own = own

    def get(self, name: str, default: str) -> str:
        """A property, or its initial value."""
        return (self.own if name in OWN else self.props).get(name, default)

    @property
    def displayed(self) -> bool:
        return self.own.get("display", "").strip() != "none"

    @property
    def visible(self) -> bool:
        return self.props.get("visibility", "visible").strip() not in {"hidden", "collapse"}

    @property
    def transparent(self) -> bool:
        """Whether the object's own opacity is 0."""
        return "opacity" in self.own and read_opacity(self.own["opacity"]) <= 0.0

    @property
    def masked(self) -> bool:
        return self.own.get("mask", "none").strip() not in {"", "none"}

    @property
    def clip(self) -> str | None:
        """Id of the clip path, None without one (shapes of CSS are not clip paths of SVG)."""
        text = self.own.get("clip-path")
        return reference(text) if text else None


INITIAL = Style({}, {})


class Cascade:
    """Computes styles; equal sources under one parent share one result."""

    def __init__(self, rules: Mapping[object, list[Declarations]] | None = None) -> None:
        self.rules = rules or {}
        self._known: dict[tuple[object, ...], Style] = {}

    def style(self, parent: Style, element: object, attributes: Mapping[str, str]) -> Style:
        """The style of an element with these attributes under a parent's style."""
        text = attributes.get("style", "")
        named = PROPERTIES.intersection(attributes)
        matched = self.rules.get(element) if self.rules else None
        if matched is not None:
            return _inherit(parent, _declared(attributes, named, text, matched))
        if not text and not named and not parent.own:
            return parent
        key = (parent, text, *((name, attributes[name]) for name in sorted(named)))
        style = self._known.get(key)
        if style is None:
            style = _inherit(parent, _declared(attributes, named, text, ()))
            self._known[key] = style
        return style

    def unhidden(self, style: Style) -> Style:
        """The style of a layer, which counts whether it is hidden or not."""
        if style.visible:
            return style
        props = {name: value for name, value in style.props.items() if name != "visibility"}
        key = (style, "unhidden")
        return self._known.setdefault(key, Style(props, style.own))


def _declared(
    attributes: Mapping[str, str],
    named: frozenset[str],
    text: str,
    matched: list[Declarations] | tuple[()],
) -> dict[str, str]:
    """All declarations of an element, the winning one of each property."""
    found = {name: attributes[name].strip() for name in named}
    late: dict[str, str] = {}
    for declarations in (*matched, read_declarations(text)):
        for name, value in declarations.items():
            if name in PROPERTIES:
                found[name] = value
            elif name.endswith("!"):
                late[name[:-1]] = value
    return {**found, **late}


def _inherit(parent: Style, declared: Mapping[str, str]) -> Style:
    props, own = dict(parent.props), {}
    for name, value in declared.items():
        word = value.lower()
        if name in OWN:
            taken = parent.own.get(name, "") if word == "inherit" else value
            if taken and word not in {"initial", "unset"}:
                own[name] = taken
        elif word == "initial":
            props.pop(name, None)
        elif word not in {"inherit", "unset"}:
            props[name] = value
    return Style(props, own or _NOTHING)


#: Patterns here are compiled when they are met: ordinary drawings need none of them.
_PIECES = r"""(?:[^;"'(]|"[^"]*"|'[^']*'|\([^)]*\))+"""


@lru_cache(maxsize=4096)
def read_declarations(text: str) -> Declarations:
    """Declarations of a style attribute; a property marked `!important` ends in `!`."""
    if not text:
        return _NOTHING
    if "/*" in text:
        text = re.sub(r"(?s)/\*.*?\*/", " ", text)
    quoted = "(" in text or '"' in text or "'" in text
    found: dict[str, str] = {}
    for piece in re.findall(_PIECES, text) if quoted else text.split(";"):
        name, colon, value = piece.partition(":")
        name, value = name.strip().lower(), value.strip()
        if not colon or name not in PROPERTIES or not value:
            continue
        if "!" in value:
            value, _, mark = value.partition("!")
            name, value = (
                name + ("!" if mark.strip().lower() == "important" else "?"),
                value.strip(),
            )
        found[name] = value
    return found


# ---- values ------------------------------------------------------------------------------------

_URL = r"""(?s)url\(\s*(["']?)\s*#?(.*?)\s*\1\s*\)\s*(.*)"""


def reference(text: str) -> str | None:
    """The id that `url(#id)` names, None for anything else."""
    found = re.match(_URL, text.strip())
    return found[2] if found else None


def read_opacity(text: str) -> float:
    """An opacity from 0 to 1; what cannot be read counts as 1."""
    try:
        value = read_length(text, 1.0) if text.strip().endswith("%") else float(text)
    except (Unreadable, ValueError):
        return 1.0
    return min(max(value, 0.0), 1.0)


def is_painted(style: Style, kind: str, resolves: Callable[[str], bool]) -> bool:
    """Whether `kind` (fill or stroke) leaves anything visible.

    `resolves` says of an id whether it names a paint that paints.
    """
    default = "black" if kind == "fill" else "none"
    if not _is_visible(style, style.props.get(kind, default), resolves):
        return False
    return read_opacity(style.props.get(f"{kind}-opacity", "1")) > 0.0


def _is_visible(style: Style, paint: str, resolves: Callable[[str], bool]) -> bool:
    found = re.match(_URL, paint) if paint.startswith("url") else None
    if found is not None:
        if resolves(found[2]):
            return True
        paint = found[3] or "none"
    paint = paint.strip().lower()
    if paint == "currentcolor":
        paint = style.props.get("color", "black").strip().lower()
    return paint not in {"none", "transparent"} and not is_clear(paint)


_ALPHA = r"(?:rgba?|hsla?)\([^)]*?(?:,[^,)]*,[^,)]*,|/)\s*([0-9.eE+-]+%?)\s*\)"


def is_clear(colour: str) -> bool:
    """Whether a colour (lower case) has alpha 0."""
    if colour.startswith("#"):
        return {5: "0", 9: "00"}.get(len(colour), "x") == colour[-1 if len(colour) == 5 else -2 :]
    found = re.match(_ALPHA, colour) if "(" in colour else None
    return found is not None and read_opacity(found[1]) <= 0.0


def read_declarations_of(text: str, name: str) -> str | None:
    """The value of one property in a style attribute, whatever its name."""
    for piece in re.findall(_PIECES, text):
        key, colon, value = piece.partition(":")
        if colon and key.strip().lower() == name:
            return str(value).partition("!")[0].strip()
    return None
