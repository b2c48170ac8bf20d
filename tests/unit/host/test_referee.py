"""The real editor as referee: its boxes against ours, over many ways of drawing."""

# ruff: noqa: E501 - tables of drawings

from __future__ import annotations

import os
import shutil
import subprocess
from pathlib import Path

import numpy as np
import pytest
import shapely
from host_drawing import layer, svg
from lxml import etree

from underlit.geometry.areas import painted_areas
from underlit.units import MM_PER_PX
from underlit_host.read_drawing import read_drawing

DEFS = """
<defs>
  <symbol id="plain"><rect width="20" height="10"/></symbol>
  <symbol id="view" viewBox="0 0 10 10"><rect width="20" height="10"/></symbol>
  <symbol id="sized" viewBox="0 0 10 10" width="10" height="8"><rect width="20" height="10"/></symbol>
  <symbol id="slice" viewBox="0 0 10 20" preserveAspectRatio="xMaxYMin slice">
    <path d="M1 2h6v5z"/></symbol>
  <symbol id="off" viewBox="5 -5 10 20" preserveAspectRatio="xMinYMax meet">
    <circle cx="7" cy="3" r="2.5"/></symbol>
  <symbol id="grouped"><g transform="rotate(30)"><rect x="2" y="3" width="6" height="4"/></g></symbol>
  <g id="pair" transform="translate(3,2)"><rect id="one" width="4" height="4"/>
    <ellipse cx="10" cy="5" rx="3" ry="2"/></g>
</defs>
"""

OBJECTS = """
<rect id="a1" x="10" y="20" width="30" height="10" rx="3"/>
<rect id="a2" x="1in" y="4mm" width="10mm" height="2pc" rx="40" ry="1pt"/>
<rect id="a3" x="10%" y="10%" width="50%" height="20%"/>
<circle id="a4" cx="50%" cy="0.5in" r="10%"/>
<ellipse id="a5" cx="40" cy="30" rx="12" ry="5" transform="rotate(30 40 30)"/>
<line id="a6" x1="5" y1="6" x2="25mm" y2="10%"/>
<polyline id="a7" points="1,2 3-4 5.5.5 7e1,8"/>
<polygon id="a8" points="10 10, 30 10, 20 25"/>
<path id="b1" d="M 50 50 a 1 1 0 01 40 0"/>
<path id="b2" d="M 50 50 A -10 -5 0 0 1 70 50"/>
<path id="b3" d="m 10 10 c 0 20 20 20 20 0 s 10 -30 20 0 q 5 9 10 0 t 10 0 z"/>
<path id="b4" d="M80 40a25 12 -30 1 0 10-8.5 25 12 -30 01-10 8.5"/>
<path id="b5" d="M 10 10 h 5 v 5 H 3 V 20 Z l -8 -3"/>
<path id="b6" d="M 0 0 T 10 10 20 0 S 30 30 40 0 M 60 60 A 0 5 0 0 1 70 80"/>
<use id="c1" xlink:href="#view" x="5" y="5" width="30" height="30"/>
<use id="c2" xlink:href="#view" x="5" y="5"/>
<use id="c3" xlink:href="#sized" x="5" y="5"/>
<use id="c4" xlink:href="#sized" x="5" y="5" width="20" height="25"/>
<use id="c5" xlink:href="#plain" x="5" y="5" width="30" height="30" transform="rotate(10)"/>
<use id="c6" xlink:href="#slice" x="5" y="5" width="50%" height="30"/>
<use id="c7" xlink:href="#off" x="5" y="5" width="40" height="30" transform="scale(.5,1.5)"/>
<use id="c8" xlink:href="#grouped" x="20" transform="translate(5 5) skewX(20)"/>
<use id="c9" xlink:href="#pair" x="7" y="-3"/>
<use id="d1" xlink:href="#c9" x="1" y="1" transform="rotate(45)"/>
<use id="d2" xlink:href="#d1" transform="matrix(.5 .2 -.1 .7 9 9)"/>
<use id="d3" xlink:href="#c1" x="2" width="70" height="70"/>
<svg id="e1" x="10" y="20" width="40" height="20" viewBox="0 0 10 10"><rect width="50%" height="9"/></svg>
<svg id="e2" x="10" y="20" width="40" height="20" viewBox="0 0 10 10"
  preserveAspectRatio="none"><circle cx="4" cy="4" r="3"/></svg>
<svg id="e3" x="10%" y="20"><rect width="20" height="10%"/></svg>
<svg id="e4" x="3" y="4" width="50%" viewBox="-5 -5 40 20" preserveAspectRatio="xMaxYMid slice">
  <rect x="10%" width="10" height="10"/></svg>
<g id="f1" transform="translate(5) scale(2 3)"><a><switch><path d="M1 1h3v4"/></switch></a></g>
<g id="f2" transform="skewY(12)skewX(-7),rotate(200,4,5)"><rect x="1" y="1" width="9" height="2"/></g>
<g id="f3" transform="scale(-1,1) translate(-50,0)"><path d="M1 1C9 1 9 9 4 4"/></g>
"""

PAGES = (
    'width="200mm" height="100mm" viewBox="0 0 200 100"',
    'width="210mm" height="297mm" viewBox="0 0 793.7 1122.52"',
    'width="600" height="400"',
    'width="8in" height="20cm" viewBox="-10 5 150 90" preserveAspectRatio="xMaxYMin meet"',
    'width="300mm" height="120mm" viewBox="3 4 150 90" preserveAspectRatio="xMinYMax slice"',
    'width="50%" height="100%" viewBox="0 0 400 200"',
)

pytestmark = [
    pytest.mark.editor,
    pytest.mark.skipif(shutil.which("inkscape") is None, reason="Inkscape is not installed"),
]


def run_editor(folder: Path, *arguments: str) -> str:
    """What the editor prints; `folder` keeps it from the user's own settings."""
    home = {"HOME": str(folder), "INKSCAPE_PROFILE_DIR": str(folder)}
    return subprocess.run(
        ["inkscape", *arguments],
        env={**os.environ, **home},
        capture_output=True,
        text=True,
        timeout=60,
        check=True,
    ).stdout


def asked(path: Path, folder: Path) -> dict[str, tuple[float, ...]]:
    """Boxes of all objects as the editor has them: left, top, right, bottom in mm."""
    boxes = {}
    for row in run_editor(folder, "--query-all", str(path)).splitlines():
        name, *numbers = row.split(",")
        x, y, w, h = (float(n) * MM_PER_PX for n in numbers)
        boxes[name] = (x, y, x + w, y + h)
    return boxes


@pytest.mark.parametrize("page", PAGES)
def test_boxes_agree_with_the_editor(page: str, tmp_path: Path) -> None:
    elements = etree.fromstring(svg(OBJECTS)).iterchildren()
    objects = [(e.get("id"), etree.tostring(e, encoding="unicode")) for e in elements]
    text = svg(DEFS + layer(OBJECTS), page)
    path = tmp_path / "card.svg"
    path.write_text(text, encoding="utf-8")
    boxes = asked(path, tmp_path)
    for name, one in objects:
        others = "".join(layer(o, "Other") for n, o in objects if n != name)
        whole = svg(DEFS + layer(one) + others, page)
        drawing = read_drawing(etree.fromstring(whole.encode()), "card.svg")
        assert not drawing.remarks, (name, drawing.remarks)
        points = np.concatenate([c.points for s in drawing.shapes for c in s.contours])
        ours = (*points.min(axis=0), *points.max(axis=0))
        apart = max(abs(a - b) for a, b in zip(ours, boxes[name], strict=True))
        assert apart < 0.01, (name, ours, boxes[name])
    assert len(objects) > 25


PAINTED_DEFS = """
<style>.s{stroke:#000;stroke-width:4} g > .n{fill:none} #k5{stroke-linecap:round}</style>
<defs>
  <clipPath id="left"><rect width="10" height="30"/></clipPath>
  <clipPath id="odd"><path clip-rule="evenodd"
    d="M0 0H20V20H0zM4 4H12V12H4z"/></clipPath>
  <linearGradient id="grey"><stop stop-color="#777"/></linearGradient>
  <linearGradient id="again" xlink:href="#grey"/><linearGradient id="empty"/>
  <path id="bow" d="M2 2C2 22 22 22 22 2"/>
</defs>
"""

#: Each is drawn in its own cell of 25 x 25 mm. Left out, because Inkscape 1.2 draws them
#: otherwise than SVG has it: clip paths of clip paths, clip paths in units of the object's box.
PAINTED = (
    '<path class="s n" d="M3 3H20V20"/>',
    '<path class="s n" d="M3 3H20L5 8" stroke-linejoin="bevel"/>',
    '<path class="s n" d="M3 3H20L5 8" stroke-miterlimit="20"/>',
    '<path class="s n" d="M3 3H20L5 8"/>',
    '<path class="s n" id="k5" d="M4 4H18M4 12V20" stroke-linejoin="round"/>',
    '<path class="s n" d="M4 4H18" stroke-linecap="square"/>',
    '<path class="s" d="M4 4H18V18z" style="stroke:none" fill-rule="evenodd"/>',
    '<path d="M2 2H22V22H2zM6 6H18V18H6z" style="fill-rule:evenodd"/>',
    '<path d="M2 2H22V22H2zM6 6H18V18H6z"/>',
    '<path d="M2 2H22V22H2zM6 6V18H18V6z"/>',
    '<path d="M12 1L19 22 1 9H23L5 22z"/>',
    '<path d="M12 1L19 22 1 9H23L5 22z" fill-rule="evenodd"/>',
    '<rect x="2" y="2" width="20" height="20" clip-path="url(#left)"/>',
    '<g clip-path="url(#left)" transform="translate(4)"><path class="s" d="M0 5H18V9"/></g>',
    '<rect width="22" height="22" style="clip-path:url(#odd)"/>',
    '<rect x="2" y="5" width="20" height="12" fill="none" stroke="url(#again)" stroke-width="3"/>',
    '<rect x="2" y="5" width="20" height="12" fill="url(#empty)"/>',
    '<rect x="2" y="5" width="20" height="12" fill="url(#nothing)"/>',
    '<rect x="2" y="5" width="20" height="12" fill="url(#nothing) red"/>',
    '<g opacity="0"><rect x="2" y="5" width="20" height="12"/></g>',
    '<g fill="none" stroke="#000" transform="scale(1,3)"><path stroke-width="2" d="M4 2H18V6"/></g>',
    '<use xlink:href="#bow" style="fill:none" stroke="#000" stroke-width="10%"/>',
    '<use xlink:href="#bow" x="3" transform="scale(.7)" clip-path="url(#left)"/>',
    '<g transform="scale(4)"><path d="M1 1V5" stroke="#000" stroke-width="8"'
    ' vector-effect="non-scaling-stroke"/></g>',
    '<circle cx="12" cy="12" r="8" fill="#00f" fill-opacity="0.5"/>',
    '<path d="M4 4h8" class="s n" stroke-dasharray="none" transform="rotate(20) skewX(30)"/>',
    '<path d="M2 2h9v9h-9zm3 3v3h3v-3z" transform="matrix(-1 .5 .3 1 20 1)"/>',
)


def test_paint_agrees_with_the_editor(tmp_path: Path) -> None:
    """Every pixel of the editor's own picture, away from edges, is painted by us or is not."""
    image = pytest.importorskip("PIL.Image")
    cells = "".join(
        f'<g transform="translate({25 * (i % 8)},{25 * (i // 8)})">{one}</g>'
        for i, one in enumerate(PAINTED)
    )
    text = svg(PAINTED_DEFS + layer(cells, "Tape"))
    card, picture = tmp_path / "card.svg", tmp_path / "card.png"
    card.write_text(text, encoding="utf-8")
    run_editor(tmp_path, "--export-type=png", "--export-dpi=96", "-o", str(picture), str(card))
    alpha = np.asarray(image.open(picture).convert("RGBA"))[:, :, 3]
    shapes = read_drawing(etree.fromstring(text.encode()), "card.svg").shapes
    ours = shapely.union_all(painted_areas(shapes))
    shapely.prepare(ours)
    rows, columns = np.indices(alpha.shape)
    x, y = (columns + 0.5) * MM_PER_PX, (rows + 0.5) * MM_PER_PX
    edge = ours.boundary.buffer(0.3)
    shapely.prepare(edge)
    clear = ~shapely.contains_xy(edge, x, y)
    assert clear.mean() > 0.85
    wrong = clear & (shapely.contains_xy(ours, x, y) != (alpha > 60))
    assert not wrong.any(), np.unique(
        np.column_stack([y[wrong] // 25 * 8 + x[wrong] // 25]), return_counts=True
    )
