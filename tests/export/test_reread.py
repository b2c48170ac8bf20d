"""Every file re-read by readers that know nothing of ours, against what the writer was given.

ezdxf's audit and its entities, svgelements' paths, and a raster of 0.05 mm.
"""

from __future__ import annotations

import io
import re

import ezdxf
import numpy as np
import pytest
import shapely
import svgelements
from lxml import etree
from PIL import Image, ImageDraw

from underlit.export.cut import Cut

from .exported import SAMPLES, WAYS, sample_export, sample_made

SVG = "{http://www.w3.org/2000/svg}"
PIXEL = 0.05
CASES = [(name, way) for name in SAMPLES for way in WAYS]

each = pytest.mark.parametrize(("name", "way"), CASES)


def given(cut: Cut) -> list[list[np.ndarray]]:
    return [list(outline.rings) for outline in cut.outlines]


def same(rings: list[np.ndarray], others: list[np.ndarray]) -> None:
    """Ring for ring within 0.02 mm, and all together within 0.1 % of area."""
    assert len(rings) == len(others)
    for ring, other in zip(rings, others, strict=True):
        a, b = (shapely.linestrings(np.concatenate([r, r[:1]])) for r in (ring, other))
        assert shapely.hausdorff_distance(a, b, densify=0.25) < 0.02
    areas = [abs(sum(signed(r) for r in all_)) for all_ in (rings, others)]
    assert areas[1] == pytest.approx(areas[0], rel=1e-3, abs=1e-6)


def same_lines(lines: list[np.ndarray], others: list[np.ndarray]) -> None:
    assert len(lines) == len(others)
    for line, other in zip(lines, others, strict=True):
        assert line == pytest.approx(other, abs=0.001)


def signed(ring: np.ndarray) -> float:
    x, y = ring.T
    return float(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1))) / 2.0


def svg_scores(data: bytes) -> list[np.ndarray]:
    """Open red lines of an SVG as svgelements reads them, in mm."""
    return [
        np.array([(p.x, p.y) for p in (segment.end for segment in path)])
        for path in svg_paths(data)
        if not isinstance(path[-1], svgelements.Close)
        if path.stroke == "red"
    ]


def svg_paths(data: bytes) -> list[svgelements.Path]:
    document = svgelements.SVG.parse(io.BytesIO(data), ppi=25.4)  # 1 px of its own = 1 mm
    return list(document.select(lambda e: isinstance(e, svgelements.Path)))


def svg_rings(data: bytes) -> list[list[np.ndarray]]:
    """Paths of an SVG that are no scores, as svgelements reads them, in mm."""
    found = []
    for path in (path for path in svg_paths(data) if path.stroke != "red"):
        rings = []
        for sub in path.as_subpaths():
            segments = list(sub)
            assert isinstance(segments[-1], svgelements.Close)
            points = [segment.end for segment in segments[:-1]]
            rings.append(np.array([(p.x, p.y) for p in points]))
        found.append(rings)
    return found


def dxf_rings(data: bytes, height: float, version: str, scores: bool = False) -> list[np.ndarray]:
    """Closed polylines of a DXF, audited, with y downwards again; or (`scores`) its open ones."""
    document = ezdxf.read(io.StringIO(data.decode()))
    audit = document.audit()
    assert not audit.has_errors
    assert not audit.has_fixes
    assert document.dxfversion == version
    rings = []
    for entity in document.modelspace():
        if (entity.dxf.layer == "SCORE") is not scores:
            continue
        if version == "AC1015":
            assert document.header["$INSUNITS"] == 4
            assert entity.dxftype() == "LWPOLYLINE"
            assert entity.closed is not scores
            points = [(x, y) for x, y in entity.get_points("xy")]
        else:
            assert entity.dxftype() == "POLYLINE"
            assert entity.is_closed is not scores
            points = [(v.dxf.location.x, v.dxf.location.y) for v in entity.vertices]
        rings.append(np.array(points) * (1, -1) + (0, height))
    return rings


@each
def test_svg_holds_what_the_writer_was_given(name: str, way: str) -> None:
    files = sample_export(name, way).files
    for cut in sample_made(name, way).cuts:
        read = svg_rings(files[f"{name}-{cut.name}.svg"])
        for rings, others in zip(given(cut), read, strict=True):
            same(rings, others)
        lines = svg_scores(files[f"{name}-{cut.name}.svg"])
        same_lines([line for score in cut.scores for line in score.rings], lines)


@each
def test_dxf_holds_what_the_writer_was_given(name: str, way: str) -> None:
    files = sample_export(name, way).files
    for cut in sample_made(name, way).cuts:
        flat = [ring for rings in given(cut) for ring in rings]
        same(flat, dxf_rings(files[f"{name}-{cut.name}.dxf"], cut.size[1], "AC1015"))
        same(flat, dxf_rings(files[f"{name}-{cut.name}-r12.dxf"], cut.size[1], "AC1009"))
        lines = [line for score in cut.scores for line in score.rings]
        for end, version in ((".dxf", "AC1015"), ("-r12.dxf", "AC1009")):
            data = files[f"{name}-{cut.name}{end}"]
            same_lines(lines, dxf_rings(data, cut.size[1], version, scores=True))


@each
def test_svg_is_plain(name: str, way: str) -> None:
    """mm outside, mm inside, closed paths of lines only, names of their own, nothing else."""
    for file, data in sample_export(name, way).files.items():
        if not file.endswith(".svg"):
            continue
        root = etree.fromstring(data)
        width, height = root.get("viewBox").split()[2:]
        assert root.get("viewBox").startswith("0 0 ")
        assert (root.get("width"), root.get("height")) == (f"{width}mm", f"{height}mm")
        title, mark, *paths = root
        assert title.tag == f"{SVG}title"
        assert re.fullmatch(r" underlit-export [0-9a-f]{64} ", mark.text)
        if paths[0].tag == f"{SVG}g":  # scores in a group of their own, nothing else in groups
            _, *scores = paths.pop(0)
            for score in scores:
                assert score.get("stroke") == "#ff0000"
                assert re.fullmatch(r"M [-\d.]+,[-\d.]+( L [-\d.]+,[-\d.]+)+", score.get("d"))
        assert {path.tag for path in paths} == {f"{SVG}path"}
        for path in paths:
            assert set(path.attrib) == {
                "id",
                "d",
                "fill",
                "stroke",
                "stroke-width",
                "stroke-linejoin",
            }
            assert re.fullmatch(r"(M [-\d., L]+ Z ?)+", path.get("d"))
        names = [path.get("id") for path in paths]
        assert len(set(names)) == len(names)


@pytest.mark.parametrize("name", SAMPLES)
@pytest.mark.parametrize("material", ["tape", "panel", "base"])
def test_pixels_agree(name: str, material: str) -> None:
    """Painted by another library at 0.05 mm, the area is that of the pieces within 0.1 %."""
    made = sample_made(name, "in-place")
    files = sample_export(name, "in-place").files
    for cut in (c for c in made.cuts if c.material.startswith(material)):
        size = [round(v / PIXEL) for v in cut.size]
        read, ours = Image.new("1", size), Image.new("1", size)
        for rings in svg_rings(files[f"{name}-{cut.name}.svg"]):
            paint(read, rings)
        for piece in cut.pieces:
            area = piece.area
            rings = [shapely.get_coordinates(r)[:-1] for r in (*area.interiors, area.exterior)]
            paint(ours, rings)
        first, second = (np.asarray(image, dtype=bool) for image in (read, ours))
        assert first.any()
        edge = sum(piece.area.length for piece in cut.pieces) / PIXEL
        assert (first != second).sum() <= 0.02 * edge  # rounding of a few pixels on edges
        drawn = sum(piece.area.area for piece in cut.pieces)
        assert first.sum() * PIXEL**2 == pytest.approx(drawn, rel=1e-3, abs=edge * PIXEL**2 * 0.55)


def paint(image: Image.Image, rings: list[np.ndarray]) -> None:
    """Even-odd: holes first in the list take out what the last ring fills."""
    one = Image.new("1", image.size)
    for ring in (rings[-1], *rings[:-1]):
        fill = 1 if ring is rings[-1] else 0
        points = [tuple(p) for p in (ring / PIXEL - 0.5).tolist()]
        ImageDraw.Draw(one).polygon(points, fill=fill)
    image.paste(1, mask=one)


@each
def test_the_same_card_gives_the_same_bytes(name: str, way: str) -> None:
    from .exported import export_text, sample_text

    again = export_text(sample_text(name), WAYS[way], f"{name}.svg")
    assert dict(again.files) == dict(sample_export(name, way).files)
