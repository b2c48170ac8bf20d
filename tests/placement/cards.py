"""Openings and grounds for tests of placing."""

from __future__ import annotations

from collections.abc import Sequence

import shapely
from shapely.geometry.base import BaseGeometry

from underlit.model.card import Opening
from underlit.placement.lights import Ground, Placement, Taken, Wish, place_lights
from underlit.profiles import load_profile

PROFILE = load_profile("hand-laid", {}, None)
LIGHT = PROFILE.lights["warm-white"]


def opening(
    number: int, outline: BaseGeometry, clear: BaseGeometry | None = None, through: bool = False
) -> Opening:
    at = outline.representative_point()
    name = f"w{number}"
    kept = outline if clear is None else clear
    return Opening(number, name, name, (at.x, at.y), outline, kept, 0, through)


def openings(*outlines: BaseGeometry) -> list[Opening]:
    return [opening(i, outline) for i, outline in enumerate(outlines, 1)]


def place(
    chosen: Sequence[Opening],
    base: BaseGeometry,
    taken: Sequence[Taken] = (),
    every: Sequence[Opening] | None = None,
    profile=PROFILE,
    illuminance=None,
    **wish,
) -> Placement:
    """Place warm-white lights (unless the wish says otherwise)."""
    kind = wish.pop("kind", "warm-white")
    return place_lights(
        chosen,
        Ground(base, tuple(taken), tuple(every or chosen)),
        Wish(kind, profile.lights[kind], **wish),
        profile.limits,
        profile.tape.width,
        illuminance,
    )


def around(area: BaseGeometry, margin: float = 30.0) -> BaseGeometry:
    """A base with room on all sides."""
    left, top, right, bottom = area.bounds
    return shapely.box(left - margin, top - margin, right + margin, bottom + margin)


def shapes_of(light, kind=LIGHT) -> dict[str, BaseGeometry]:
    """Body, feet and lens of a placed light, drawn anew with shapely's affinity."""
    from shapely import affinity

    def at(shape: BaseGeometry) -> BaseGeometry:
        turned = affinity.rotate(shape, light.angle_deg, origin=(0.0, 0.0))
        return affinity.translate(turned, *light.at)

    def box(x: float, width: float, height: float) -> BaseGeometry:
        return at(shapely.box(x - width / 2.0, -height / 2.0, x + width / 2.0, height / 2.0))

    arm = kind.pad_pitch / 2.0
    return {
        "body": box(0.0, *kind.body),
        "plus": box(arm, *kind.pad),
        "minus": box(-arm, *kind.pad),
        "lens": at(shapely.Point(0.0, 0.0).buffer(kind.lens / 2.0, quad_segs=64)),
    }
