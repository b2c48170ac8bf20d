"""Icon-set shapes: as windows of a card, and as the card itself.

Filled icons (bootstrap-icons) are counted by the picture that the real editor renders of them:
needs inkscape, pillow, numpy and scipy. Icons of lines (lucide) are counted by hand, below.
"""

from __future__ import annotations

import re
import subprocess
import tempfile
from pathlib import Path

import numpy as np
from PIL import Image
from scipy import ndimage

from outlines.writing import CUT, Entry, document, layer

FOLDER = Path(__file__).parent / "icons"

#: Icons are enlarged to this (mm).
LARGE = 90.0
SPECK = 2.0

#: Lines of lucide icons: closed ones, open ones (subpaths). By hand, from the path data.
LINES = {
    "lamp": (2, 1),
    "fence": (3, 4),
    "sailboat": (2, 1),
    "tree-pine": (1, 1),
    "flower-2": (3, 9),  # round middle, two leaves that touch at a point; petals and stalk
    "church": (0, 5),  # the door and the walls stay open at the foot
    "lighthouse": (0, 12),
    "moon-star": (1, 2),  # the moon ends where it began, without closing
}

SILHOUETTES = ("lamp-fill", "house-heart-fill", "flower1", "signpost-2-fill")
WINDOWS = (
    "lightbulb-fill",
    "moon-stars-fill",
    "tree-fill",
    "stars",
    "flower1",
    "snow2",
    "house-door-fill",
    "house-heart-fill",
)


def inner(collection: str, name: str) -> tuple[str, float]:
    """What stands inside an icon's svg element, and the side of its viewBox."""
    text = (FOLDER / collection / f"{name}.svg").read_text(encoding="utf-8")
    side = float(re.search(r'viewBox="0 0 (\S+)', text).group(1))  # type: ignore[union-attr]
    return text[text.index(">", text.index("<svg")) + 1 : text.rindex("</svg>")].strip(), side


def regions(name: str) -> tuple[int, int]:
    """Dark regions and enclosed light ones of a filled icon, as the editor renders it."""
    dpi, wide = 96, 1600
    with tempfile.TemporaryDirectory() as folder:
        target = Path(folder) / "icon.png"
        source = FOLDER / "bootstrap-icons" / f"{name}.svg"
        subprocess.run(
            ["inkscape", str(source), f"--export-width={wide}", f"--export-dpi={dpi}",
             "--export-background=white", f"--export-filename={target}"],
            check=True, capture_output=True, timeout=60,
        )  # fmt: skip
        dark = np.asarray(Image.open(target).convert("L")) < 128
    pixel = (LARGE / wide) ** 2
    return _count(dark, pixel), _count(~np.pad(dark, 1), pixel) - 1


def _count(mask: np.ndarray, pixel: float) -> int:
    labels, many = ndimage.label(mask)
    sizes = np.asarray(ndimage.sum_labels(mask, labels, range(1, many + 1)))
    doubtful = (sizes * pixel > SPECK * 0.8) & (sizes * pixel < SPECK * 1.2)
    if doubtful.any():
        raise ValueError("a region is about as large as a speck")
    return int((sizes * pixel >= SPECK).sum())


def scaled(body: str, side: float, x: float, y: float, style: str) -> str:
    """An icon enlarged and moved, with what its svg element gave to it."""
    factor = LARGE / side
    place = f"translate({x:g},{y:g}) scale({factor:g})"
    return f'<g id="icon" style="{style}" transform="{place}">{body}</g>'


def panel() -> str:
    return f'<rect id="panel" x="2" y="2" width="105" height="148" style="{CUT}"/>'


def filled_windows() -> list[Entry]:
    """Icons pasted into a card: what is dark falls out, what it encloses is loose."""
    entries = []
    for name in WINDOWS:
        openings, loose = regions(name)
        body, side = inner("bootstrap-icons", name)
        svg = document(layer(panel() + scaled(body, side, 9, 30, "fill:#000")), (110, 155))
        numbers = {"panels": 1, "openings": openings, "loose": loose}
        how = "dark regions of the rendered icon, and light ones inside"
        entries.append(Entry(f"icon-window-{name}", svg, numbers, how))
    return entries


def silhouettes() -> list[Entry]:
    """Icons as the card itself: what is dark is paper."""
    entries = []
    for name in SILHOUETTES:
        papers, holes = regions(name)
        body, side = inner("bootstrap-icons", name)
        svg = document(layer(scaled(body, side, 10, 10, "fill:#000")), (110, 110))
        numbers = {"panels": papers, "openings": holes, "loose": 0}
        how = "dark regions of the rendered icon, and light ones inside"
        entries.append(Entry(f"icon-card-{name}", svg, numbers, how))
    return entries


def line_windows() -> list[Entry]:
    """Icons of lines pasted into a card: closed lines are windows, open ones pen lines."""
    entries = []
    for name, (closed, opened) in LINES.items():
        body, side = inner("lucide", name)
        style = "fill:none;stroke:#000;stroke-width:2;stroke-linecap:round"
        svg = document(layer(panel() + scaled(body, side, 9, 30, style)), (110, 155))
        numbers = {"panels": 1, "openings": closed, "loose": 0, "scores": opened}
        how = "closed and open lines counted by hand"
        told = ("outline-open",) if opened else ()
        entries.append(Entry(f"icon-lines-{name}", svg, numbers, how, told))
    return entries


def entries() -> list[Entry]:
    """All icon files."""
    return [*filled_windows(), *silhouettes(), *line_windows()]
