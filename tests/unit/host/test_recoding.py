"""One card in many encodings gives one geometry (mm)."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np
import shapely
from host_drawing import SPACES, area
from hypothesis import given, settings
from hypothesis import strategies as st
from lxml import etree

from underlit.geometry.areas import painted_area
from underlit.model.drawing import Drawing
from underlit_host.read_drawing import read_drawing


@dataclass(frozen=True)
class Way:
    """A way of writing the card down."""

    unit: float  # user units per mm
    origin: tuple[float, float]  # the viewBox's corner in mm
    turn: float  # degrees of a group's transform, undone inside
    stretch: float  # scale of that group, undone inside
    nested: bool
    cloned: str  # no | use | clone of a clone | symbol
    style: str  # attributes | style | class | inherited
    curve: str  # shape | arc | cubic
    relative: bool
    prefixed: bool


ways = st.builds(
    Way,
    unit=st.sampled_from([1.0, 96 / 25.4, 3.0, 0.1, 72 / 25.4]),
    origin=st.tuples(st.integers(-40, 40), st.integers(-40, 40)),
    turn=st.sampled_from([0.0, 90.0, 33.0, -120.5]),
    stretch=st.sampled_from([1.0, 0.25, 7.5]),
    nested=st.booleans(),
    cloned=st.sampled_from(["no", "use", "clone of a clone", "symbol"]),
    style=st.sampled_from(["attributes", "style", "class", "inherited"]),
    curve=st.sampled_from(["shape", "arc", "cubic"]),
    relative=st.booleans(),
    prefixed=st.booleans(),
)

PLAIN = Way(1.0, (0, 0), 0.0, 1.0, False, "no", "attributes", "shape", False, False)

STRIP = [(10.0, 10.0), (60.0, 10.0), (60.0, 45.0), (30.0, 45.0)]
DISC = (70.0, 40.0, 12.0)
PLATE = (5.0, 5.0, 90.0, 60.0)


def number(value: float) -> str:
    return f"{value:.9f}"


class Pen:
    """Writes millimetres of the card in one way, inside the way's group."""

    def __init__(self, way: Way) -> None:
        self.way = way
        self.k = way.unit / way.stretch
        angle = math.radians(-way.turn)
        self.c, self.s = math.cos(angle), math.sin(angle)

    def at(self, x: float, y: float) -> tuple[float, float]:
        x, y = x + self.way.origin[0], y + self.way.origin[1]
        return (self.c * x - self.s * y) * self.k, (self.s * x + self.c * y) * self.k

    def path(self, points: list[tuple[float, float]], close: bool) -> str:
        placed = [self.at(*p) for p in points]
        words = ["M", *map(number, placed[0])]
        for before, here in pairwise(placed):
            if self.way.relative:
                words += ["l", number(here[0] - before[0]), number(here[1] - before[1])]
            else:
                words += ["L", *map(number, here)]
        return " ".join([*words, "z"] if close else words)

    def disc(self, x: float, y: float, r: float, paint: str) -> str:
        if self.way.curve == "shape":
            (cx, cy), r = self.at(x, y), r * self.k
            return f'<circle id="o2" cx="{number(cx)}" cy="{number(cy)}" r="{number(r)}" {paint}/>'
        east, west = self.at(x + r, y), self.at(x - r, y)
        if self.way.curve == "arc":
            bow = f"A {number(r * self.k)} {number(r * self.k)} 0 0 1"
            d = f"M {east[0]} {east[1]} {bow} {west[0]} {west[1]} {bow} {east[0]} {east[1]} z"
        else:
            d = f"M {east[0]} {east[1]}"
            steps = 16
            reach = 4 / 3 * math.tan(math.pi / 2 / steps)
            for i in range(steps):
                a, b = math.tau * i / steps, math.tau * (i + 1) / steps
                ca, sa, cb, sb = math.cos(a), math.sin(a), math.cos(b), math.sin(b)
                p = self.at(x + r * (ca - reach * sa), y + r * (sa + reach * ca))
                q = self.at(x + r * (cb + reach * sb), y + r * (sb - reach * cb))
                e = self.at(x + r * cb, y + r * sb)
                d += f" C {p[0]} {p[1]} {q[0]},{q[1]},{e[0]},{e[1]}"
            d += "Z"
        return f'<path id="o2" d="{d}" {paint}/>'


def write(way: Way) -> bytes:
    pen = Pen(way)
    width = number(5 * pen.k)
    looks = [
        {"fill": "none", "stroke": "red", "stroke-width": width, "stroke-linecap": "square"},
        {"fill": "red", "fill-rule": "evenodd"},
        {"fill": "#0000ff", "stroke": "none"},
    ]
    css, paints = "", []
    for i, look in enumerate(looks):
        text = ";".join(f"{key}:{value}" for key, value in look.items())
        css += f".k{i}{{{text}}}"
        pairs = " ".join(f'{key}="{value}"' for key, value in look.items())
        paints.append({"style": f'style="{text}"', "class": f'class="k{i}"'}.get(way.style, pairs))
    x, y, w, h = PLATE
    corners = [(x, y), (x + w, y), (x + w, y + h), (x, y + h)]
    inner = [(20.0, 20.0), (40.0, 20.0), (40.0, 30.0)]
    d = f"{pen.path(corners, True)} {pen.path(inner, True)}"
    inside = ["", "", ""] if way.style == "inherited" else paints
    objects = [
        f'<path id="o0" d="{pen.path(STRIP, False)}" {inside[0]}/>',
        f'<path id="o1" d="{d}" {inside[1]}/>',
        pen.disc(*DISC, inside[2]),
    ]
    defs, drawn = clone(objects, way.cloned)
    if way.style == "inherited":
        drawn = [f"<g {p}><g>{o}</g></g>" for o, p in zip(drawn, paints, strict=True)]
    content = "".join(drawn)
    if way.nested:
        content = f'<g transform="translate(-5 7)">{content}</g>'
        content = f'<g transform="translate(5,-7)"><a>{content}</a></g>'
    turned = f'<g transform="scale({way.stretch}) rotate({way.turn})">{content}</g>'
    style = f"<style>{css}</style>" if way.style == "class" else ""
    view = " ".join(number(v * way.unit) for v in (*way.origin, 100, 80))
    body = (
        f"<defs>{defs}</defs>{style}"
        f'<g inkscape:groupmode="layer" inkscape:label="Tape">{turned}</g>'
    )
    text = f'<svg {SPACES} width="100mm" height="80mm" viewBox="{view}">{body}</svg>'
    if way.prefixed:
        root = etree.fromstring(text)
        text = etree.tostring(root, encoding="unicode")
        text = text.replace("<", "<s:").replace("<s:/", "</s:").replace("xmlns=", "xmlns:s=")
    return text.encode()


def clone(objects: list[str], how: str) -> tuple[str, list[str]]:
    if how == "no":
        return "", objects
    uses = [f'<use id="u{i}" xlink:href="#o{i}"/>' for i in range(len(objects))]
    if how == "use":
        return "".join(objects), uses
    if how == "symbol":
        symbols = "".join(f'<symbol id="s{i}">{o}</symbol>' for i, o in enumerate(objects))
        return symbols, [f'<use href="#s{i}" x="0"/>' for i in range(len(objects))]
    again = [
        f'<use href="#u{i}" x="3" y="-2" transform="translate(-3,2)"/>' for i in range(len(objects))
    ]
    return "".join(objects + uses), again


def read(way: Way) -> Drawing:
    drawing = read_drawing(etree.fromstring(write(way)), "card.svg")
    assert not drawing.remarks, drawing.remarks
    return drawing


def apart(a: shapely.Geometry, b: shapely.Geometry) -> float:
    return float(shapely.hausdorff_distance(a.boundary, b.boundary))


EXPECTED = read(PLAIN)


def test_the_plain_way_is_right() -> None:
    strip, plate, disc = EXPECTED.shapes
    line = shapely.LineString(STRIP).buffer(2.5, cap_style="square", join_style="mitre")
    assert apart(painted_area(strip), line) < 0.001
    x, y, w, h = PLATE
    hole = shapely.Polygon([(20, 20), (40, 20), (40, 30)])
    assert apart(painted_area(plate), shapely.box(x, y, x + w, y + h) - hole) < 1e-6
    points = disc.contours[0].points - np.array(DISC[:2])
    assert abs(np.hypot(*points.T) - DISC[2]).max() < 1e-6


@given(way=ways)
@settings(max_examples=150, deadline=None, derandomize=True)
def test_every_way_gives_the_same_geometry(way: Way) -> None:
    drawing = read(way)
    assert len(drawing.shapes) == 3
    assert abs(drawing.page.width - 100) < 1e-6
    assert abs(drawing.page.scale * way.unit - 1.0) < 1e-6
    for ours, plain in zip(drawing.shapes, EXPECTED.shapes, strict=True):
        assert [c.closed for c in ours.contours] == [c.closed for c in plain.contours]
        assert apart(area(ours), area(plain)) < 0.011 if plain.filled else True
        assert apart(painted_area(ours), painted_area(plain)) < 0.011
        for contour, other in zip(ours.contours, plain.contours, strict=True):
            sharp, expected = contour.turns[contour.turns > 1], other.turns[other.turns > 1]
            assert np.allclose(sharp, expected, atol=1e-3)
    assert drawing.shapes[0].stroke is not None
    assert drawing.shapes[0].stroke.cap == "square"


def test_ways_differ() -> None:
    other = replace(PLAIN, unit=3.0, turn=33.0, cloned="symbol", style="class", curve="arc")
    assert write(other) != write(PLAIN)
    assert b"<symbol" in write(other)
