"""Laying one profile over another, and making the frozen `Profile` of the result.

A layer is the nested mapping of one file: table -> key -> value, or table -> name -> key -> value.
Nothing is checked here (see `checking`) and nothing given is changed.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import TYPE_CHECKING, Any, TypeVar

from .profile import CellType, GlowRule, LightType, Limits, PatchRule, Profile, Stack, Tape

if TYPE_CHECKING:
    from .materials import Materials

#: What lies between a foot and its tape, fresh and aged (an optional key).
FEET, AGED_FEET = "pad-ohm-mm2", "pad-aged-ohm-mm2"

Layer = Mapping[str, Any]
T = TypeVar("T")

#: Tables with keys of their own; all others hold entries by name.
FLAT = frozenset({"limits", "tape", "patch", "stack", "glow", "press", "cutter"})


def lay_over(lower: Layer, upper: Layer) -> dict[str, Any]:
    """`upper` over `lower`; an entry's `based-on` names the entry that it starts from.

    A layer that sets `tape.use` starts that tape afresh: overrides below it are dropped.
    """
    result = dict(lower)
    for table, values in upper.items():
        if table == "based-on":
            continue
        below = result.get(table, {})
        if table == "tape" and "use" in values:
            result[table] = values
        elif table in FLAT:
            result[table] = _over(below, values)
        else:
            result[table] = _lay_entries(below, values)
    return result


def _lay_entries(lower: Layer, upper: Layer) -> dict[str, Any]:
    result = dict(lower)
    for name, values in upper.items():
        start = result.get(values.get("based-on", name))
        entry = _over(start, values) if start else dict(values)
        entry.pop("based-on", None)
        result[name] = entry
    return result


def _over(lower: Layer, upper: Layer) -> dict[str, Any]:
    """`upper` over `lower`. Feet that it sets anew stay so when aged, unless it says more."""
    result = {**lower, **upper}
    if FEET in upper and AGED_FEET not in upper:
        result.pop(AGED_FEET, None)
    return result


def whole_tape(merged: Layer) -> dict[str, Any]:
    """The tape in use: the entry that `tape.use` names, with the card's own values over it."""
    return _over(merged["tapes"][merged["tape"]["use"]], merged["tape"])


def _tape(values: Layer) -> Tape:
    return make(Tape, {AGED_FEET: values[FEET], **values})


def to_profile(name: str, merged: Layer, materials: Callable[[], Materials]) -> Profile:
    """The frozen profile of a complete, checked stack of layers."""
    return Profile(
        name=name,
        limits=make(Limits, merged["limits"]),
        tape=_tape(whole_tape(merged)),
        patch=make(PatchRule, merged["patch"]),
        stack=make(Stack, merged["stack"]),
        glow=make(GlowRule, merged["glow"]),
        tapes=MappingProxyType(
            {name: _tape({"use": name, **tape}) for name, tape in merged["tapes"].items()}
        ),
        lights=entries(LightType, merged["lights"]),
        cells=entries(CellType, merged["cells"]),
        materials=materials,
    )


def entries(kind: Callable[..., T], table: Layer) -> Mapping[str, T]:
    """Each entry of a table as that frozen kind, read-only."""
    return MappingProxyType({name: make(kind, values) for name, values in table.items()})


def make(kind: Callable[..., T], values: Layer) -> T:
    return kind(
        **{
            key.replace("-", "_"): tuple(value) if value.__class__ is list else value
            for key, value in values.items()
        }
    )
