"""Large good cards: rows of lights between two rails, as many as wanted."""

from __future__ import annotations

import json
import math

#: A supply that feeds a thousand lights: no coin battery does, and every light would be faint.
SETTINGS = {
    "tape": {"ohms-per-square": 1e-5, "joint-ohm-mm2": 1e-3, "joint-aged-ohm-mm2": 1e-3},
    "lights": {"warm-white": {"resistor-ohm": 1000.0}},
    "cells": {
        "cr2032": {
            "volt": 3.3, "pulse-ohm": 0.001, "sustained-ohm": 0.001, "aged-ohm": 0.001,
            "continuous-ma": 1000.0, "capacity-mah": 10000.0,
        }
    },
}  # fmt: skip

TILE = 30.0
WIDTH = 5.0


def tiled_card(lights: int) -> str:
    """SVG text of a card with `lights` lights, three strips and ten outline points for each.

    Rows of tiles of 30 mm; in each tile a light stands upright between a plus rail above
    and a minus rail below, with a rung up to the plus rail. One battery feeds all.
    """
    columns = max(1, round(math.sqrt(lights * 1.6)))
    rows = math.ceil(lights / columns)
    width, height = columns * TILE, rows * TILE
    tiles = [(i % columns, i // columns) for i in range(lights)]
    parts = [
        _head(width, height),
        _layer("Die cut", "die-cut", [_frame("panel", width, height), *_openings(tiles)]),
        _layer("Base", "base", [_frame("base", width, height)]),
        _layer("Tape", "tape", [*_trunks(width, height), *_strips(tiles, columns, lights, width)]),
        _layer("Lights", "lights", [_light(c, r) for c, r in tiles]),
        _layer("Power", "power", [_cell(height)]),
        "</svg>\n",
    ]
    return "\n".join(parts)


def _head(width: float, height: float) -> str:
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" '
        'xmlns:inkscape="http://www.inkscape.org/namespaces/inkscape" '
        'xmlns:underlit="urn:underlit:card:1" '
        f"underlit:settings='{json.dumps(SETTINGS)}' "
        f'width="{width + 60:g}mm" height="{height + 80:g}mm" '
        f'viewBox="-30 -20 {width + 60:g} {height + 80:g}">'
    )


def _layer(label: str, role: str, objects: list[str]) -> str:
    return (
        f'<g id="layer-{role}" inkscape:groupmode="layer" inkscape:label="{label}">'
        + "\n".join(objects)
        + "</g>"
    )


def _frame(name: str, width: float, height: float) -> str:
    return (
        f'<rect id="{name}" x="-20" y="-10" width="{width + 40:g}" height="{height + 60:g}" '
        'style="fill:none;stroke:#888"/>'
    )


def _openings(tiles: list[tuple[int, int]]) -> list[str]:
    ring = [(6 * math.cos(i * math.pi / 5), 6 * math.sin(i * math.pi / 5)) for i in range(10)]
    found = []
    for n, (c, r) in enumerate(tiles, 1):
        x, y = c * TILE + 15, r * TILE + 15
        points = " ".join(f"{x + dx:.3f},{y + dy:.3f}" for dx, dy in ring)
        found.append(f'<path id="window-{n}" d="M {points} Z"/>')
    return found


def _line(name: str, sign: str, points: str) -> str:
    colour = "#003f66" if sign == "positive" else "#e69f00"
    return (
        f'<path id="{name}" d="M {points}" underlit:polarity="{sign}" '
        f'style="fill:none;stroke:{colour};stroke-width:{WIDTH:g}"/>'
    )


def _trunks(width: float, height: float) -> list[str]:
    low, right = height + 25, width + 10
    return [
        _line("plus-trunk", "positive", f"-10,0 -10,{low:g}"),
        _line("minus-trunk", "negative", f"{right:g},10 {right:g},{low + 13:g} 16,{low + 13:g}"),
    ]


def _strips(tiles: list[tuple[int, int]], columns: int, lights: int, width: float) -> list[str]:
    found = []
    for n, (c, r) in enumerate(tiles, 1):
        x, y = c * TILE, r * TILE
        last = c == columns - 1 or n == lights
        plus_start = -12.5 if c == 0 else x - 2.5
        minus_end = width + 12.5 if last else x + TILE + 2.5
        found += [
            _line(f"plus-{n}", "positive", f"{plus_start:g},{y + 5:g} {x + TILE - 4:g},{y + 5:g}")
            if last
            else _line(
                f"plus-{n}", "positive", f"{plus_start:g},{y + 5:g} {x + TILE + 2.5:g},{y + 5:g}"
            ),
            _line(f"rung-{n}", "positive", f"{x + 15:g},{y + 2.5:g} {x + 15:g},{y + 12.5:g}"),
            _line(f"minus-{n}", "negative", f"{x + 4:g},{y + 19:g} {minus_end:g},{y + 19:g}")
            if c == 0
            else _line(
                f"minus-{n}", "negative", f"{x - 2.5:g},{y + 19:g} {minus_end:g},{y + 19:g}"
            ),
        ]
    return found


def _light(column: int, row: int) -> str:
    x, y = column * TILE + 15, row * TILE + 15
    return (
        f'<g id="light-{column}-{row}" underlit:part="light" underlit:type="warm-white" '
        f'transform="translate({x:g},{y:g}) rotate(-90)">'
        '<rect underlit:feature="body" x="-6" y="-2.5" width="12" height="5"/>'
        '<rect underlit:feature="positive-pad" x="2.5" y="-1.5" width="3" height="3"/>'
        '<rect underlit:feature="negative-pad" x="-5.5" y="-1.5" width="3" height="3"/>'
        '<circle underlit:feature="lens" r="1.5"/></g>'
    )


def _cell(height: float) -> str:
    y = height + 30
    return (
        f'<g id="cell" underlit:part="cell" underlit:type="cr2032" underlit:closes="press" '
        f'transform="translate(5,{y:g})">'
        '<circle underlit:feature="body" r="11"/>'
        '<rect underlit:feature="positive-pad" x="-18" y="-10" width="6" height="6"/>'
        '<rect underlit:feature="negative-pad" x="12" y="5" width="6" height="6"/></g>'
    )
