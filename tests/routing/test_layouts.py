"""Layouts of strewn boards: the independent verifier and Validate find nothing."""

from __future__ import annotations

import dataclasses

import pytest

from kit.run import validate_text
from underlit.routing import Choices, Layout, route

from .boards import BARE, drawing, random_board
from .verifier import faults

#: Findings that tape laid by the tool must never bring.
OF_TAPE = {
    "polarities-touch", "light-reversed", "light-unfed", "light-shorted", "pad-barely-covered",
    "joint-too-small", "joint-not-conducting", "cell-rim-touch", "gap-too-small", "off-base",
    "edge-too-near", "tape-shows", "strip-narrow", "tape-on-fold", "strip-spare", "strip-floating",
    "polarity-label-wrong", "folded-touch",
}  # fmt: skip


def tape_findings(task, layout) -> list[str]:
    report = validate_text(drawing(task, layout))
    return [f["rule"] + ": " + f["message"] for f in report["findings"] if f["rule"] in OF_TAPE]


@pytest.mark.parametrize("turn", ["free", "45"])
@pytest.mark.parametrize("bare", [True, False])
@pytest.mark.parametrize("n", [3, 5, 8, 12])
def test_nothing_wrong(n: int, bare: bool, turn: str) -> None:
    for seed in range(2):
        task = random_board(n, seed, turn=turn)
        if bare:
            task = dataclasses.replace(task, limits=BARE)
        layout = route(task)
        assert isinstance(layout, Layout)
        assert faults(task, layout) == []
        assert tape_findings(task, layout) == []


def test_same_seed_same_layout() -> None:
    task = random_board(8, 1)
    first, second = route(task), route(task)
    assert isinstance(first, Layout)
    assert isinstance(second, Layout)
    assert [s.points for s in first.strips] == [s.points for s in second.strips]
    assert first.angles == second.angles


def test_overlapped_corners() -> None:
    task = random_board(5, 1, choices=Choices(effort=1, corners="overlap"))
    layout = route(task)
    assert isinstance(layout, Layout)
    assert faults(task, layout) == []
    assert all(len(s.points) == 2 for s in layout.strips)
