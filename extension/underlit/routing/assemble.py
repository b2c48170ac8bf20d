"""Trees become strips: ends drawn out over pads and joints as far as there is room."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from itertools import pairwise

import numpy as np
import shapely
from shapely.affinity import rotate, translate
from shapely.geometry import LineString, Point, Polygon
from shapely.geometry.base import BaseGeometry

from .board import Board
from .bound import steiner_length
from .crossing import Crossing, used_crossings
from .layout import Figures, Layout, Patch, Place, Strip
from .nets import Key
from .openings import overfull
from .outline import strip_area
from .pins import own_pins, pins_of
from .price import Prices, cost_of, cut_net
from .sound import is_sound, tapes_apart
from .strips import FLAT
from .tree import Tree

#: Places under an aim by less than this are none (mm, share).
FINE = 0.02

At = tuple[float, float]


def least_overhang(width: float, joint_cover: float, corners: str) -> float:
    """How far a strip runs past a joint at least (mm), so that the overlap suffices.

    The branch covers half a disc of the trunk, and the rest over its run past the middle; where
    two straight pieces go on from one another, both overhangs together make the overlap.
    """
    past = joint_cover * width - math.pi * width / 8.0
    if corners == "overlap":
        past = max(past, joint_cover * width / 2.0 + 0.05)
    return max(0.2, past + 0.05)


def assembled(board: Board, prices: Prices) -> Layout | None:
    """The layout of a finished board; None should it not be sound."""
    strips: list[Strip] = []
    nets: list[int] = []
    under: list[Place] = []
    joints: dict[str, int] = {}
    for net in range(len(board.nets)):
        done = cut_net(board, net)
        tree = board.trees[net]
        assert tree is not None
        laid = laid_anew(tree, done.strips)
        own = [_strip(board, net, nodes, k) for k, nodes in enumerate(laid)]
        strips += own
        nets += [net] * len(own)
        under += _under_pads(board, net, own)
        for key, node in tree.pad_node.items():
            if key[0] == "light":
                name = board.task.lights[key[1]].id
                joints[name] = joints.get(name, 0) + done.joints.get(node, 0)
    length = sum(_length(s) for s in strips)
    folds = sum(_folds(s) for s in strips)
    runs = folds + len(strips)
    figures = Figures(length, len(strips), runs, folds, joints, reference_length(board))
    angles = {light.id: a for light, a in zip(board.task.lights, board.angles, strict=True)}
    crossings = used_crossings(board)
    under += _under_distances(board, strips, [c.patch for c in crossings])
    patches = tuple(_patch(c, strips) for c in crossings)
    cost = cost_of(board, prices)
    layout = Layout(tuple(strips), angles, figures, tuple(under), cost, patches=patches)
    return layout if is_sound(board, layout, nets) else None


def _patch(crossing: Crossing, strips: Sequence[Strip]) -> Patch:
    """Paper over pinned tape is laid first of all, over tape of this layout before minus."""
    corners = tuple((round(x, 4), round(y, 4)) for x, y in crossing.patch.exterior.coords[:-1])
    plus = sum(strip.polarity == "positive" for strip in strips)
    return Patch(corners, 0 if crossing.under is None else plus)


def shown_too_much(board: Board) -> list[int]:
    """Own openings in which the strips take more than their share."""
    if not board.task.openings:
        return []
    strips = []
    for net in range(len(board.nets)):
        tree = board.trees[net]
        assert tree is not None
        nodes = laid_anew(tree, cut_net(board, net).strips)
        strips += [strip_area(_strip(board, net, n, k)) for k, n in enumerate(nodes)]
    lights = zip(board.task.lights, board.angles, strict=True)
    bodies = [translate(rotate(li.body, a, origin=(0, 0)), *li.at) for li, a in lights]
    strips += [crossing.patch for crossing in used_crossings(board)]
    return overfull(board.task, strips, bodies)


def laid_anew(tree: Tree, strips: Sequence[Sequence[int]]) -> list[list[int]]:
    """Strips without what runs along pinned ones."""
    found: list[list[int]] = []
    for strip in strips:
        part = [strip[0]]
        for a, b in pairwise(strip):
            if tree.is_pinned(a, b) and (min(a, b), max(a, b)) not in tree.planned:
                found.append(part)
                part = [b]
            else:
                part.append(b)
        found.append(part)
    return [part for part in found if len(part) > 1]


def _folds(strip: Strip) -> int:
    """Corners that bend by more than a straight way may."""
    count = 0
    for (px, py), (qx, qy), (rx, ry) in zip(
        strip.points, strip.points[1:], strip.points[2:], strict=False
    ):
        ux, uy, vx, vy = qx - px, qy - py, rx - qx, ry - qy
        ahead = ux * vx + uy * vy
        count += not (ahead > 0.0 and abs(ux * vy - uy * vx) <= FLAT * ahead)
    return count


def _length(strip: Strip) -> float:
    return sum(math.dist(a, b) for a, b in zip(strip.points, strip.points[1:], strict=False))


def _strip(board: Board, net: int, nodes: list[int], number: int) -> Strip:
    tree, task = board.trees[net], board.task
    assert tree is not None
    points = [tree.at[n] for n in nodes]
    at_pad = {node: key for key, node in tree.pad_node.items()}
    least = least_overhang(task.limits.width, task.limits.joint_cover, task.choices.corners)
    first = _overhang(board, net, nodes[0], points[0], points[1], at_pad, least)
    last = _overhang(board, net, nodes[-1], points[-1], points[-2], at_pad, least)
    points[0], points[-1] = first, last
    on_other = number > 0 or _on_pins(board, net, (tree.at[nodes[0]], tree.at[nodes[-1]]))
    joint = "folded-end" if on_other and not task.choices.conducts else None
    if task.choices.corners == "overlap":
        points = [points[0], points[-1]]
    rounded = tuple((round(x, 4), round(y, 4)) for x, y in points)
    return Strip(rounded, task.limits.width, board.nets[net].polarity, joint)


def _on_pins(board: Board, net: int, ends: Sequence[At]) -> bool:
    """Whether a strip begins or ends on one of the maker's own."""
    return any(pin.area.intersects(Point(end)) for pin in pins_of(board, net) for end in ends)


def _overhang(
    board: Board, net: int, node: int, end: At, before: At, at_pad: Mapping[int, Key], least: float
) -> At:
    """The end drawn out over its pad or joint."""
    tree = board.trees[net]
    assert tree is not None
    far = max(math.dist(before, end), 1e-9)
    ux, uy = (end[0] - before[0]) / far, (end[1] - before[1]) / far
    joint = len(tree.links[node]) > 1
    limits = board.task.limits
    wished = min(limits.width / 2.0, limits.aim_joint * limits.width) if joint else 0.0
    if node in at_pad:
        corners = board.corners(at_pad[node])
        out = (corners - np.array(end)) @ np.array([ux, uy])
        low, high = float(out.min()), float(out.max())
        wished = max(wished, low + (limits.aim_pad + 0.02) * (high - low))
    least = least if joint else 0.0
    for part in (1.0, 0.8, 0.6, 0.4, 0.2, 0.1):
        past = least + part * (wished - least)
        if past <= least:
            break
        tip = (end[0] + past * ux, end[1] + past * uy)
        if board.legal(net, np.array([(*end, *tip)])):
            return tip
        if node in at_pad and _fits_at_light(board, net, at_pad[node], end, tip):
            return tip
    return (end[0] + least * ux, end[1] + least * uy)


def _fits_at_light(board: Board, net: int, key: Key, end: At, tip: At) -> bool:
    """Whether an end may be drawn out over a light's pad, by the gap that holds there."""
    if key[0] != "light":
        return False
    line = LineString([end, tip])
    if not board.free[net].covers(line):
        return False
    half = board.task.limits.width / 2.0
    piece = line.buffer(half, cap_style="flat")
    gap = board.task.limits.gap
    for n, tree in enumerate(board.trees):
        if n == net or tree is None:
            continue
        rows = tree.segments()
        near = shapely.linestrings(rows.reshape(-1, 2, 2))
        near = near[shapely.distance(near, line) < 2.0 * half + gap]
        tape = shapely.union_all(shapely.buffer(near, half + 0.01))
        if not tape.is_empty and not tapes_apart(board, piece, tape, gap):
            return False
        pads = [k for k, m in board.net_of.items() if m == n and k[0] == "light"]
        if any(board.pad(k).distance(piece) < board.pad_gap(k) for k in pads):
            return False
    return True


def reference_length(board: Board) -> float:
    """Steiner trees over the lights' places and the cells' pads of each side (mm)."""
    if board.reference:
        return board.reference[0]
    places = [light.at for light in board.task.lights]
    total = 0.0
    for net in board.nets:
        fixed = [board.centre(key) for key in net.pads if key[0] != "light"]
        lit = [places[key[1]] for key in net.pads if key[0] == "light"]
        total += steiner_length(fixed + lit)
    board.reference.append(total)
    return total


def _under_pads(board: Board, net: int, strips: list[Strip]) -> list[Place]:
    aim = board.task.limits.aim_pad
    tape = [strip_area(s) for s in strips] + [p.area for p in pins_of(board, net)]
    limits = board.task.limits
    found = []
    for key in board.nets[net].pads:
        pad = Polygon(board.corners(key))
        rest = pad
        for area in tape:
            if area.intersects(pad):
                rest = rest.difference(area)
        have = 1.0 - rest.area / pad.area
        least = min(aim, limits.aim_joint * limits.width**2 / pad.area)
        if have < least - FINE:
            found.append(Place("pad", board.centre(key), round(have, 3), round(least, 3)))
    return found


def _under_distances(board: Board, strips: list[Strip], paper: Sequence[Polygon]) -> list[Place]:
    """Where strips of two nets, or a strip and the edge, are nearer than the aims."""
    limits, found = board.task.limits, []
    areas = [strip_area(s) for s in strips]
    edge = board.task.base.boundary
    for area in areas:
        have = float(area.distance(edge))
        if have < limits.aim_edge - FINE:
            spot = shapely.shortest_line(area, edge).centroid
            found.append(Place("edge", (spot.x, spot.y), round(have, 3), limits.aim_edge))
    laid = {
        side: [a for a, s in zip(areas, strips, strict=True) if s.polarity == side]
        for side in ("positive", "negative")
    }
    kept = {side: [pin.bare for pin in own_pins(board.task, side)] for side in laid}
    found += _close(board, laid["positive"], [*laid["negative"], *kept["negative"]], paper)
    found += _close(board, kept["positive"], laid["negative"], paper)
    return found


def _close(
    board: Board,
    plus: Sequence[BaseGeometry],
    minus: Sequence[BaseGeometry],
    paper: Sequence[Polygon],
) -> list[Place]:
    """Where strips of two sides are nearer than the aim."""
    aim = board.task.limits.aim_gap
    if not plus or not minus:
        return []
    found = []
    for a, b in shapely.STRtree(minus).query(plus, predicate="dwithin", distance=aim - FINE).T:
        line = _closest(plus[a], minus[b], [p for p in paper if p.intersects(minus[b])])
        if line is not None and line.length < aim - FINE:
            spot = line.centroid
            found.append(Place("gap", (spot.x, spot.y), round(line.length, 3), aim))
    return found


def _closest(a: BaseGeometry, b: BaseGeometry, paper: Sequence[Polygon]) -> LineString | None:
    """The shortest line between two strips, places under paper left out."""
    if not paper:
        return shapely.shortest_line(a, b)
    over = shapely.union_all(paper)
    lines = [
        shapely.shortest_line(a.difference(over), b),
        shapely.shortest_line(a, b.difference(over)),
    ]
    return min((line for line in lines if line is not None), key=shapely.length, default=None)
