"""The tree that the editor's library makes reads like a plain one."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from lxml import etree

from underlit.model.drawing import Drawing
from underlit_host.read_drawing import read_drawing

SAMPLES = sorted((Path(__file__).parents[3] / "sample_svgs").glob("*.svg"))


def flat(drawing: Drawing) -> list[object]:
    """Everything of a drawing that can be compared."""
    shapes = [
        (
            s.id,
            s.has_id,
            s.role,
            s.tag,
            s.filled,
            s.fill_rule,
            s.part,
            s.feature,
            dict(s.attributes),
        )
        for s in drawing.shapes
    ]
    parts = [(p.id, p.kind, dict(p.attributes), p.matrix.tolist()) for p in drawing.parts]
    layers = [(one.role, one.label, one.id) for one in drawing.layers]
    return [shapes, parts, layers, drawing.profile, dict(drawing.settings), drawing.side]


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_same_as_plain(path: Path) -> None:
    from underlit_host.action import parse

    tree = parse(path.read_bytes())
    assert "inkex" in type(tree.getroot()).__module__
    ours, plain = read_drawing(tree, path.name), read_drawing(etree.parse(path), path.name)
    assert flat(ours) == flat(plain)
    assert ours.shapes
    for a, b in zip(ours.shapes, plain.shapes, strict=True):
        for c, d in zip(a.contours, b.contours, strict=True):
            assert np.array_equal(c.points, d.points)
            assert np.array_equal(c.turns, d.turns)


def test_reading_twice_gives_the_same() -> None:
    root = etree.parse(SAMPLES[0]).getroot()
    before = etree.tostring(root)
    first, second = read_drawing(root, "x"), read_drawing(root, "x")
    assert flat(first) == flat(second)
    assert etree.tostring(root) == before
