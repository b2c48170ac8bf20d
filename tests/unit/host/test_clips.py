"""Clip paths and masks."""

# ruff: noqa: E501 - tables of drawings

from __future__ import annotations

import pytest
from host_drawing import area, layer, only, read, remark
from shapely.geometry import box
from shapely.geometry.base import BaseGeometry

SQUARE = '<rect width="10" height="10" {0}/>'
LEFT = '<rect width="4" height="20"/>'
TOP = '<rect width="20" height="3"/>'


def clipped(defs: str, content: str) -> BaseGeometry:
    return area(only(read(f"<defs>{defs}</defs>{layer(content, 'Tape')}")))


def clip(content: str, more: str = "", name: str = "c") -> str:
    return f'<clipPath id="{name}" {more}>{content}</clipPath>'


CASES = [
    (
        "clips within a clip path",
        clip('<g clip-path="url(#d)">' + LEFT.replace("/>", ' clip-path="url(#e)"/>') + "</g>")
        + clip(TOP, name="d") + clip('<rect x="1" width="9" height="9"/>', name="e"),
        SQUARE.format('clip-path="url(#c)"'),
        box(1, 0, 4, 3),
    ),
    ("rect", clip(LEFT), SQUARE.format('clip-path="url(#c)"'), box(0, 0, 4, 10)),
    ("style", clip(LEFT), SQUARE.format("style=\"clip-path:url('#c')\""), box(0, 0, 4, 10)),
    ("user space moves along", clip(LEFT), SQUARE.format('clip-path="url(#c)" transform="translate(5) scale(2)"'), box(5, 0, 13, 20)),
    ("on a group", clip(LEFT), '<g clip-path="url(#c)" transform="scale(2)"><g transform="translate(1)">' + SQUARE.format("") + "</g></g>", box(2, 0, 8, 20)),
    ("on a clone", clip(LEFT) + '<rect id="r" width="10" height="10"/>', '<use href="#r" x="2" clip-path="url(#c)"/>', box(2, 0, 4, 10)),
    ("nested", clip(LEFT) + clip(TOP, name="d"), '<g clip-path="url(#d)">' + SQUARE.format('clip-path="url(#c)"') + "</g>", box(0, 0, 4, 3)),
    ("of a clip", clip(LEFT, 'clip-path="url(#d)"') + clip(TOP, name="d"), SQUARE.format('clip-path="url(#c)"'), box(0, 0, 4, 3)),
    ("of a clip's shape", clip(LEFT.replace("/>", ' clip-path="url(#d)"/>') + '<rect x="8" width="2" height="9"/>') + clip(TOP, name="d"), SQUARE.format('clip-path="url(#c)"'), box(0, 0, 4, 3).union(box(8, 0, 10, 9))),
    ("own transform", clip(LEFT, 'transform="translate(2)"'), SQUARE.format('clip-path="url(#c)"'), box(2, 0, 6, 10)),
    ("child's transform", clip(LEFT.replace("/>", ' transform="scale(.5)"/>')), SQUARE.format('clip-path="url(#c)"'), box(0, 0, 2, 10)),
    ("union", clip(LEFT + TOP), SQUARE.format('clip-path="url(#c)"'), box(0, 0, 4, 10).union(box(0, 0, 10, 3))),
    ("group inside", clip(f'<g transform="translate(1)">{LEFT}</g>'), SQUARE.format('clip-path="url(#c)"'), box(1, 0, 5, 10)),
    ("clone inside", clip('<use href="#l" x="1"/>') + LEFT.replace("/>", ' id="l"/>'), SQUARE.format('clip-path="url(#c)"'), box(1, 0, 5, 10)),
    ("hidden inside", clip(LEFT + TOP.replace("/>", ' display="none"/>') + TOP.replace("/>", ' visibility="hidden"/>')), SQUARE.format('clip-path="url(#c)"'), box(0, 0, 4, 10)),
    ("paint does not count", clip(LEFT.replace("/>", ' fill="none" stroke="red" stroke-width="9" opacity="0"/>')), SQUARE.format('clip-path="url(#c)"'), box(0, 0, 4, 10)),
    ("empty", clip(""), SQUARE.format('clip-path="url(#c)"'), box(0, 0, 0, 0)),
    ("nonzero", clip('<path d="M0 0H8V8H0zM2 2H4V4H2z"/>'), SQUARE.format('clip-path="url(#c)"'), box(0, 0, 8, 8)),
    ("evenodd", clip('<path clip-rule="evenodd" d="M0 0H8V8H0zM2 2H4V4H2z"/>'), SQUARE.format('clip-path="url(#c)"'), box(0, 0, 8, 8) - box(2, 2, 4, 4)),
    ("rule is inherited", clip('<path d="M0 0H8V8H0zM2 2H4V4H2z"/>', 'clip-rule="evenodd"'), SQUARE.format('clip-path="url(#c)"'), box(0, 0, 8, 8) - box(2, 2, 4, 4)),
    ("no such clip", "", SQUARE.format('clip-path="url(#c)"'), box(0, 0, 10, 10)),
    ("no clip path", '<g id="c"/>', SQUARE.format('clip-path="url(#c)"'), box(0, 0, 10, 10)),
    ("none", clip(LEFT), SQUARE.format('clip-path="none"'), box(0, 0, 10, 10)),
    ("shape of CSS", clip(LEFT), SQUARE.format('style="clip-path:circle(3px)"'), box(0, 0, 10, 10)),
    ("box", clip('<rect width=".5" height="1"/>', 'clipPathUnits="objectBoundingBox"'), '<rect x="20" y="5" width="10" height="8" clip-path="url(#c)"/>', box(20, 5, 25, 13)),
    ("box per cent", clip('<rect width="50%" height="100%"/>', 'clipPathUnits="objectBoundingBox"'), '<rect x="20" width="10" height="8" clip-path="url(#c)"/>', box(20, 0, 25, 8)),
    ("box of a turned object", clip('<rect width=".5" height="1"/>', 'clipPathUnits="objectBoundingBox"'), '<rect x="2" width="10" height="8" transform="translate(30) scale(2)" clip-path="url(#c)"/>', box(34, 0, 44, 16)),
    ("box of a group", clip('<rect width=".5" height="1"/>', 'clipPathUnits="objectBoundingBox"'), '<g clip-path="url(#c)"><path d="M0 0H10V8H0zM10 0H20V8H10z"/></g>', box(0, 0, 10, 8)),
    ("box of a clone", clip('<rect width=".5" height="1"/>', 'clipPathUnits="objectBoundingBox"') + '<rect id="r" x="1" width="10" height="8"/>', '<use href="#r" x="4" transform="translate(0,2)" clip-path="url(#c)"/>', box(5, 2, 10, 10)),
]  # fmt: skip


@pytest.mark.parametrize(
    ("defs", "content", "left"), [c[1:] for c in CASES], ids=[c[0] for c in CASES]
)
def test_what_is_left(defs: str, content: str, left: BaseGeometry) -> None:
    assert clipped(defs, content).symmetric_difference(left).area == pytest.approx(0, abs=1e-6)


@pytest.mark.parametrize(
    ("defs", "words"),
    [
        (clip("<text>x</text>"), "holds text"),
        (clip('<path d="M0 0 L x"/>'), "breaks off"),
        (clip('<path d="M0 0 L 1e9 9 0 9z"/>'), "cannot be used"),
        (clip(LEFT, 'clip-path="url(#c)"'), "clips itself"),
        (clip(LEFT, 'transform="scale(x)"'), "transform"),
        ("".join(clip(LEFT, f'clip-path="url(#c{i + 1})"', f"c{i}" if i else "c") for i in range(99)) + clip(LEFT, name="c99"), "clips itself"),
    ],
)  # fmt: skip
def test_clips_that_cannot_be_read(defs: str, words: str) -> None:
    square = '<rect id="s" width="10" height="10" clip-path="url(#c)"/>'
    found = remark(read(f"<defs>{defs}</defs>{layer(square, 'Tape')}"))
    assert (found.kind, found.id, found.at) == ("unreadable", "s", pytest.approx((5, 5)))
    assert words in found.detail


def test_masks_are_refused_per_object() -> None:
    mask = '<mask id="m"><rect width="9" height="9"/></mask>'
    content = SQUARE.format('id="s" mask="url(#m)"') + SQUARE.format("")
    drawing = read(mask + layer(content))
    assert [s.index for s in drawing.shapes] == [0]
    assert [(r.kind, r.id) for r in drawing.remarks] == [("masked", "s")]
    group = '<g id="g" style="mask:url(#m)">' + SQUARE.format("") + "</g>"
    assert remark(read(mask + layer(group))).kind == "masked"
    assert only(read(layer(SQUARE.format('mask="url(#none)"'))))
    assert only(read(layer(SQUARE.format('mask="none"'))))


def test_clips_count_on_every_layer() -> None:
    shape = only(read(clip(LEFT) + layer(SQUARE.format('clip-path="url(#c)"'), "Foam")))
    assert area(shape).area == pytest.approx(40)
