"""Drawings that once were judged wrongly, kept under the name of the problem."""

from __future__ import annotations

import itertools
from pathlib import Path

import pytest
from lxml import etree

from kit.run import validate_text
from underlit.profiles import load_profile
from underlit.workflows.board import Wish
from underlit.workflows.route import lay_tape
from underlit_host.read_drawing import read_drawing

HERE = Path(__file__).parent


def test_a_bridge_behind_a_resistor_is_marked_where_it_was_laid() -> None:
    """It joins no two battery feet, only both feet of the light: once just "light-shorted"."""
    report = validate_text((HERE / "bridge-behind-resistor.svg").read_text(encoding="utf-8"))
    (stop,) = [f for f in report["findings"] if f["severity"] == "stop"]
    assert stop["rule"] == "polarities-touch"
    assert stop["at"] == pytest.approx([43.0, 28.0], abs=1.0)


def test_a_first_layout_shows_no_more_tape_than_a_window_may() -> None:
    """Polished once, the first one showed 50.3 % in a window; out of time, it was all there was."""
    root = etree.fromstring((HERE / "row-of-windows.svg").read_bytes())
    drawing = read_drawing(root, "row-of-windows.svg")
    profile = load_profile("hand-laid", {}, None)
    hours = itertools.count()
    wish = Wish(effort=1, seconds=0.1)
    outcome = lay_tape(drawing, profile, wish, True, lambda: 3600.0 * next(hours))
    assert outcome.laid, outcome.message
