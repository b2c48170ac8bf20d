"""Lace dies: hundreds of openings, as one path, as objects, and as clones."""

from __future__ import annotations

import math

from outlines.designs import box, disc, plate
from outlines.writing import CUT, Entry, data, document, layer, num, path


def doily() -> Entry:
    """A round doily of 12 rings of holes, each ring with 6 more than the one before."""
    cx = cy = 80.0
    holes = [disc(cx, cy, 2.2, 12)]
    for ring in range(1, 13):
        for k in range(6 * ring):
            a = 2 * math.pi * k / (6 * ring)
            holes.append(
                disc(cx + 5.6 * ring * math.cos(a), cy + 5.6 * ring * math.sin(a), 1.7, 10)
            )
    d = data([disc(cx, cy, 74, 120), *holes], 2)
    svg = document(layer(path(d, "doily", "fill:#000;fill-rule:evenodd")), (160, 160))
    numbers = {"panels": 1, "openings": 1 + sum(6 * k for k in range(1, 13)), "loose": 0}
    return Entry("lace-doily", svg, numbers, "a middle and twelve rings of six more each")


def border() -> Entry:
    """A lace border of 700 slots round a plain window, slots as short arcs in one path."""
    slots = []
    for k in range(700):
        row, column = divmod(k, 35)
        x, y = 6 + 5.4 * column, 6 + 5.0 * row
        slots.append(f"M{num(x)} {num(y)}h3a.8.8 0 010 1.6h-3a.8.8 0 010-1.6z")
    frame = data([plate(200, 160, 5)]) + data([box(20, 110, 160, 40)], reverse=True)
    svg = document(layer(path(frame + "".join(slots), "lace", CUT)), (210, 170))
    numbers = {"panels": 1, "openings": 701, "loose": 0}
    return Entry("lace-border", svg, numbers, "700 slots and a window")


def clones() -> Entry:
    """A lace of 600 clones of one hole."""
    hole = f'<path id="hole" d="{data([disc(0, 0, 2, 16)])}" transform="translate(8,8)"/>'
    uses = "".join(
        f'<use href="#hole" x="{num(6.0 * (k % 30))}" y="{num(6.0 * (k // 30))}"/>'
        for k in range(1, 600)
    )
    panel = path(data([plate(192, 130, 4)]), "panel")
    numbers = {"panels": 1, "openings": 600, "loose": 0}
    svg = document(layer(panel + hole + uses), (195, 135))
    return Entry("lace-clones", svg, numbers, "a hole and 599 clones of it")


def fringe() -> Entry:
    """A lace edge: 60 half holes cut into the panel's rim, 180 whole ones inside."""
    areas = [box(5, 5, 250, 120)]
    areas += [disc(8 + 4.1 * k, 5, 1.6, 16) for k in range(60)]
    areas += [disc(8 + 4.1 * (k % 60), 12 + 6 * (k // 60), 1.5, 12) for k in range(180)]
    body = "\n".join(path(data([a], 2), f"c{n}") for n, a in enumerate(areas))
    numbers = {"panels": 1, "openings": 180, "loose": 0, "notches": 60}
    return Entry("lace-fringe", document(layer(body), (260, 130)), numbers, "60 notches, 180 holes")


def letters_of_dust() -> Entry:
    """2,000 specks and 40 windows."""
    windows = [disc(15 + 20 * (k % 8), 15 + 20 * (k // 8), 6, 20) for k in range(40)]
    dots = "".join(
        f"M{num(8 + 2.0 * (k % 80))} {num(110 + 1.6 * (k // 80))}h.5v.5h-.5z" for k in range(2000)
    )
    body = path(data([box(2, 2, 180, 160), *windows]), "die") + path(dots, "dust", "fill:#000")
    numbers = {"panels": 1, "openings": 40, "loose": 0, "specks": 2000}
    return Entry(
        "lace-dust", document(layer(body), (190, 170)), numbers, "40 windows, 2,000 specks"
    )


def entries() -> list[Entry]:
    """All lace."""
    return [doily(), border(), clones(), fringe(), letters_of_dust()]
