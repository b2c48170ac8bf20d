"""Harbour Lane, the firefly jar: five lights, two folded strips, a press in a foam ring; in px."""

from __future__ import annotations

import math

from samples.parts import holder, light, signs
from samples.pen import CUT, FOAM, INK, MINUS, NIGHT, PAPER, PLUS, VELLUM, Sheet
from samples.shapes import beside, disc, line, placed, plate, spot, star, waves

DESC = (
    "A6 card with five lights, drawn in px. Both strips bend round inside the jar, plus within and "
    "minus outside, and start at opposite ends, so that all fireflies glow alike. The battery sits "
    "in a holder under the heart; press it. A foam ring keeps the panel off it."
)
WAY = [(78.0, 112.0), (78.0, 88.0), (66.0, 63.0), (42.0, 57.0), (28.0, 80.0), (28.0, 112.0)]
PLUS_STRIP = [(64.0, 118.0), (74.0, 118.0), *beside(WAY, -4)[1:-1], (32.0, 103.0)]
MINUS_STRIP = [(41.0, 118.0), (24.0, 118.0), *beside(WAY, 4)[-2:0:-1], (82.0, 103.0)]
HOLDER = (52.5, 118.0)
LIGHTS = [spot(WAY[i], WAY[i + 1], share) for i, share in enumerate((0.62, 0.5, 0.5, 0.52, 0.4))]
PANEL = plate(0, 0, 105, 148, 3)
GLOW = (
    "M 8.2 0 C 8.2 3.4 4.6 5 0.6 5 C -3.6 5 -6.4 3.4 -8.4 0 C -6.4 -3.4 -3.6 -5 0.6 -5 "
    "C 4.6 -5 8.2 -3.4 8.2 0 Z"
)


def draw() -> str:
    """The whole file."""
    s = Sheet("Harbour Lane: firefly jar", DESC, (105, 148), unit="px")
    s.layer("base", [s.path(plate(1, 1, 103, 146, 3), PAPER, id="back-sheet")])
    strips = [
        s.path(line(PLUS_STRIP), PLUS, id="plus-strip", underlit__polarity="positive"),
        s.path(line(MINUS_STRIP), MINUS, id="minus-strip", underlit__polarity="negative"),
    ]
    s.layer("tape", strips)
    s.layer("power", [holder(s, s.move(*HOLDER), closes="press")])
    s.layer("lights", _lights(s))
    ring = f"{placed(disc(23.5), *HOLDER)} {placed(disc(19), *HOLDER)}"
    foam = {"press-ring": ring, "foam-1": "M 5 5 L 100 5 L 100 9 L 5 9 Z"}
    foam |= {
        "foam-2": "M 5 11 L 9 11 L 9 143 L 5 143 Z",
        "foam-3": "M 96 11 L 100 11 L 100 143 L 96 143 Z",
    }
    s.layer("foam", [s.path(d, FOAM, id=name) for name, d in foam.items()])
    s.layer("diffuser", [s.path(plate(14, 46, 77, 60, 6), VELLUM, id="vellum")])
    flies = {f"firefly-{i + 1}": placed(GLOW, x, y, a + 180) for i, (x, y, a) in enumerate(LIGHTS)}
    cuts = {"panel": PANEL} | flies
    s.layer("picture", [s.path(" ".join(cuts.values()), NIGHT), *_picture(s)], label="Picture")
    s.layer("die-cut", [s.path(d, CUT, id=name) for name, d in cuts.items()])
    off = [p for x, y, _ in LIGHTS for p in ((x, y),)] + [(67.5, 118), (37.5, 118)]
    marks = [signs(s, PLUS_STRIP, True, off, "plus-signs", 7)]
    marks += [signs(s, MINUS_STRIP, False, off, "minus-signs", 7)]
    s.layer("marks", marks)
    return s.text()


def _lights(s: Sheet) -> list[str]:
    """The first light and four clones of it, moved and turned: plus lies within."""
    x0, y0, a0 = LIGHTS[0]
    found = [light(s, "light-1", s.move(x0, y0, a0 + 180))]
    for i, (x, y, a) in enumerate(LIGHTS[1:]):
        found.append(s.use("light-1", f"light-{i + 2}", s.shift((x0, y0), (x, y), a - a0)))
    return found


def _picture(s: Sheet) -> list[str]:
    """The printed picture: everything here is decoration."""
    thin = f"fill:none;stroke:{INK};stroke-width:{{line}};stroke-linecap:round"
    bold = f"fill:none;stroke:{INK};stroke-width:{{bold}};stroke-linejoin:round"
    iron = f"fill:{INK};fill-opacity:0.5;stroke:{INK};stroke-width:{{line}}"
    rose = "fill:#c9574b;fill-opacity:0.4;stroke:#8c3029;stroke-width:{line}"
    heads = [placed(disc(1.5), x, y) for x, y in (_head(p, 9.6) for p in LIGHTS)]
    wings = [placed(WING, x, y, a + 180 + turn, 0.88) for x, y, a in LIGHTS for turn in (-38, 38)]
    return [
        s.path(JAR, bold),
        s.path(plate(31, 14, 43, 11, 2.4), iron),
        s.path("M 31 18 L 74 18 M 31 21.4 L 74 21.4", thin),
        s.path("M 34 27.4 L 71 27.4 M 34 30.4 L 71 30.4", thin),
        s.path("M 68 28.8 C 74 31 78 36 77 41 M 68 28.8 C 72 33 72 38 70.6 42", thin),
        s.circle(69, 28.8, 1.8, rose),
        s.path(HEART, rose),
        s.path(GRASS, thin),
        s.path("M 21 60 C 19 66 18.4 72 18.4 80", thin),
        *(s.path(d, thin) for d in wings),
        *(s.path(d, iron) for d in heads),
        *(s.path(placed(star(4, r, r * 0.3), x, y), iron) for x, y, r in STARS),
        s.path(waves(10, 95, 144, 8, 1.0), thin),
    ]


def _head(place: tuple[float, float, float], out: float) -> tuple[float, float]:
    """Where a firefly's head is drawn: `out` mm from the lens, to the outside."""
    x, y, angle = place
    return x + out * math.cos(math.radians(angle)), y + out * math.sin(math.radians(angle))


JAR = (
    "M 35 25 L 35 33 C 35 38 14 39 14 54 L 14 130 C 14 137 18 140 24 140 L 81 140 C 87 140 91 137 "
    "91 130 L 91 54 C 91 39 70 38 70 33 L 70 25"
)
WING = "M -6 0 C -8 -2.6 -12 -3.2 -14 -1.4 C -15 0.6 -11 2.4 -6 0"
HEART = (
    "M 52.5 126 C 45.5 121 43.4 117.4 44.6 114.2 C 46 110.8 51 110.8 52.5 114.6 "
    "C 54 110.8 59 110.8 60.4 114.2 C 61.6 117.4 59.5 121 52.5 126 Z"
)
GRASS = (
    "M 18 140 C 18 133 17 129 15.8 126 M 20 140 C 20.4 132 22 128 24 125 M 22 140 "
    "C 24 136 26 134 28 133 M 87 140 C 87 133 88 129 89.4 127 M 85 140 C 84.6 132 83 128 81 124 "
    "M 83 140 C 81 136 79 134 77 133"
)
STARS = [(18, 22, 1.8), (88, 18, 1.6), (24, 34, 1.2), (83, 32, 1.1), (93, 30, 0.9), (12, 38, 1.0)]
