"""Cards for the tests of foam: the samples as they are and without their own foam."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from lxml import etree

from underlit.model.case import Case
from underlit.profiles import load_profile
from underlit.workflows.validate import case_of
from underlit_host.read_drawing import read_drawing

SAMPLES = sorted((Path(__file__).parents[2] / "sample_svgs").glob("*.svg"))
NAMES = [path.stem for path in SAMPLES]


def sample(name: str, own_foam: bool = True) -> Case:
    """A sample card, read."""
    path = next(path for path in SAMPLES if path.stem == name)
    root = etree.fromstring(path.read_bytes())
    drawing = read_drawing(root, path.name)
    case = case_of(drawing, load_profile(drawing.profile, drawing.settings, None))
    return case if own_foam else replace(case, card=replace(case.card, foam=()))
