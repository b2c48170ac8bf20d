"""The exported tape put back into the drawing is the same circuit."""

from __future__ import annotations

import re

import numpy as np
import pytest
from lxml import etree

from kit.card import Card
from kit.encode import svg
from kit.run import validate_text
from properties.layouts import good_layout
from underlit.units import TOLERANCE
from underlit.workflows.export import Choices
from underlit.workflows.validate import case_of

from .exported import SAMPLES, export_text, profile_of, read, sample_text, told

SVG = "{http://www.w3.org/2000/svg}"
UNDERLIT = "{urn:underlit:card:1}"


def put_back(text: str, pieces: str = "strips") -> tuple[str, dict[str, list[str]], set[str]]:
    """The drawing with its tape replaced by the exported outlines (ids: labels of pieces).

    Returns its text, label -> strips, and what the export cautioned about.
    """
    done = export_text(text, Choices(formats=("svg",), pieces=pieces, anyway=True))
    report = told(done)
    origin = np.array(report["origin"])
    paths = {}
    for name in report["laying_order"]:
        root = etree.fromstring(done.files[f"card-{name}.svg"])
        across = float(root.get("viewBox").split()[2]) if report["mirrored"] else None
        for path in root.iter(f"{SVG}path"):
            paths[path.get("id")] = moved(path.get("d"), origin, across)
    holds = {p["label"]: p["strips"] for p in report["pieces"] if p["strips"]}
    place = {p["label"]: p["order"] for p in report["pieces"] if p["strips"]}
    cautions = {w["about"] for w in report["warnings"]}
    return with_outlines(text, paths, holds, place), holds, cautions


def moved(data: str, by: np.ndarray, across: float | None) -> str:
    """Path data in page mm; `across`: the width of a mirrored sheet."""

    def shift(match: re.Match[str]) -> str:
        x, y = float(match[1]), float(match[2])
        x, y = np.array([x if across is None else across - x, y]) + by
        return f"{x:.5f},{y:.5f}"

    return re.sub(r"(-?[\d.]+),(-?[\d.]+)", shift, data)


def with_outlines(text: str, paths: dict[str, str], holds: dict[str, list[str]], rank) -> str:
    """The drawing whose Tape layer holds outlines, laid as `rank` says, and the patches."""
    drawing = read(text)
    root = etree.fromstring(text.encode())
    scale = 1.0 / drawing.page.scale
    view = [float(v) for v in (root.get("viewBox") or "0 0 0 0").replace(",", " ").split()]
    layer = next(
        g for g in root.iter(f"{SVG}g")
        if "tape" in (g.get(UNDERLIT + "role"), str(g.get(
            "{http://www.inkscape.org/namespaces/inkscape}label")).lower())
    )  # fmt: skip
    own = {p.get("id"): p for p in layer.iter() if p.get("id")}
    card = case_of(drawing, profile_of(drawing)).card
    laid: list[tuple[int, etree._Element]] = []
    for label, strips in holds.items():
        path = etree.Element(f"{SVG}path", id=label, d=paths[label], style="fill:#000;stroke:none")
        path.set("transform", f"translate({view[0]},{view[1]}) scale({scale})")
        for key, value in own[strips[0].split("#")[0]].attrib.items():
            if key in (UNDERLIT + "polarity", UNDERLIT + "joint"):
                path.set(key, value)
        laid.append((rank[label], path))
    taken = {strip.object for strip in card.strips}
    patches = {patch.object: patch.order for patch in card.patches}
    for shape in list(layer):
        if shape.get("id") in taken:
            layer.remove(shape)
        elif shape.get("id") in patches:
            laid.append((patches[shape.get("id")], shape))
    for _, shape in sorted(laid, key=lambda pair: pair[0]):
        layer.append(shape)
    return etree.tostring(root, encoding="unicode")


def nets(report: dict, holds: dict[str, list[str]] | None = None) -> set:
    """Polarity, strips and pads of every net; labels spelt out where `holds` names them."""
    found = set()
    for net in report["nets"]:
        strips = net["strips"]
        if holds is not None:
            strips = [s for label in strips for s in holds[label]]
        pads = frozenset(tuple(pad) for pad in net["pads"])
        found.add((net["polarity"], frozenset(strips), pads))
    return found


def plain(card: Card) -> str:
    return svg(card, "plain")


def check(text: str, pieces: str) -> None:
    back, holds, cautions = put_back(text, pieces)
    before, after = validate_text(text), validate_text(back)
    assert nets(after, holds) == nets(before)
    # strips that overlap by a corner only make a narrow neck once they are one shape: told
    assert after["verdict"] == before["verdict"] or "feature" in cautions
    gaps = [report["tape"]["smallest_gap"] for report in (before, after)]
    if gaps[0] is not None:
        assert gaps[1] >= gaps[0] - TOLERANCE
    stops = [[f["rule"] for f in r["findings"] if f["severity"] == "stop"] for r in (before, after)]
    assert stops[0] == stops[1]


@pytest.mark.parametrize("pieces", ["strips", "whole"])
@pytest.mark.parametrize("name", SAMPLES)
def test_samples(name: str, pieces: str) -> None:
    check(sample_text(name), pieces)


@pytest.mark.parametrize("pieces", ["strips", "whole"])
@pytest.mark.parametrize("seed", range(8))
def test_seeded_layouts(seed: int, pieces: str) -> None:
    check(plain(good_layout(seed).card), pieces)


@pytest.mark.parametrize("pieces", ["strips", "whole"])
@pytest.mark.parametrize("name", ["lantern", "night-garden"])
def test_a_circuit_on_the_back(name: str, pieces: str) -> None:
    text = sample_text(name).replace("<svg", '<svg underlit:side="back"', 1)
    assert told(export_text(text))["mirrored"] is True
    check(text, pieces)
