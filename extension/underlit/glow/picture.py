"""The lit card in a dim room: an RGBA array, exactly over the bounds of the panel.

Inside an opening every pixel carries the light that comes through it (see `display`); its edge is
smoothed over one pixel. Round about lies dark paper in the panel's own outline, with a soft halo
that carries no value. Outside the panel the picture is transparent.
"""

from __future__ import annotations

import math

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from ..model.card import Card, Opening
from ..profiles import Profile
from ..records import record
from .coverage import Grid, coverage
from .display import shown, to_srgb
from .field import coloured
from .halo import halo
from .panes import Layers, layers_of, panes_of
from .sources import Sources, within_reach

#: Pixels per mm, and the most that a picture may have altogether (a large card gets coarser).
FINENESS = 10.0
MOST_PIXELS = 1_600_000

#: Dark paper: linear sRGB at the top and at the bottom of the card, and of its cut edge.
PAPER = np.array([[0.0105, 0.0125, 0.0250], [0.0050, 0.0058, 0.0125]])
EDGE = np.array([0.020, 0.024, 0.042])
EDGE_WIDTH = 0.3

#: What is seen through an opening that gets no light: nearly black, 1/7000 of full light.
NIGHT = np.array([0.0032, 0.0034, 0.0046])

#: Steps of the table from linear to coded sRGB, and of its code: finer than 8 bits anywhere.
STEPS = 65_535
FINER = 16

#: Dark paper is dithered in a fixed pattern (Bayer 1973, 4 x 4), or its soft shades show as bands;
#: what an opening shows is rounded, since it carries values.
BAYER = np.array([[0, 8, 2, 10], [12, 4, 14, 6], [3, 11, 1, 9], [15, 7, 13, 5]], dtype=np.uint16)


@record
class Picture:
    """pixels (height, width, 4) uint8; `box` (x0, y0, x1, y1) page mm; `full` lux (`display`)."""

    pixels: np.ndarray
    box: tuple[float, float, float, float]
    full: float
    mm_per_pixel: tuple[float, float]


@record
class _Lit:
    """Light in one opening, over `rows` and `columns` of the picture.

    share (h, w) of each pixel that is open; lux (h, w) through its sheets; colour (h, w, 3).
    """

    rows: slice
    columns: slice
    share: np.ndarray
    lux: np.ndarray
    colour: np.ndarray


def lit_card(
    card: Card, sources: Sources, profile: Profile, most_pixels: int = MOST_PIXELS
) -> Picture | None:
    """The picture of a card; None where it has no panel."""
    outlines = [panel.outline for panel in card.panels]
    if not outlines:
        return None
    panel = shapely.union_all(outlines)
    grid = grid_over(panel, most_pixels)
    layers = layers_of(card, profile)
    glowing = sorted(card.openings, key=lambda opening: not opening.through)
    lit = [_light_in(opening, sources, layers, grid) for opening in glowing]
    full = max((float((one.lux * (one.share > 0.0)).max()) for one in lit), default=0.0)
    full = full if full > 0.0 else 1.0
    light, share = _all_light(lit, grid, full)
    canvas = _paper(panel, grid)
    canvas += halo(light, grid.across)
    canvas *= (np.float32(1.0) - share)[..., None]
    canvas += light
    pixels = np.empty((grid.height, grid.width, 4), dtype=np.uint8)
    pixels[..., :3] = _coded(canvas, share > 0.0)
    pixels[..., 3] = np.rint(coverage(panel, grid) * 255.0)
    x1, y1 = grid.left + grid.across * grid.width, grid.top + grid.down * grid.height
    return Picture(pixels, (grid.left, grid.top, x1, y1), full, (grid.across, grid.down))


def grid_over(area: BaseGeometry, most_pixels: int = MOST_PIXELS) -> Grid:
    """Nearly square pixels that fit the bounds of an area exactly."""
    x0, y0, x1, y1 = area.bounds
    fine = min(FINENESS, math.sqrt(most_pixels / ((x1 - x0) * (y1 - y0))))
    width, height = (max(1, round(size * fine)) for size in (x1 - x0, y1 - y0))
    return Grid(x0, y0, (x1 - x0) / width, (y1 - y0) / height, width, height)


def _light_in(opening: Opening, sources: Sources, layers: Layers, grid: Grid) -> _Lit:
    """The light of one opening at the centre of every pixel that it covers."""
    rows, columns = grid.over(opening.clear)
    part = grid.part(rows, columns)
    share = np.zeros((part.height, part.width))
    through = np.zeros_like(share)
    for pane in panes_of(opening, layers):
        covered = coverage(pane.area, part)
        share += covered
        through += covered * pane.transmission
    np.divide(through, share, out=through, where=share > 0.0)
    open_rows, open_columns = np.nonzero(share)
    xs, ys = part.centres()
    places = np.column_stack([xs[open_columns], ys[open_rows]])
    lux, mixture = coloured(places, within_reach(opening.clear.bounds, sources))
    light, colour = np.zeros_like(share), np.ones((*share.shape, 3))
    light[open_rows, open_columns] = lux
    colour[open_rows, open_columns] = mixture
    return _Lit(rows, columns, np.minimum(share, 1.0), light * through, colour)


def _all_light(lit: list[_Lit], grid: Grid, full: float) -> tuple[np.ndarray, np.ndarray]:
    """(h, w, 3) linear light of all openings times their share of each pixel, and (h, w) the share.

    Where openings overlap (a hole in a glow area) the later one counts.
    """
    light = np.zeros((grid.height, grid.width, 3), dtype=np.float32)
    share = np.zeros((grid.height, grid.width), dtype=np.float32)
    for one in lit:
        place = (one.rows, one.columns)
        own = np.maximum(shown(one.lux, one.colour, full), NIGHT) * one.share[..., None]
        light[place] = light[place] * (1.0 - one.share[..., None]) + own
        share[place] = share[place] * (1.0 - one.share) + one.share
    return light, share


def _paper(panel: BaseGeometry, grid: Grid) -> np.ndarray:
    """(h, w, 3) dark paper, a little lighter at the top and along its cut edge."""
    down = np.linspace(0.0, 1.0, grid.height, dtype=np.float32)[:, None]
    column = PAPER[0] * (1.0 - down) + PAPER[1] * down
    canvas = np.empty((grid.height, grid.width, 3), dtype=np.float32)
    canvas[:] = column[:, None, :]
    inner = panel.buffer(-EDGE_WIDTH)
    if not inner.is_empty:
        rim = np.float32(1.0) - coverage(inner, grid).astype(np.float32)
        rows, columns = np.nonzero(rim)
        share = rim[rows, columns, None]
        canvas[rows, columns] = canvas[rows, columns] * (1.0 - share) + EDGE * share
    return canvas


def _coded(linear: np.ndarray, exact: np.ndarray) -> np.ndarray:
    """Linear sRGB as 8 bits, by a table; rounded where `exact` (h, w), else dithered."""
    coded = np.rint(to_srgb(np.arange(STEPS + 1) / STEPS) * (255 * FINER)).astype(np.uint16)
    steps = np.clip(linear * STEPS + 0.5, 0.0, STEPS).astype(np.uint16)
    fine = coded[steps]
    height, width = exact.shape
    pattern = np.tile(BAYER, (-(-height // 4), -(-width // 4)))[:height, :width]
    fine += np.where(exact, np.uint16(FINER // 2), pattern)[..., None]
    fine //= FINER
    found: np.ndarray = np.minimum(fine, 255, out=fine).astype(np.uint8)
    return found
