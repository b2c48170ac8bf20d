"""Rectangles on as few sheets as they need, by rectpack; several of its ways are tried.

Lengths are whole micrometres, since the library wants exact numbers.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

#: Micrometres per mm.
FINE = 1000

#: Up to so many rectangles every way of packing is tried; beyond, the quick ones, and of those
#: the slower only up to the second number.
MANY, VERY_MANY = 120, 1000

#: Sheets that are full to this share are good enough where there are many rectangles; of a roll
#: so much more may be used than the areas ask for.
FULL, DEEPER = 0.9, 1.03

#: Width and height (micrometres).
Size = tuple[int, int]

#: Bins of (number, x, y, turned by a quarter).
Bins = list[list[tuple[int, int, int, bool]]]


def fine(length: float) -> int:
    """Millimetres as whole micrometres, never less."""
    return math.ceil(round(length * FINE, 3))


def fine_room(length: float) -> int:
    """Millimetres as whole micrometres, never more."""
    return math.floor(round(length * FINE, 3))


def packed(rectangles: Sequence[Size], room: Size, roll: bool) -> Bins:
    """The fewest bins of all ways tried, then the least in the last, then its least depth.

    Where there are many rectangles the first way counts that needs no more bins than their areas
    ask for and fills them (`roll`: nor more depth).
    """
    best: Bins = []
    for bins in _tried(rectangles, room):
        if not best or _need(bins, rectangles) < _need(best, rectangles):
            best = bins
        if len(rectangles) > MANY and _good(best, rectangles, room, roll):
            break
    return best


def _need(bins: Bins, rectangles: Sequence[Size]) -> tuple[int, int, int]:
    last = bins[-1]
    return (len(bins), _area([rectangles[i] for i, *_ in last]), _depth(last, rectangles))


def _area(rectangles: Sequence[Size]) -> int:
    return sum(width * height for width, height in rectangles)


def _good(bins: Bins, rectangles: Sequence[Size], room: Size, roll: bool) -> bool:
    """Whether no other way could do much better."""
    areas = [_area([rectangles[i] for i, *_ in members]) for members in bins]
    whole = room[0] * room[1]
    if len(bins) > math.ceil(sum(areas) / whole) or min([whole, *areas[:-1]]) < FULL * whole:
        return False
    deep = (len(bins) - 1) * room[1] + _depth(bins[-1], rectangles)
    return not roll or deep <= DEEPER * sum(areas) / room[0]


def _tried(rectangles: Sequence[Size], room: Size) -> Iterator[Bins]:
    """One way of packing after the other, the quickest first."""
    yield _shelves(rectangles, room)
    yield _across(_shelves(rectangles, room[::-1]))
    for way in _ways(len(rectangles)):
        yield _by_library(rectangles, room, way)
        yield _across(_by_library(rectangles, room[::-1], way))


def _ways(count: int) -> list[tuple[object, object]]:
    import rectpack  # late: only packing needs it

    quick = [(rectpack.GuillotineBssfSas, rectpack.SORT_LSIDE)]
    if count > VERY_MANY:
        return quick
    quick.append((rectpack.MaxRectsBl, rectpack.SORT_LSIDE))
    if count > MANY:
        return quick
    return quick + [
        (algorithm, sort)
        for algorithm in (rectpack.MaxRectsBl, rectpack.MaxRectsBssf, rectpack.SkylineBlWm)
        for sort in (rectpack.SORT_AREA, rectpack.SORT_SSIDE, rectpack.SORT_LSIDE)
    ]


def _by_library(rectangles: Sequence[Size], room: Size, way: tuple[object, object]) -> Bins:
    import rectpack  # late: only packing needs it

    algorithm, sort = way
    packer = rectpack.newPacker(
        mode=rectpack.PackingMode.Offline,
        bin_algo=rectpack.PackingBin.BFF,
        pack_algo=algorithm,
        sort_algo=sort,
        rotation=True,
    )
    for number, (width, height) in enumerate(rectangles):
        packer.add_rect(width, height, rid=number)
    packer.add_bin(*room, count=len(rectangles))
    packer.pack()
    bins: dict[int, list[tuple[int, int, int, bool]]] = {}
    for k, x, y, width, _, number in packer.rect_list():
        bins.setdefault(k, []).append((number, x, y, width != rectangles[number][0]))
    return [sorted(bins[k]) for k in sorted(bins)]


def _across(bins: Bins) -> Bins:
    """What was packed on the sheet lying, on the sheet standing: x and y swapped."""
    return [[(i, y, x, not turned) for i, x, y, turned in members] for members in bins]


def _shelves(rectangles: Sequence[Size], room: Size) -> Bins:
    """Rows from top to bottom, lying pieces, the deepest first: what a hand would do."""
    lying = [max(r) <= room[0] for r in rectangles]
    flat = [
        (max(r), min(r)) if lies else (min(r), max(r))
        for r, lies in zip(rectangles, lying, strict=True)
    ]
    bins: Bins = []
    shelves: list[list[int]] = []  # bin, top, height, used width
    tops: list[int] = []
    for i in sorted(range(len(flat)), key=lambda i: (-flat[i][1], -flat[i][0], i)):
        width, height = flat[i]
        shelf = next((s for s in shelves if s[3] + width <= room[0]), None)
        if shelf is None:
            k = next((k for k, top in enumerate(tops) if top + height <= room[1]), None)
            if k is None:
                k = len(tops)
                tops.append(0)
                bins.append([])
            shelf = [k, tops[k], height, 0]
            shelves.append(shelf)
            tops[k] += height
        bins[shelf[0]].append((i, shelf[3], shelf[1], width != rectangles[i][0]))
        shelf[3] += width
    return bins


def _depth(members: Sequence[tuple[int, int, int, bool]], rectangles: Sequence[Size]) -> int:
    """How far down a sheet is used."""
    return max(y + rectangles[i][0 if turned else 1] for i, _, y, turned in members)
