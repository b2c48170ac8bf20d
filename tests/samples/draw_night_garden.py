"""Harbour Lane, the night garden: eight lights, curved windows, pieces glued back, one crossing."""

from __future__ import annotations

import math

from samples.parts import holder, light_symbol, signs
from samples.pen import COVER, CUT, FOAM, INK, NIGHT, PAPER, PATCH, PLUS, Point, Sheet, num
from samples.shapes import beside, disc, line, placed, plate, spot, star

DESC = (
    "Card of 148 x 148 mm with eight lights. The plus strip runs round outside, the minus rail, "
    "cut from a sheet, inside. One short minus strip crosses plus over a paper patch on its way "
    "to the battery, which lies under the snail; press it. The hearts of two flowers and the bird "
    "in the moon are glued back; a cover sheet with round holes hides the tape."
)
WAY = [
    (128.0, 98.0),
    (48.0, 98.0),
    (25.0, 82.0),
    (25.0, 58.0),
    (50.0, 37.0),
    (98.0, 33.0),
    (126.0, 44.0),
]
PLUS_STRIP = [(86.0, 128.0), (130.0, 128.0), (130.0, 102.0), *beside(WAY, -4)[1:]]
MINUS_RAIL = [(124.0, 94.0), *beside(WAY, 4)[1:]]
CROSSING = [(59.0, 131.5), (59.0, 91.5)]
HOLDER = (74.0, 128.0)
LIGHTS = [
    spot(WAY[i], WAY[i + 1], share)
    for i, share in (
        (0, 0.14),
        (0, 0.42),
        (0, 0.7),
        (1, 0.5),
        (2, 0.55),
        (3, 0.48),
        (4, 0.5),
        (5, 0.52),
    )
]


def petals(count: int, valley: float, reach: float) -> str:
    """A flower with round petals about its middle; the first petal points to the right."""
    turn = 2 * math.pi / count
    out = [f"M {num(valley * math.cos(-turn / 2))} {num(valley * math.sin(-turn / 2))}"]
    for i in range(count):
        middle, end = i * turn, (i + 0.5) * turn
        start = middle - turn / 2
        for angle, lean in ((start, 0.1), (end, -0.1)):
            out.append("C" if angle == start else "")
            x, y = reach * math.cos(angle + lean), reach * math.sin(angle + lean)
            out.append(f"{num(x)} {num(y)}")
        out.append(f"{num(valley * math.cos(end))} {num(valley * math.sin(end))}")
    return " ".join(piece for piece in out if piece) + " Z"


LEAF = "M -10.5 0 C -6 -6.6 4 -7 11 0 C 4 7 -6 6.6 -10.5 0 Z"
TULIP = (
    "M 0 9 C -6.4 9 -8 3.6 -7.6 -1 C -7.4 -4 -7.6 -6.4 -8.4 -9.4 C -5.6 -8.6 -4 -7 -3 -5 "
    "C -2.4 -7.4 -1.4 -9.4 0 -11 C 1.4 -9.4 2.4 -7.4 3 -5 C 4 -7 5.6 -8.6 8.4 -9.4 "
    "C 7.6 -6.4 7.4 -4 7.6 -1 C 8 3.6 6.4 9 0 9 Z"
)
BELL = (
    "M 0 -10 C 5 -9 6.6 -4 7 1 C 7.2 4 8.6 6 10 8 C 7.6 7.6 6 8 5 9.4 C 3.6 7.8 1.6 7.8 0 9.4 "
    "C -1.6 7.8 -3.6 7.8 -5 9.4 C -6 8 -7.6 7.6 -10 8 C -8.6 6 -7.2 4 -7 1 C -6.6 -4 -5 -9 0 -10 Z"
)
MOTH = (
    "M 0 -3.4 C 3 -9.4 9.4 -10.4 11.4 -7.4 C 12.6 -4 9.6 -0.4 6 0.4 C 9 2 9.4 6.4 6.6 8 "
    "C 3.6 9 1 6 0 3.4 C -1 6 -3.6 9 -6.6 8 C -9.4 6.4 -9 2 -6 0.4 C -9.6 -0.4 -12.6 -4 -11.4 -7.4 "
    "C -9.4 -10.4 -3 -9.4 0 -3.4 Z"
)
BIRD = (
    "M -5 0.4 C -3.6 -1.6 -1.6 -2 0 -1 C 1.4 -3.4 4 -4.4 6.6 -4.2 C 5.4 -3 5 -1.8 3.8 -0.4 "
    "C 2.4 1.6 -0.6 2.6 -2.6 2 L -5.8 3.2 L -4.4 1.4 Z"
)
HEART = disc(3.2)


def _flower_at(light: tuple[float, float, float], away: float, angle: float) -> Point:
    """The middle of a flower `away` mm from a light."""
    return (
        light[0] + away * math.cos(math.radians(angle)),
        light[1] + away * math.sin(math.radians(angle)),
    )


DAISY, ASTER = _flower_at(LIGHTS[3], 7.2, -40), _flower_at(LIGHTS[5], 7.4, 40)
MOON = (LIGHTS[7][0] + 3.0, LIGHTS[7][1] - 4.0)
OPENINGS = {
    "leaf-right": placed(LEAF, LIGHTS[0][0], LIGHTS[0][1], -62),
    "tulip": placed(TULIP, LIGHTS[1][0], LIGHTS[1][1] + 1, 6),
    "leaf-left": placed(LEAF, LIGHTS[2][0], LIGHTS[2][1], -118),
    "daisy": placed(petals(6, 6.8, 14.8), *DAISY, 140),
    "bellflower": placed(BELL, LIGHTS[4][0], LIGHTS[4][1], -8, 0.94),
    "aster": placed(petals(6, 6.6, 15.4), *ASTER, 220),
    "moth": placed(MOTH, LIGHTS[6][0], LIGHTS[6][1], -4),
    "moon": placed(disc(12.5), *MOON),
}
GLUED = {
    "daisy-heart": placed(HEART, *DAISY),
    "aster-heart": placed(HEART, *ASTER),
    "bird": placed(BIRD, MOON[0] + 1.0, MOON[1] - 3.4, -4, 1.05),
}
SPARKS = [(97, 56, 3.0), (84, 70, 2.4), (112, 66, 3.4), (72, 57, 2.2), (68, 70, 2.6), (99, 79, 2.0)]
PANEL = plate(0, 0, 148, 148, 4)


def draw() -> str:
    """The whole file."""
    s = Sheet("Harbour Lane: night garden", DESC, (148, 148))
    s.defs = [light_symbol(s, "stick-on-light")]
    s.layer("base", [s.path(plate(1, 1, 146, 146, 4), PAPER, id="back-sheet")])
    s.layer("tape", _tape(s))
    s.layer("power", [holder(s, s.move(*HOLDER), closes="press")])
    lights = [
        s.use("stick-on-light", f"light-{i + 1}", s.move(x, y, a + 180))
        for i, (x, y, a) in enumerate(LIGHTS)
    ]
    s.layer("lights", lights)
    foam = [plate(5, 5, 138, 5, 0.5), plate(5, 12, 5, 98, 0.5), plate(138, 12, 5, 98, 0.5)]
    foam += [plate(5, 138, 46, 5, 0.5), plate(97, 138, 46, 5, 0.5)]
    s.layer("foam", [s.path(d, FOAM, id=f"foam-{i + 1}") for i, d in enumerate(foam)])
    holes = " ".join(placed(disc(4), x, y) for x, y, _ in LIGHTS)
    s.layer("cover", [s.path(f"{plate(12, 20, 124, 92, 3)} {holes}", COVER, id="cover-sheet")])
    stars = {
        f"spark-{i + 1}": placed(star(4, r, r * 0.36), x, y) for i, (x, y, r) in enumerate(SPARKS)
    }
    cuts = {"panel": PANEL} | OPENINGS | stars
    night = " ".join([*cuts.values(), *GLUED.values()])
    s.layer("picture", [s.path(night, NIGHT), *_picture(s)], label="Picture")
    outlines = [s.path(d, CUT, id=name) for name, d in cuts.items()]
    outlines += [s.path(d, CUT, id=n, underlit__glued="true") for n, d in GLUED.items()]
    s.layer("die-cut", outlines)
    off = [(x, y) for x, y, _ in LIGHTS] + [(59, 102), (59, 94), (89, 128), (59, 128)]
    marks = [signs(s, PLUS_STRIP, True, off, "plus-signs", 8)]
    marks += [signs(s, MINUS_RAIL, False, off, "minus-signs", 8)]
    marks += [signs(s, CROSSING, False, off, "minus-signs-crossing")]
    s.layer("marks", marks)
    return s.text()


def _tape(s: Sheet) -> list[str]:
    """Plus, the minus rail as a cut shape, the paper, and minus across it."""
    edge = [*beside(MINUS_RAIL, 2.5), *reversed(beside(MINUS_RAIL, -2.5))]
    minus = "fill:#e69f00;stroke:none"
    feed = "M 56.5 131.5 L 56.5 91.5 L 61.5 91.5 L 61.5 131.5 Z"
    paper = "M 53.5 96.5 L 64.5 96.5 L 64.5 107.5 L 53.5 107.5 Z"
    return [
        s.path(line(PLUS_STRIP), PLUS, id="plus-strip", underlit__polarity="positive"),
        s.path(line(edge, close=True), minus, id="minus-rail", underlit__polarity="negative"),
        s.path(paper, PATCH, id="crossing-paper", underlit__part="patch"),
        s.path(feed, minus, id="minus-crossing", underlit__polarity="negative"),
    ]


def _picture(s: Sheet) -> list[str]:
    """The printed picture: everything here is decoration."""
    stem = "fill:none;stroke:#3d6b4f;stroke-width:{bold};stroke-linecap:round"
    thin = f"fill:none;stroke:{INK};stroke-width:{{line}};stroke-linecap:round"
    green = "fill:#5f9271;fill-opacity:0.45;stroke:#3d6b4f;stroke-width:{line}"
    snail = "fill:#c98f6a;fill-opacity:0.35;stroke:#6d4630;stroke-width:{line}"
    return [
        *(s.path(d, stem) for d in STEMS),
        *(s.path(placed(LEAF, x, y, a, k), green) for x, y, a, k in LEAVES),
        s.path(GRASS, stem),
        s.path(SNAIL, snail),
        s.path(SHELL, "fill:none;stroke:#6d4630;stroke-width:{bold};stroke-linecap:round"),
        s.path("M 91.4 127 C 92 123 92 121 91 118 M 93.6 127.4 C 95.4 124 96.4 122 96.6 119", thin),
        s.circle(91, 117.6, 0.8, snail),
        s.circle(96.7, 118.4, 0.8, snail),
        *(s.path(placed(star(4, r, r * 0.3), x, y), thin) for x, y, r in STARS),
    ]


STEMS = [
    "M 112 143 C 114 130 110 118 114 107",
    "M 96 143 C 98 132 93 120 94.6 108",
    "M 68 143 C 66 132 69 120 70 108",
    "M 42 143 C 44 124 46 108 42 96",
    "M 26 143 C 20 124 15 100 22 79",
    "M 34 143 C 40 118 58 92 52 74 C 50 66 48 62 46 60",
]
LEAVES = [(20, 112, -60, 0.6), (46, 118, -120, 0.6), (113, 122, -30, 0.55), (54.5, 73, -40, 0.5)]
GRASS = (
    "M 8 143 C 9 138 8 134 6 131 M 12 143 C 13 137 15 134 18 132 M 50 143 C 51 139 50 136 48 134 "
    "M 54 143 C 56 139 58 137 60 136 M 122 143 C 122 137 120 134 118 132 "
    "M 127 143 C 128 137 131 133 134 131 M 138 143 C 139 139 138 136 137 134 "
    "M 103 143 C 104 139 106 137 108 136"
)
SNAIL = (
    "M 50 140 C 56 138.6 60 138 66 138 C 58 132 60 117 74 117 C 87 117 89 130 84 137 "
    "C 88 136 88 130 90 127.4 C 92 125.6 95.6 126.4 96 129 C 96.4 134 93 140 86 140.4 Z"
)
SHELL = (
    "M 84 137 C 88 130 86 118 74 118 C 63 118 61 131 67 135.4 C 73 139 81 134 80 127.6 "
    "C 79 122 70 121.4 68.6 127 C 67.8 131.6 74 133.6 75.6 129.4 C 76.2 127 73.6 126 73 127.8"
)
STARS = [(24, 22, 1.6), (48, 18, 1.3), (70, 14, 1.7), (92, 17, 1.2), (16, 40, 1.2)]
