"""Settings that judge alike on another computer, where the maker's own file is not."""

from __future__ import annotations

import dataclasses
import json
from collections.abc import Mapping
from pathlib import Path

import pytest

from underlit.profiles import load_profile, shipped_names
from underlit.profiles.carrying import self_contained

BELOW = """
[limits]
smallest-gap = 3.5
[lights.red]
resistor-ohm = 47
[cells.mine]
based-on = "cr2032"
capacity-mah = 200
"""
OWN = """
based-on = "below.toml"
[tape]
use = "foil-5-plain"
width = 6.35
[lights.mini]
based-on = "red"
body = [8, 4]
[foams.thick]
thickness = 4.0
[stack]
spacer = 4
"""


def said(value: object) -> object:
    """All that a profile or a part of one says, as plain data, but for the name of its file."""
    if isinstance(value, Mapping):
        return {key: said(inner) for key, inner in value.items()}
    if dataclasses.is_dataclass(value):
        fields = (field.name for field in dataclasses.fields(value))
        return {key: said(getattr(value, key)) for key in fields if key != "name"}
    return said(value()) if callable(value) else value


@pytest.mark.parametrize("settings", [{}, {"limits": {"smallest-gap": 1.25}, "tape": {"width": 4}}])
@pytest.mark.parametrize("bottom", ["hand-laid", "classroom"])
def test_an_own_file_on_an_own_file(tmp_path: Path, bottom: str, settings: dict) -> None:
    (tmp_path / "below.toml").write_text(f'based-on = "{bottom}"\n{BELOW}')
    (tmp_path / "own.toml").write_text(OWN)
    here = load_profile("own.toml", settings, tmp_path)
    name, carried = self_contained("own.toml", settings, tmp_path)
    assert name == bottom
    assert said(load_profile(name, json.loads(json.dumps(carried)))) == said(here)
    assert said(load_profile(name)) != said(here)
    assert here.tape.width == (4 if settings else 6.35)  # the check has something to see


@pytest.mark.parametrize("name", shipped_names())
def test_a_shipped_profile_carries_nothing(name: str) -> None:
    assert self_contained(name) == (name, {})


def test_only_what_differs_is_carried() -> None:
    _, carried = self_contained(None, {"limits": {"edge-margin": 2}, "lights": {}})
    assert carried == {"limits": {"edge-margin": 2.0}}
