"""What is met and not read: text, pictures, repeated ids; and where it lies."""

from __future__ import annotations

import pytest
from host_drawing import layer, read, remark

from kit.german import english_in

LIGHT = 'underlit:part="light"'


REMARKS = [
    ('<text id="x" x="3" y="4">HELLO</text>', "text", (3, 4)),
    (
        '<text id="x" transform="scale(2)"><tspan x="3 9" y="4px">H</tspan></text>',
        "text",
        (6, 8),
    ),
    ('<text id="x" transform="translate(5,6)">H</text>', "text", (5, 6)),
    ('<text id="x" x="nan" y="4">H</text>', "text", None),
    ('<flowRoot id="x"/>', "text", (0, 0)),
    ('<image id="x" x="10" y="20" width="4" height="6"/>', "picture", (12, 23)),
    ('<foreignObject id="x" width="4" height="6"/>', "picture", (2, 3)),
    ('<g id="x" display="none"><defs/><g><text x="1" y="2"/></g></g>', "hidden", (1, 2)),
    ('<g id="x" display="none"/>', "hidden", None),
    ('<use id="x" x="3" y="4" href="#none"/>', "clone-missing", (3, 4)),
    ('<path id="x" d="M 3 4 L x"/>', "unreadable", (3, 4)),
    ('<path id="x" d="M 3 4 L 1e300 5"/>', "unreadable", None),
    ('<circle id="x" cx="3" cy="4" r="x"/>', "unreadable", (3, 4)),
    ('<circle id="x" cx="a" cy="4" r="2"/>', "unreadable", None),
    ('<g id="x" transform="scale(0) "><path d="M 3 4 H 9"/></g>', "flat", (0, 0)),
    ('<svg id="x" width="x"><rect width="1" height="1"/></svg>', "unreadable", None),
    ('<svg id="x" viewBox="0 0 0 0"><rect width="1" height="1"/></svg>', "unreadable", None),
    ('<use id="x" x="y" href="#none2"/>', "clone-missing", None),
]


@pytest.mark.usefixtures("german")
@pytest.mark.parametrize("content", [content for content, _, _ in REMARKS])
def test_details_are_german(content: str) -> None:
    assert english_in(remark(read(layer(content, "Tape"))).detail) == []


@pytest.mark.parametrize(("content", "kind", "at"), REMARKS)
def test_remarks(content: str, kind: str, at: tuple[float, float] | None) -> None:
    found = remark(read(layer(content, "Tape")))
    assert (found.kind, found.id, found.has_id, found.role) == (kind, "x", True, "tape")
    assert found.at == (None if at is None else pytest.approx(at))
    assert not found.in_part


def test_in_a_part() -> None:
    drawing = read(
        layer(
            f'<g id="a" {LIGHT}><text>x</text><path d="M 0 x"/></g>'
            f'<g id="b" {LIGHT} display="none"/><use id="c" href="#a"/>',
            "Lights",
        )
    )
    assert [(r.kind, r.id, r.in_part) for r in drawing.remarks] == [
        ("text", "a", True),
        ("unreadable", "a", True),
        ("hidden", "b", True),
        ("text", "c", True),
        ("unreadable", "c", True),
    ]


def test_nothing_is_said_of_foreign_and_tool_layers() -> None:
    bad = '<text>x</text><path d="x"/><use href="#no"/><g display="none"/><rect transform="x"/>'
    assert not read(layer(bad, "Notes") + layer(bad, "Findings") + bad).remarks


def test_repeated_ids_are_said_once() -> None:
    rect = '<rect id="r" width="3" height="4"/>'
    drawing = read(layer(rect + rect + rect, "Tape"))
    assert len(drawing.shapes) == 3
    assert [(r.kind, r.id, r.at) for r in drawing.remarks] == [
        ("duplicate-id", "r", pytest.approx((1.5, 2)))
    ]
    drawing = read(rect + layer(rect))
    assert [r.kind for r in drawing.remarks] == ["duplicate-id"]
    assert not read(f'{layer(rect)}<use id="u" href="#r"/>').remarks


def test_repeated_ids_of_parts_and_clones() -> None:
    group = f'<g id="g" {LIGHT}><circle r="2"/></g>'
    assert [(r.kind, r.id) for r in read(layer(group + group, "Lights")).remarks] == [
        ("duplicate-id", "g")
    ]
    drawing = read(
        '<defs><rect id="r" width="1" height="1"/></defs>'
        + layer('<use id="u" href="#r"/><use id="u" href="#r"/>', "Foam")
    )
    assert [(r.kind, r.id, r.role) for r in drawing.remarks] == [("duplicate-id", "u", "foam")]
    assert len(drawing.shapes) == 2


def test_numbers_go_on_after_a_remark() -> None:
    drawing = read(layer('<text>x</text><rect width="1" height="1"/><path d="x"/>', "Tape"))
    assert [r.id for r in drawing.remarks] == ["Tape 1", "Tape 3"]
    assert [s.id for s in drawing.shapes] == ["Tape 2"]
