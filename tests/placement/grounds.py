"""Seeded random cards for placing a battery, and a judge of their own that uses distances only."""

from __future__ import annotations

import math

import numpy as np
import shapely
import shapely.affinity
from shapely.geometry import MultiPolygon, Point, Polygon, box
from shapely.geometry.base import BaseGeometry

from underlit.model.card import Opening, Part, Sheet
from underlit.placement.power_data import Ground, PowerPlace, Wish
from underlit.profiles import load_profile
from underlit.stack import Layers, cheapest

EMPTY = MultiPolygon()


def ground(
    panel: BaseGeometry,
    windows: list[BaseGeometry] | None = None,
    lights: list[BaseGeometry] | None = None,
    base: BaseGeometry | None = None,
    **more: object,
) -> Ground:
    """A card of areas."""
    openings = tuple(opening(i, area) for i, area in enumerate(windows or [], 1))
    parts = tuple(
        Part(f"light-{i}", True, "light", "red", i, {}, {"body": area})
        for i, area in enumerate(lights or [], 1)
    )
    plain = {"others": (), "foam": (), "joints": EMPTY, "folds": EMPTY}
    return Ground(
        panel=panel,
        base=panel if base is None else base,
        openings=openings,
        lights=parts,
        **{**plain, **more},  # type: ignore[arg-type]
    )


def opening(number: int, area: BaseGeometry) -> Opening:
    at = (area.centroid.x, area.centroid.y)
    return Opening(number, f"w{number}", f"w{number}", at, area, area, 0)


def foam(name: str, area: BaseGeometry) -> Sheet:
    return Sheet(name, "foam", area)


def bare(closes: str, *, tab: bool = False, up: str = "plus", radius: float = 10.0) -> Wish:
    """A bare battery like CR2032, in figures of the test's own."""
    cap = 0.8 * radius
    off, size = 0.625 * cap, 0.375 * cap
    pads = {
        "positive-pad": Point(off, 0.0).buffer(size, 48),
        "negative-pad": Point(-off, 0.0).buffer(size, 48),
    }
    body = Point(0.0, 0.0).buffer(radius, 48)
    return Wish(
        body, pads, True, radius, 3.4, closes, up,
        collar=radius + 3.0, hole=0.74 * radius, contact=0.5 * cap, tab=tab, foam=over(3.4),
    )  # fmt: skip


def holder(closes: str, *, tab: bool = False) -> Wish:
    """A holder of 28 x 21 mm with feet at 30 mm."""
    pads = {
        "positive-pad": box(13.0, -2.5, 17.0, 2.5),
        "negative-pad": box(-17.0, -2.5, -13.0, 2.5),
    }
    return Wish(box(-14.0, -10.5, 14.0, 10.5), pads, False, 10.0, 5.0, closes, tab=tab,
                foam=over(5.0))  # fmt: skip


def over(height: float) -> Layers | None:
    """The foam over a battery so high that is pressed."""
    return cheapest(height, height, load_profile(None))


def random_ground(rng: np.random.Generator) -> Ground:
    """A card with up to nine windows and four lights; some panels are notched or slanted."""
    width, height = rng.uniform(70.0, 170.0, 2)
    panel: BaseGeometry = box(0.0, 0.0, width, height)
    kind = rng.integers(4)
    if kind == 1:
        panel = panel.difference(box(-1.0, -1.0, *rng.uniform(10.0, 35.0, 2)))
    elif kind == 2:
        cut = rng.uniform(10.0, 30.0)
        panel = panel.difference(
            Polygon([(width, height), (width - cut, height), (width, height - cut)])
        )
    elif kind == 3:
        panel = shapely.affinity.rotate(panel, float(rng.uniform(-40.0, 40.0)))
    windows = []
    for _ in range(rng.integers(0, 10)):
        windows.append(_blob(rng, panel).intersection(panel.buffer(-4.0)))
    windows = [w for w in windows if w.geom_type == "Polygon" and w.area > 4.0]
    lights = []
    for _ in range(rng.integers(0, 5)):
        x, y = _inside(rng, panel)
        lights.append(
            shapely.affinity.rotate(box(x - 6, y - 2.5, x + 6, y + 2.5), rng.uniform(0, 180))
        )
    base = panel.buffer(-1.6, join_style="mitre") if rng.random() < 0.6 else panel
    more = {"foam": (foam("frame", panel.difference(panel.buffer(-4.0))),)}
    return ground(panel, windows, lights, base, **(more if rng.random() < 0.3 else {}))


def _blob(rng: np.random.Generator, panel: BaseGeometry) -> BaseGeometry:
    x, y = _inside(rng, panel)
    n = int(rng.integers(3, 12))
    angles = np.sort(rng.uniform(0.0, 2.0 * math.pi, n))
    radii = rng.uniform(2.0, 14.0, n)
    points = np.stack([x + radii * np.cos(angles), y + radii * np.sin(angles)], axis=1)
    return Polygon(points).buffer(0.0)


def _inside(rng: np.random.Generator, panel: BaseGeometry) -> tuple[float, float]:
    x0, y0, x1, y1 = panel.bounds
    while True:
        x, y = float(rng.uniform(x0, x1)), float(rng.uniform(y0, y1))
        if panel.contains(Point(x, y)):
            return x, y


# ---- the judge -----------------------------------------------------------------------------

SLACK = 0.011


def on_page(area: BaseGeometry, place: PowerPlace) -> BaseGeometry:
    """Another way to put a shape of the battery's frame on the page."""
    turned = shapely.affinity.rotate(area, place.angle, origin=(0.0, 0.0))
    return shapely.affinity.translate(turned, *place.at)


def gap(area: BaseGeometry, ground: Ground, kind: str) -> float:
    """The least distance to windows, lights, or an edge (negative: crosses or lies beyond)."""
    if kind in {"panel", "base"}:
        sheet = getattr(ground, kind)
        far = area.distance(sheet.boundary)
        return far if sheet.contains(area) else -area.hausdorff_distance(sheet.boundary)
    things = {
        "windows": [o.outline for o in ground.openings],
        "lights": [light.body for light in ground.lights],
        "others": [part.body for part in ground.others],
        "foam": [sheet.geometry for sheet in ground.foam],
    }[kind]
    return min((float(area.distance(t)) for t in things), default=math.inf)


def faults(place: PowerPlace, wish: Wish, ground: Ground) -> list[str]:
    """Every limit of the default profile that a placed battery breaks (empty: none)."""
    found = []
    body = on_page(wish.body, place)
    feet = shapely.union_all([on_page(pad, place) for pad in wish.pads.values()])
    whole = body if wish.bare else body.union(feet)

    def hold(what: str, there: float, limit: float) -> None:
        if there < limit - SLACK:
            found.append(f"{what}: {there:.3f} under {limit}")

    hold("panel", gap(whole, ground, "panel"), 0.0)
    hold("base", gap(whole, ground, "base"), 3.0)
    hold("windows", gap(whole, ground, "windows"), 1.0)
    hold("lights", gap(whole, ground, "lights"), 1.0)
    hold("others", gap(whole, ground, "others"), 1.0)
    if place.collar is not None:
        hold("collar to windows", gap(place.collar, ground, "windows"), 1.0)
        hold("collar on base", -place.collar.difference(ground.base.buffer(0.001)).area, 0.0)
        ring = (
            Point(*place.at)
            .buffer(wish.radius + 1.0)
            .difference(Point(*place.at).buffer(0.8 * wish.radius))
        )
        centre = place.at if place.fold is None or wish.up == "plus" else place.fold.contact
        ring = shapely.affinity.translate(ring, centre[0] - place.at[0], centre[1] - place.at[1])
        bare = ring.intersection(ground.base).difference(place.collar)
        hold("rim covered", -bare.area, -0.01)
    found += _ring_faults(place, wish, ground)
    found += _tab_faults(place, wish, ground)
    found += _fold_faults(place, wish, ground)
    return found


def _ring_faults(place: PowerPlace, wish: Wish, ground: Ground) -> list[str]:
    ring, found = place.ring, []
    if (ring is None) != (wish.closes != "press"):
        return ["ring where none belongs, or none where one does"]
    if ring is None:
        return []
    centre = Point(*place.at)
    inside, outside = centre.distance(ring.area), centre.hausdorff_distance(ring.area)
    if inside < 12.5 - 0.001 or abs(2 * inside - ring.inside) > 0.02:
        found.append(f"ring inside {2 * inside:.3f}")
    if abs(2 * outside - ring.outside) > 0.02:
        found.append(f"ring outside {2 * outside:.3f}")
    disc = centre.buffer(ring.outside / 2.0, 64)
    for kind, limit in (("windows", 5.0), ("panel", 5.0), ("base", 0.0), ("lights", 0.0)):
        if gap(disc, ground, kind) < limit - SLACK - 0.01:
            found.append(f"ring to {kind}: {gap(disc, ground, kind):.3f}")
    if any(s.geometry.intersection(disc).area > 0.05 for s in ground.foam):
        found.append("ring on foam")
    if on_page(wish.body, place).intersection(ring.area).area > 1e-6:
        found.append("ring on the battery")
    if not 0.3 <= ring.travel <= 1.5:
        found.append(f"travel {ring.travel}")
    if abs(ring.thickness * 0.85 - wish.height - ring.travel) > 1e-9:
        found.append("travel is not what the foam leaves")
    return found


def _tab_faults(place: PowerPlace, wish: Wish, ground: Ground) -> list[str]:
    tab, found = place.tab, []
    if tab is None:
        return ["no tab"] if wish.closes == "tab" else []
    sheet = ground.panel.union(ground.base)
    if not 8.0 <= tab.width <= 10.0:
        found.append(f"tab width {tab.width}")
    way = np.array([math.cos(math.radians(tab.angle)), math.sin(math.radians(tab.angle))])
    side = np.array([-way[1], way[0]])
    for across in np.linspace(-0.499, 0.499, 9):  # the grip, line by line across the tab
        start = np.array(tab.at) + across * tab.width * side
        line = shapely.LineString([start, start + tab.length * way])
        free = line.difference(sheet)
        parts = shapely.get_parts(free)
        if len(parts) != 1 or parts[0].length < 10.0 - SLACK:
            found.append("grip under 10 mm, or in and out again")
            break
    for kind, limit in (("windows", 1.0), ("lights", 1.0), ("others", 1.0)):
        if gap(tab.area, ground, kind) < limit - SLACK:
            found.append(f"tab to {kind}")
    for what in (ground.joints, ground.folds):
        if tab.area.distance(what) < 1.0 - SLACK:
            found.append("tab over a joint or fold")
    covered = wish.pads[wish.upper_pad]
    if (
        wish.bare
        and wish.closes != "flap"
        and not tab.area.buffer(0.01).covers(on_page(covered, place))
    ):
        found.append("tab does not cover the upper contact")
    if place.ring is not None and place.ring.area.distance(tab.area) < 1.0 - SLACK:
        found.append("no way through the ring")
    return found


def _fold_faults(place: PowerPlace, wish: Wish, ground: Ground) -> list[str]:
    fold, found = place.fold, []
    if (fold is None) != (wish.closes != "flap"):
        return ["fold where none belongs, or none where one does"]
    if fold is None:
        return []
    a, b = np.array(fold.start), np.array(fold.end)
    way = (b - a) / np.hypot(*(b - a))
    foot = a + ((np.array(fold.contact) - a) @ way) * way
    landed = 2.0 * foot - np.array(fold.contact)
    if np.hypot(*(landed - np.array(place.at))) > 0.01:
        found.append("contacts do not meet")
    if abs(np.hypot(*(foot - np.array(place.at))) - fold.distance) > 0.01:
        found.append("distance of the fold")
    if fold.distance < wish.radius + 5.0 - SLACK:
        found.append("battery too near to the fold")
    contact = Point(*fold.contact).buffer(wish.contact)
    if gap(contact, ground, "base") < 3.0 - SLACK:
        found.append("contact too near to the edge")
    if any(o.outline.intersects(fold.moving) for o in ground.openings):
        found.append("flap takes a window along")
    if any(light.body.intersects(fold.moving) for light in ground.lights):
        found.append("flap takes a light along")
    mirrored = shapely.affinity.translate(fold.moving, -a[0], -a[1])
    turn = math.degrees(math.atan2(way[1], way[0]))
    mirrored = shapely.affinity.rotate(mirrored, -turn, origin=(0.0, 0.0))
    mirrored = shapely.affinity.scale(mirrored, 1.0, -1.0, origin=(0.0, 0.0))
    mirrored = shapely.affinity.rotate(mirrored, turn, origin=(0.0, 0.0))
    mirrored = shapely.affinity.translate(mirrored, a[0], a[1])
    if any(o.outline.intersection(mirrored).area > 0.01 for o in ground.openings):
        found.append("flap covers a window")
    if mirrored.difference(ground.panel.buffer(0.1)).area > 0.05:
        found.append("flap stands out")
    return found
