"""What a loaded profile holds. Every field is the key of the TOML file with `_` for `-`.

mm, volts, ohms inside; other units carry a suffix. Meaning, unit and range of each key stand in
`schema`, values and their sources in `parts.toml` and `materials.toml`.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING

from ..records import record

if TYPE_CHECKING:
    from .materials import (
        Cutter,
        FoamType,
        HolderType,
        Materials,
        PostClass,
        PressRule,
        SheetType,
    )


@record
class Limits:
    """What rules hold a card against, and what the tool aims at when it lays things."""

    smallest_gap: float
    aim_gap: float
    edge_margin: float
    aim_edge: float
    opening_clearance: float
    pad_cover: float
    aim_pad: float
    joint_cover: float
    aim_joint: float
    narrowest_tape: float
    foreign_opening_tape: float
    own_opening_tape: float
    light_smallest_ma: float
    light_evenness: float
    least_hours: float
    foam_settling: float


@record
class Tape:
    """A conductive tape. `use` is its name in `Profile.tapes`; overrides are already in."""

    use: str
    width: float
    stock_widths: tuple[float, ...]
    ohms_per_square: float
    adhesive_conducts: bool
    corners: str
    joint_ohm_mm2: float
    joint_aged_ohm_mm2: float
    pad_ohm_mm2: float
    pad_aged_ohm_mm2: float
    thickness: float


@record
class PatchRule:
    """How far an insulating patch reaches beyond a crossing."""

    margin: float


@record
class Stack:
    """What lies over the back sheet. `spacer`: all foam between back sheet and panel, unpressed.

    `panel` is a name in `Profile.sheets`, `diffuser` one in `Profile.diffusers`; `post` one in
    `Profile.post`, or empty where the maker named none.
    """

    spacer: float
    panel: str
    diffuser: str
    post: str = ""


@record
class GlowRule:
    """Darkest over brightest place of a lit window that passes: `soft` with a diffuser behind."""

    evenness: float
    soft_evenness: float


@record
class LightType:
    """A kind of light. `least_volt` is 0 where nothing but the diode decides."""

    body: tuple[float, float]
    pad: tuple[float, float]
    pad_pitch: float
    lens: float
    height: float
    gap_at_light: float
    saturation_current_a: float
    ideality: float
    series_ohm: float
    resistor_ohm: float
    temperature_c: float
    largest_ma: float
    beam_angle: float
    candela_at: tuple[float, float]
    colour: str
    least_volt: float = 0.0


@record
class CellType:
    """A kind of coin cell. `diameter` and `height` are the largest, `_min` the smallest."""

    volt: float
    pulse_ohm: float
    sustained_ohm: float
    aged_ohm: float
    continuous_ma: float
    capacity_mah: float
    diameter: float
    diameter_min: float
    height: float
    height_min: float
    cap_radius: float


@record
class Profile:
    """Limits, parts and materials. Mappings are read-only, by name in the order of the files.

    `materials` reads what only some actions need, when first asked.
    """

    name: str
    limits: Limits
    tape: Tape
    patch: PatchRule
    stack: Stack
    glow: GlowRule
    tapes: Mapping[str, Tape]
    lights: Mapping[str, LightType]
    cells: Mapping[str, CellType]
    materials: Callable[[], Materials]

    @property
    def holders(self) -> Mapping[str, HolderType]:
        return self.materials().holders

    @property
    def press(self) -> PressRule:
        return self.materials().press

    @property
    def sheets(self) -> Mapping[str, SheetType]:
        return self.materials().sheets

    @property
    def diffusers(self) -> Mapping[str, SheetType]:
        return self.materials().diffusers

    @property
    def foams(self) -> Mapping[str, FoamType]:
        return self.materials().foams

    @property
    def post(self) -> Mapping[str, PostClass]:
        return self.materials().post

    @property
    def cutter(self) -> Cutter:
        return self.materials().cutter
