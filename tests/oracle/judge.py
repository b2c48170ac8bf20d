"""What is true of a card by the drawing conventions, found on pixels.

Places are in the card's own frame (before its motion). A pixel measure of a gap is too large or too
small by at most about a pixel; whoever compares leaves out what is nearer than 0.15 mm to a limit.
"""

from __future__ import annotations

import math
from collections import defaultdict
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np

from kit.card import CONDUCTORS, Card, Part
from kit.shapes import Circle, Line, Point, Poly, Shape, moved

from . import raster
from .raster import Closest, Mask, Points

PLUS, MINUS = 1, -1
TOP = 10**6
"""Laying order of a pad over all tape."""


@dataclass(frozen=True)
class Limits:
    """Of the hand-laid profile."""

    gap: float = 2.0
    gap_at_light: float = 1.0
    edge: float = 3.0
    pad_cover: float = 0.5
    joint_cover: float = 0.4
    over_base: float = 0.3
    body_zone: float = 2.0


LIMITS = Limits()


@dataclass(frozen=True, eq=False)
class Conductor:
    """One piece of tape, or a pad of a part (`owner`, `feature`)."""

    name: str
    order: int
    mask: Mask
    owner: str = ""
    feature: str = ""
    width: float = 0.0

    @cached_property
    def edge(self) -> Points:
        return raster.edge_points(self.mask)

    @property
    def is_pad(self) -> bool:
        return bool(self.feature)


@dataclass(frozen=True, eq=False)
class Contact:
    a: Conductor
    b: Conductor
    area: float
    at: Point
    depth: float

    @property
    def names(self) -> frozenset[str]:
        return frozenset((self.a.name, self.b.name))


@dataclass(frozen=True, eq=False)
class Gap:
    """Between two conductors of opposite polarity, away from lights or at one."""

    a: str
    b: str
    closest: Closest
    limit: float
    seen: float = math.nan
    """Where zones of lights cut the tape: the same between true edges only, not cut ones."""

    @property
    def readings(self) -> tuple[float, ...]:
        """The distance by each reading of what lies outside a light's zone."""
        both = (self.distance, self.seen - raster.STEP)
        return both[:1] if math.isnan(self.seen) else both

    @property
    def distance(self) -> float:
        """Between the middles of painted pixels, less the pixel that this is too large by."""
        return self.closest.distance - raster.STEP


@dataclass(eq=False)
class Judgement:
    """Everything found."""

    conductors: dict[str, Conductor]
    contacts: list[Contact]
    net_of: dict[str, int]
    polarity: dict[int, int]  # +1, -1, 0; 2 = both
    shorted_nets: set[int]
    gaps: list[Gap]
    cover: dict[str, tuple[float, float]]  # pad -> covered, needed mm2; none: touches no tape
    edge: dict[str, float]  # piece -> distance to the base's edge; negative: beyond it
    unfed: set[str] = field(default_factory=set)  # pads
    reversed: set[str] = field(default_factory=set)
    shorted: set[str] = field(default_factory=set)
    floating: set[str] = field(default_factory=set)  # pieces
    small_joints: list[tuple[str, str, float]] = field(default_factory=list)
    near_misses: list[tuple[str, str, float]] = field(default_factory=list)
    """Pairs that do not touch on pixels but are nearer than 0.2 mm, whatever their polarity."""

    @property
    def short(self) -> bool:
        return bool(self.shorted_nets)

    @property
    def smallest_gap(self) -> float:
        return min((g.distance for g in self.gaps), default=math.inf)

    def nets(self) -> dict[int, set[str]]:
        """Net -> names of its pieces of tape."""
        out: dict[int, set[str]] = defaultdict(set)
        for name, net in self.net_of.items():
            if not self.conductors[name].is_pad:
                out[net].add(name)
        return dict(out)


def judge(
    card: Card, opened: tuple[frozenset[str], ...] = (), limits: Limits = LIMITS
) -> Judgement:
    """Judges the card as if the contacts between the named pairs did not conduct."""
    strips, patches = tape_pieces(card)
    pads = [_pad(p, f) for p in card.parts for f, _ in p.features if f in CONDUCTORS]
    conductors = {c.name: c for c in (*strips, *pads)}
    contacts = [c for c in _contacts(strips, pads, patches) if c.names not in opened]
    net_of = _nets(card, conductors, contacts)
    polarity, shorted = _polarity(card, net_of)
    gaps = _gaps(card, strips, pads, patches, net_of, polarity, opened, limits)
    cover = _cover(strips, pads, patches, net_of, contacts, limits)
    out = Judgement(
        conductors, contacts, net_of, polarity, shorted, gaps, cover, _edges(card, strips)
    )
    _lights(card, out)
    out.small_joints = _small_joints(out, limits)
    out.near_misses = _near_misses(strips, pads, patches, contacts)
    return out


# -- conductors ------------------------------------------------------------------------------


def tape_pieces(card: Card) -> tuple[list[Conductor], list[Conductor]]:
    """Strips (one per connected painted piece: `id`, `id#2`, ...) and patches, by laying order."""
    strips, patches = [], []
    for order, item in enumerate(card.tape):
        mask = raster.mask_of(item.shapes)
        if item.clip is not None:
            mask = raster.overlap(mask, raster.mask_of([item.clip]))
        if item.patch:
            patches.append(Conductor(item.id, order, mask))
            continue
        for k, piece in enumerate(raster.pieces(mask)):
            name = item.id if k == 0 else f"{item.id}#{k + 1}"
            known = [s.width for s in item.shapes if isinstance(s, Line)]
            width = min(known) if known else raster.widest(piece)
            strips.append(Conductor(name, order, piece, width=width))
    return strips, patches


def _pad(part: Part, feature: str) -> Conductor:
    above = dict(part.attrs).get("contact") == "above"
    mask = raster.mask_of([part.feature(feature)])
    order = -1 if above else TOP
    return Conductor(f"{part.id}.{feature}", order, mask, part.id, feature)


def _between(patches: list[Conductor], a: Conductor, b: Conductor) -> Mask:
    low, high = sorted((a.order, b.order))
    return raster.union(p.mask for p in patches if low < p.order < high)


def _near(a: Mask, b: Mask, reach: float) -> bool:
    r = reach / raster.STEP
    ax0, ay0, ax1, ay1 = a.bounds
    bx0, by0, bx1, by1 = b.bounds
    return ax0 - r < bx1 and bx0 - r < ax1 and ay0 - r < by1 and by0 - r < ay1


def _pairs(
    strips: list[Conductor], pads: list[Conductor], reach: float
) -> list[tuple[Conductor, Conductor]]:
    out = []
    everything = strips + pads
    for i, a in enumerate(everything):
        for b in everything[i + 1 :]:
            if a.name.split("#")[0] == b.name.split("#")[0] and a.order == b.order:
                continue
            if _near(a.mask, b.mask, reach):
                out.append((a, b))
    return out


def _contacts(
    strips: list[Conductor], pads: list[Conductor], patches: list[Conductor]
) -> list[Contact]:
    out = []
    for a, b in _pairs(strips, pads, 0.1):
        if a.is_pad and b.is_pad:
            continue
        shared = raster.overlap(a.mask, b.mask)
        if shared:
            shared = raster.without(shared, _between(patches, a, b))
        if shared:
            place = raster.centroid(shared)
            out.append(Contact(a, b, shared.area, place, raster.depth(shared)))
    return out


def _edge(conductor: Conductor, left: Mask) -> Points:
    """Edge points of what is left of a conductor; known already when it is the whole."""
    return conductor.edge if left is conductor.mask else raster.edge_points(left)


def _near_misses(
    strips: list[Conductor],
    pads: list[Conductor],
    patches: list[Conductor],
    contacts: list[Contact],
) -> list[tuple[str, str, float]]:
    out = []
    touching = {c.names for c in contacts}
    for a, b in _pairs(strips, pads, 0.3):
        if frozenset((a.name, b.name)) in touching or (a.is_pad and b.is_pad):
            continue
        upper, lower = (a, b) if a.order >= b.order else (b, a)
        for u, v in _uncovered(upper, lower, _between(patches, upper, lower)):
            found = raster.closest(_edge(upper, u), _edge(lower, v), reach=0.4)
            if found.distance - raster.STEP < 0.2:
                out.append((a.name, b.name, found.distance - raster.STEP))
    return out


# -- nets ------------------------------------------------------------------------------------


def _nets(card: Card, conductors: dict[str, Conductor], contacts: list[Contact]) -> dict[str, int]:
    """Conductor -> number of its net, switches closed."""
    parent = {name: name for name in conductors}

    def find(x: str) -> str:
        while parent[x] != x:
            parent[x] = parent[parent[x]]
            x = parent[x]
        return x

    for c in contacts:
        parent[find(c.a.name)] = find(c.b.name)
    for p in card.power:
        if p.kind == "switch":
            parent[find(f"{p.id}.contact-1")] = find(f"{p.id}.contact-2")
    roots = sorted({find(n) for n in conductors})
    number = {r: k for k, r in enumerate(roots)}
    return {n: number[find(n)] for n in conductors}


def _polarity(card: Card, net_of: dict[str, int]) -> tuple[dict[int, int], set[int]]:
    """Polarity of each net (2: both signs) and the nets that are on plus and on minus."""
    signs: dict[int, set[int]] = defaultdict(set)
    for p in card.power:
        if p.kind == "cell":
            signs[net_of[f"{p.id}.positive-pad"]].add(PLUS)
            signs[net_of[f"{p.id}.negative-pad"]].add(MINUS)
    shorted = {n for n, s in signs.items() if len(s) == 2}
    own = set(signs)
    ohms = [
        (net_of[f"{p.id}.contact-1"], net_of[f"{p.id}.contact-2"])
        for p in card.power
        if p.kind == "resistor"
    ]
    grown = {n: set(s) for n, s in signs.items()}
    for _ in range(len(ohms) + 1):
        for a, b in ohms:
            for x, y in ((a, b), (b, a)):
                if y not in own:
                    grown.setdefault(y, set()).update(grown.get(x, set()))
    out = {}
    for n in set(net_of.values()):
        s = grown.get(n, set())
        both = 2 if n in shorted else 0
        out[n] = next(iter(s)) if len(s) == 1 else both
    return out, shorted


# -- gaps ------------------------------------------------------------------------------------


def _gaps(
    card: Card,
    strips: list[Conductor],
    pads: list[Conductor],
    patches: list[Conductor],
    net_of: dict[str, int],
    polarity: dict[int, int],
    opened: tuple[frozenset[str], ...],
    limits: Limits,
) -> list[Gap]:
    zones = [raster.mask_of([grown_box(p, limits.body_zone)]) for p in card.lights]
    out = []
    for a, b in _pairs(strips, pads, 5.0):
        if polarity[net_of[a.name]] * polarity[net_of[b.name]] != -1:
            continue
        if frozenset((a.name, b.name)) in opened:
            continue
        upper, lower = (a, b) if a.order >= b.order else (b, a)
        patch = _between(patches, upper, lower)
        one_part = a.owner == b.owner != ""
        found = [
            g
            for u, v in _uncovered(upper, lower, patch)
            for g in _zoned(upper, lower, u, v, zones, limits, one_part)
        ]
        for limit in sorted({g.limit for g in found}):
            out.append(min((g for g in found if g.limit == limit), key=lambda g: g.distance))
    return out


def _uncovered(upper: Conductor, lower: Conductor, patch: Mask) -> list[tuple[Mask, Mask]]:
    """(U minus patches, L) and (U, L minus patches)."""
    if not patch or not (_near(patch, upper.mask, 0) or _near(patch, lower.mask, 0)):
        return [(upper.mask, lower.mask)]
    return [
        (raster.without(upper.mask, patch), lower.mask),
        (upper.mask, raster.without(lower.mask, patch)),
    ]


def _zoned(
    upper: Conductor,
    lower: Conductor,
    u: Mask,
    v: Mask,
    zones: list[Mask],
    limits: Limits,
    one_part: bool,
) -> list[Gap]:
    names = (upper.name, lower.name)
    pu, pv = _edge(upper, u), _edge(lower, v)
    whole = raster.closest(pu, pv, reach=5.0)
    if one_part:
        return [Gap(*names, whole, limits.gap_at_light)]
    if whole.distance > limits.gap + 0.5:
        return [Gap(*names, whole, limits.gap)] if math.isfinite(whole.distance) else []
    out = []
    shared = [z for z in zones if _near(z, u, 0) and _near(z, v, 0)]
    rest_u, rest_v = u, v
    for zone in shared:
        zu, zv = raster.overlap(u, zone), raster.overlap(v, zone)
        near = raster.closest(raster.edge_points(zu), raster.edge_points(zv), reach=5.0)
        out.append(Gap(*names, near, limits.gap_at_light))
        rest_u, rest_v = raster.without(rest_u, zone), raster.without(rest_v, zone)
    for x, y in ((rest_u, v), (u, rest_v)) if shared else ((u, v),):
        far = raster.closest(raster.edge_points(x), raster.edge_points(y), reach=5.0)
        px, py = (
            _outer(p, shared) if m is r else p for m, r, p in ((x, rest_u, pu), (y, rest_v, pv))
        )
        out.append(Gap(*names, far, limits.gap, raster.closest(px, py, reach=5.0).distance))
    return [g for g in out if math.isfinite(g.distance)]


def _outer(points: Points, zones: list[Mask]) -> Points:
    """The points that lie in none of the zones."""
    for zone in zones:
        points = points[~raster.contains(zone, points)]
    return points


def grown_box(part: Part, by: float) -> Shape:
    """The body of a part, a rectangle in its own frame, grown on every side."""
    body = dict(part.features)["body"]
    if isinstance(body, Circle):
        return moved(Circle(body.centre, body.radius + by), part.frame)
    if isinstance(body, Line):
        raise TypeError("a body is a closed shape")
    xs, ys = [p[0] for p in body.points], [p[1] for p in body.points]
    x0, x1, y0, y1 = min(xs) - by, max(xs) + by, min(ys) - by, max(ys) + by
    return moved(Poly(((x0, y0), (x1, y0), (x1, y1), (x0, y1))), part.frame)


# -- pads, joints, edges -----------------------------------------------------------------------


def _cover(
    strips: list[Conductor],
    pads: list[Conductor],
    patches: list[Conductor],
    net_of: dict[str, int],
    contacts: list[Contact],
    limits: Limits,
) -> dict[str, tuple[float, float]]:
    out = {}
    touching: dict[str, list[Conductor]] = defaultdict(list)
    for c in contacts:
        for pad, tape in ((c.a, c.b), (c.b, c.a)):
            if pad.is_pad:
                touching[pad.name].append(tape)
    for pad in pads:
        tapes = [t for t in touching[pad.name] if net_of[t.name] == net_of[pad.name]]
        if not tapes:
            continue
        seen = raster.union(
            raster.without(raster.overlap(t.mask, pad.mask), _between(patches, t, pad))
            for t in tapes
        )
        width = min(t.width for t in tapes)
        need = min(limits.pad_cover * pad.mask.area, limits.joint_cover * width * width)
        out[pad.name] = (seen.area, need)
    return out


def _small_joints(out: Judgement, limits: Limits) -> list[tuple[str, str, float]]:
    """Overlaps of tape on tape that are too small, with area over the smallest allowed."""
    small = []
    for c in out.contacts:
        if not c.a.is_pad and not c.b.is_pad:
            need = limits.joint_cover * min(c.a.width, c.b.width) ** 2
            if c.area < need:
                small.append((c.a.name, c.b.name, c.area / need))
    return small


def needed_joints(card: Card, j: Judgement, strict: bool) -> set[frozenset[str]]:
    """Pairs of strips with a small overlap that alone joins tape with pads on both of its sides.

    Strictly, a pad with a sign counts only on tape of its own side: else nothing works there yet.
    """
    found = set()
    for a, b, _ in j.small_joints:
        pair = frozenset((a, b))
        rest = _nets(card, j.conductors, [c for c in j.contacts if c.names != pair])
        pads = {
            rest[n] for n, c in j.conductors.items() if c.is_pad and (not strict or _useful(j, c))
        }
        if rest[a] != rest[b] and {rest[a], rest[b]} <= pads:
            found.add(pair)
    return found


def _useful(j: Judgement, pad: Conductor) -> bool:
    """Without a sign, or on tape of its own side."""
    sign = {"positive-pad": PLUS, "negative-pad": MINUS}.get(pad.feature)
    return sign is None or j.polarity[j.net_of[pad.name]] == sign


def _edges(card: Card, strips: list[Conductor]) -> dict[str, float]:
    """Distance of each piece to the base's edge as drawn; a fold line is no edge."""
    ring = np.concatenate([_outline_points(o.shape) for o in card.base])
    base = raster.mask_of([o.shape for o in card.base])
    out = {}
    for s in strips:
        points = s.edge
        outside = points[~raster.contains(base, points)]
        if len(outside):
            distance, _ = raster.cKDTree(ring).query(outside)
            out[s.name] = -float(distance.max())
        else:
            out[s.name] = min(raster.closest(points, ring, reach=8.0).distance, 8.0)
    return out


def _outline_points(shape: Shape) -> Points:
    if not isinstance(shape, Poly):
        raise TypeError("a base is a polygon")
    out = []
    for p, q in zip(shape.points, (*shape.points[1:], shape.points[0]), strict=True):
        n = max(2, math.ceil(math.dist(p, q) / raster.STEP))
        t = np.linspace(0, 1, n, endpoint=False)[:, None]
        out.append(np.array(p) * (1 - t) + np.array(q) * t)
    return np.concatenate(out)


# -- lights ------------------------------------------------------------------------------------


def _lights(card: Card, out: Judgement) -> None:
    pads = {p.id: _light_nets(p, out) for p in card.lights}
    for id_, (plus, minus) in pads.items():
        if plus is not None and plus == minus:
            out.shorted.add(id_)
            continue
        on = [0 if n is None else out.polarity[n] for n in (plus, minus)]
        if on == [MINUS, PLUS]:
            out.reversed.add(id_)
        for net, feature in ((plus, "positive-pad"), (minus, "negative-pad")):
            if net is None or (out.polarity[net] == 0 and not _fed(net, pads, out)):
                out.unfed.add(f"{id_}.{feature}")
    out.floating = _floating(card, pads, out)


def _light_nets(part: Part, out: Judgement) -> tuple[int | None, int | None]:
    found = []
    for feature in ("positive-pad", "negative-pad"):
        name = f"{part.id}.{feature}"
        found.append(out.net_of[name] if name in out.cover else None)
    return found[0], found[1]


def _fed(net: int, pads: dict[str, tuple[int | None, int | None]], out: Judgement) -> bool:
    """A net without polarity is fed when lights lead from it to plus and to minus."""
    sides: set[int] = set()
    for id_, nets in pads.items():
        if net in nets:
            other = nets[1] if nets[0] == net else nets[0]
            sides |= _reached(other, {net}, {id_}, pads, out)
    return {PLUS, MINUS} <= sides


def _reached(
    net: int | None,
    seen: set[int],
    used: set[str],
    pads: dict[str, tuple[int | None, int | None]],
    out: Judgement,
) -> set[int]:
    if net is None or net in seen:
        return set()
    if out.polarity[net]:
        return {out.polarity[net]}
    found: set[int] = set()
    for id_, nets in pads.items():
        if net in nets and id_ not in used:
            other = nets[1] if nets[0] == net else nets[0]
            found |= _reached(other, seen | {net}, used | {id_}, pads, out)
    return found


def _floating(
    card: Card, pads: dict[str, tuple[int | None, int | None]], out: Judgement
) -> set[str]:
    found = set()
    for net, names in out.nets().items():
        if out.polarity[net] == 0 and net not in out.shorted_nets and not _fed(net, pads, out):
            found |= names
    return found
