"""An outline as large as the page: the frame of a sheet, or the panel itself?

It is left out, as the conventions say. Where that looks wrong the maker is asked: a page made
to measure for the card, say, whose windows would then be taken for pieces on a sheet.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from ..language import say
from ..model.drawing import Page
from ..model.finding import Finding
from .contours import Outline

#: An outline this near to the page's own edge is the page, not a panel (mm).
PAGE_EDGE = 0.1

#: A panel with windows at least this large beside the page tells that a frame is a frame.
LARGE_PANEL = 0.25

#: A back sheet is smaller than its panel by no more than this on each side (mm).
BASE_MARGIN = 6.0


def split_frames(outlines: Sequence[Outline], page: Page) -> tuple[list[Outline], list[Outline]]:
    """Outlines that count, and those that are the edge of the page (and no marked panel)."""
    if not outlines:
        return [], []
    areas = np.array([outline.area for outline in outlines], dtype=object)
    fits = _fits(shapely.bounds(areas), page, PAGE_EDGE + 1e-6)
    frames = [outlines[i] for i in np.flatnonzero(fits).tolist() if _along_page(outlines[i], page)]
    return [outline for outline in outlines if outline not in frames], frames


def _along_page(outline: Outline, page: Page) -> bool:
    limit = PAGE_EDGE + 1e-6
    inner = shapely.box(limit, limit, page.width - limit, page.height - limit)
    return outline.shape.attributes.get("part") != "panel" and outline.area.covers(inner)


def _fits(bounds: np.ndarray, page: Page, within: float) -> np.ndarray:
    """Whether each side of (..., 4) bounds is that near to the page's."""
    edge = np.array([0.0, 0.0, page.width, page.height])
    return np.asarray(np.abs(bounds - edge).max(axis=-1) <= within)


def may_be_panel(
    page: Page, papers: Sequence[tuple[BaseGeometry, bool]], base: BaseGeometry | None
) -> bool:
    """Whether a frame that was left out may be the panel itself.

    `papers` are the panels without it, each with whether it has windows. A large one with
    windows speaks for a frame; a back sheet about as large as the page, with no panel to match,
    against it.
    """
    if base is not None and _fits(shapely.bounds(base), page, BASE_MARGIN):
        sizes = [shapely.bounds(area) for area, _ in papers]
        if not any(_fits(size, page, 2.0 * BASE_MARGIN) for size in sizes):
            return True
    least = LARGE_PANEL * page.width * page.height
    return not any(windows and shapely.envelope(area).area >= least for area, windows in papers)


def frame_finding(outline: Outline, page: Page) -> Finding:
    """object-skipped: the note that asks whether the frame is the panel."""
    name = outline.shape.id
    return Finding(
        "object-skipped",
        "note",
        (page.width / 2.0, 0.0),
        (name,),
        say(
            '"{name}" is as large as the page, so I take it as the page\'s frame and leave it out.',
            name=name,
        ),
        say("If it is the edge of your panel, select it and run step 1 again."),
    )
