"""Are necks told truly? `python tests/benchmarks/routing/necks.py [--first N]`.

Seeded boards without room: a slit between two windows, between a window and the edge, between a
strip of the maker and the edge, a pocket with a narrow mouth, two lights too near each other. Every
neck that is named is made wider here, by own means: by the stated amount the board must become
routable, by half of it it must not. Prints one line per board and the share that holds.
"""

from __future__ import annotations

import argparse
import dataclasses
import math
import sys
from pathlib import Path
from random import Random

import shapely
from shapely.affinity import translate
from shapely.geometry import LineString, box

ROOT = Path(__file__).resolve().parents[3]
sys.path[:0] = [str(ROOT / "extension"), str(ROOT / "tests")]

from routing.boards import BARE, holder, light  # noqa: E402
from underlit.routing import (  # noqa: E402
    Choices,
    Layout,
    NoRoom,
    Obstacle,
    Pinned,
    Refusal,
    Task,
    layouts,
)

ONE = Choices(effort=1)
SHEET = box(0, 0, 150, 110)


def board(random: Random, things, lights, **more) -> Task:
    cell = holder((28.0, 55.0), 90.0, radius=8.0)
    made = [light(f"L{i + 1}", p, random.uniform(0, 360)) for i, p in enumerate(lights)]
    made = [dataclasses.replace(li, **more.pop(li.id, {})) for li in made]
    return Task(SHEET, tuple(made), (cell,), tuple(things), limits=BARE, choices=ONE, **more)


def behind(random: Random, n: int) -> list[tuple[float, float]]:
    """Lights to the right of x = 95."""
    return [(random.uniform(106, 134), 20.0 + 35.0 * i + random.uniform(0, 14)) for i in range(n)]


def slit(random: Random) -> Task:
    width, y = random.uniform(7.5, 13.3), random.uniform(35, 75)
    left, right = random.uniform(60, 70), random.uniform(76, 90)
    things = (
        Obstacle("window 1", box(left, 1, right, y - width / 2), 1.0),
        Obstacle("window 2", box(left, y + width / 2, right, 109), 1.0),
    )
    return board(random, things, behind(random, random.randint(1, 2)))


def by_the_edge(random: Random) -> Task:
    """2 x 5 + 2 + 1 + 3 = 16 mm between window and edge would do."""
    width = random.uniform(9.0, 15.2)
    left, right = random.uniform(60, 70), random.uniform(76, 90)
    things = (Obstacle("window 1", box(left, width, right, 109), 1.0),)
    return board(random, things, behind(random, random.randint(1, 2)))


def past_a_strip(random: Random) -> Task:
    """A plus strip of the maker leaves the minus side 5 + 2 + 3 = 10 mm at one end."""
    room = random.uniform(5.5, 9.2)
    x = random.uniform(60, 80)
    line = LineString([(x, 3.5), (x, 110 - room)])
    area = line.buffer(2.5, cap_style="flat")
    pin = Pinned("fence", area, 5.0, line, "positive")
    return board(random, (), behind(random, 2), pinned=(pin,))


def pocket(random: Random) -> Task:
    """A light between three walls, the mouth too narrow."""
    width = random.uniform(7.5, 13.3)
    x, y = 118.0, random.uniform(40, 70)
    things = (
        Obstacle("window 1", box(88, y - 22, 94, y - width / 2), 1.0),
        Obstacle("window 2", box(88, y + width / 2, 94, y + 22), 1.0),
        Obstacle("window 3", box(88, y - 28, 142, y - 22), 1.0),
        Obstacle("window 4", box(88, y + 22, 142, y + 28), 1.0),
        Obstacle("window 5", box(136, y - 22, 142, y + 22), 1.0),
    )
    return board(random, things, [(x, y)])


def too_near(random: Random) -> Task:
    """A locked light with its plus foot towards a window: tape cannot land."""
    gap = random.uniform(-0.8, 1.2)
    x, y = 80.0, random.uniform(40, 70)
    things = (Obstacle("window 1", box(x + 5.5 + gap - 2.0, y - 14, x + 26, y + 14), 1.0),)
    task = board(random, things, [(x, y)])
    locked = dataclasses.replace(task.lights[0], angle=0.0, turn="locked")
    return dataclasses.replace(task, lights=(locked,))


KINDS = {
    "slit": slit,
    "by the edge": by_the_edge,
    "past a strip": past_a_strip,
    "pocket": pocket,
    "too near": too_near,
}


def routable(task: Task) -> bool:
    return isinstance(next(iter(layouts(task))), Layout)


def opened(task: Task, neck: NoRoom, by: float) -> Task:
    """The board with the named neck wider: half by each thing that can give way."""
    things = {o.name: o.area for o in task.obstacles} | {p.id: p.area for p in task.pinned}
    things["the edge"] = task.base.boundary
    things |= {li.id: shapely.Point(neck.at) for li in task.lights}
    assert neck.between is not None
    first, second = (things[name] for name in neck.between)
    inside = -1.0 if first.intersects(second) else 1.0  # a foot under a window
    if inside < 0.0:
        first, second = (a.boundary if a.area else a for a in (first, second))
    near = shapely.Point(neck.at).buffer(30.0)
    line = shapely.shortest_line(first.intersection(near), second.intersection(near))
    (ax, ay), (bx, by_) = line.coords[0], line.coords[-1]
    far = inside * math.dist((ax, ay), (bx, by_))
    ux, uy = (ax - bx) / far, (ay - by_) / far
    fixed = {"the edge", *(li.id for li in task.lights)}
    movable = [name for name in neck.between if name not in fixed]
    share = by / len(movable)
    for name in movable:
        sign = 1.0 if name == neck.between[0] else -1.0
        task = _shorter(task, name, (sign * share * ux, sign * share * uy))
    return task


def _shorter(task: Task, name: str, by: tuple[float, float]) -> Task:
    """A window or strip without what its move would leave."""
    obstacles = [
        dataclasses.replace(o, area=o.area.intersection(translate(o.area, *by)))
        if o.name == name
        else o
        for o in task.obstacles
    ]
    pinned = []
    for pin in task.pinned:
        if pin.id == name:
            area = pin.area.intersection(translate(pin.area, *by))
            line = None if pin.line is None else pin.line.intersection(area)
            pinned.append(dataclasses.replace(pin, area=area, line=line))
        else:
            pinned.append(pin)
    return dataclasses.replace(task, obstacles=tuple(obstacles), pinned=tuple(pinned))


def told_truly(task: Task) -> tuple[bool, str]:
    """Whether the first neck of a board holds, and in words what was found."""
    refusal = next(iter(layouts(task)))
    if not isinstance(refusal, Refusal):
        return True, "is routable"
    neck = next((pad for pad in refusal.pads if pad.between is not None), None)
    if neck is None:
        return False, f"no neck told, {len(refusal.pads)} pads"
    missing = neck.needed - neck.available
    enough, half = (routable(opened(task, neck, part * missing)) for part in (1.0, 0.5))
    cures = ", ".join(f"{c.kind} {c.amount:.1f}" for c in neck.cures)
    words = f"{neck.between} has {neck.available:.2f} needs {neck.needed:.2f}"
    return enough and not half, f"{words}: enough {enough}, half {half}; {cures}"


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--first", type=int, default=10, help="so many boards of each kind")
    parser.add_argument("kinds", nargs="*")
    options = parser.parse_args()
    good = total = 0
    for name, make in KINDS.items():
        if options.kinds and name not in options.kinds:
            continue
        for seed in range(options.first):
            holds, words = told_truly(make(Random(f"{name}-{seed}")))
            total += words != "is routable"
            good += holds and words != "is routable"
            print(f"{name} {seed}: {'holds' if holds else 'FAILS'} {words}", flush=True)
    print(f"{good} of {total} hold")
    return 0 if good >= 0.9 * total else 1


if __name__ == "__main__":
    sys.exit(main())
