"""An independent judge of layouts: raw rectangles, areas, distances. Shares no code with routing.

`faults` lists everything that is wrong with a layout in plain sentences; none is a pass.
"""

from __future__ import annotations

import math

import shapely
from shapely.affinity import rotate, translate
from shapely.geometry import Point, Polygon
from shapely.geometry.base import BaseGeometry

SLACK = 0.01
AROUND = 2.0


def rectangle(p, q, width: float) -> Polygon:
    """The rectangle of one straight run with butt ends."""
    far = math.dist(p, q)
    nx, ny = -(q[1] - p[1]) / far * width / 2, (q[0] - p[0]) / far * width / 2
    return Polygon(
        [
            (p[0] + nx, p[1] + ny),
            (q[0] + nx, q[1] + ny),
            (q[0] - nx, q[1] - ny),
            (p[0] - nx, p[1] - ny),
        ]
    )


def area_of(strip) -> BaseGeometry:
    runs = [
        rectangle(p, q, strip.width)
        for p, q in zip(strip.points, strip.points[1:], strict=False)
        if math.dist(p, q) > 1e-6
    ]
    corners = [Point(p).buffer(strip.width / 2, quad_segs=32) for p in strip.points[1:-1]]
    return shapely.union_all(runs + corners)


def placed(light, angle: float, shape: BaseGeometry) -> BaseGeometry:
    return translate(rotate(shape, angle, origin=(0, 0)), *light.at)


class Pads:
    """Every pad: name, polygon, polarity (None for parts in line)."""

    def __init__(self, task, angles) -> None:
        self.all: dict[tuple[str, str], BaseGeometry] = {}
        self.sign: dict[tuple[str, str], str] = {}
        self.zones: list[tuple[BaseGeometry, float]] = []
        for cell in task.cells:
            self.all[cell.id, "positive"] = cell.positive
            self.all[cell.id, "negative"] = cell.negative
        for light in task.lights:
            for pad in ("positive", "negative"):
                self.all[light.id, pad] = placed(light, angles[light.id], getattr(light, pad))
            body = placed(light, angles[light.id], light.body)
            self.zones.append((body.buffer(AROUND), light.gap))
        for key in self.all:
            self.sign[key] = key[1]
        for part in task.parts:
            self.all[part.id, "first"] = part.first
            self.all[part.id, "second"] = part.second


class Paper:
    """What insulates strip i from strip j; pinned strips (numbers from `laid`) lie lowest."""

    def __init__(self, task, layout, laid: int) -> None:
        self.laid = laid
        self.patches = [(Polygon(p.corners), p.before) for p in getattr(layout, "patches", ())]
        self.pinned = [getattr(p, "paper", None) or Polygon() for p in getattr(task, "pinned", ())]

    def between(self, i: int, j: int) -> BaseGeometry:
        low, high = sorted((i if i < self.laid else -1, j if j < self.laid else -1))
        found = [area for area, before in self.patches if low < before <= high]
        found += [self.pinned[k - self.laid] for k in (i, j) if k >= self.laid and high >= 0]
        return shapely.union_all(found)


def _crossings(areas, signs, paper) -> list[str]:
    """Where plus and minus overlap over the tool's paper, it is in a rectangle: square.

    Over paper that the maker stuck on her own strip, any angle that keeps the gap will do.
    """
    found = []
    for i, a in enumerate(areas):
        for j in range(i):
            if signs[i] == signs[j]:
                continue
            own = [paper.pinned[k - paper.laid] for k in (i, j) if k >= paper.laid]
            over = a.intersection(areas[j]).difference(shapely.union_all(own))
            for part in shapely.get_parts(over):
                box = part.minimum_rotated_rectangle
                if part.area > 0.01 and box.area > part.area + 0.05:
                    found.append(f"strips {j} and {i} do not cross square")
    return found


def faults(task, layout) -> list[str]:
    """Everything wrong with a layout."""
    pads = Pads(task, layout.angles)
    strips = list(layout.strips)
    areas = [area_of(s) for s in strips]
    pinned = list(task.pinned)
    everything = areas + [p.area for p in pinned]
    signs = [s.polarity for s in strips] + [p.polarity for p in pinned]
    widths = [s.width for s in strips] + [p.width for p in pinned]
    found = _turning(task, layout)
    found += _covering(task, pads, areas, signs, everything)
    found += _wiring(task, pads, everything, signs, widths, Paper(task, layout, len(areas)))
    paper = Paper(task, layout, len(areas))
    found += _gaps(task, pads, everything, signs, paper)
    found += _crossings(everything, signs, paper)
    found += _keeping_out(task, pads, areas, strips)
    found += _laying(task, pads, everything[: len(areas)], signs, [p.area for p in pinned])
    return found


def _turning(task, layout) -> list[str]:
    found = []
    for light in task.lights:
        turned = (layout.angles[light.id] - light.angle) % 360.0
        if light.turn == "locked" and min(turned, 360 - turned) > 1e-6:
            found.append(f"locked light {light.id} was turned")
        askew = layout.angles[light.id] % 45.0  # counted from the page's axes
        if light.turn == "45" and min(askew, 45 - askew) > 1e-6:
            found.append(f"light {light.id} stands at {layout.angles[light.id]}")
    return found


def _covering(task, pads, areas, signs, everything) -> list[str]:
    found = []
    for key, pad in pads.all.items():
        here = [
            a
            for a, s in zip(everything, signs, strict=True)
            if pads.sign.get(key, s) == s and a.intersects(pad)
        ]
        covered = shapely.union_all(here).intersection(pad).area if here else 0.0
        limits = task.limits
        needed = min(limits.pad_cover * pad.area, limits.joint_cover * limits.width**2)
        if covered < needed - SLACK * limits.width:
            found.append(f"pad {key} covered {covered:.2f} of {needed:.2f}")
        wrong = [
            a
            for a, s in zip(everything, signs, strict=True)
            if key in pads.sign and s != pads.sign[key] and a.intersects(pad)
        ]
        if wrong:
            found.append(f"pad {key} lies on tape of the other side")
    return found


def _wiring(task, pads, areas, signs, widths, paper) -> list[str]:
    """Every light's pads hang together with the right pad of a cell."""
    keys = list(pads.all)
    group = list(range(len(areas) + len(keys)))

    def root(i: int) -> int:
        while group[i] != i:
            i = group[i]
        return i

    tree = shapely.STRtree(areas)
    for i, j in tree.query(areas, predicate="intersects").T.tolist():
        if i < j:
            between = paper.between(i, j)
            overlap = areas[i].intersection(areas[j]).difference(between).area
            if signs[i] != signs[j]:
                if overlap > 0.0 or between.is_empty:
                    return [f"strips {i} and {j} touch"]
                continue
            needed = task.limits.joint_cover * min(widths[i], widths[j]) ** 2
            if overlap >= needed - SLACK * math.sqrt(needed):
                group[root(i)] = root(j)
    for k, key in enumerate(keys):
        for j in tree.query(pads.all[key], predicate="intersects").tolist():
            if areas[j].intersection(pads.all[key]).area > SLACK:
                group[root(len(areas) + k)] = root(j)
    index = {key: len(areas) + k for k, key in enumerate(keys)}
    for part in task.parts:
        if root(index[part.id, "first"]) == root(index[part.id, "second"]):
            return [f"{part.id} is bridged"]
    for part in task.parts:
        group[root(index[part.id, "first"])] = root(index[part.id, "second"])
    found = []
    for sign in ("positive", "negative"):
        home = root(index[task.cells[0].id, sign])
        for key, own in pads.sign.items():
            if own == sign and root(index[key]) != home:
                found.append(f"pad {key} has no way to the cell")
    if root(index[task.cells[0].id, "positive"]) == root(index[task.cells[0].id, "negative"]):
        found.append("plus and minus are joined")
    return found


def _apart_by_zones(a, b, gap, zones) -> bool:
    """Whether two areas keep the gap, or a light's own where both lie in its surroundings."""
    for piece, inside in _cells(a, b, gap, zones):
        for other, within in _cells(b, a, gap, zones):
            both = [own for k, (_, own) in enumerate(zones) if k in inside & within]
            if piece.distance(other) < min([gap, *both]) - 2 * SLACK:
                return False
    return True


def _cells(area, other, gap, zones):
    """What of an area is near another, cut by all zones: (piece, zones that it lies in)."""
    cells = [(area.intersection(other.buffer(gap)), frozenset())]
    for k, (zone, _) in enumerate(zones):
        cut = []
        for piece, inside in cells:
            if piece.intersects(zone):
                cut.append((piece.intersection(zone), inside | {k}))
                cut.append((piece.difference(zone), inside))
            else:
                cut.append((piece, inside))
        cells = [(p, i) for p, i in cut if p.area > 1e-9]
    return cells


def _far(a, b) -> float:
    return math.inf if a.is_empty or b.is_empty else a.distance(b)


def _gaps(task, pads, areas, signs, paper) -> list[str]:
    found = []
    gap = task.limits.gap
    plus = [(f"strip {i}", a) for i, a in enumerate(areas) if signs[i] == "positive"]
    minus = [(f"strip {i}", a) for i, a in enumerate(areas) if signs[i] == "negative"]
    plus += [(str(k), a) for k, a in pads.all.items() if pads.sign.get(k) == "positive"]
    minus += [(str(k), a) for k, a in pads.all.items() if pads.sign.get(k) == "negative"]
    tree = shapely.STRtree([a for _, a in minus])
    for name, a in plus:
        for j in tree.query(a, predicate="dwithin", distance=gap - SLACK).tolist():
            other, b = minus[j]
            if name.split("'")[1:2] == other.split("'")[1:2] and name.startswith("("):
                continue
            near = a.distance(b)
            if name.startswith("strip") and other.startswith("strip"):
                over = paper.between(int(name[6:]), int(other[6:]))
                near = min(_far(a.difference(over), b), _far(a, b.difference(over)))
            if near < gap - SLACK and (near == 0.0 or not _apart_by_zones(a, b, gap, pads.zones)):
                found.append(f"{name} and {other} are {near:.3f} apart")
    return found


def _keeping_out(task, pads, areas, strips) -> list[str]:
    found = []
    edge = task.base.boundary
    for i, (area, strip) in enumerate(zip(areas, strips, strict=True)):
        if not task.base.covers(area):
            found.append(f"strip {i} leaves the base")
        elif area.distance(edge) < task.limits.edge - SLACK:
            found.append(f"strip {i} is {area.distance(edge):.3f} from the edge")
        for obstacle in task.obstacles:
            if obstacle.polarity in {None, strip.polarity}:
                near = area.distance(obstacle.area)
                if near < obstacle.clearance - SLACK or (
                    near == 0 and area.intersection(obstacle.area).area > SLACK
                ):
                    found.append(f"strip {i} is {near:.3f} from {obstacle.name}")
        for cell in task.cells:
            if cell.ring is not None and strip.polarity == "negative":
                bare = area.intersection(cell.ring)
                if cell.insulated is not None:
                    bare = bare.difference(cell.insulated)
                if bare.area > SLACK:
                    found.append(f"strip {i} lies bare under the rim")
    bodies = [placed(light, 0, light.body) for light in ()]
    del bodies
    for opening in task.openings:
        seen = shapely.union_all(areas).intersection(opening.area)
        for zone, _ in pads.zones:
            seen = seen.difference(zone.buffer(-AROUND))
        if seen.area > opening.share * opening.area.area + SLACK:
            found.append(f"opening {opening.name} filled by {seen.area / opening.area.area:.3f}")
    return found


def _laying(task, pads, areas, signs, pinned) -> list[str]:
    """Each strip overlaps one before it or lies on a cell's or a part's pad; plus all first."""
    found = []
    signs = signs[: len(areas)]
    if signs != sorted(signs, key=lambda s: s == "negative"):
        found.append("polarities are laid in turns")
    fixed = [
        a
        for k, a in pads.all.items()
        if k[1] in {"first", "second"} or k[0] in {c.id for c in task.cells}
    ]
    for i, area in enumerate(areas):
        before = [a for a, s in zip(areas[:i], signs, strict=False) if s == signs[i]] + pinned
        if not any(area.intersects(b) for b in before + fixed):
            found.append(f"strip {i} begins on nothing")
    return found
