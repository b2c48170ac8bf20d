"""Clip paths as areas in page mm (SVG 1.1 14.3).

The area is the union of what the clip path's shapes fill, by their `clip-rule`, cut by the clip
paths of the shapes and by the clip path's own. Strokes do not count.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

import shapely
from lxml import etree
from shapely.geometry.base import BaseGeometry

from underlit.geometry.areas import filled_area
from underlit.language import say

from .clones import Frame, Viewport, clone_matrix, open_viewport, own_matrix
from .contours import make_contours
from .lengths import Unreadable
from .names import CONTAINERS, SHAPES, TEXTS, local_name
from .paths import Outline
from .references import Census, References, href
from .shapes import read_outline
from .styles import INITIAL, Cascade, Style
from .transforms import IDENTITY, Matrix, compose, inverse

#: Clip paths of clip paths deeper than this are not followed.
DEEPEST = 30


class _Step(NamedTuple):
    element: etree._Element
    matrix: Matrix
    style: Style
    viewport: Viewport
    clip: BaseGeometry | None
    chain: tuple[etree._Element, ...]
    frame: Frame | None


class _Leaf(NamedTuple):
    outline: Outline
    matrix: Matrix
    rule: str
    clip: BaseGeometry | None


class Clips:
    """Reads clip paths of one drawing; equal ones are read once."""

    def __init__(self, references: References, cascade: Cascade, census: Census) -> None:
        self._references = references
        self._cascade = cascade
        self._census = census
        self._known: dict[tuple[str, Matrix, etree._Element | None], BaseGeometry] = {}
        self._active: list[str] = []

    def area(
        self, ident: str, element: etree._Element, matrix: Matrix, viewport: Viewport
    ) -> BaseGeometry | None:
        """What the clip path leaves visible of an element whose user space `matrix` maps.

        None where there is no such clip path. Raises Unreadable.
        """
        source = self._references.find(ident)
        if source is None or local_name(source.tag) != "clipPath":
            return None
        boxed = source.attrib.get("clipPathUnits") == "objectBoundingBox"
        key = (ident, matrix, element if boxed else None)
        if key not in self._known:
            if ident in self._active or len(self._active) >= DEEPEST:
                raise Unreadable(say("its clip path clips itself"))
            self._active.append(ident)
            try:
                if boxed:
                    matrix = compose(matrix, self._box(element, viewport))
                    viewport = (1.0, 1.0)
                self._known[key] = self._read(source, matrix, viewport)
            finally:
                self._active.pop()
        return self._known[key]

    def _read(self, source: etree._Element, matrix: Matrix, viewport: Viewport) -> BaseGeometry:
        style = self._cascade.style(INITIAL, source, source.attrib)
        inner = own_matrix(matrix, source.attrib)
        steps = [
            _Step(child, inner, style, viewport, None, (), None)
            for child in source.iterchildren(reversed=True)
        ]
        leaves = list(self._leaves(steps))
        areas = []
        shapes = make_contours([(leaf.outline, leaf.matrix) for leaf in leaves])
        for leaf, contours in zip(leaves, shapes, strict=True):
            if contours is None:
                raise Unreadable(say("its clip path has numbers that cannot be used"))
            area = filled_area(contours, leaf.rule)
            areas.append(area if leaf.clip is None else area.intersection(leaf.clip))
        whole = shapely.union_all(areas)
        if style.clip is not None:
            outer = self.area(style.clip, source, matrix, viewport)
            whole = whole if outer is None else whole.intersection(outer)
        return whole

    def _leaves(self, steps: list[_Step], painting: bool = False) -> Iterator[_Leaf]:
        """Shapes below, in drawing order; with `painting` only for their size."""
        while steps:
            step = steps.pop()
            name = local_name(step.element.tag)
            attributes = step.element.attrib
            if name in TEXTS and not painting:
                raise Unreadable(say("its clip path holds text"))
            if name not in SHAPES and name not in CONTAINERS and name not in {"use", "symbol"}:
                continue
            if name == "symbol" and step.frame is None:
                continue
            style = self._cascade.style(step.style, step.element, attributes)
            if not style.displayed and name != "symbol":
                continue
            matrix = own_matrix(step.matrix, attributes)
            clip = step.clip
            if style.clip is not None and not painting:
                own = self.area(style.clip, step.element, matrix, step.viewport)
                clip = own if clip is None or own is None else clip.intersection(own)
            inside = step._replace(matrix=matrix, style=style, clip=clip, frame=None)
            if name in SHAPES:
                if style.visible:
                    outline = read_outline(name, attributes, step.viewport)
                    rule = style.get("clip-rule", "nonzero")
                    yield _Leaf(outline, matrix, rule, clip)
            elif name == "use":
                steps += self._cloned(inside)
            else:
                if name in {"svg", "symbol"}:
                    matrix, viewport = open_viewport(matrix, attributes, step.viewport, step.frame)
                    inside = inside._replace(matrix=matrix, viewport=viewport)
                steps += [
                    inside._replace(element=child)
                    for child in step.element.iterchildren(reversed=True)
                ]

    def _cloned(self, step: _Step) -> list[_Step]:
        use = step.element
        target = self._references.find(href(use))
        if target is None or target in step.chain or target is use:
            return []
        if target in set(use.iterancestors()):
            return []
        if not step.chain:
            self._census.add(target)
        matrix = clone_matrix(step.matrix, use.attrib, step.viewport)
        frame = (use.attrib.get("width"), use.attrib.get("height"))
        chain = (use, target, *step.chain)
        return [step._replace(element=target, matrix=matrix, chain=chain, frame=frame)]

    def _box(self, element: etree._Element, viewport: Viewport) -> Matrix:
        """The map of the unit square to the box about an element in its own user space."""
        start = inverse(own_matrix(IDENTITY, element.attrib))
        steps = [_Step(element, start, INITIAL, viewport, None, (), None)]
        leaves = list(self._leaves(steps, painting=True))
        points = [
            contour.points
            for contours in make_contours([(leaf.outline, leaf.matrix) for leaf in leaves])
            for contour in contours or ()
        ]
        if not points:
            return (0.0, 0.0, 0.0, 0.0, 0.0, 0.0)
        low_x = min(float(p[:, 0].min()) for p in points)
        low_y = min(float(p[:, 1].min()) for p in points)
        width = max(float(p[:, 0].max()) for p in points) - low_x
        height = max(float(p[:, 1].max()) for p in points) - low_y
        return (width, 0.0, 0.0, height, low_x, low_y)
