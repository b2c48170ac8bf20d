"""Points of light: where, how strong, how far below the panel, in which colour."""

from __future__ import annotations

import math
from collections.abc import Collection, Mapping

import numpy as np

from ..model.card import Card, Part
from ..profiles import LightType, Profile
from ..records import record
from ..stack import panel_height

#: What a light takes where no current is given (mA): a coin battery feeds a few lights with 3 to
#: 8 mA each. Proposed; for lights that no circuit feeds yet.
TYPICAL_MA = 5.0

#: No light is taken to be nearer to the panel than this (mm): ten times its glowing chip is far
#: enough for a point (five times is the usual rule), and a thin foam would give less than nothing.
NEAREST = 0.5

#: A light further than this many depths from an opening adds under 3e-6 of its own peak there.
#: Rules leave such lights out, and so does a picture of more than MANY lights: together they would
#: add about 2e-4 of full light, and a thousand windows stay quick.
REACH = 25.0
MANY = 60

#: Lights marked to shine through an edge do not face the panel.
SIDEWAYS = "edge"


@record
class Sources:
    """n points of light that face the panel.

    at (n, 2) page mm; current_ma (n,); candela (n,) along the axis; depth (n,) mm below the
    panel's plane; order (n,) Lambertian; colour (n, 3) linear sRGB, the largest channel 1. `ids`
    of the lights.
    """

    ids: tuple[str, ...]
    at: np.ndarray
    current_ma: np.ndarray
    candela: np.ndarray
    depth: np.ndarray
    order: np.ndarray
    colour: np.ndarray


def sources_of(
    card: Card,
    lit: Collection[str],
    profile: Profile,
    depth: float | None = None,
    currents: Mapping[str, float] | None = None,
) -> Sources:
    """The lights of a card that burn and face forward.

    `lit`: ids of lights that burn; the others give nothing. `depth`: mm from lens to panel for all
    lights; None: as the foam is planned. `currents`: light id -> mA; lights that are not named
    take `TYPICAL_MA`.
    """
    burning = [light for light in card.lights if light.id in lit and faces_forward(light)]
    known = [
        (light, profile.lights[light.type]) for light in burning if light.type in profile.lights
    ]
    given = currents or {}
    room = panel_height(card, profile) if depth is None else 0.0
    flow = [given.get(light.id, TYPICAL_MA) for light, _ in known]
    return Sources(
        ids=tuple(light.id for light, _ in known),
        at=np.array([light.at for light, _ in known], dtype=float).reshape(-1, 2),
        current_ma=np.array(flow, dtype=float),
        candela=np.array([candela(k, ma) for (_, k), ma in zip(known, flow, strict=True)]),
        depth=np.array([depth or depth_of(kind, profile, room) for _, kind in known]),
        order=np.array([lambertian_order(kind.beam_angle) for _, kind in known]),
        colour=np.array([light_colour(kind.colour) for _, kind in known]).reshape(-1, 3),
    )


def chosen(sources: Sources, which: np.ndarray, at: np.ndarray | None = None) -> Sources:
    """Some of the sources, in that order; `at`: moved there."""
    return Sources(
        ids=tuple(sources.ids[i] for i in which),
        at=sources.at[which] if at is None else at,
        current_ma=sources.current_ma[which],
        candela=sources.candela[which],
        depth=sources.depth[which],
        order=sources.order[which],
        colour=sources.colour[which],
    )


def within_reach(bounds: tuple[float, float, float, float], sources: Sources) -> Sources:
    """The sources that matter inside bounds (x0, y0, x1, y1): all, unless they are many."""
    if len(sources.ids) <= MANY:
        return sources
    low, high = np.array(bounds[:2]), np.array(bounds[2:])
    gaps = np.maximum(np.maximum(low - sources.at, sources.at - high), 0.0)
    return chosen(sources, np.flatnonzero(np.hypot(*gaps.T) <= REACH * sources.depth))


def faces_forward(light: Part) -> bool:
    """Whether a light shines at the panel."""
    return light.attributes.get("shows", "opening").strip() != SIDEWAYS


def lambertian_order(beam_angle: float) -> float:
    """m of I(theta) = I(0) cos^m theta, from the full angle at half intensity (degrees).

    m = -ln 2 / ln cos(beam_angle / 2) (Moreno et al., Appl. Opt. 45, 2265 (2006)): 120 gives 1.
    """
    return -math.log(2.0) / math.log(math.cos(math.radians(beam_angle / 2.0)))


def candela(kind: LightType, current_ma: float) -> float:
    """Intensity along the axis (cd): proportional to current from the profile's one point.

    S. King, ISB J. Physics 2(2), 2008: linear in current for small lights.
    """
    rated_cd, rated_ma = kind.candela_at
    return rated_cd * current_ma / rated_ma


def depth_of(kind: LightType, profile: Profile, room: float) -> float:
    """From lens to panel (mm); at least NEAREST. `room` is that between back sheet and panel, foam
    settled (`stack.panel_height`): what light and tape leave of it."""
    return max(room - kind.height - profile.tape.thickness, NEAREST)


def light_colour(text: str) -> tuple[float, float, float]:
    """ "#rrggbb" as linear sRGB with its largest channel at 1; black counts as white."""
    coded = [int(text[i : i + 2], 16) / 255.0 for i in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in coded]
    top = max(linear)
    red, green, blue = (c / top for c in linear) if top > 0.0 else (1.0, 1.0, 1.0)
    return (red, green, blue)
