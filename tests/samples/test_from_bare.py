"""The five cards made anew by the tool, from die-cut outlines to a circuit that is ready."""

from __future__ import annotations

from pathlib import Path

import pytest

from .from_bare import SPOTS, routed, run


@pytest.mark.parametrize("name", SPOTS)
def test_from_bare_outlines_to_ready(name: str, tmp_path: Path) -> None:
    drawing, report = routed(name, tmp_path)
    told = [(f["rule"], f["message"]) for f in report["findings"] if f["severity"] != "note"]
    assert told == []
    assert report["verdict"] == "ready"
    assert report["lights"]
    assert all(light["lit"] for light in report["lights"])
    _, glow = run("preview_glow.py", drawing, tmp_path / "6.svg")
    lit = [window for window in glow["glow"]["openings"] if window["lights"]]
    assert len(lit) == len({light["opening"] for light in report["lights"]})
