"""Steps on pages: a numbered box for each, its picture beside or above its words."""

from __future__ import annotations

from collections.abc import Sequence

import shapely

from ..language import say
from . import look
from .content import Area, Box, Disc, Item, Line, Words
from .drawing import (
    Fit,
    area,
    fit_into,
    ghost,
    outline,
    paper,
    piece,
    sign,
    tape,
)
from .frame import Draft, Flow, continued, panel, room
from .front import press_mark
from .labels import Labels
from .paper import Paper as Stock
from .scene import Paper, Piece, Scene, Tape
from .steps import Step, everything
from .true_size import middle_of, tree_of

#: Between columns and between boxes, and inside a box (mm).
GUTTER, INSIDE = 5.0, 2.5

#: Pictures are at most so large (mm), and cards wider than so much of their height lie above words.
BESIDE, ABOVE, WIDE = (36.0, 46.0), 34.0, 1.25

#: How large pictures are tried, of these sizes.
SIZES = (1.0, 0.92, 0.84)

#: Steps that show the front.
FRONTS = frozenset({"front", "done", "vellum", "pieces"})

#: Pictures that need no card are at most so high (mm).
OWN = 22.0


def step_pages(scene: Scene, stock: Stock, steps: Sequence[Step]) -> list[Draft]:
    """All steps, two boxes in a row, as many rows on a page as fit.

    Pictures get a little smaller where that saves a page.
    """
    ways = [_laid_out(scene, stock, steps, size) for size in SIZES]
    return min(ways, key=len)


def _laid_out(scene: Scene, stock: Stock, steps: Sequence[Step], size: float) -> list[Draft]:
    left, top, right, bottom = room(stock)
    across = (right - left - GUTTER) / 2.0
    boxes = [_Box(scene, step, n, across, size) for n, step in enumerate(steps, 1)]
    rows = [boxes[k : k + 2] for k in range(0, len(boxes), 2)]
    drafts: list[Draft] = []
    items: list[Item] = []
    y = top
    for row in rows:
        high = max(box.height for box in row)
        if items and y + high > bottom:
            drafts.append(_draft(drafts, items))
            items, y = [], top
        if not items:
            items, y = _heading(drafts, left, top, right)
        for k, box in enumerate(row):
            items += box.items(left + k * (across + GUTTER), y, high)
        y += high + GUTTER
    return [*drafts, _draft(drafts, items)] if items else drafts


def _heading(drafts: Sequence[Draft], left: float, top: float, right: float
             ) -> tuple[list[Item], float]:  # fmt: skip
    flow = Flow(left, top, right - left)
    flow.heading(
        say("Making it, continued") if drafts else say("Making it, step by step"), look.TITLE, 0.5
    )
    if not drafts:
        words = say(
            "Strong: new in this step. Pale: already there. Dark tape is plus, light tape with a "
            "dark edge is minus."
        )
        flow.lines(words, look.SMALL, colour=look.GREY)
    flow.gap(2.5)
    return list(flow.items), flow.y


def _draft(drafts: Sequence[Draft], items: Sequence[Item]) -> Draft:
    chapter = say("Steps")
    return Draft(continued(chapter) if drafts else chapter, tuple(items), chapter=chapter)


class _Box:
    """One step laid out for a column."""

    def __init__(self, scene: Scene, step: Step, number: int, across: float, size: float) -> None:
        self._scene, self._step, self._number, self._across = scene, step, number, across
        extent = _extent(scene, step)
        wide, high = extent[2] - extent[0], extent[3] - extent[1]
        self._above = wide > WIDE * high
        inner = across - 2.0 * INSIDE
        high_most = OWN if step.show in ("fold", "test-light") else size * ABOVE
        self._beside = (size * BESIDE[0], size * BESIDE[1])
        largest = (inner, high_most) if self._above else self._beside
        self._extent = extent
        scale = min(largest[0] / wide, largest[1] / high)
        self._picture = (inner if self._above else self._beside[0], high * scale)
        words = self._words(0.0, 0.0)
        title = self._title(0.0, 0.0)
        self._title_height = title.y + 1.5
        body = words.y
        inside = self._picture[1] + 1.5 + body if self._above else max(self._picture[1], body)
        self.height = self._title_height + inside + 2.0 * INSIDE

    def items(self, left: float, top: float, high: float) -> list[Item]:
        """The box at a place, as high as its row."""
        right = left + self._across
        items: list[Item] = [panel((left, top, right, top + high), None, look.PALE, 0.25)]
        x, y = left + INSIDE, top + INSIDE
        items += self._badge(x, y)
        items += self._title(x, y).items
        y += self._title_height
        wide, tall = self._picture
        box = (x, y, x + wide, y + tall)
        items += _picture(self._scene, self._step, self._extent, box)
        words = self._words(x, y + tall + 1.5) if self._above else self._words(x + wide + 3.0, y)
        return [*items, *words.items]

    def _badge(self, x: float, y: float) -> list[Item]:
        return [
            Disc((x + 3.0, y + 2.8), 3.0, look.INK),
            Words((x + 3.0, y + 3.85), str(self._number), 2.9, True, "middle", "#ffffff"),
        ]

    def _title(self, x: float, y: float) -> Flow:
        flow = Flow(x + 7.6, y + 0.4, self._across - 2.0 * INSIDE - 7.6)
        flow.lines(self._step.title, 3.4, bold=True)
        return flow

    def _words(self, x: float, y: float) -> Flow:
        across = self._across - 2.0 * INSIDE - (0.0 if self._above else self._beside[0] + 3.0)
        flow = Flow(x, y, across)
        for one in self._step.words:
            flow.lines(one, 2.7, after=1.0)
        return flow


_FOLD = (0.0, 0.0, 38.0, 14.0)
_LOOSE = (0.0, 0.0, 32.0, 20.0)


def _extent(scene: Scene, step: Step) -> Box:
    """What the picture of a step shows (mm of the card; two need no card)."""
    if step.show == "fold":
        return _FOLD
    if step.show == "test-light":
        return _LOOSE
    shapes = [scene.base]
    if step.show in FRONTS:
        shapes = [scene.front if not scene.front.is_empty else scene.base]
    for thing in (*step.new, *step.done):
        shapes.append(thing.body if isinstance(thing, Piece) else thing.geometry)
        if isinstance(thing, Piece):
            shapes += [foot for _, foot in thing.feet]
    left, top, right, bottom = shapely.total_bounds(shapes)
    return (left - 1.0, top - 1.0, right + 1.0, bottom + 1.0)


def _picture(scene: Scene, step: Step, extent: Box, box: Box) -> list[Item]:
    fit = fit_into(extent, box, 3.0)
    if step.show == "fold":
        return _fold(fit)
    if step.show == "test-light":
        return _loose_light(fit)
    if step.show == "guides":
        return [*ghost(scene, (), fit), *_guides(scene, fit)]
    if step.show in FRONTS:
        return _front(scene, step, fit)
    items = ghost(scene, step.done, fit)
    if step.show in ("far-end", "all-lights"):
        items += _rings(scene, step, fit)
    for geometry, fill, edge in (
        (scene.covers if step.show == "cover" else None, look.COVER, look.COVER_EDGE),
        (scene.foam if step.show == "foam" else None, look.FOAM, look.FOAM_EDGE),
    ):
        if geometry is not None:
            items += area(geometry, fit, fill, edge, 0.25)
    for thing in step.new:
        items += full(thing, fit)
    return [*items, *_labels(scene, step, fit, box)]


def full(
    thing: Tape | Paper | Piece, fit: Fit, hidden: shapely.Geometry | None = None
) -> list[Item]:
    """A thing drawn strongly; signs of tape are left out where they would be `hidden`."""
    if isinstance(thing, Tape):
        return tape(thing, fit, hidden)
    return paper(thing, fit) if isinstance(thing, Paper) else piece(thing, fit)


def _guides(scene: Scene, fit: Fit) -> list[Item]:
    items: list[Item] = []
    for thing in everything(scene):
        shape = thing.body if isinstance(thing, Piece) else thing.geometry
        items += outline(shape, fit, 0.2, look.INK)
    return items


def _rings(scene: Scene, step: Step, fit: Fit) -> list[Item]:
    """Rings round the places where a light must shine."""
    if step.at is not None:
        return [Disc(fit.point(step.at), 2.6, None, look.ALARM, 0.5)]
    return [
        Disc(fit.point(light.at), max(1.2, 2.2 * fit.scale), look.LENS, look.BODY_EDGE, 0.2)
        for light in scene.lights
    ]


def _front(scene: Scene, step: Step, fit: Fit) -> list[Item]:
    shape = scene.front if not scene.front.is_empty else scene.base
    if step.show == "vellum":
        items = area(scene.diffusers, fit, look.VELLUM, look.VELLUM_EDGE, 0.25)
        return [*items, *outline(shape, fit, 0.25, look.PANEL_EDGE)]
    items = []
    if step.show == "done":
        for light in scene.lights:
            items.append(Disc(fit.point(light.at), max(1.4, 4.0 * fit.scale), look.LENS))
    items += area(shape, fit, look.PANEL, look.PANEL_EDGE, 0.25)
    if step.show == "done":
        items += press_mark(scene, fit)
    return items


def _labels(scene: Scene, step: Step, fit: Fit, box: Box) -> list[Item]:
    """Names of what is new."""
    if step.show:
        return []
    labels = Labels((box[0] - 1.0, box[1] - 1.0, box[2] + 1.0, box[3] + 1.0), _covered(step, fit))
    parts = tree_of(thing for thing in step.new if isinstance(thing, Piece))
    items: list[Item] = []
    for thing in step.new:
        if isinstance(thing, Tape):
            at = fit.point(middle_of(thing.geometry, parts))
            items += labels.put(thing.label, at, 2.6, look.INK, reach=thing.width * fit.scale * 0.6)
        elif isinstance(thing, Piece) and thing.kind == "light":
            items += labels.put(str(thing.number), fit.point(thing.at), 2.6, look.INK,
                                reach=max(1.6, 3.0 * fit.scale))  # fmt: skip
    return items


def _covered(step: Step, fit: Fit) -> shapely.Geometry:
    shapes = [t.body if isinstance(t, Piece) else t.geometry for t in step.new]
    return shapely.transform(shapely.union_all(shapes), fit.points)


def _loose_light(fit: Fit) -> list[Item]:
    """A light held to the faces of a coin battery, seen from the edge."""

    def box(left: float, top: float, right: float, bottom: float) -> shapely.Geometry:
        return shapely.box(left, top, right, bottom)

    items = area(box(4.0, 8.4, 24.0, 11.6), fit, look.METAL, look.BODY_EDGE, 0.25)
    items += area(box(5.5, 11.6, 22.5, 12.2), fit, look.PALE, look.BODY_EDGE, 0.15)
    items += sign(fit.point((7.0, 10.0)), 1.0, True, look.INK, 0.3)
    items += sign(fit.point((8.5, 13.9)), 1.0, False, look.INK, 0.3)
    for top, plus in ((7.4, True), (12.2, False)):
        items += area(box(19.0, top, 29.5, top + 1.0), fit, look.FOOT, look.BODY_EDGE, 0.2)
        at = fit.point((17.0, 5.9 if plus else 14.8))
        items += sign(at, 0.9, plus, look.ALARM if plus else look.INK, 0.3)
    items += area(box(27.0, 5.6, 31.5, 15.0), fit, look.BODY, look.BODY_EDGE, 0.25)
    items.append(Disc(fit.point((29.2, 10.3)), 1.5 * fit.scale, look.LENS, look.BODY_EDGE, 0.2))
    for x0, y0, x1, y1 in ((29.2, 4.6, 29.2, 2.4), (31.2, 5.0, 31.9, 3.2), (27.2, 5.0, 26.5, 3.2)):
        items.append(Line((fit.point((x0, y0)), fit.point((x1, y1))), 0.3, look.MINUS))
    return items


def _fold(fit: Fit) -> list[Item]:
    """Three stages of a folded corner."""

    def poly(*points: tuple[float, float]) -> shapely.Geometry:
        return shapely.Polygon(points)

    strip, under, edge = look.PLUS, "#8fa9bd", look.INK
    items: list[Item] = []
    # 1: the tape runs to the far edge of the corner
    items += area(poly((0, 4), (10, 4), (10, 8), (0, 8)), fit, strip, edge, 0.2)
    items.append(Line((fit.point((10.0, 2.6)), fit.point((10.0, 9.4))), 0.2, look.GREY, False,
                      (0.8, 0.6)))  # fmt: skip
    # 2: straight back on itself
    items += area(poly((13, 4), (23, 4), (23, 8), (13, 8)), fit, strip, edge, 0.2)
    items += area(poly((16, 4), (23, 4), (23, 8), (16, 8)), fit, under, edge, 0.2)
    items += _arrow(fit, (21.5, 2.6), (17.0, 2.6))
    # 3: over across the corner, the new way
    items += area(poly((26, 4), (36, 4), (36, 8), (26, 8)), fit, strip, edge, 0.2)
    items += area(poly((32, 4), (36, 8), (36, 14), (32, 14)), fit, strip, "#ffffff", 0.25)
    items.append(Line((fit.point((32.0, 4.0)), fit.point((36.0, 8.0))), 0.3, "#ffffff"))
    items += _arrow(fit, (30.6, 9.2), (30.6, 12.6))
    for x, word in ((0.0, "1"), (13.0, "2"), (26.0, "3")):
        at = fit.point((x + 0.2, 2.8))
        items.append(Words(at, word, 2.8, True, "start", look.INK))
    return items


def _arrow(fit: Fit, start: tuple[float, float], end: tuple[float, float]) -> list[Item]:
    (x0, y0), (x1, y1) = fit.point(start), fit.point(end)
    long = max(((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5, 1e-6)
    ux, uy = (x1 - x0) / long, (y1 - y0) / long
    tip = ((x1, y1), (x1 - 1.8 * ux - 0.9 * uy, y1 - 1.8 * uy + 0.9 * ux),
           (x1 - 1.8 * ux + 0.9 * uy, y1 - 1.8 * uy - 0.9 * ux))  # fmt: skip
    return [Line(((x0, y0), (x1 - ux, y1 - uy)), 0.3, look.INK), Area((tip,), look.INK)]


#: Pictures that need no card, by `Step.show`: what they show and how it is drawn.
OWN_PICTURES = {"fold": (_FOLD, _fold), "test-light": (_LOOSE, _loose_light)}
