"""What an element takes over from those around it while a drawing is walked through."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from lxml import etree
from shapely.geometry.base import BaseGeometry

from .clones import Frame, Viewport
from .names import UNDERLIT
from .styles import Style
from .transforms import Matrix

#: Id (or label and number) of what the maker can click, and whether it is an id.
Name = tuple[str, bool]

#: Attributes that hold for the object alone, never for what it holds or clones.
_OWN_ONLY = frozenset({"role", "made"})

#: Kinds of `underlit:part` that stay attributes of shapes.
NOT_PARTS = frozenset({"", "patch", "panel"})


class Context(NamedTuple):
    """Everything taken over. `chain`: clones and their targets, innermost first; `around`: the
    map that holds round the outermost of those clones."""

    matrix: Matrix
    style: Style
    viewport: Viewport
    role: str | None
    label: str
    attributes: Mapping[str, str]
    override: Mapping[str, str] = {}
    clip: BaseGeometry | None = None
    shown: bool = True
    name: Name | None = None
    chain: tuple[etree._Element, ...] = ()
    around: Matrix | None = None
    frame: Frame | None = None
    part: int | None = None
    part_is_clone: bool = False


def own_attributes(attributes: Mapping[str, str], in_clone: bool) -> dict[str, str]:
    """An element's `underlit:*` attributes by local name."""
    own = {
        key[len(UNDERLIT) :]: value for key, value in attributes.items() if key.startswith(UNDERLIT)
    }
    if in_clone and own:
        return {key: value for key, value in own.items() if key not in _OWN_ONLY}
    return own


def merged(context: Context, own: Mapping[str, str]) -> Mapping[str, str]:
    """An object's attributes: nearest wins, but a clone's own win over its target's."""
    if not own and not context.override:
        return context.attributes
    return {**context.attributes, **own, **context.override}


def handed_down(context: Context, own: Mapping[str, str], opens_part: bool) -> Mapping[str, str]:
    """The attributes that an element's children take over."""
    outer = context.attributes
    if opens_part and "feature" in outer:
        outer = {key: value for key, value in outer.items() if key != "feature"}
    given = {key: value for key, value in own.items() if key not in _OWN_ONLY}
    return {**outer, **given} if given else outer


def part_kind(context: Context, own: Mapping[str, str]) -> str | None:
    """The kind of part that an element opens or completes, None for none."""
    if "part" not in own:
        return None
    kind = context.override.get("part", own["part"]).strip()
    return None if kind in NOT_PARTS else kind
