"""Harbour Lane, the street: twelve lit windows over two storeys, fed from opposite ends."""

from __future__ import annotations

from samples.parts import holder, light_symbol, sign_path
from samples.pen import FOAM, INK, PAPER, VELLUM, Sheet
from samples.shapes import arch, box, line, placed, plate

DESC = (
    "Card of 210 x 100 mm with twelve lights. The two rails run along the upper windows, turn at "
    "the right and come back along the lower windows. Plus enters above, minus below, so that no "
    "window lies far from both. The battery sits behind the harbour clock; press it. All "
    "windows are part of the one outline of the house fronts."
)
PLUS_RAIL = [(20.0, 31.0), (199.0, 31.0), (199.0, 69.0), (46.0, 69.0)]
MINUS_RAIL = [(20.0, 61.0), (191.0, 61.0), (191.0, 39.0), (46.0, 39.0)]
HOLDER = (24.0, 46.0)
COLUMNS = [52.5, 77.5, 102.5, 127.5, 152.5, 177.5]
UPPER, LOWER = 35.0, 65.0

#: House fronts from left to right: tint, outline of the roof from left to right.
HOUSES = [
    ("#86a6de", "M 0 100 L 0 21 L 20 5 L 40 21 L 40 100 Z"),
    (
        "#c98f8a",
        "M 40 100 L 40 19 L 44 19 L 44 14 L 48 14 L 48 9 L 57 9 L 57 14 L 61 14 L 61 19 L 65 19 "
        "L 65 100 Z",
    ),
    ("#8fb59a", "M 65 100 L 65 21 L 77.5 5 L 82 10.76 L 82 4 L 86 4 L 86 15.88 L 90 21 L 90 100 Z"),
    (
        "#d8b26a",
        "M 90 100 L 90 20 C 95 20 95.6 13 98 11 C 99 5 106 5 107 11 C 109.4 13 110 20 115 20 "
        "L 115 100 Z",
    ),
    ("#86a6de", "M 115 100 L 115 21 L 119 10 L 136 10 L 140 21 L 140 100 Z"),
    ("#b79cc4", "M 140 100 L 140 21 L 152.5 4 L 165 21 L 165 100 Z"),
    (
        "#8fb59a",
        "M 165 100 L 165 19 L 169 19 L 169 13 L 173 13 L 173 8 L 182 8 L 182 13 L 186 13 L 186 19 "
        "L 190 19 L 190 100 Z",
    ),
    ("#c98f8a", "M 190 100 L 190 21 C 190 12 197 12 200 0 C 203 12 210 12 210 21 L 210 100 Z"),
]
ROOFLINE = (
    "M 0 100 L 0 21 L 20 5 L 40 21 L 40 19 L 44 19 L 44 14 L 48 14 L 48 9 L 57 9 L 57 14 L 61 14 "
    "L 61 19 L 65 19 L 65 21 L 77.5 5 L 82 10.76 L 82 4 L 86 4 L 86 15.88 L 90 21 L 90 20 "
    "C 95 20 95.6 13 98 11 C 99 5 106 5 107 11 C 109.4 13 110 20 115 20 L 115 21 L 119 10 L 136 10 "
    "L 140 21 L 152.5 4 L 165 21 L 165 19 L 169 19 L 169 13 L 173 13 L 173 8 L 182 8 L 182 13 "
    "L 186 13 L 186 19 L 190 19 L 190 21 C 190 12 197 12 200 0 C 203 12 210 12 210 21 L 210 100 Z"
)
WINDOWS = [
    arch(8.8, 13),
    box(8.6, 12.4),
    arch(8.4, 13.4),
    box(9, 12),
    arch(8.8, 12.6),
    box(8.4, 13),
]

CSS = [
    ".plus { fill: none; stroke: #003f66; stroke-width: 5; stroke-linejoin: miter }",
    ".minus { fill: none; stroke: #e69f00; stroke-width: 5; stroke-linejoin: miter }",
    ".cut { fill: none; stroke: #2f3c57; stroke-width: 0.35; stroke-linejoin: round }",
    ".front { fill-opacity: 0.4; fill-rule: evenodd; stroke: none }",
    ".ink { fill: none; stroke: #2f3c57; stroke-width: 0.35; stroke-linecap: round }",
    ".iron { fill: #2f3c57; fill-opacity: 0.45; stroke: #2f3c57; stroke-width: 0.35 }",
]


def draw() -> str:
    """The whole file."""
    s = Sheet("Harbour Lane: street", DESC, (210, 100))
    s.css = CSS
    s.defs = [light_symbol(s, "stick-on-light")]
    s.layer("base", [s.rect((2, 23, 206, 75.5), PAPER, rx=1.5, id="back-sheet")])
    strips = [
        s.path(line(PLUS_RAIL), id="plus-rail", class_="plus", underlit__polarity="positive"),
        s.path(line(MINUS_RAIL), id="minus-rail", class_="minus", underlit__polarity="negative"),
    ]
    s.layer("tape", strips)
    s.layer("power", [holder(s, s.move(*HOLDER, -90), closes="press")])
    lights = [(x, UPPER, -90.0) for x in COLUMNS] + [(x, LOWER, 90.0) for x in COLUMNS]
    s.layer(
        "lights",
        [s.use("stick-on-light", f"light-{i + 1}", s.move(*p)) for i, p in enumerate(lights)],
    )
    foam = [plate(5, 88, 200, 6, 0.5), plate(46, 47.5, 138, 5, 0.5), plate(4, 65, 30, 5, 0.5)]
    s.layer("foam", [s.path(d, FOAM, id=f"foam-{i + 1}") for i, d in enumerate(foam)])
    vellum = [plate(44, y - 9, 142, 18, 1) for y in (UPPER, LOWER)]
    s.layer("diffuser", [s.path(d, VELLUM, id=f"vellum-{i + 1}") for i, d in enumerate(vellum)])
    windows = [
        placed(w, x, y) for w, x in zip(WINDOWS, COLUMNS, strict=True) for y in (UPPER, LOWER)
    ]
    s.layer("picture", _picture(s, windows), label="Picture")
    front = " ".join([ROOFLINE, *windows])
    s.layer("die-cut", [s.path(front, id="house-fronts", class_="cut")])
    walls = [40.0, 65.0, 90.0, 115.0, 140.0, 165.0]
    plus = [(x - 2.5, y) for y in (31.0, 69.0) for x in (*walls[y > 40 :], 190.0)]
    minus = [(x - 2.5, y) for y in (39.0, 61.0) for x in walls[y < 40 :]]
    marks = [sign_path(s, [*plus, (199, 50)], True, "plus-signs")]
    marks += [sign_path(s, [*minus, (191, 50)], False, "minus-signs")]
    s.layer("marks", marks)
    return s.text()


def _picture(s: Sheet, windows: list[str]) -> list[str]:
    """The printed picture: everything here is decoration."""
    parts = []
    for i, (tint, d) in enumerate(HOUSES):
        own = windows[2 * i - 2 : 2 * i] if 1 <= i <= 6 else []
        whole = s.d(" ".join([d, *own]))
        parts.append(f'<path d="{whole}" class="front" fill="{tint}" />')

    def ink(d: str, name: str = "ink") -> str:
        return s.path(d, class_=name)

    parts += [ink(f"M {x} 21 L {x} 97") for x in (40, 65, 90, 115, 140, 165, 190)]
    parts.append(ink("M 0 97 L 210 97"))
    parts += [ink(f"M {x0} 77 L {x1} 77 M {x0} 79 L {x1} 79") for x0, x1 in FASCIAS]
    parts += [ink(placed(arch(8, 15), x, 89.5), "iron") for x in DOORS]
    parts += [ink(placed(box(10, 9), x, 86.5)) for x in SHOPS]
    parts += [ink(placed("M -5 0 L 5 0 M 0 -4.5 L 0 4.5", x, 86.5)) for x in SHOPS]
    parts += [
        ink(f"M {x - 6} {y + 7.6} L {x + 6} {y + 7.6}") for x in COLUMNS for y in (UPPER, LOWER)
    ]
    parts += [
        s.circle(24, 46, 12.6, f"fill:none;stroke:{INK};stroke-width:{{bold}}"),
        s.circle(24, 46, 11, f"fill:none;stroke:{INK};stroke-width:{{hair}}"),
        ink("M 24 46 L 24 38 M 24 46 L 29.4 49.2"),
        ink("M 24 35.6 L 24 37.2 M 24 54.8 L 24 56.4 M 13.6 46 L 15.2 46 M 32.8 46 L 34.4 46"),
        ink("M 18 20 L 22 20 M 20 12 L 20 17 M 17.4 14.6 C 17.4 18.4 22.6 18.4 22.6 14.6"),
        ink("M 200 0 L 200 -5 M 200 -5 L 205 -3.4 L 200 -2"),
        ink("M 194 80 L 194 97 M 206 80 L 206 97 M 194 80 C 194 74 206 74 206 80"),
    ]
    return parts


FASCIAS = [(2, 38), (42, 63), (67, 88), (92, 113), (117, 138), (142, 163), (167, 188)]
DOORS = [20, 47, 83.5, 97, 133.5, 147, 183.5]
SHOPS = [57.5, 72.5, 107.5, 122.5, 157.5, 172.5]
