"""Small cards built by hand for tests: the bench card and its pieces. All in mm.

The bench: a back sheet of 100 x 80 under a panel of the same size; a plus rail at y 20 and a
minus rail at y 28; a battery in a holder whose feet are at (90, 60) and (60, 60); lights stand
upright between the rails, each behind a round window.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import replace
from functools import cache
from itertools import pairwise

import shapely
from shapely import affinity
from shapely.geometry import LineString, MultiPolygon, box
from shapely.geometry.base import BaseGeometry

from underlit.connectivity import read_circuit
from underlit.electrical import can_compute, supply_of
from underlit.model.card import Card, Fold, Opening, Panel, Part, Patch, Sheet, Strip
from underlit.model.case import Case, Facts
from underlit.model.drawing import Layer
from underlit.model.finding import Finding
from underlit.profiles import Profile, load_profile
from underlit.rules import check_all

Point = tuple[float, float]

PLUS = ((10.0, 20.0), (90.0, 20.0), (90.0, 62.5))
MINUS = ((10.0, 28.0), (60.0, 28.0), (60.0, 62.5))
SPOTS = ((20.0, 24.0), (35.0, 24.0), (50.0, 24.0))
BASE = box(0, 0, 100, 80)


# ---- pieces ------------------------------------------------------------------------------------


def strip(
    name: str,
    points: Sequence[Point],
    width: float = 5.0,
    polarity: str | None = None,
    joint: str | None = None,
) -> Strip:
    """A stroked strip with flat ends and mitred corners; its order is given by `tape`."""
    line = LineString(points)
    area = line.buffer(width / 2, cap_style="flat", join_style="mitre")
    return _strip(name, area, width, line.length, _turns(points), line, polarity, joint)


def cut(name: str, area: BaseGeometry, polarity: str | None = None) -> Strip:
    """A strip cut from sheet (a filled shape)."""
    width = 2.0 * float(shapely.maximum_inscribed_circle(area).length)
    return _strip(name, area, width, area.area / width, 0, None, polarity, None)


def _strip(name, area, width, length, folds, line, polarity, joint) -> Strip:  # type: ignore[no-untyped-def]
    return Strip(
        name=name,
        object=name.split("#")[0],
        order=0,
        geometry=area,
        width=width,
        length=length,
        folds=folds,
        line=line,
        stroked=line is not None,
        polarity=polarity,
        joint=joint,
    )


def _turns(points: Sequence[Point]) -> int:
    ways = [math.atan2(b[1] - a[1], b[0] - a[0]) for a, b in pairwise(points)]
    return sum(abs(math.remainder(b - a, math.tau)) > math.radians(10) for a, b in pairwise(ways))


def patch(name: str, area: BaseGeometry) -> Patch:
    """An insulating patch; its order is given by `tape`."""
    return Patch(name, name, 0, area)


def part(
    kind: str, name: str, features: dict[str, BaseGeometry], type: str = "", **attributes: str
) -> Part:
    """A part from its features in page mm."""
    return Part(name, True, kind, type, 0, {"type": type, **attributes}, features)


def placed(shapes: dict[str, BaseGeometry], at: Point, angle: float) -> dict[str, BaseGeometry]:
    """Features about the origin, turned (clockwise on screen) and moved."""
    turned = {k: affinity.rotate(g, angle, origin=(0, 0)) for k, g in shapes.items()}
    return {k: affinity.translate(g, *at) for k, g in turned.items()}


def light(
    name: str, at: Point, angle: float = -90.0, type: str = "warm-white", **attributes: str
) -> Part:
    """A stick-on light; at angle 0 its plus foot is on the right."""
    shapes = {
        "positive-pad": box(2.5, -1.5, 5.5, 1.5),
        "negative-pad": box(-5.5, -1.5, -2.5, 1.5),
        "lens": shapely.Point(0, 0).buffer(1.5),
        "body": box(-6, -2.5, 6, 2.5),
    }
    return part("light", name, placed(shapes, at, angle), type, **attributes)


def holder(
    name: str = "battery", at: Point = (75.0, 60.0), angle: float = 0.0, **attributes: str
) -> Part:
    """A battery in a holder; at angle 0 its plus foot is on the right."""
    shapes = {
        "positive-pad": box(13, -2.5, 17, 2.5),
        "negative-pad": box(-17, -2.5, -13, 2.5),
        "body": box(-14, -10.5, 14, 10.5),
    }
    attributes = {"closes": "press"} | attributes
    return part("cell", name, placed(shapes, at, angle), "cr2032", **attributes)


def bare_cell(
    name: str = "battery",
    at: Point = (75.0, 60.0),
    plus: Point = (5.0, 0.0),
    minus: Point = (-5.0, 0.0),
    **attributes: str,
) -> Part:
    """A bare battery of 20 mm; `plus` and `minus` are its contacts, from its middle."""
    shapes = {
        "positive-pad": shapely.Point(plus).buffer(3.0),
        "negative-pad": shapely.Point(minus).buffer(3.0),
        "body": shapely.Point(0, 0).buffer(10.0, quad_segs=64),
    }
    attributes = {"closes": "press"} | attributes
    return part("cell", name, placed(shapes, at, 0.0), "cr2032", **attributes)


def two_feet(kind: str, name: str, at: Point, angle: float = 0.0, **attributes: str) -> Part:
    """A switch or resistor: contact-1 on the left, 3 x 3 mm, at 8 mm."""
    shapes = {
        "contact-1": box(-5.5, -1.5, -2.5, 1.5),
        "contact-2": box(2.5, -1.5, 5.5, 1.5),
        "body": box(-6, -2.5, 6, 2.5),
    }
    return part(kind, name, placed(shapes, at, angle), **attributes)


def fold(name: str, points: Sequence[Point], moves: str = "often", cell: str | None = None) -> Fold:
    return Fold(name, LineString(points), moves, cell)


def opening(number: int, at: Point, radius: float = 4.0, **more: object) -> Opening:
    """A round window."""
    disc = shapely.Point(at).buffer(radius, quad_segs=32)
    return window(number, disc, **more)


def window(number: int, area: BaseGeometry, **more: object) -> Opening:
    """A window of any shape."""
    at = area.representative_point()
    name = f"window-{number}"
    values = {"clear": area, "panel": 0, **more}
    return Opening(number, name, name, (at.x, at.y), area, **values)  # type: ignore[arg-type]


def sheet(name: str, role: str, area: BaseGeometry) -> Sheet:
    return Sheet(name, role, area)


# ---- cards -------------------------------------------------------------------------------------


def tape(things: Iterable[Strip | Patch]) -> dict[str, tuple[Strip, ...] | tuple[Patch, ...]]:
    """Strips and patches in laying order, as fields of a card."""
    laid = [replace(thing, order=i) for i, thing in enumerate(things)]
    return {
        "strips": tuple(t for t in laid if isinstance(t, Strip)),
        "patches": tuple(t for t in laid if isinstance(t, Patch)),
    }


def card(**values: object) -> Card:
    """A card with nothing on it but what is named."""
    nothing: dict[str, object] = dict.fromkeys(
        (
            *("panels", "openings", "loose", "base_objects", "foam", "covers", "diffusers"),
            *("folds", "lights", "cells", "switches", "resistors", "pull_tabs"),
            *("strips", "patches"),
        ),
        (),
    )
    return Card(**{**nothing, "base": MultiPolygon(), "base_drawn": False, **values})  # type: ignore[arg-type]


def rails() -> list[Strip]:
    """The two strips of the bench."""
    return [
        strip("plus", PLUS, polarity="positive"),
        strip("minus", MINUS, polarity="negative"),
    ]


def bench(
    *more: Strip | Patch, strips: Sequence[Strip | Patch] | None = None, **values: object
) -> Card:
    """The bench card. `more` is laid on top of `strips` (the two rails)."""
    laid = tape([*(rails() if strips is None else strips), *more])
    lights = tuple(light(f"light-{i}", at) for i, at in enumerate(SPOTS, 1))
    good: dict[str, object] = {
        "panels": (Panel("panel", BASE),),
        "openings": tuple(opening(i, at) for i, at in enumerate(SPOTS, 1)),
        "base": BASE,
        "base_drawn": True,
        "base_objects": ("base",),
        "lights": lights,
        "cells": (holder(),),
    }
    return card(**{**good, **laid, **values})


@cache
def profile(name: str = "hand-laid") -> Profile:
    """A shipped profile, read once."""
    return load_profile(name)


def with_limits(**limits: float) -> Profile:
    """The default profile with other limits."""
    own = profile()
    return replace(own, limits=replace(own.limits, **limits))


def with_tape(**values: object) -> Profile:
    """The default profile with another tape."""
    own = profile()
    return replace(own, tape=replace(own.tape, **values))


def with_light(kind: str = "warm-white", **values: object) -> Profile:
    """The default profile with one kind of light changed."""
    own = profile()
    changed = replace(own.lights[kind], **values)  # type: ignore[arg-type]
    return replace(own, lights={**own.lights, kind: changed})


def with_cell(kind: str = "cr2032", **values: object) -> Profile:
    """The default profile with one kind of battery changed."""
    own = profile()
    return replace(own, cells={**own.cells, kind: replace(own.cells[kind], **values)})  # type: ignore[arg-type]


LAYERS = tuple(
    Layer(role, role, f"layer-{role}", False)
    for role in ("die-cut", "base", "lights", "power", "tape")
)
NOTHING = Facts(
    incomplete=(),
    strays=(),
    sketches=(),
    remarks=(),
    layers=LAYERS,
    found=(),
    used=frozenset(("die-cut", "base", "lights", "power", "tape")),
)


def case(of: Card, own: Profile | None = None, facts: Facts = NOTHING) -> Case:
    """A card wired up, ready to be judged."""
    own = own or profile()
    circuit = read_circuit(of, own.tape.adhesive_conducts)
    return Case(
        of, circuit, own, facts, supply=supply_of(of, circuit, own) if can_compute(of) else None
    )


# ---- findings ----------------------------------------------------------------------------------


def judge(of: Card, own: Profile | None = None, facts: Facts = NOTHING) -> list[Finding]:
    """Every stop and caution."""
    return [f for f in check_all(case(of, own, facts)) if f.severity != "note"]


def notes(of: Card, own: Profile | None = None, facts: Facts = NOTHING) -> list[Finding]:
    """Every note but the standing one, which every card with a battery has."""
    found = check_all(case(of, own, facts))
    return [f for f in found if f.severity == "note" and f.rule != "coin-cell"]


def codes(findings: Iterable[Finding]) -> list[tuple[str, str]]:
    """(rule, severity) of each finding, in order."""
    return [(f.rule, f.severity) for f in findings]


def only(
    of: Card, rule: str, severity: str, own: Profile | None = None, facts: Facts = NOTHING
) -> Finding:
    """The one finding of a card; where it is a note, the one note and nothing louder."""
    loud = judge(of, own, facts)
    if severity == "note":
        assert loud == []
        loud = notes(of, own, facts)
    assert codes(loud) == [(rule, severity)], loud
    said(loud[0])
    return loud[0]


def said(finding: Finding) -> None:
    """A finding has a whole sentence for what is wrong and one for what to do."""
    for text in (finding.message, finding.remedy):
        assert text[0].isupper() or text[0].isdigit() or text[0] == '"', text
        assert text.endswith((".", ".)")), text


def near(finding: Finding, x: float, y: float, within: float = 1.0) -> None:
    """A finding's place is where the fault is."""
    assert finding.at is not None
    assert math.dist(finding.at, (x, y)) <= within, finding.at


def clean(of: Card, own: Profile | None = None, facts: Facts = NOTHING) -> None:
    """A card without any finding."""
    assert judge(of, own, facts) == []
    assert notes(of, own, facts) == []
