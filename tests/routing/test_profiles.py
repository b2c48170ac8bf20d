"""Every shipped profile: its limits and aims, judged by verifier and by Validate."""

from __future__ import annotations

import dataclasses

import pytest

from kit.run import validate_text
from underlit.profiles import load_profile
from underlit.routing import Layout, Limits, route

from .boards import drawing, random_board
from .test_layouts import OF_TAPE
from .verifier import faults


@pytest.mark.parametrize("name", ["hand-laid-cautious", "classroom", "machine-cut"])
def test_nothing_wrong_under(name: str) -> None:
    profile = load_profile(name, {}, None)
    given = profile.limits
    limits = Limits(
        profile.tape.width,
        given.smallest_gap,
        given.aim_gap,
        given.edge_margin,
        given.aim_edge,
        given.pad_cover,
        given.aim_pad,
        given.joint_cover,
        given.aim_joint,
    )
    for n in (3, 8):
        task = random_board(n, 1)
        assert task is not None
        task = dataclasses.replace(task, limits=limits)
        layout = route(task)
        assert isinstance(layout, Layout)
        assert faults(task, layout) == []
        report = validate_text(drawing(task, layout), name)
        assert [
            f for f in report["findings"] if f["rule"] in OF_TAPE and f["rule"] != "tape-shows"
        ] == []
