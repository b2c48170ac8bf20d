"""Harbour Lane, the lighthouse: three lights on two straight rails, a flap closes the battery."""

from __future__ import annotations

from samples.parts import bare_cell, light, signs
from samples.pen import CUT, FOAM, FOLD, INK, MINUS, NIGHT, PAPER, PATCH, PLUS, Sheet
from samples.shapes import arch, disc, line, placed, star, waves

DESC = (
    "Card of 108 x 140 mm with three lights. Two rails of fabric tape run down the tower, the "
    "lights lie across them like rungs. The flap at the bottom folds up behind and brings plus "
    "onto the battery; it is drawn open. A paper collar keeps the minus strip off the "
    "battery's rim."
)
PLUS_STRIP = [(58.0, 28.5), (58.0, 157.0), (36.0, 157.0)]
MINUS_STRIP = [(50.0, 28.5), (50.0, 104.0), (40.0, 104.0), (40.0, 127.0)]
LIGHTS = [(54.0, 33.0), (54.0, 66.0), (54.0, 94.0)]
CELL, FLAP_CONTACT = (40.0, 123.0), (40.0, 157.0)
BASE = (
    "M 4 1 L 104 1 A 3 3 0 0 1 107 4 L 107 140 L 68 140 L 68 166 A 5 5 0 0 1 63 171 L 29 171 "
    "A 5 5 0 0 1 24 166 L 24 140 L 1 140 L 1 4 A 3 3 0 0 1 4 1 Z"
)
PANEL = "M 3 0 L 105 0 A 3 3 0 0 1 108 3 L 108 140 L 0 140 L 0 3 A 3 3 0 0 1 3 0 Z"
BEAMS = {
    "beam-left": "M 40.5 31.6 L 9 22.4 C 7.6 24.6 7.4 27 8 29.6 L 40.5 34.6 Z",
    "beam-right": "M 67.5 31.6 L 99 22.4 C 100.4 24.6 100.6 27 100 29.6 L 67.5 34.6 Z",
}
LAMP = "M 45 41 L 45 26 C 45 25.2 45.4 25 46 25 L 62 25 C 62.6 25 63 25.2 63 26 L 63 41 Z"


def draw() -> str:
    """The whole file."""
    s = Sheet("Harbour Lane: lighthouse", DESC, (108, 171))
    s.layer("base", [s.path(BASE, PAPER, id="back-sheet")])
    collar = f"{placed(disc(13), *CELL)} {placed(disc(7.4), *CELL)}"
    strips = [
        s.path(line(MINUS_STRIP), MINUS, id="minus-rail", underlit__polarity="negative"),
        s.path(collar, PATCH, id="rim-collar", underlit__part="patch"),
        s.path(line(PLUS_STRIP), PLUS, id="plus-rail", underlit__polarity="positive"),
    ]
    s.layer("tape", strips)
    s.layer("power", [bare_cell(s, CELL, (FLAP_CONTACT, CELL), closes="flap", up="plus")])
    x0, y0 = LIGHTS[0]
    lights = [light(s, "light-lamp", s.move(x0, y0))]
    for name, (x, y) in zip(("light-window-1", "light-window-2"), LIGHTS[1:], strict=True):
        lights.append(s.use("light-lamp", name, f"translate({x - x0:g},{y - y0:g})"))
    s.layer("lights", lights)
    foam = ["M 5 5 L 103 5 L 103 9 L 5 9 Z", "M 5 11 L 9 11 L 9 134 L 5 134 Z"]
    foam += ["M 99 11 L 103 11 L 103 134 L 99 134 Z", "M 72 130 L 97 130 L 97 134 L 72 134 Z"]
    s.layer("foam", [s.path(d, FOAM, id=f"foam-{i + 1}") for i, d in enumerate(foam)], hidden=True)
    windows = {
        f"tower-window-{i + 1}": placed(arch(7.6, 12), x, y) for i, (x, y) in enumerate(LIGHTS[1:])
    }
    cuts = {"panel": PANEL, "lamp-room": LAMP} | windows | BEAMS
    s.layer("picture", [s.path(" ".join(cuts.values()), NIGHT), *_picture(s)], label="Picture")
    s.layer("die-cut", [s.path(d, CUT, id=name) for name, d in cuts.items()])
    s.layer("folds", [s.path("M 24 140 L 68 140", FOLD, id="flap-fold", underlit__folds="battery")])
    off = [p for x, y in LIGHTS for p in ((x - 4, y), (x + 4, y))] + [CELL, FLAP_CONTACT, (40, 112)]
    marks = [signs(s, PLUS_STRIP, True, [*off, (58, 140)], "plus-signs")]
    marks += [signs(s, MINUS_STRIP, False, off, "minus-signs")]
    s.layer("marks", marks)
    return s.text()


def _picture(s: Sheet) -> list[str]:
    """The printed picture: everything here is decoration."""
    thin = f"fill:none;stroke:{INK};stroke-width:{{line}};stroke-linecap:round"
    bold = f"fill:none;stroke:{INK};stroke-width:{{bold}};stroke-linejoin:round"
    iron = f"fill:{INK};fill-opacity:0.55;stroke:{INK};stroke-width:{{line}}"
    brick = "fill:#a8433a;fill-opacity:0.32;stroke:none;fill-rule:evenodd"
    rock = f"fill:{INK};fill-opacity:0.28;stroke:{INK};stroke-width:{{line}}"
    upper, lower = (placed(arch(7.6, 12), x, y) for x, y in LIGHTS[1:])
    return [
        s.path("M 54 11.4 L 54 7", bold),
        s.circle(54, 12.4, 1.4, iron),
        s.path("M 43 23 C 44.6 17.4 48.6 14.4 54 13.8 C 59.4 14.4 63.4 17.4 65 23 Z", iron),
        s.path("M 42.4 42.6 L 65.6 42.6 L 64 46.4 L 44 46.4 Z", iron),
        s.path("M 41.4 42.6 L 41.4 36.6 L 43.4 36.6 M 66.6 42.6 L 66.6 36.6 L 64.6 36.6", thin),
        s.path("M 44.6 46.4 L 39 118 M 63.4 46.4 L 69 118", bold),
        s.path(f"M 43.8 56 L 64.2 56 L 65.8 76 L 42.2 76 Z {upper}", brick),
        s.path(f"M 41.4 86 L 66.6 86 L 68.2 106 L 39.8 106 Z {lower}", brick),
        s.path(ROCKS, rock),
        s.path("M 20 132 L 28 126 L 34 131 M 60 130 L 66 124 L 74 129 L 80 133", thin),
        *(s.path(waves(x0, x1, y, 10, 1.5), thin) for x0, x1, y in WAVES),
        *(s.path(placed(GULL, x, y, a, k), thin) for x, y, a, k in GULLS),
        *(s.path(placed(star(4, r, r * 0.3), x, y), iron) for x, y, r in STARS),
    ]


ROCKS = (
    "M 14 140 C 16 131 20 128 26 122 C 29 119 32 119.6 35 117.6 L 72 117.6 C 76 119 77 123 82 126 "
    "C 88 129.6 90 134 92 140 Z"
)
WAVES = [
    (3, 17, 128),
    (3, 14, 132.4),
    (4, 13, 136.6),
    (86, 106, 124),
    (91, 106, 128.4),
    (94, 106, 133),
]
GULL = "M -5 -1.6 C -3 -3 -1.2 -1.6 0 0.6 C 1.2 -1.6 3 -3 5 -1.6"
GULLS = [(22, 56, -8, 1.0), (31, 64, 4, 0.7), (84, 50, 8, 0.9), (90, 76, -4, 0.7)]
STARS = [(18, 13, 1.6), (31, 11, 1.1), (80, 12, 1.5), (93, 15, 1.0), (20, 42, 1.1), (92, 44, 1.3)]
