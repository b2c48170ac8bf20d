"""Scanned and traced dies: drawn, rasterised, dirtied, turned, traced.

Needs pillow, numpy, scipy, scikit-image and potracer (a port of potrace).
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
import potrace
from PIL import Image, ImageDraw, ImageFilter
from scipy import ndimage

from outlines.designs import Design, all_designs, ring_points
from outlines.writing import Entry, counted, document, layer, num, path

#: White border round the die on the scanner's glass (mm).
BORDER = 8.0

FILLED = "fill:#000000;stroke:none"
INCH = 25.4


@dataclass(frozen=True)
class Scan:
    """How a die is scanned: pen > 0 draws its lines, 0 fills its paper; `turn` in degrees."""

    dpi: int
    turn: float = 0.0
    noise: float = 14.0
    specks: int = 0
    pen: float = 0.0
    seed: int = 1


def picture(design: Design, scan: Scan) -> np.ndarray:
    """(h, w) bool, true where it is dark enough to be traced."""
    x0, y0, x1, y1 = design.panel.bounds
    scale = 2 * scan.dpi / INCH
    size = [round((hi - lo + 2 * BORDER) * scale / 2) * 2 for lo, hi in ((x0, x1), (y0, y1))]
    image = Image.new("L", (size[0], size[1]), 255)
    pen = ImageDraw.Draw(image)

    def at(points: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
        return [((x - x0 + BORDER) * scale, (y - y0 + BORDER) * scale) for x, y in points]

    if scan.pen:
        for area in design.outlines:
            ring = at(ring_points(area))
            width = round(scan.pen * scale)
            pen.line([*ring, *ring[:2]], fill=0, width=width, joint="curve")
    else:
        pen.polygon(at(ring_points(design.panel)), fill=30)
        for area in design.windows:
            pen.polygon(at(ring_points(area)), fill=255)
        for area in design.pieces:
            pen.polygon(at(ring_points(area)), fill=30)
    random = np.random.default_rng(scan.seed)
    _dust(pen, random, scan.specks, image.size, scale)
    turned = image.rotate(scan.turn, Image.Resampling.BICUBIC, expand=True, fillcolor=255)
    half = turned.resize((turned.width // 2, turned.height // 2), Image.Resampling.LANCZOS)
    grey = np.asarray(half, dtype=float) + random.normal(0.0, scan.noise, half.size[::-1])
    soft = Image.fromarray(np.clip(grey, 0, 255).astype(np.uint8))
    soft = soft.filter(ImageFilter.GaussianBlur(0.6 * scan.dpi / 120))
    return np.asarray(soft) < 128


def _dust(
    pen: ImageDraw.ImageDraw,
    random: np.random.Generator,
    many: int,
    size: tuple[int, int],
    scale: float,
) -> None:
    """Round specks of 0.3 to 1 mm, dark or light at random, anywhere."""
    for _ in range(many):
        x, y = random.uniform(0, size[0]), random.uniform(0, size[1])
        r = random.uniform(0.15, 0.5) * scale
        pen.ellipse((x - r, y - r, x + r, y + r), fill=int(random.choice([0, 255])))


def traced(dark: np.ndarray, digits: int = 1) -> str:
    """Path data in pixels, y downwards, all outlines in one path."""
    # the tracer takes true for white
    found = potrace.Bitmap(~dark).trace(turdsize=4, opttolerance=0.4)
    return "".join(_curve(curve, digits) for curve in found)


def _curve(curve: potrace.Curve, digits: int) -> str:
    def pair(point: object) -> str:
        return f"{num(point.x, digits)} {num(point.y, digits)}"  # type: ignore[attr-defined]

    parts = [f"M{pair(curve.start_point)}"]
    for segment in curve.segments:
        if segment.is_corner:
            parts.append(f"L{pair(segment.c)}L{pair(segment.end_point)}")
        else:
            parts.append(f"C{pair(segment.c1)} {pair(segment.c2)} {pair(segment.end_point)}")
    return "".join(parts) + "Z"


def check_labels(dark: np.ndarray, dpi: int, numbers: dict[str, int]) -> None:
    """The picture itself must show the numbers: regions of 2 mm2 and more, counted by label."""
    pixel = (INCH / dpi) ** 2
    # paper: 8-connected dark regions; gaps: light regions that do not reach the border
    paper = _large(dark, 2.0 / pixel, np.ones((3, 3)))
    gaps = _large(~dark, 2.0 / pixel, None) - 1
    if (paper, gaps) != (numbers["panels"] + numbers["loose"], numbers["openings"]):
        raise ValueError(f"the picture shows {paper} papers and {gaps} gaps, not {numbers}")


def _large(mask: np.ndarray, least: float, structure: np.ndarray | None) -> int:
    labels, count = ndimage.label(np.pad(mask, 1, constant_values=False), structure)
    sizes = ndimage.sum_labels(np.pad(mask, 1), labels, range(1, count + 1))
    return int((np.asarray(sizes) >= least).sum())


def in_editor(d: str, dark: np.ndarray, dpi: int, name: str = "path1") -> str:
    """As the editor's own tracer leaves it: one black path, scaled from pixels."""
    height, width = (n * INCH / dpi for n in dark.shape)
    place = f'transform="scale({num(INCH / dpi, 6)})"'
    return document(layer(path(d, name, FILLED, place)), (width, height))


def as_command(d: str, dark: np.ndarray, dpi: int) -> str:
    """As the tracer's command writes it: points, y upwards, tenfold numbers in a flipped group."""
    height, width = dark.shape
    pt = 72.0 / dpi
    flip = f"translate(0,{num(height * pt)}) scale({num(pt, 6)},{num(-pt, 6)})"
    back = f"translate(0,{num(float(height))}) scale(1,-1)"
    body = (
        f'<g id="trace" underlit:role="die-cut" transform="{flip}" fill="#000000" stroke="none">'
        f'<g transform="{back}"><path id="outline" d="{d}"/></g></g>'
    )
    sides = [num(n * pt) for n in (width, height)]
    view = f"0 0 {sides[0]} {sides[1]}"
    return document(body, width=f"{sides[0]}pt", height=f"{sides[1]}pt", view=view)


WAYS: dict[str, Callable[[str, np.ndarray, int], str]] = {
    "editor": in_editor,
    "command": as_command,
}


def filled_entries() -> list[Entry]:
    """Each die cut from dark paper, scanned coarse and fine, traced filled."""
    entries = []
    for k, design in enumerate(all_designs()):
        for dpi, turn in ((120, 1.3 - 0.6 * k), (300, -0.9 + 0.5 * k)):
            scan = Scan(dpi, turn, specks=40 if dpi == 300 else 15, seed=10 * k + dpi)
            dark = picture(design, scan)
            numbers = counted(design)
            check_labels(dark, dpi, numbers)
            way = "command" if (k + (dpi == 300)) % 2 else "editor"
            svg = WAYS[way](traced(dark, 1), dark, dpi)
            entries.append(
                Entry(f"scan-filled-{design.name}-{dpi}", svg, numbers, "windows of the design")
            )
    return entries


def pen_entries() -> list[Entry]:
    """Each die drawn with a fineliner of 0.4 mm and traced: every cut has two lines."""
    entries = []
    for k, design in enumerate(all_designs()):
        dpi = (300, 300, 120, 300, 120)[k]
        dark = picture(design, Scan(dpi, 0.7 - 0.3 * k, pen=0.4, seed=k))
        numbers = counted(design, doubled=len(design.outlines))
        svg = in_editor(traced(dark, 1), dark, dpi)
        entries.append(
            Entry(
                f"scan-pen-{design.name}-{dpi}",
                svg,
                numbers,
                "windows of the design; each pen line has an outer and an inner edge",
                ("outline-doubled",),
            )
        )
    return entries


def centre_entries() -> list[Entry]:
    """Each die drawn with a pen and traced along the middle of its lines."""
    entries = []
    for k, design in enumerate(all_designs()):
        dpi = (120, 300, 300, 120, 300)[k]
        dark = picture(design, Scan(dpi, 0.4 * k - 0.8, pen=0.5, noise=6.0, seed=k + 50))
        lines = centre_lines(dark)
        scale = f'transform="scale({num(INCH / dpi, 6)})"'
        body = "\n".join(
            path(
                "M" + "L".join(f"{num(x, 1)} {num(y, 1)}" for x, y in line) + "Z",
                f"line-{n}",
                "fill:none;stroke:#000000;stroke-width:1",
                scale,
            )
            for n, line in enumerate(lines, 1)
        )
        height, width = (n * INCH / dpi for n in dark.shape)
        svg = document(layer(body), (width, height))
        entries.append(
            Entry(f"scan-centre-{design.name}-{dpi}", svg, counted(design), "windows of the design")
        )
    return entries


def centre_lines(dark: np.ndarray) -> list[list[tuple[float, float]]]:
    """Closed middle lines of thin dark rings, each pixel loop walked once and thinned out."""
    from skimage.measure import approximate_polygon, find_contours

    labels, count = ndimage.label(dark, np.ones((3, 3)))
    lines = []
    for number, window in enumerate(ndimage.find_objects(labels, count), 1):
        rows, columns = window
        ring = np.pad(labels[window] == number, 2)
        if ring.sum() < 40:
            continue
        hole = ndimage.binary_fill_holes(ring) & ~ring
        # the line where it is as far to the inner as to the outer edge of the ink
        inner = ndimage.distance_transform_edt(~hole)
        outer = ndimage.distance_transform_edt(hole | ring)
        found = max(find_contours(outer - inner, 0.0), key=len)
        points = approximate_polygon(found, 0.35)[:-1]
        lines.append([(float(x) + columns.start - 2, float(y) + rows.start - 2) for y, x in points])
    return lines


def special_entries() -> list[Entry]:
    """A ruler beside the die; a light die on dark ground."""
    designs = {design.name: design for design in all_designs()}
    return [_panes(), _with_ruler(designs["lantern"]), *_light_on_dark(designs["lighthouse"])]


def _panes() -> Entry:
    """A window with a cross, drawn with a pen: its lines meet, so all four panes are cut out."""
    dpi = 300
    scale = dpi / INCH
    image = Image.new("L", (round(120 * scale), round(160 * scale)), 255)
    pen = ImageDraw.Draw(image)
    for ways in (
        [(10, 10), (110, 10), (110, 150), (10, 150), (10, 10), (50, 10)],
        [(35, 40), (85, 40), (85, 110), (35, 110), (35, 40), (50, 40)],
        [(60, 40), (60, 110)],
        [(35, 75), (85, 75)],
    ):
        pen.line([(x * scale, y * scale) for x, y in ways], fill=0, width=round(0.4 * scale))
    dark = np.asarray(image) < 128
    numbers = {"panels": 1, "openings": 1, "loose": 4, "doubled": 1}
    how = "a panel with double edge; a window whose cross parts it into four pieces that fall out"
    svg = in_editor(traced(dark, 1), dark, dpi)
    return Entry("scan-pen-panes-300", svg, numbers, how, ("loose-piece", "outline-doubled"))


def _with_ruler(design: Design) -> Entry:
    """A dark steel ruler of 10 cm with a light mark of 0.8 by 5 mm at every centimetre."""
    dpi = 300
    dark = picture(design, Scan(dpi, 0.5, specks=10, seed=77))
    scale = dpi / INCH
    more = np.zeros((dark.shape[0], round(22 * scale)), dtype=bool)
    more[round(6 * scale) : round(112 * scale), round(3 * scale) : round(18 * scale)] = True
    for k in range(10):
        y = round((9 + 10 * k) * scale)
        more[y : y + round(0.8 * scale), round(5 * scale) : round(10 * scale)] = False
    both = np.concatenate([dark, more], axis=1)
    numbers = counted(design)
    numbers.update(panels=2, openings=numbers["openings"] + 10)
    check_labels(both, dpi, numbers)
    how = "the design and a ruler with ten marks"
    return Entry("scan-with-ruler", in_editor(traced(both, 1), both, dpi), numbers, how)


def _light_on_dark(design: Design) -> list[Entry]:
    """The ground is traced: as large as the page it is left out, else the card is its hole."""
    dpi = 120
    dark = ~picture(design, Scan(dpi, 0.0, noise=4.0, seed=5))
    numbers = counted(design)
    d = traced(dark, 1)
    fits = Entry("scan-light-on-dark", in_editor(d, dark, dpi), numbers, "windows of the design")
    height, width = (math.ceil(n * INCH / dpi) + 20 for n in dark.shape)
    place = f'transform="translate(10,10) scale({num(INCH / dpi, 6)})"'
    svg = document(layer(path(d, "path1", FILLED, place)), (width, height))
    swapped = {"panels": 1, "openings": 1, "loose": len(design.windows)}
    how = "the ground is the panel, the card its hole, the windows pieces in it"
    return [fits, Entry("scan-light-on-dark-off-page", svg, swapped, how, ("loose-piece",), True)]


def entries() -> list[Entry]:
    """All scans."""
    return [*filled_entries(), *pen_entries(), *centre_entries(), *special_entries()]
