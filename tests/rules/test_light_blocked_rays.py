"""light-blocked against rays followed one by one with code of the tests' own.

Posts of foam at seeded places round a light: the rule speaks exactly where a ray from the lens's
middle to its window meets the post. Posts that are only grazed (by less than 0.3 mm) are left out,
and so is what lies farther than 5 mm from the light, where half brightness may end.
"""

from __future__ import annotations

import math

import numpy as np
import shapely
from shapely.geometry import box

from kit.rays import rays_to, stopped
from rules.cards import SPOTS, bench, judge, light, sheet, window

AT = SPOTS[0]

#: A window that is no circle and not convex: light goes round its corner (an L).
ELL = shapely.union_all([box(16, 20, 22, 28), box(20, 25, 25, 28)])


def verdicts(area: shapely.Geometry, seed: int, number: int) -> list[tuple[bool, bool]]:
    """(by the rule, by rays) of each post that is clearly in or out of the way."""
    rng = np.random.default_rng(seed)
    found = []
    outline = list(map(tuple, area.exterior.coords[:-1]))
    rays = [ray for ray in rays_to(AT, 0.0, outline, 20.0, 0.25) if ray[0] == AT]
    while len(found) < number:
        turn, away = rng.uniform(0.0, math.tau), rng.uniform(2.2, 4.6)
        x, y = AT[0] + away * math.cos(turn), AT[1] + away * math.sin(turn)
        wide, high = rng.uniform(0.6, 1.6, 2)
        post = box(x - wide / 2, y - high / 2, x + wide / 2, y + high / 2)
        if post.distance(shapely.Point(AT)) < 1.6:  # over the lens: that is another sentence
            continue
        small, large = (
            list(map(tuple, post.buffer(by, join_style="mitre").exterior.coords[:-1]))
            for by in (-0.15, 0.15)
        )
        inner = any(stopped(*ray, small) for ray in rays)
        outer = any(stopped(*ray, large) for ray in rays)
        if inner != outer:
            continue
        card = bench(
            openings=(window(1, area),),
            lights=(light("a", AT),),
            foam=(sheet("post", "foam", post),),
        )
        said = any(f.rule == "light-blocked" for f in judge(card))
        found.append((said, inner))
    return found


def test_the_cone_of_a_round_window() -> None:
    found = verdicts(shapely.Point(AT).buffer(3.4), 3, 60)
    assert {by_rays for _, by_rays in found} == {True, False}
    assert all(said == by_rays for said, by_rays in found)


def test_the_cone_of_a_window_with_a_corner() -> None:
    found = verdicts(ELL, 4, 60)
    assert {by_rays for _, by_rays in found} == {True, False}
    assert all(said == by_rays for said, by_rays in found)
