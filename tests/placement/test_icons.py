"""500 outlines of open icon sets: each alone, and twelve to a card."""

from __future__ import annotations

import itertools
from functools import cache

import pytest
import shapely

from placement.cards import LIGHT, PROFILE, around, opening, place, shapes_of
from placement.icons import SIZES, icons, sized
from placement.independent import clearance, largest_radius
from underlit.placement.lights import Taken

#: How near to the optimum the clearance must be, and what the independent computation is off (mm).
NEAR = 0.05
OFF = 0.01

EACH = 25


@cache
def radius_of(index: int) -> float:
    """Radius of the largest circle inside an icon as `icons` gives it."""
    return largest_radius(icons()[index][1])


def radius_at(index: int, size: float) -> float:
    """The same for an icon with a longest side of `size` mm."""
    return radius_of(index) * size / SIZES[index % len(SIZES)]


def test_there_are_500_of_two_sets() -> None:
    names = [name for name, _ in icons()]
    assert len(set(names)) == 500
    assert {name.split("/")[0] for name in names} == {"phosphor", "bootstrap"}
    assert all(area.is_valid and area.area > 0.0 for _, area in icons())


@pytest.mark.parametrize("start", range(0, 500, EACH))
def test_alone_the_lens_is_where_the_largest_circle_is(start: int) -> None:
    for index in range(start, start + EACH):
        name, area = icons()[index]
        radius = radius_of(index)
        placement = place([opening(1, area)], around(area))
        if 2.0 * radius >= LIGHT.lens + OFF:
            (light,) = placement.lights
            assert not placement.unlit, name
            assert clearance(area, light.at) >= radius - NEAR, name
            assert light.clearance == pytest.approx(clearance(area, light.at), abs=OFF), name
            assert light.visible > 0.995, name
        elif 2.0 * radius <= LIGHT.lens - OFF - 0.01:
            (dark,) = placement.unlit
            assert not placement.lights, name
            assert (dark.reason, dark.needed) == ("too-small", LIGHT.lens), name
            assert dark.measured == pytest.approx(2.0 * radius, abs=2.0 * NEAR), name


@pytest.mark.parametrize(("pitch", "size"), [(32.0, 24.0), (24.0, 19.0), (17.0, 15.0)])
@pytest.mark.parametrize("turn", ["free", "45"])
def test_twelve_on_a_card_keep_clear_of_each_other(pitch: float, size: float, turn: str) -> None:
    found = icons()
    for card in range(0, 492, 12 if pitch == 24.0 else 36):
        outlines = [
            sized(found[card + k][1], size, ((k % 3 + 0.7) * pitch, (k // 3 + 0.7) * pitch))
            for k in range(12)
        ]
        base = shapely.box(0.0, 0.0, 3.4 * pitch, 4.4 * pitch + 26.0)
        ring = shapely.Point(1.7 * pitch, 4.4 * pitch + 10.0).buffer(13.0)
        chosen = [opening(k + 1, outline) for k, outline in enumerate(outlines)]
        placement = place(chosen, base, [Taken("battery", ring)], turn=turn)
        _keeps_clear(placement.lights, base, ring)
        dark = {one.opening for one in placement.unlit}
        radii = [radius_at(card + k, size) for k in range(12)]
        wide = {f"w{k + 1}" for k, r in enumerate(radii) if 2.0 * r >= LIGHT.lens + 3.0 * OFF}
        assert wide - dark <= {light.opening for light in placement.lights}
        if pitch > 20.0:
            assert not wide & dark, (card, placement.unlit)


def _keeps_clear(lights, base, ring) -> None:
    """Nothing overlaps, nothing hangs over, and tape finds room between any two lights."""
    drawn = [shapes_of(light) for light in lights]
    room = PROFILE.tape.width - LIGHT.pad[0] + PROFILE.limits.smallest_gap
    for shapes in drawn:
        assert base.buffer(0.01).covers(shapes["body"])
        assert shapes["body"].distance(ring) > 0.0
    for a, b in itertools.combinations(drawn, 2):
        assert a["body"].distance(b["body"]) > 0.0
        assert a["plus"].distance(b["minus"]) >= room - 0.011
        assert a["minus"].distance(b["plus"]) >= room - 0.011
