"""Draw docs/first-card.svg: a tall house of *Harbour Lane*, cut out, with nothing lit yet.

PYTHONPATH=tests python -m symbols.draw_first_card
"""

from __future__ import annotations

from pathlib import Path

from samples.pen import CUT, Sheet
from samples.shapes import arch, line, placed, plate, star

FILE = Path(__file__).parents[2] / "docs" / "first-card.svg"

DESC = (
    "Card of 105 x 148 mm to finish by hand: the panel with its windows, and empty layers for "
    "lights, battery and tape."
)

#: Middles of the three windows, the battery's place, and both strips (card mm).
WINDOWS = [(52.5, 42.0), (52.5, 66.0), (52.5, 90.0)]
BATTERY = (52.5, 120.0)
PLUS = [(56.5, 34.0), (56.5, 101.0), (67.5, 101.0), (67.5, 125.0)]
MINUS = [(48.5, 34.0), (48.5, 101.0), (37.5, 101.0), (37.5, 125.0)]

#: White space around the card on its page (mm).
MARGIN = 10.0

ROOF = [(25, 36), (52.5, 12), (80, 36), (77.5, 37.2), (52.5, 15.4), (27.5, 37.2)]
CHIMNEY = [(66, 8), (71, 8), (71, 23), (66, 18.6)]
WALLS = [[(30, 42), (31.8, 42), (31.8, 138), (30, 138)], [(73.2, 42), (75, 42), (75, 138),
         (73.2, 138)]]  # fmt: skip
STARS = [(14, 20, 3.4), (34, 12, 2.6), (90, 16, 3.0), (15, 58, 2.6), (91, 48, 2.8), (88, 84, 2.4)]
STARS += [(17, 102, 2.4)]
MOON = "M 12 34 C 18 32 24 36 24 42 C 24 47 20 50.4 15.4 50 C 22 46 20 37 12 34 Z"


def draw() -> str:
    """The whole file."""
    s = Sheet("Harbour Lane: a tall house", DESC, (105, 148), margin=MARGIN)
    for role in ("tape", "power", "lights"):
        s.layer(role, [])
    cuts = {"panel": plate(0, 0, 105, 148, 3)}
    cuts |= {f"window-{i + 1}": placed(arch(8, 11), *at) for i, at in enumerate(WINDOWS)}
    cuts |= {"roof": line(ROOF, close=True), "chimney": line(CHIMNEY, close=True)}
    cuts |= {f"wall-{i + 1}": line(wall, close=True) for i, wall in enumerate(WALLS)}
    cuts |= {f"star-{i + 1}": placed(star(4, r, r * 0.36), x, y) for i, (x, y, r) in
             enumerate(STARS)}  # fmt: skip
    cuts |= {"moon": MOON}
    s.layer("die-cut", [s.path(d, CUT, id=name) for name, d in cuts.items()])
    return s.text().replace('id="view"', 'id="view" inkscape:current-layer="layer-lights"')


if __name__ == "__main__":
    FILE.write_text(draw(), encoding="utf-8", newline="\n")
