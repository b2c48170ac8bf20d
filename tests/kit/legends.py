"""What a sheet of marks and its legend cover, from the widest of the usual fonts."""

from __future__ import annotations

from itertools import combinations
from math import hypot

import numpy as np
import shapely

from underlit.markup.findings import Sheet
from underlit.markup.primitives import Circle, Group, Item, Path, Region, Text
from underlit.markup.text import text_width


def is_entry(group: Group) -> bool:
    """Whether it is a finding with its mark in the legend."""
    return group.name.removeprefix("legend-").isdigit() and isinstance(
        group.items[-2], Path | Circle
    )


def words(group: Group) -> list[str]:
    """The lines of a group."""
    return [item.text for item in group.items if isinstance(item, Text)]


def everything(sheet: Sheet) -> str:
    """All lines of a sheet."""
    return " ".join(word for g in sheet.groups for word in words(g))


def box_of(item: Item) -> shapely.Polygon:
    """What an item may cover at most (text: a line of the widest usual font)."""
    if isinstance(item, Text):
        width = text_width(item.text, item.size, item.bold)
        x = item.at[0] - (width / 2.0 if item.anchor == "middle" else 0.0)
        y = item.at[1]
        return shapely.box(x, y - 0.80 * item.size, x + width, y + 0.24 * item.size)
    if isinstance(item, Circle):
        return shapely.Point(item.at).buffer(item.radius + item.width / 2.0)
    if isinstance(item, Region):
        return shapely.MultiPoint([p for ring in item.rings for p in ring]).convex_hull
    hull = shapely.MultiPoint(item.points).convex_hull
    return hull.buffer(item.width / 2.0)


def check_nothing_covers(sheet: Sheet) -> None:
    """Marks stand apart and off places and legend; the legend holds its words, none on another."""
    for a, b in combinations(sheet.marks, 2):
        assert hypot(a.centre[0] - b.centre[0], a.centre[1] - b.centre[1]) > a.reach + b.reach
    for a in sheet.marks:
        for b in sheet.marks:
            away = hypot(a.centre[0] - b.place[0], a.centre[1] - b.place[1])
            assert away > a.reach + 1.0, "a mark hides a fault"
    panel = shapely.box(*sheet.panel)
    for g in sheet.groups:
        for item in g.items:
            if g.name.startswith(("mark", "place", "narrow", "foot")):
                assert not panel.intersects(box_of(item))
            elif g.name != "legend":
                assert panel.contains(box_of(item))
    blocks = [
        [item for item in g.items if isinstance(item, Text)]
        for g in sheet.groups
        if g.name.startswith("legend")
    ]
    shapes = [box_of(g.items[-3]) for g in sheet.groups if is_entry(g)]
    figures = {id(g.items[-1]) for g in sheet.groups if is_entry(g)}
    lines = [box_of(t) for block in blocks for t in block if id(t) not in figures]
    covering = [*lines, *shapes]
    tree = shapely.STRtree(covering)
    a, b = tree.query(covering, predicate="intersects")
    assert np.array_equal(a, b), "texts or marks of the legend cover each other"
