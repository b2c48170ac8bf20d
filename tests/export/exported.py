"""Exporting in this process: a drawing in, cuts, files and report out."""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path

from lxml import etree

from underlit.model.case import Case
from underlit.model.drawing import Drawing
from underlit.profiles import load_profile
from underlit.workflows.export import Choices, Export, export, make_cuts
from underlit.workflows.exporting import Made
from underlit.workflows.validate import case_of
from underlit_host.read_drawing import read_drawing

ROOT = Path(__file__).resolve().parents[2]
SAMPLES = ("lantern", "lighthouse", "firefly-jar", "night-garden", "street")
UNDERLIT = "{urn:underlit:card:1}"

#: The ways of exporting that every sample is tried in.
WAYS = {
    "in-place": Choices(formats=("svg", "dxf", "dxf-r12")),
    "whole": Choices(formats=("svg", "dxf", "dxf-r12"), pieces="whole"),
    "packed": Choices(formats=("svg", "dxf", "dxf-r12"), arrange="packed", copies=2),
}


def sample_text(name: str) -> str:
    return (ROOT / "sample_svgs" / f"{name}.svg").read_text(encoding="utf-8")


def read(text: str, name: str = "card.svg") -> Drawing:
    return read_drawing(etree.fromstring(text.encode()), name)


def profile_of(drawing: Drawing, **cutter: object):
    """The drawing's own profile with other values of the cutter."""
    settings = dict(drawing.settings)
    if cutter:
        settings["cutter"] = {key.replace("_", "-"): value for key, value in cutter.items()}
    return load_profile(drawing.profile, settings, None)


@cache
def sample_case(name: str) -> Case:
    drawing = read(sample_text(name), f"{name}.svg")
    return case_of(drawing, profile_of(drawing))


@cache
def sample_made(name: str, way: str) -> Made:
    return make_cuts(sample_case(name), WAYS[way])


@cache
def sample_export(name: str, way: str) -> Export:
    return export_text(sample_text(name), WAYS[way], f"{name}.svg")


def export_text(
    text: str, choices: Choices | None = None, name: str = "card.svg", **cutter: object
) -> Export:
    drawing = read(text, name)
    return export(drawing, profile_of(drawing, **cutter), choices or Choices(formats=("svg",)))


def told(done: Export) -> dict[str, object]:
    """The report's `export`, as JSON carries it."""
    return json.loads(json.dumps(done.report["export"], allow_nan=False))
