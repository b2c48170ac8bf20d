"""Move free bends and junctions to where fewer runs do."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from .fermat import At
from .seats import Side, arm_of, cheapest, cost_now, in_vain, sit, still_covered
from .segments import NONE
from .tree import Tree

if TYPE_CHECKING:
    from .bench import Bench


#: Gains below this are none (mm).
LEAST = 0.05

#: A free node is not moved farther than this (mm).
FAR = 40.0

#: Junctions with more arms are left as they are.
MOST_ARMS = 4


def resettle(polisher: Bench, net: int, node: int) -> bool:
    """The cheapest place of a free bend or junction, bends beside it left out where they can be."""
    tree = polisher.tree(net)
    near = sorted(tree.links[node])
    if not 2 <= len(near) <= MOST_ARMS or any(tree.is_pinned(node, n) for n in near):
        return False
    arms = tuple(arm_of(polisher, net, node, n) for n in near)
    fence = polisher.board.fence(net)
    side = Side(("free", node, ""), net, node, arms, *fence, NONE)
    if in_vain(polisher, -1, [side]):
        return False
    limit = cost_now(polisher, side) - LEAST
    places = _free_places(tree, side)
    for seat in cheapest(polisher, side, places, fence, limit):
        kept = tree.copy()
        sit(polisher, side, seat)
        polisher.board.changed(net)
        if still_covered(polisher, side):
            return True
        tree.restore(kept)
        polisher.board.changed(net)
    return False


def _free_places(tree: Tree, side: Side) -> np.ndarray:
    """Where arms would meet, were they drawn on or left out; along each; and round the node."""
    here = tree.at[side.node]
    places = [here]
    lines: list[tuple[At, At]] = []
    for arm in side.arms:
        end = tree.at[arm.next]
        lines += [(end, tree.at[n]) for n in sorted(tree.links[arm.next]) if n != side.node]
        lines.append((end, here))
        ends = [end] if arm.behind is None else [end, tree.at[arm.behind]]
        places += [_between(here, e, part) for e in ends for part in (0.25, 0.5, 0.75)]
        places += ends
    for k, (a, b) in enumerate(lines):
        for c, d in lines[k + 1 :]:
            at = _crossing(a, b, c, d)
            if at is not None and math.dist(at, here) < FAR:
                places.append(at)
    for off in (2.0, 6.0):
        for k in range(8):
            turn = k * math.pi / 4.0
            places.append((here[0] + off * math.cos(turn), here[1] + off * math.sin(turn)))
    return np.array(places)


def _between(a: At, b: At, part: float) -> At:
    return (a[0] + part * (b[0] - a[0]), a[1] + part * (b[1] - a[1]))


def _crossing(a: At, b: At, c: At, d: At) -> At | None:
    """Where the lines a-b and c-d meet, however far they are drawn on."""
    ux, uy, vx, vy = b[0] - a[0], b[1] - a[1], d[0] - c[0], d[1] - c[1]
    cross = ux * vy - uy * vx
    if abs(cross) < 1e-3 * (math.hypot(ux, uy) * math.hypot(vx, vy) + 1e-9):
        return None
    s = ((c[0] - a[0]) * vy - (c[1] - a[1]) * vx) / cross
    return (a[0] + s * ux, a[1] + s * uy)
