"""Holders, sheets, diffusers, foams, post classes, cutter: kept apart, since few actions need them.

Fields are the keys of `materials.toml`, as in `profile`.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from ..records import record
from .layers import entries, make


@record
class SheetType:
    """Paper, card or diffuser: `transmission` is the share of light that comes through."""

    thickness: float
    transmission: float


@record
class FoamType:
    """A foam pad, unpressed."""

    thickness: float


@record
class HolderType:
    """A holder for a coin cell; its feet are its pads."""

    cell: str
    body: tuple[float, float]
    pad: tuple[float, float]
    pad_pitch: float
    height: float
    closes: str


@record
class PressRule:
    """What a spot to press, a flap and a pull tab need. Marks of origin in `materials.toml`."""

    ring_inside: float
    ring_inside_min: float
    ring_width: float
    ring_beside: float
    ring_clear: float
    travel: tuple[float, float]
    most_layers: float
    fold_beside: float
    fold_beside_min: float
    tab_width: float
    tab_grip: float


@record
class PostClass:
    """The largest letter of one class. `checked` is the date of the text that was read."""

    length: float
    width: float
    thickness: float
    grams: float
    checked: str
    source: str


@record
class Cutter:
    """An electronic cutter and what it cuts tape from; all mm."""

    sheet: tuple[float, float]
    roll_width: float
    roll_length: float
    margin: float
    weeding_gap: float
    mat: tuple[float, float]
    smallest_feature: float
    smallest_hole: float
    corner_radius: float
    overcut: float
    longest_piece: float
    glue_margin: float
    lens_clearance: float


@record
class Materials:
    """Everything of a profile that is neither limit, tape, light nor cell."""

    holders: Mapping[str, HolderType]
    press: PressRule
    sheets: Mapping[str, SheetType]
    diffusers: Mapping[str, SheetType]
    foams: Mapping[str, FoamType]
    post: Mapping[str, PostClass]
    cutter: Cutter


def to_materials(merged: Mapping[str, Any]) -> Materials:
    """The frozen tables of a complete, checked stack of layers."""
    return Materials(
        holders=entries(HolderType, merged["holders"]),
        press=make(PressRule, merged["press"]),
        sheets=entries(SheetType, merged["sheets"]),
        diffusers=entries(SheetType, merged["diffusers"]),
        foams=entries(FoamType, merged["foams"]),
        post=entries(PostClass, merged["post"]),
        cutter=make(Cutter, merged["cutter"]),
    )
