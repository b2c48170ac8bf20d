"""A drawing becomes a card: every layer read into what its objects mean."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

import shapely
from shapely.geometry import MultiPolygon
from shapely.geometry.base import BaseGeometry

from ..model.card import Card, Fold, Panel, Sheet
from ..model.drawing import TOOL_ROLES, Drawing, Shape
from ..model.finding import Finding
from ..records import record
from .crossings import feature_crossings
from .outlines import Outlines, read_outlines
from .parts import Parts, read_parts
from .sheets import fold_lines, read_sheets
from .tape import Tape, read_tape
from .words import unknown_words


@record
class Reading:
    """A card and everything that was noticed while reading it."""

    card: Card
    parts: Parts
    tape: Tape
    outlines: Outlines
    findings: tuple[Finding, ...]


def read_card(drawing: Drawing, corners: str) -> Reading:
    """Give every shape of a drawing its meaning (`corners`: fold or overlap, of the tape)."""
    layers = _by_role(drawing.shapes)
    sheets: dict[str, tuple[Sheet, ...]] = {}
    findings: list[Finding] = []
    for role in ("base", "foam", "cover", "diffuser"):
        sheets[role], found = read_sheets(layers.get(role, []), role)
        findings += found
    diffuser = _union(sheets["diffuser"])
    base = _union(sheets["base"])
    outlines = read_outlines(layers.get("die-cut", []), drawing.page, diffuser, base)
    folds, found = fold_lines(layers.get("folds", []))
    findings += [*outlines.findings, *found, *feature_crossings(drawing.shapes)]
    findings += unknown_words(drawing)
    parts = read_parts(drawing)
    tape = read_tape(layers.get("tape", []), corners)
    card = _card(drawing, sheets, outlines, folds, parts, tape)
    return Reading(card, parts, tape, outlines, tuple(findings))


def _by_role(shapes: Iterable[Shape]) -> dict[str, list[Shape]]:
    """Shapes outside parts, by the role of their layer."""
    found: dict[str, list[Shape]] = {}
    for shape in shapes:
        if shape.part is None and not shape.feature and shape.role not in TOOL_ROLES:
            found.setdefault(shape.role, []).append(shape)
    return found


def _union(sheets: Iterable[Sheet]) -> BaseGeometry:
    geometries = [sheet.geometry for sheet in sheets]
    if len(geometries) == 1:
        return geometries[0]
    return shapely.union_all(geometries) if geometries else MultiPolygon()


def _panel_union(panels: Iterable[Panel]) -> BaseGeometry:
    geometries = [panel.outline for panel in panels]
    return shapely.union_all(geometries) if geometries else MultiPolygon()


def _card(
    drawing: Drawing,
    sheets: Mapping[str, tuple[Sheet, ...]],
    outlines: Outlines,
    folds: tuple[Fold, ...],
    parts: Parts,
    tape: Tape,
) -> Card:
    drawn = bool(sheets["base"])
    base = _union(sheets["base"]) if drawn else _panel_union(outlines.panels)
    accepts = _accepts(drawing)
    return Card(
        panels=outlines.panels,
        openings=outlines.openings,
        loose=outlines.loose,
        base=base,
        base_drawn=drawn,
        base_objects=tuple(sheet.object for sheet in sheets["base"]),
        foam=sheets["foam"],
        covers=sheets["cover"],
        diffusers=sheets["diffuser"],
        folds=folds,
        lights=parts.of("light"),
        cells=parts.of("cell"),
        switches=parts.of("switch"),
        resistors=parts.of("resistor"),
        pull_tabs=parts.of("pull-tab"),
        strips=tape.strips,
        patches=tape.patches,
        side=drawing.side,
        accepts=accepts,
        marks=_marks(drawing, accepts),
        scores=outlines.lines,
    )


def _accepts(drawing: Drawing) -> Mapping[str, frozenset[str]]:
    """Object id -> rule codes that its maker accepts."""
    found: dict[str, set[str]] = {}
    things = [(shape.id, shape.attributes) for shape in drawing.shapes]
    things += [(part.id, part.attributes) for part in drawing.parts]
    for name, attributes in things:
        words = attributes.get("accept")
        if words:
            found.setdefault(name, set()).update(words.split())
    return {name: frozenset(codes) for name, codes in found.items()}


def _marks(drawing: Drawing, accepts: Mapping[str, frozenset[str]]) -> Mapping[str, str]:
    """Place and size of each accepted object, to notice later that it changed."""
    if not accepts:
        return {}
    owners = {i: part.id for i, part in enumerate(drawing.parts)}
    points: dict[str, list[BaseGeometry]] = {}
    for shape in drawing.shapes:
        name = shape.id if shape.part is None else owners[shape.part]
        if name in accepts:
            points.setdefault(name, []).extend(
                shapely.linestrings(c.points) for c in shape.contours if len(c.points) > 1
            )
    return {name: _mark(shapely.geometrycollections(lines)) for name, lines in points.items()}


def _mark(geometry: BaseGeometry) -> str:
    numbers = (*geometry.bounds, geometry.length)
    return " ".join(f"{number:.2f}" for number in numbers)
