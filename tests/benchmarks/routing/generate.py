"""Make the frozen boards again: `python tests/benchmarks/routing/generate.py`. Never run in tests.

Every board grows around a planted layout: a way strays over the sheet from the cell, lights stand
on it, one strip of each side runs along its banks from foot to foot. Keep-outs, bars and openings
come last, where they leave that layout valid (asked of the independent verifier). Then the lights
are turned away, unless they are locked.
"""

from __future__ import annotations

import json
import math
import sys
from pathlib import Path
from random import Random

ROOT = Path(__file__).resolve().parents[3]
sys.path[:0] = [str(ROOT / "extension"), str(ROOT / "tests"), str(ROOT / "tests" / "benchmarks")]

import shapely  # noqa: E402
from shapely.geometry import LineString, Point, Polygon, box  # noqa: E402

from routing.verifier import faults  # noqa: E402

cards_module = __import__("importlib").import_module("benchmarks.routing.cards")
task_of, planted_layout, FOLDER = (
    cards_module.task_of,
    cards_module.planted_layout,
    cards_module.FOLDER,
)

A6, A5, SQUARE, A4, A3 = (
    (148.0, 105.0),
    (210.0, 148.0),
    (150.0, 150.0),
    (297.0, 210.0),
    (420.0, 297.0),
)


def ring(area) -> list[list[float]]:
    return [[round(x, 3), round(y, 3)] for x, y in list(area.exterior.coords)[:-1]]


def stray(random: Random, n: int, base: Polygon, step: tuple[float, float], bend: float):
    """Cell (x, y, angle) and a way of places from it, or None where it gets stuck."""
    x1, y1, x2, y2 = base.bounds
    inner = base.buffer(-13.0)
    at = (random.uniform(x1 + 20, x2 - 20), random.uniform(y1 + 20, y2 - 20))
    heading = random.uniform(0, 360)
    axis = heading + 90
    ends = [
        Point(
            at[0] + s * 14 * math.cos(math.radians(axis)),
            at[1] + s * 14 * math.sin(math.radians(axis)),
        )
        for s in (1, -1)
    ]
    if not all(base.buffer(-8).contains(e) for e in ends):
        return None
    body = shapely.union_all([LineString(ends).buffer(5), Point(at).buffer(9)])
    way = [at]
    for _ in range(n):
        for _ in range(60):
            turn = random.uniform(-bend, bend) if len(way) > 1 else random.uniform(-15, 15)
            far = random.uniform(*step) + (14 if len(way) == 1 else 0)
            a = math.radians(heading + turn)
            new = (way[-1][0] + far * math.cos(a), way[-1][1] + far * math.sin(a))
            leg = LineString([way[-1], new])
            old = LineString(way[:-1]) if len(way) > 2 else None
            if not inner.contains(Point(new)):
                continue
            if len(way) > 1 and leg.distance(body) < 10:
                continue
            if old is not None and Point(new).distance(old) < 15:
                continue
            if len(way) > 2 and leg.distance(LineString(way[:-2] + way[-2:-1])) < min(
                15, far * 0.9
            ):
                continue
            way.append(new)
            heading += turn
            break
        else:
            return None
    return (*at, axis), way


def rails(cell, way):
    """Angles of the lights and the two strips from foot to foot along the banks."""
    angle = math.radians(cell[2])
    plus = [(cell[0] + 14 * math.cos(angle), cell[1] + 14 * math.sin(angle))]
    minus = [(cell[0] - 14 * math.cos(angle), cell[1] - 14 * math.sin(angle))]
    lights = []
    for i in range(1, len(way)):
        before, here = way[i - 1], way[i]
        a = math.atan2(here[1] - before[1], here[0] - before[0])
        if i + 1 < len(way):
            b = math.atan2(way[i + 1][1] - here[1], way[i + 1][0] - here[0])
            a += math.remainder(b - a, 2 * math.pi) / 2
        across = a + math.pi / 2
        ux, uy = math.cos(across), math.sin(across)
        plus.append((here[0] + 4 * ux, here[1] + 4 * uy))
        minus.append((here[0] - 4 * ux, here[1] - 4 * uy))
        lights.append([round(here[0], 3), round(here[1], 3), round(math.degrees(across) % 360, 3)])
    strips = []
    for sign, points in (("positive", plus), ("negative", minus)):
        (px, py), (qx, qy) = points[-2], points[-1]
        far = math.dist((px, py), (qx, qy))
        points[-1] = (qx + (qx - px) / far * 1.5, qy + (qy - py) / far * 1.5)
        (px, py), (qx, qy) = points[0], points[1]
        far = math.dist((px, py), (qx, qy))
        points[0] = (px + (px - qx) / far * 2.5, py + (py - qy) / far * 2.5)
        strips.append([sign, [[round(x, 3), round(y, 3)] for x, y in points]])
    return lights, strips


def sound(card) -> bool:
    task = task_of({**card, "lights": card["planted_lights"]})
    return not faults(task, planted_layout(card))


def planted(random: Random, n: int, base: Polygon, step=(16, 34), bend=75.0):
    """A card without keep-outs, or None."""
    for _ in range(400):
        grown = stray(random, n, base, step, bend)
        if grown is None:
            continue
        cell, way = grown
        lights, strips = rails(cell, way)
        card = {
            "base": [ring(base)] + [[list(p) for p in list(r.coords)[:-1]] for r in base.interiors],
            "cell": [round(v, 3) for v in cell],
            "lights": lights,
            "planted_lights": lights,
            "planted": strips,
            "keep": [],
        }
        if sound(card):
            return card
    return None


def taken(card) -> shapely.Geometry:
    lines = [
        LineString(points).buffer(2.5 + 1.05, cap_style="square") for _, points in card["planted"]
    ]
    feet = [Point(x, y).buffer(8.5) for x, y, _ in card["lights"]]
    x, y, _ = card["cell"]
    cell = Point(x, y).buffer(18.5)
    return shapely.union_all([*lines, *feet, cell])


def keep_outs(
    random: Random, card, count: int, low: float, high: float, thin: bool = False
) -> None:
    """Rectangles (or bars) that leave the planted layout free."""
    base, free = Polygon(card["base"][0]), taken(card)
    x1, y1, x2, y2 = base.bounds
    for _ in range(400):
        if len(card["keep"]) >= count:
            return
        w, h = random.uniform(low, high), 3.0 if thin else random.uniform(low, high)
        x, y = random.uniform(x1, x2), random.uniform(y1, y2)
        shape = shapely.affinity.rotate(
            box(x - w / 2, y - h / 2, x + w / 2, y + h / 2), random.uniform(0, 180)
        )
        if base.buffer(-2).contains(shape) and not shape.intersects(free):
            card["keep"].append(ring(shape))


def turned_away(random: Random, card, turn: str) -> dict:
    """Lights turned: anyhow (free), by multiples of 45 (45), not at all (locked)."""
    by = {
        "free": lambda: random.uniform(0, 360),
        "45": lambda: 45.0 * random.randrange(8),
        "locked": lambda: 0.0,
    }
    lights = [[x, y, round((a + by[turn]()) % 360, 3)] for x, y, a in card["planted_lights"]]
    return {**card, "lights": lights, "turn": turn}


def shape_of(random: Random, at, radius: float) -> Polygon:
    """A disc, a star, a hexagon or a drop."""
    kind = random.randrange(4)
    count = {0: 24, 1: 10, 2: 6, 3: 16}[kind]
    points = []
    for k in range(count):
        a = 2 * math.pi * k / count
        r = radius * (0.62 if kind == 1 and k % 2 else 1.0)
        if kind == 3:
            r = radius * (0.75 + 0.25 * math.cos(a))
        points.append((at[0] + r * math.cos(a), at[1] + r * math.sin(a)))
    return Polygon(points)


def sheets(random: Random) -> Polygon:
    """Odd sheets: heart, L, a hole."""
    kind = random.randrange(3)
    if kind == 0:
        points = []
        for k in range(48):
            t = 2 * math.pi * k / 48
            x = 16 * math.sin(t) ** 3
            y = -(13 * math.cos(t) - 5 * math.cos(2 * t) - 2 * math.cos(3 * t) - math.cos(4 * t))
            points.append((90 + 5.2 * x, 80 + 5.2 * y))
        return Polygon(points)
    if kind == 1:
        return Polygon([(0, 0), (180, 0), (180, 80), (85, 80), (85, 170), (0, 170)])
    return Polygon(
        box(0, 0, 180, 150).exterior.coords, [box(75, 60, 110, 95).exterior.coords[::-1]]
    )


def many(name: str, make, count: int) -> None:
    made = []
    for k in range(20 * count):
        if len(made) == count:
            break
        card = make(Random(f"{name}-{k}"), len(made))
        if card is not None and sound(card):
            made.append({"name": f"{name}-{len(made) + 1:03d}", **card})
    text = "[\n" + ",\n".join(json.dumps(c, separators=(",", ":")) for c in made) + "\n]\n"
    (FOLDER / f"{name}.json").write_text(text, "utf-8")
    print(name, len(made), flush=True)


def board(random: Random, n: int, size, keeps=(2, 5), turn="free", **more):
    card = planted(random, n, box(0, 0, *size), **more)
    if card is None:
        return None
    keep_outs(random, card, random.randint(*keeps), 8, 30)
    return turned_away(random, card, turn)


COUNTS = (3, 5, 8, 12, 20)


def basic(random: Random, k: int, turn: str = "free"):
    n = COUNTS[k % 5]
    return board(
        random,
        n,
        A5 if n == 20 else random.choice([SQUARE, A6 if n < 12 else SQUARE, A5]),
        turn=turn,
    )


def dense(random: Random, k: int):
    n = (8, 12, 20)[k % 3]
    return board(random, n, SQUARE if n == 20 else A6, turn="free", step=(16, 18), bend=60)


def maze(random: Random, k: int):
    card = planted(random, (5, 8, 12)[k % 3], box(0, 0, *SQUARE))
    if card is None:
        return None
    keep_outs(random, card, 14, 20, 70, thin=True)
    return turned_away(random, card, "free") if len(card["keep"]) >= 7 else None


def opened(random: Random, k: int):
    card = planted(
        random,
        COUNTS[k % 5],
        box(0, 0, *(A3 if k % 5 == 4 else A4 if k % 5 > 1 else A5)),
        step=(34, 44),
    )
    if card is None:
        return None
    card["openings"] = []
    for x, y, _ in card["lights"]:
        card["openings"].append(ring(shape_of(random, (x, y), random.uniform(12, 15))))
    keep_outs(random, card, random.randint(3, 7), 6, 14)
    return turned_away(random, card, "free") if sound(card) else None


def ringed(random: Random, k: int):
    """Cell and lights on one circle: convex position."""
    n = (8, 9, 10)[k % 3]
    radius = random.uniform(46, 52)
    start = random.uniform(0, 360)
    first, last = 38.0, 318.0

    def on(angle: float) -> tuple[float, float]:
        a = math.radians(start + angle)
        return (75 + radius * math.cos(a), 75 + radius * math.sin(a))

    way = [on(0.0), *(on(first + i * (last - first) / (n - 1)) for i in range(n))]
    return straight_card(random, (*way[0], start + 180.0), way, SQUARE)


def gridded(random: Random, k: int):
    """Lights on a line: equal distances everywhere, and the optimum is known."""
    n, pitch = 3 + k, random.choice([16.0, 18.0, 20.0, 22.0])
    way = [(30.0, 40.0), *((60.0 + pitch * i, 40.0) for i in range(n))]
    return straight_card(random, (30.0, 40.0, 90.0), way, (90.0 + pitch * n, 80.0))


def straight_card(random: Random, cell, way, size):
    lights, strips = rails(cell, way)
    card = {"base": [ring(box(0, 0, *size))], "cell": list(cell), "keep": [], "planted": strips}
    card |= {"lights": lights, "planted_lights": lights}
    return turned_away(random, card, "free") if sound(card) else None


def odd(random: Random, k: int):
    card = planted(random, (3, 5, 8)[k % 3], sheets(random))
    return turned_away(random, card, "free") if card else None


def large(random: Random, k: int):
    n = (30, 60)[k % 2]
    card = planted(random, n, box(0, 0, *(A4 if n == 30 else A3)), bend=50)
    if card is None:
        return None
    keep_outs(random, card, 6, 8, 25)
    return turned_away(random, card, "free")


def hundred(random: Random, k: int):
    """A way that goes to and fro over the sheet in eight rows, every light a little off its row."""
    way = [(28.0, 26.0)]
    for row in range(8):
        y, forth = 26.0 + 34.0 * row, row % 2 == 0
        places = [62.0 + 31.9 * column for column in range(11)]
        for x in places if forth else places[::-1]:
            off = 0.0 if x in {places[0], places[-1]} else 1.0
            way.append((x + off * random.uniform(-2, 2), y + off * random.uniform(-1.5, 1.5)))
        if row < 7:
            x = places[-1] + 13.5 if forth else places[0] - 13.5
            way += [(x, y + 8.9), (x, y + 25.1)]
    for _ in range(2):
        way.pop(random.randrange(3, 9))
    card = straight_card(random, (28.0, 26.0, 90.0), way, A3)
    if card is not None:
        keep_outs(random, card, 6, 6, 12)
    return card


def cup(at, heading: float, width: float, depth: float) -> list[Polygon]:
    """Three bars of 3 mm round a place: two walls and a bottom, open against the heading."""
    half, back = width / 2, depth / 2
    bars = [
        box(-back, -half - 3, back, -half),
        box(-back, half, back, half + 3),
        box(back, -half - 3, back + 3, half + 3),
    ]
    turned = [shapely.affinity.rotate(b, heading, origin=(0, 0)) for b in bars]
    return [shapely.affinity.translate(b, *at) for b in turned]


def pockets(random: Random, k: int):
    """The last light stands in a pocket; up to three more pockets stand empty."""
    card = planted(random, (3, 5, 8)[k % 3], box(0, 0, *(SQUARE if k % 3 < 2 else A5)))
    if card is None:
        return None
    base, free = Polygon(card["base"][0]).buffer(-2), taken(card)
    (px, py, _), (x, y, _) = card["lights"][-2:]
    heading = math.degrees(math.atan2(y - py, x - px))
    found = [cup((x, y), heading, random.uniform(20.5, 26), random.uniform(20, 26))]
    for _ in range(200):
        if len(found) == 4:
            break
        where = (random.uniform(20, 130), random.uniform(20, 130))
        bars = cup(where, random.uniform(0, 360), random.uniform(15, 26), random.uniform(14, 26))
        if not any(bar.intersects(free) or not base.contains(bar) for bar in bars):
            found.append(bars)
            free = shapely.union_all([free, *(bar.buffer(2) for bar in bars)])
    card["keep"] = [ring(bar) for bars in found for bar in bars]
    inside = all(base.contains(bar) for bars in found for bar in bars)
    return turned_away(random, card, "free") if inside and sound(card) else None


def pinned(random: Random, k: int):
    """Half of one planted strip stays, and so do the lights on it."""
    card = board(random, (5, 8)[k % 2], SQUARE, turn="locked")
    if card is None:
        return None
    sign, points = card["planted"][k % 2]
    card["pinned"] = [[sign, points[: 2 + len(points) // 2]]]
    return card


def corridor(width: float, seed: float = 0.0):
    """A slit of a width between two keep-outs; cell on one side, two lights on the other."""
    middle = 60.0 + seed
    keep = [
        [[65, 2], [85, 2], [85, round(middle - width / 2, 3)], [65, round(middle - width / 2, 3)]],
        [
            [65, round(middle + width / 2, 3)],
            [85, round(middle + width / 2, 3)],
            [85, 118],
            [65, 118],
        ],
    ]
    way = [(30.0, middle), (105.0, middle), (130.0, middle)]
    cell = (30.0, middle, 90.0)
    lights, strips = rails(cell, way)
    off = 2.5 + 1.0
    for sign, points in strips:
        y = middle + (off + 0.05 if sign == "positive" else -off - 0.05)
        points[1:1] = [[62.0, y], [88.0, y]]
    card = {
        "base": [ring(box(0, 0, 150, 120))],
        "cell": list(cell),
        "keep": keep,
        "planted": strips,
    }
    return card | {"lights": lights, "planted_lights": lights, "turn": "free", "width": width}


def ladder() -> None:
    made = []
    for k in range(13):
        width = 18.0 - 0.5 * k
        made.append({"name": f"corridor-{width:g}", **corridor(width), "feasible": width >= 14.0})
    write("corridor", made)


def infeasible() -> None:
    made = []
    for k in range(30):
        random = Random(f"infeasible-{k}")
        width = round(random.uniform(8.0, 13.6), 2)
        card = corridor(width, random.uniform(-8, 8))
        made.append(
            {
                "name": f"infeasible-{k + 1:03d}",
                **turned_away(random, card, "free"),
                "feasible": False,
            }
        )
    write("infeasible", made)


def derived() -> None:
    """The basic boards with lights that turn by 45 degrees only, or not at all."""
    for turn in ("45", "locked"):
        made = []
        for card in cards_module.cards_of("basic"):
            name = card["name"].replace("basic", f"basic-{turn}")
            made.append({**turned_away(Random(name), card, turn), "name": name})
        write(f"basic-{turn}", made)


def strewn() -> None:
    """Lights strewn at random with random locked angles.

    No way is planted here: the planted layout is one that routing found and the verifier accepts.
    How many boards were dropped for want of one is printed.
    """
    from routing.boards import random_board
    from underlit.routing import Choices, Layout, route

    made, dropped = [], 0
    for k in range(60):
        if len(made) == 50:
            break
        n = (5, 8, 12, 16, 20)[k % 5]
        task = random_board(n, 1000 + k, turn="locked")
        if task is None:
            continue
        cell = task.cells[0]
        x, y = cell.body.centroid.x, cell.body.centroid.y
        card = {
            "base": [ring(task.base)],
            "cell": [round(x, 3), round(y, 3), 0.0],
            "keep": [ring(o.area) for o in task.obstacles],
            "lights": [[round(li.at[0], 3), round(li.at[1], 3), li.angle] for li in task.lights],
            "turn": "locked",
        }
        found = route(task_of(card, Choices(effort=1)))
        if not isinstance(found, Layout):
            dropped += 1
            continue
        card["planted_lights"] = card["lights"]
        card["planted"] = [[s.polarity, [list(p) for p in s.points]] for s in found.strips]
        made.append({"name": f"strewn-locked-{len(made) + 1:03d}", **card})
    print("dropped", dropped)
    write("strewn-locked", made)


def write(name: str, made: list[dict]) -> None:
    text = "[\n" + ",\n".join(json.dumps(c, separators=(",", ":")) for c in made) + "\n]\n"
    (FOLDER / f"{name}.json").write_text(text, "utf-8")
    print(name, len(made), flush=True)


SETS = {
    "basic": (basic, 100),
    "dense": (dense, 40),
    "maze": (maze, 45),
    "openings": (opened, 50),
    "ring": (ringed, 10),
    "line": (gridded, 10),
    "odd": (odd, 10),
    "large": (large, 6),
    "hundred": (hundred, 3),
    "pockets": (pockets, 10),
    "pinned": (pinned, 20),
    "small": (lambda r, k: board(r, 3 + k % 2, A6, keeps=(0, 2)), 20),
}


def main() -> None:
    FOLDER.mkdir(exist_ok=True)
    wanted = sys.argv[1:] or [*SETS, "derived", "strewn", "corridor", "infeasible"]
    for name in wanted:
        if name == "corridor":
            ladder()
        elif name == "strewn":
            strewn()
        elif name == "derived":
            derived()
        elif name == "infeasible":
            infeasible()
        else:
            many(name, *SETS[name])


if __name__ == "__main__":
    main()
