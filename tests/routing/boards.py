"""Boards to route, and a layout written as a drawing for Validate."""

from __future__ import annotations

import math
from random import Random

from shapely.affinity import rotate
from shapely.geometry import Point, Polygon, box

from underlit.routing import Cell, Choices, Figures, Layout, Light, Limits, Obstacle, Task

PLUS, MINUS = box(2.5, -1.5, 5.5, 1.5), box(-5.5, -1.5, -2.5, 1.5)
BODY = box(-6, -2.5, 6, 2.5)

#: Aims set to the limits.
BARE = Limits(aim_gap=2.0, aim_edge=3.0, aim_pad=0.5, aim_joint=0.4)


def light(name: str, at, angle: float = 0.0, turn: str = "free") -> Light:
    return Light(name, at, PLUS, MINUS, BODY, angle, turn)


def holder(at, angle: float = 0.0, foot: float = 14.0, radius: float = 10.5) -> Cell:
    """A cr2032 holder as in the drawings: feet 6 x 6, body between them."""
    x, y = at
    feet = [
        rotate(box(x + s * foot - 3, y - 3, x + s * foot + 3, y + 3), angle, origin=at)
        for s in (1, -1)
    ]
    return Cell("B1", feet[0], feet[1], Point(at).buffer(radius))


def random_board(
    n: int,
    seed: int,
    size=(150.0, 150.0),
    spacing: float = 16.0,
    turn: str = "free",
    limits: Limits | None = None,
    choices: Choices | None = None,
) -> Task | None:
    """Lights, a holder and some keep-outs strewn over a rectangle; None where they do not fit."""
    random = Random(f"{n}-{seed}")
    for _ in range(200):
        keeps = []
        for _ in range(random.randint(2, 5)):
            w, h = random.uniform(8, 30), random.uniform(8, 30)
            x, y = random.uniform(12, size[0] - 12 - w), random.uniform(12, size[1] - 12 - h)
            keeps.append(box(x, y, x + w, y + h))
        at = (random.uniform(25, size[0] - 25), random.uniform(18, size[1] - 18))
        room = box(at[0] - 19, at[1] - 13, at[0] + 19, at[1] + 13)
        if any(k.distance(room) < 8 for k in keeps):
            continue
        lights: list[tuple[float, float]] = []
        for _ in range(2000):
            if len(lights) == n:
                break
            p = (random.uniform(13, size[0] - 13), random.uniform(13, size[1] - 13))
            far = all(math.dist(p, q) >= spacing for q in lights)
            if (
                far
                and room.distance(Point(p)) >= 9
                and all(k.distance(Point(p)) >= 10 for k in keeps)
            ):
                lights.append(p)
        if len(lights) == n:
            break
    else:
        return None
    made = tuple(
        light(f"L{i}", p, round(random.uniform(0, 360), 1), turn) for i, p in enumerate(lights)
    )
    return Task(
        box(0, 0, *size),
        made,
        (holder(at),),
        tuple(Obstacle(f"keep-out {i + 1}", k, 1.0) for i, k in enumerate(keeps)),
        limits=limits or Limits(),
        choices=choices or Choices(effort=1),
    )


def drawing(task: Task, layout: Layout) -> str:
    """The card as SVG: base, parts and strips (no panel), as the tool would write it."""

    def path(area: Polygon) -> str:
        rings = [area.exterior, *area.interiors]
        return " ".join(
            "M" + " L".join(f"{x:.5f},{y:.5f}" for x, y in list(r.coords)[:-1]) + " Z"
            for r in rings
        )

    _, _, x2, y2 = task.base.bounds
    out = [
        '<svg xmlns="http://www.w3.org/2000/svg" xmlns:underlit="urn:underlit:card:1" '
        f'width="{x2 + 5}mm" height="{y2 + 5}mm" viewBox="0 0 {x2 + 5} {y2 + 5}">'
    ]
    out.append(f'<g underlit:role="base"><path id="base" d="{path(task.base)}"/></g>')
    out.append(
        f'<g underlit:role="die-cut"><path id="panel" underlit:part="panel" d="{path(task.base)}"/>'
    )
    for k, opening in enumerate(
        [*[o.area for o in task.obstacles], *[o.area for o in task.openings]]
    ):
        out.append(f'<path id="o{k}" d="{path(opening)}"/>')
    out.append('</g><g underlit:role="lights">')
    for one in task.lights:
        x, y = one.at
        out.append(
            f'<g id="{one.id}" underlit:part="light" underlit:type="warm-white" underlit:shows="edge" '  # noqa: E501
            f'transform="translate({x} {y}) rotate({layout.angles[one.id]})">'
        )
        for name, area in (
            ("body", one.body),
            ("positive-pad", one.positive),
            ("negative-pad", one.negative),
        ):
            out.append(f'<path underlit:feature="{name}" d="{path(area)}"/>')
        out.append('<circle underlit:feature="lens" r="1.5"/></g>')
    out.append('</g><g underlit:role="power">')
    for cell in task.cells:
        out.append(
            f'<g id="{cell.id}" underlit:part="cell" underlit:type="cr2032" underlit:closes="press">'  # noqa: E501
        )
        for name, area in (
            ("body", cell.body),
            ("positive-pad", cell.positive),
            ("negative-pad", cell.negative),
        ):
            out.append(f'<path underlit:feature="{name}" d="{path(area)}"/>')
        out.append("</g>")
    for part in task.parts:
        out.append(f'<g id="{part.id}" underlit:part="switch" underlit:closes="slide">')
        for name, area in (
            ("body", part.body),
            ("contact-1", part.first),
            ("contact-2", part.second),
        ):
            out.append(f'<path underlit:feature="{name}" d="{path(area)}"/>')
        out.append("</g>")
    out.append('</g><g underlit:role="tape">')
    for pin in task.pinned:
        out.append(f'<path id="{pin.id}" d="{path(pin.area)}" underlit:polarity="{pin.polarity}"/>')
        if pin.paper is not None:
            out.append(f'<path id="{pin.id}-paper" underlit:part="patch" d="{path(pin.paper)}"/>')
    for k, strip in enumerate(layout.strips):
        out += [
            _paper(path, patch, n) for n, patch in enumerate(layout.patches) if patch.before == k
        ]
        d = "M" + " L".join(f"{x},{y}" for x, y in strip.points)
        joint = f' underlit:joint="{strip.joint}"' if strip.joint else ""
        out.append(
            f'<path id="s{k}" d="{d}" underlit:polarity="{strip.polarity}"{joint} style="fill:none;'
            f'stroke:#000;stroke-width:{strip.width};stroke-linecap:butt;stroke-linejoin:round"/>'
        )
    return "".join([*out, "</g></svg>"])


def _paper(path, patch, number: int) -> str:
    return f'<path id="paper{number}" underlit:part="patch" d="{path(Polygon(patch.corners))}"/>'


def unlaid(task: Task) -> Layout:
    """No strips at all, every light as it is: what the maker has before step 4."""
    angles = {light.id: light.angle for light in task.lights}
    return Layout((), angles, Figures(0.0, 0, 0, 0, {}, 0.0))
