"""Drawings that once were judged wrongly, kept under the name of the problem."""

from __future__ import annotations

from pathlib import Path

import pytest

from kit.run import validate_text

HERE = Path(__file__).parent


def test_a_bridge_behind_a_resistor_is_marked_where_it_was_laid() -> None:
    """It joins no two battery feet, only both feet of the light: once just "light-shorted"."""
    report = validate_text((HERE / "bridge-behind-resistor.svg").read_text(encoding="utf-8"))
    (stop,) = [f for f in report["findings"] if f["severity"] == "stop"]
    assert stop["rule"] == "polarities-touch"
    assert stop["at"] == pytest.approx([43.0, 28.0], abs=1.0)
