"""The labelled circuit as one picture in which every thing can be shown by itself."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from xml.etree import ElementTree as ET

import shapely

from ..records import record
from ..sheet import look
from ..sheet.content import Box, Disc, Item, Point
from ..sheet.drawing import Fit, area, fit_into, ghost, outline
from ..sheet.front import press_mark
from ..sheet.labels import Labels
from ..sheet.scene import Piece, Scene, Tape
from ..sheet.step_pages import OWN_PICTURES, full
from ..sheet.steps import Step, Thing, everything
from ..sheet.true_size import middle_of
from ..sheet.wording import name_of
from .elements import drawn, element, number

#: The picture is at most so wide and high, with room around it for words (its own units: as mm on
#: a phone's screen twice as wide, so that letters stay readable there).
WIDE, HIGH, ROOM = 104.0, 120.0, 8.0

#: Sizes of letters.
TAPE, LIGHT, OTHER = 4.2, 4.0, 3.6


@record
class Diagram:
    """The picture; `names` maps things to the ids of their groups, `own` steps to theirs."""

    svg: ET.Element
    names: Mapping[Thing, str]
    own: Mapping[int, str]


def diagram_of(
    scene: Scene, steps: Sequence[Step], title: str, stamp: str | None,
    faults: Sequence[Point | None], plain: bool,
) -> Diagram:  # fmt: skip
    """The whole circuit, and what only single steps show.

    `faults`: places of what must be mended first (working view), in the order of their list;
    `plain`: things without names, signs and feet, which a large card would drown in.
    """
    left, top, right, bottom = _extent(scene)
    scale = min(WIDE / (right - left), HIGH / (bottom - top))
    wide, high = scale * (right - left) + 2.0 * ROOM, scale * (bottom - top) + 2.0 * ROOM
    fit = fit_into((left, top, right, bottom), (ROOM, ROOM, wide - ROOM, high - ROOM), scale)
    box = (1.0, 1.0, wide - 1.0, high - 1.0)
    names = {thing: f"thing-{i}" for i, thing in enumerate(everything(scene))}
    groups = _plain(names, fit) if plain else _things(scene, names, fit, box)
    own, special = _special(scene, steps, fit, box)
    size = f"0 0 {number(wide)} {number(high)}"
    svg = element(
        "svg", {"id": "circuit", "viewBox": size, "role": "img", "aria-labelledby": "circuit-says"},
        element("title", {"id": "circuit-says"}, title),
        element("g", {"class": "sheet"}, *drawn(ghost(scene, (), fit))),
        *groups, *special,
    )  # fmt: skip
    if stamp:
        svg.append(_stamp(stamp, wide, high))
    svg.extend(_fault(n, fit.point(at)) for n, at in enumerate(faults, 1) if at is not None)
    return Diagram(svg, names, own)


def _extent(scene: Scene) -> Box:
    """Circuit and front together."""
    left, top, right, bottom = scene.extent
    if scene.front.is_empty:
        return (left, top, right, bottom)
    x0, y0, x1, y1 = scene.front.bounds
    return (min(left, x0), min(top, y0), max(right, x1), max(bottom, y1))


def _things(scene: Scene, names: Mapping[Thing, str], fit: Fit, box: Box) -> list[ET.Element]:
    things = list(names)
    bodies = [t.body for t in things if isinstance(t, Piece)]
    hidden = shapely.transform(shapely.union_all(bodies), fit.points)
    shapes = [t.body if isinstance(t, Piece) else t.geometry for t in things]
    feet = [foot for t in things if isinstance(t, Piece) for _, foot in t.feet]
    off = shapely.transform(shapely.union_all([*shapes, *feet]), fit.points)
    labels, tree = Labels(box, off), shapely.STRtree(bodies)
    order = sorted(things, key=lambda thing: isinstance(thing, Piece))
    told = {thing: _label(scene, thing, fit, labels, tree) for thing in order}
    return [
        element(
            "g", {"id": names[thing], "class": "thing"},
            element("g", {"class": "body"}, *drawn(full(thing, fit, hidden))),
            element("g", {"class": "says"}, *drawn(told[thing])),
        )
        for thing in things
    ]  # fmt: skip


def _plain(names: Mapping[Thing, str], fit: Fit) -> list[ET.Element]:
    return [
        element("g", {"id": name, "class": "thing"},
                element("g", {"class": "body"}, *drawn(_silhouette(thing, fit))))
        for thing, name in names.items()
    ]  # fmt: skip


def _silhouette(thing: Thing, fit: Fit) -> list[Item]:
    if isinstance(thing, Tape):
        fill = {"positive": look.PLUS, "negative": look.MINUS}.get(thing.sign or "", look.PALE)
        return area(thing.geometry, fit, fill, None, 0.0)
    if isinstance(thing, Piece):
        fill = look.LENS if thing.kind == "light" else look.METAL
        return area(thing.body, fit, fill, look.BODY_EDGE, 0.1)
    return area(thing.geometry, fit, look.PAPER, look.PAPER_EDGE, 0.1)


def _label(
    scene: Scene, thing: Thing, fit: Fit, labels: Labels, tree: shapely.STRtree
) -> list[Item]:
    if isinstance(thing, Tape):
        at = fit.point(middle_of(thing.geometry, tree))
        return labels.put(thing.label, at, TAPE, look.INK, reach=0.6 * thing.width * fit.scale)
    if not isinstance(thing, Piece):
        return []
    if thing.kind == "light":
        return labels.put(str(thing.number), fit.point(thing.at), LIGHT, look.ALARM,
                          reach=2.6 * fit.scale)  # fmt: skip
    left, top, right, bottom = thing.body.bounds
    reach = 0.5 * min(right - left, bottom - top) * fit.scale
    return labels.put(name_of(scene, thing), fit.point(thing.at), OTHER, look.INK, reach=reach)


def _special(
    scene: Scene, steps: Sequence[Step], fit: Fit, box: Box
) -> tuple[dict[int, str], list[ET.Element]]:
    """What single steps show beside the things: step index -> id, and the groups."""
    own, groups = {}, []
    for i, step in enumerate(steps):
        items = list(_shown(scene, step, fit, box))
        if items:
            own[i] = f"step-{i}"
            kind = "apart" if step.show in OWN_PICTURES else step.show
            group = element("g", {"id": own[i], "class": "own", "data-kind": kind}, *drawn(items))
            groups.append(group)
    return own, groups


def _shown(scene: Scene, step: Step, fit: Fit, box: Box) -> Iterable[Item]:
    if step.show in OWN_PICTURES:
        extent, draw = OWN_PICTURES[step.show]
        middle = (box[1] + box[3]) / 2.0
        return draw(fit_into(extent, (box[0] + 4.0, middle - 30.0, box[2] - 4.0, middle + 30.0),
                             3.0))  # fmt: skip
    if step.show == "guides":
        shapes = (t.body if isinstance(t, Piece) else t.geometry for t in everything(scene))
        return [item for shape in shapes for item in outline(shape, fit, 0.3, look.INK)]
    if step.show == "far-end" and step.at is not None:
        return [Disc(fit.point(step.at), max(3.0, 4.5 * fit.scale), None, look.ALARM, 0.8)]
    if step.show == "all-lights":
        return _burning(scene, fit)
    if step.show == "cover":
        return area(scene.covers, fit, look.COVER, look.COVER_EDGE, 0.3)
    if step.show == "vellum":
        return area(scene.diffusers, fit, look.VELLUM, look.VELLUM_EDGE, 0.3)
    if step.show == "foam":
        return area(scene.foam, fit, look.FOAM, look.FOAM_EDGE, 0.3)
    if step.show in ("front", "done", "pieces"):
        return _front(scene, fit, step.show == "done")
    return []


def _burning(scene: Scene, fit: Fit) -> list[Item]:
    radius = max(1.6, 3.0 * fit.scale)
    return [Disc(fit.point(one.at), radius, look.LENS, look.BODY_EDGE, 0.25)
            for one in scene.lights]  # fmt: skip


def _front(scene: Scene, fit: Fit, done: bool) -> list[Item]:
    items = _burning(scene, fit) if done else []
    items += area(scene.front, fit, look.PANEL, look.PANEL_EDGE, 0.3)
    if done:
        items += press_mark(scene, fit)
    return items


def _fault(number_: int, at: Point) -> ET.Element:
    """A numbered disc on a fault."""
    x, y = at
    return element(
        "g", {"class": "fault"},
        element("circle", {"cx": number(x), "cy": number(y), "r": "2.6"}),
        element("text", {"x": number(x), "y": number(y + 1.25), "font-size": "3.4"}, str(number_)),
    )  # fmt: skip


def _stamp(text: str, wide: float, high: float) -> ET.Element:
    x, y = number(wide / 2.0), number(high / 2.0)
    place = {"x": x, "y": y, "font-size": number(min(wide, high) / 6.5)}
    return element(
        "text", {"class": "stamp", "aria-hidden": "true", **place,
                 "transform": f"rotate(-28 {x} {y})"}, text,
    )  # fmt: skip
