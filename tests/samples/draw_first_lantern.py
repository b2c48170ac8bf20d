"""Harbour Lane, the first lantern: the card of an empty page, one window behind vellum."""

from __future__ import annotations

from samples.pen import CUT, INK, NIGHT, VELLUM, Sheet

DESC = "A6 card with one window, for a first try: outlines and picture only."
PANEL = (
    "M 3 0 L 102 0 A 3 3 0 0 1 105 3 L 105 145 A 3 3 0 0 1 102 148 L 3 148 A 3 3 0 0 1 0 145 "
    "L 0 3 A 3 3 0 0 1 3 0 Z"
)
LANTERN = (
    "M 45 71 C 40.5 65 40.5 55 44.7 49 L 41.5 49 C 42.5 43 46.5 40.5 50.5 39.8 L 50.5 38 L 54.5 38 "
    "L 54.5 39.8 C 58.5 40.5 62.5 43 63.5 49 L 60.3 49 C 64.5 55 64.5 65 60 71 L 62 75 L 43 75 Z"
)
VEIL = (36.5, 33.0, 32.0, 47.0)


def _lantern(s: Sheet) -> list[str]:
    """The printed picture: everything here is decoration."""
    thin = f"fill:none;stroke:{INK};stroke-width:{{line}};stroke-linecap:round"
    bold = f"fill:none;stroke:{INK};stroke-width:{{bold}};stroke-linecap:round"
    return [
        s.circle(52.5, 33, 4.2, bold),
        s.path("M 14 30 L 14 36 M 11 33 L 17 33 M 88 52 L 88 58 M 85 55 L 91 55", thin),
        s.path("M 90 18 L 90 22 M 88 20 L 92 20 M 20 62 L 20 66 M 18 64 L 22 64", thin),
    ]


def draw() -> str:
    """The whole file."""
    s = Sheet("Harbour Lane: first lantern", DESC, (105, 148), margin=0.0)
    cuts = {"lantern-panel": PANEL, "lantern": LANTERN}
    s.layer("picture", [s.path(" ".join(cuts.values()), NIGHT), *_lantern(s)], label="Picture")
    s.layer("die-cut", [s.path(d, CUT, id=name) for name, d in cuts.items()])
    s.layer("diffuser", [s.rect(VEIL, VELLUM, id="vellum")])
    return s.text()
