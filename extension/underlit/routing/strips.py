"""A tree cut into strips: the trunk from the cell first, every branch onto one before it.

The trunk goes on, at every node, towards the part of the tree with most joints ahead of it, so
that as few joints as can be lie between the cell and the farthest light. Further ways at a node
are taken two by two where that makes one strip of them.
"""

from __future__ import annotations

import math

from ..records import record
from .fermat import At
from .tree import Tree

#: A bend below this is no fold (degrees).
STRAIGHT = 3.0


@record
class Cut:
    """Strips as lists of nodes in laying order, and the joints between cell and each node."""

    strips: tuple[tuple[int, ...], ...]
    joints: dict[int, int]
    runs: int
    folds: int


def turn_at(tree: Tree, a: int, b: int, c: int) -> float:
    """How far a way a, b, c bends at b (degrees)."""
    p, q, r = tree.at[a], tree.at[b], tree.at[c]
    ux, uy, vx, vy = q[0] - p[0], q[1] - p[1], r[0] - q[0], r[1] - q[1]
    return abs(math.degrees(math.atan2(ux * vy - uy * vx, ux * vx + uy * vy)))


#: Tangent of the bend below which a way is straight.
FLAT = math.tan(math.radians(STRAIGHT))


#: The same where straight pieces overlap: what bends more is cut in two.
RULED = math.tan(math.radians(0.05))


def is_straight(tree: Tree, a: int, b: int, c: int, flat: float = FLAT) -> bool:
    """Whether a way a, b, c does not bend at b."""
    at = tree.at
    return goes_on(at[a], at[b], at[c], flat)


def goes_on(p: At, q: At, r: At, flat: float = FLAT) -> bool:
    """Whether the way from p over q to r does not bend."""
    ux, uy, vx, vy = q[0] - p[0], q[1] - p[1], r[0] - q[0], r[1] - q[1]
    ahead = ux * vx + uy * vy
    return ahead > 0.0 and abs(ux * vy - uy * vx) <= flat * ahead


def cut(tree: Tree, root: int, single: bool = False) -> Cut:
    """Strips of a tree. `single`: every straight run is a strip of its own (overlapped corners)."""
    order, parent = _walk(tree, root)
    depth, best = _depths(tree, order, parent, single)
    strips: list[list[int]] = []
    joints = {root: 0}
    todo: list[tuple[list[int], int]] = _starts(tree, root, None, best, depth, single)
    while todo:
        first, level = todo.pop(0)
        strip, more = _follow(tree, first, level, best, depth, parent, joints, single)
        strips.append(strip)
        todo += more
    folds = sum(
        not is_straight(tree, a, b, c)
        for s in strips
        for a, b, c in zip(s, s[1:], s[2:], strict=False)
    )
    return Cut(tuple(tuple(s) for s in strips), joints, len(strips) + folds, folds)


def _walk(tree: Tree, root: int) -> tuple[list[int], dict[int, int]]:
    order, parent, todo = [], {root: -1}, [root]
    while todo:
        node = todo.pop()
        order.append(node)
        for other in tree.links[node]:
            if other not in parent:
                parent[other] = node
                todo.append(other)
    return order, parent


def _depths(
    tree: Tree, order: list[int], parent: dict[int, int], single: bool
) -> tuple[dict[int, float], dict[int, int]]:
    """Joints (and, far behind, mm) ahead of each node, and the child that its strip goes on to."""
    depth: dict[int, float] = {}
    best: dict[int, int] = {}
    for node in reversed(order):
        came = parent[node]
        children = [c for c in tree.links[node] if c != came]
        if not children:
            depth[node] = 0.0
            continue
        here = tree.at[node]
        ahead = {c: depth[c] + 1e-6 * math.dist(here, tree.at[c]) for c in children}
        if single and came >= 0:
            for child in children:
                ahead[child] += not is_straight(tree, came, node, child, RULED)
        follow = children[0]
        if len(children) > 1:
            follow = max(children, key=lambda c: (ahead[c], -c))
        best[node] = follow
        depth[node] = max(ahead[c] if c == follow else 1.0 + ahead[c] for c in children)
    return depth, best


def _starts(
    tree: Tree,
    node: int,
    came: int | None,
    best: dict[int, int],
    depth: dict[int, float],
    single: bool,
) -> list[tuple[list[int], int]]:
    """Strips that begin at a node besides the one passing through: pairs make one strip."""
    if came is not None and len(tree.links[node]) <= 1 + (node in best):
        return []
    used = {came} if came is not None else set()
    if came is not None and node in best:
        used.add(best[node])
    return _paired(
        tree, node, [n for n in sorted(tree.links[node]) if n not in used], came, depth, single
    )


def _paired(
    tree: Tree, node: int, ways: list[int], came: int | None, depth: dict[int, float], single: bool
) -> list[tuple[list[int], int]]:
    level = 0 if came is None else 1
    ways = sorted(ways, key=lambda n: (-depth[n], n))
    made: list[tuple[list[int], int]] = []
    while ways:
        first = ways.pop(0)
        mate = min(ways, key=lambda m: (turn_at(tree, m, node, first), m), default=None)
        if mate is not None and single and not is_straight(tree, mate, node, first, RULED):
            mate = None
        if mate is not None:
            ways.remove(mate)
            made.append(([mate, node, first], level))
        else:
            made.append(([node, first], level))
        level = 1
    return made


def _follow(
    tree: Tree,
    first: list[int],
    level: int,
    best: dict[int, int],
    depth: dict[int, float],
    parent: dict[int, int],
    joints: dict[int, int],
    single: bool,
) -> tuple[list[int], list[tuple[list[int], int]]]:
    """One strip drawn out to both its ends, and the strips that begin on it."""
    hub = first[1] if len(first) == 3 else first[0]
    base = joints[hub] + level
    ends = [first[-1]] if len(first) == 2 else [first[0], first[-1]]
    more: list[tuple[list[int], int]] = []
    halves = []
    for end in ends:
        half, ahead = _run(tree, hub, end, base, best, depth, joints, single)
        halves.append(half)
        more += ahead
    strip = [*halves[0][::-1], hub, *halves[1]] if len(halves) == 2 else [hub, *halves[0]]
    return strip, more


def _run(
    tree: Tree,
    hub: int,
    end: int,
    base: int,
    best: dict[int, int],
    depth: dict[int, float],
    joints: dict[int, int],
    single: bool,
) -> tuple[list[int], list[tuple[list[int], int]]]:
    half, more, before, node = [], [], hub, end
    while True:
        half.append(node)
        joints[node] = base
        ahead = best.get(node)
        more += _starts(tree, node, before, best, depth, single)
        if ahead is None:
            return half, more
        if single and not is_straight(tree, before, node, ahead, RULED):
            more.append(([node, ahead], 1))
            return half, more
        before, node = node, ahead
