"""The sample cards: tape taken off, laid anew in both styles, judged by verifier and Validate."""

from __future__ import annotations

import dataclasses
import math
from pathlib import Path

import pytest
import shapely
from lxml import etree
from shapely.affinity import rotate
from shapely.geometry import LineString

from underlit.interpretation.card import Reading, read_card
from underlit.model.card import Card, Strip
from underlit.model.case import Case
from underlit.profiles import load_profile
from underlit.routing import Layout, route
from underlit.rules import check_all
from underlit.workflows.board import Wish, board_of
from underlit.workflows.validate import make_case
from underlit_host.read_drawing import read_drawing

from .test_layouts import OF_TAPE
from .verifier import area_of, faults

SAMPLES = Path(__file__).parents[2] / "sample_svgs"


def all_strips(case: Case) -> frozenset[str]:
    """Everything on the tape layer may be taken up."""
    return frozenset(strip.object for strip in case.card.strips)


def laid(card: Card, layout: Layout) -> Card:
    """The card with the layout's strips (below every patch) and turned lights."""
    strips = tuple(
        Strip(
            name=f"s{i}",
            object=f"s{i}",
            order=i - 1000,
            geometry=area_of(strip),
            width=strip.width,
            length=LineString(strip.points).length,
            folds=len(strip.points) - 2,
            line=LineString(strip.points),
            stroked=True,
            polarity=strip.polarity,
            joint=strip.joint,
        )
        for i, strip in enumerate(layout.strips)
    )
    lights = []
    for light in card.lights:
        a, b = (light.features[p].centroid for p in ("negative-pad", "positive-pad"))
        now = shapely.get_coordinates([a, b])
        angle = math.degrees(math.atan2(*(now[1] - now[0])[::-1]))
        by = layout.angles[light.id] - angle
        features = {k: rotate(f, by, origin=light.at) for k, f in light.features.items()}
        lights.append(dataclasses.replace(light, features=features))
    return dataclasses.replace(card, strips=strips, lights=tuple(lights))


@pytest.mark.parametrize("style", ["free", "rails"])
@pytest.mark.parametrize("name", ["lantern", "lighthouse", "firefly-jar", "street", "night-garden"])
def test_sample_is_laid_anew(name: str, style: str) -> None:
    root = etree.parse(SAMPLES / f"{name}.svg").getroot()
    profile = load_profile("hand-laid", {}, None)
    drawing = read_drawing(root, name)
    reading: Reading = read_card(drawing, profile.tape.corners)
    whole = make_case(drawing, reading, profile)
    task = board_of(whole, Wish(effort=1, style=style, replace=all_strips(whole)), frozenset())
    layout = route(task)
    assert isinstance(layout, Layout)
    assert faults(task, layout) == []
    case = make_case(
        drawing, dataclasses.replace(reading, card=laid(reading.card, layout)), profile
    )
    assert [f.rule + ": " + f.message for f in check_all(case) if f.rule in OF_TAPE] == []
