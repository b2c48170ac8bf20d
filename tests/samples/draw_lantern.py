"""Harbour Lane, the lantern: one light, foil that does not conduct through its adhesive."""

from __future__ import annotations

from samples.parts import bare_cell, light, signs
from samples.pen import CUT, FOAM, FOLD, INK, MINUS, NIGHT, PAPER, PATCH, PLUS, Sheet
from samples.shapes import line, placed, star, waves

DESC = (
    "A6 card with one light. Two foil strips, each laid in one piece with folded corners, run "
    "from the battery to the light. The battery lies bare in the bottom right corner; the corner "
    "is folded over it and held by a clip. No cutter is needed."
)
PLUS_STRIP = [(93.0, 140.0), (93.0, 92.0), (50.0, 92.0), (50.0, 70.5)]
MINUS_STRIP = [(75.0, 122.0), (75.0, 100.0), (42.0, 100.0), (42.0, 70.5)]
LIGHT = (46.0, 74.0)
CELL, FLAP_CONTACT = (75.0, 118.0), (93.0, 136.0)

PANEL = (
    "M 3 0 L 102 0 A 3 3 0 0 1 105 3 L 105 106 L 63 148 L 3 148 A 3 3 0 0 1 0 145 L 0 3 "
    "A 3 3 0 0 1 3 0 Z"
)
PANES = {
    "pane-middle": "M 38.4 84 L 36.6 47 C 40 42.6 52 42.6 55.4 47 L 53.6 84 Z",
    "pane-left": "M 34.2 84 L 28.8 84 L 24.2 52.5 C 26 50 29 48.4 32.2 47.6 Z",
    "pane-right": "M 57.8 84 L 63.2 84 L 67.8 52.5 C 66 50 63 48.4 59.8 47.6 Z",
}
STARS = [(83, 22, 4.2), (93, 43, 3.2), (78, 55, 2.8), (16, 78, 3.2), (86, 74, 3.6), (13, 106, 2.8)]


def _lantern(s: Sheet) -> list[str]:
    """The printed picture: everything here is decoration."""
    thin = f"fill:none;stroke:{INK};stroke-width:{{line}};stroke-linecap:round"
    bold = f"fill:none;stroke:{INK};stroke-width:{{bold}};stroke-linecap:round"
    iron = f"fill:{INK};fill-opacity:0.55;stroke:{INK};stroke-width:{{line}}"
    return [
        s.path("M 0 13 C 16 13 30 6 41 9 C 46 10.4 46.6 14 46 17", bold),
        s.path("M 0 17 C 12 17 18 17 22 22 C 25 26 21 30 18 28 C 15.6 26 18 23.4 20 25", thin),
        s.circle(46, 20.4, 3.2, bold),
        s.path("M 41.6 27 L 43.4 23.8 L 48.6 23.8 L 50.4 27 Z", iron),
        s.path("M 30 39 C 31 32 37 28 46 27 C 55 28 61 32 62 39 Z", iron),
        s.path("M 22 46 L 27 40.4 L 65 40.4 L 70 46 C 62 41.8 30 41.8 22 46 Z", iron),
        s.path("M 22 46.6 L 27.6 86 M 70 46.6 L 64.4 86", bold),
        s.path("M 26.4 86.6 L 65.6 86.6 L 63 90.2 L 29 90.2 Z", iron),
        s.path("M 35 90.2 L 57 90.2 L 54 94.6 L 38 94.6 Z", iron),
        s.path("M 43 94.6 L 49 94.6 L 46 99 Z", iron),
        *(s.path(waves(8 + dx, x1, y, 11, 1.7), thin) for dx, x1, y in WAVES),
        s.path(BOAT, f"fill:{INK};fill-opacity:0.4;stroke:{INK};stroke-width:{{line}}"),
        s.path(
            "M 30 123 L 30 107.5 M 30 108.5 L 38.5 121 L 31.5 121 Z M 29 112 L 23 121 L 29 121",
            thin,
        ),
    ]


WAVES = [(0, 62, 128.4), (4, 62, 132.6), (0, 58, 136.8), (6, 54, 141)]
BOAT = "M 20 123.4 L 41 123.4 C 40 126.4 38 127.8 35 128 L 25 128 C 22.4 127.6 20.8 126 20 123.4 Z"


def draw() -> str:
    """The whole file."""
    s = Sheet("Harbour Lane: lantern", DESC, (105, 148), {"tape": {"use": "foil-5-plain"}})
    s.layer("base", [s.rect((1, 1, 103, 146), PAPER, rx=3, id="back-sheet")])
    strips = [
        s.path(line(MINUS_STRIP), MINUS, id="minus-strip", underlit__polarity="negative"),
        s.path(line(PLUS_STRIP), PLUS, id="plus-strip", underlit__polarity="positive"),
        s.path(
            "M 70.5 104.5 L 79.5 104.5 L 79.5 110.9 L 70.5 110.9 Z",
            PATCH,
            id="rim-paper",
            underlit__part="patch",
        ),
    ]
    s.layer("tape", strips, label="Klebeband")
    s.layer("power", [bare_cell(s, CELL, (FLAP_CONTACT, CELL), closes="flap", up="plus")])
    s.layer("lights", [light(s, "light", s.move(*LIGHT))])
    foam = ["M 5 5 L 100 5 L 100 9 L 5 9 Z", "M 5 11 L 9 11 L 9 143 L 5 143 Z"]
    foam += ["M 96 11 L 100 11 L 100 84 L 96 84 Z", "M 11 139 L 56 139 L 56 143 L 11 143 Z"]
    s.layer("foam", [s.path(d, FOAM, id=f"foam-{i + 1}") for i, d in enumerate(foam)])
    stars = {
        f"star-{i + 1}": placed(star(4, r, r * 0.36), x, y) for i, (x, y, r) in enumerate(STARS)
    }
    cuts = {"panel": PANEL} | PANES | stars
    s.layer("picture", [s.path(" ".join(cuts.values()), NIGHT), *_lantern(s)], label="Picture")
    s.layer("die-cut", [s.path(d, CUT, id=name) for name, d in cuts.items()])
    fold = s.path(
        "M 64 147 L 104 107",
        FOLD,
        id="corner-fold",
        underlit__folds="battery",
        underlit__moves="once",
    )
    s.layer("folds", [fold])
    off = [LIGHT, (42, 74), (50, 74), CELL, FLAP_CONTACT, (75, 108), (75, 112)]
    marks = [signs(s, PLUS_STRIP, True, off, "plus-signs")]
    marks += [signs(s, MINUS_STRIP, False, off, "minus-signs")]
    s.layer("marks", marks)
    return s.text()
