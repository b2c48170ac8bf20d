"""Parts: groups and clones of groups that carry `underlit:part`."""

# ruff: noqa: E501 - tables of drawings

from __future__ import annotations

import numpy as np
import pytest
from host_drawing import box, layer, only, read

BODY = '<rect x="-6" y="-2.5" width="12" height="5" underlit:feature="body"/>'
PAD = '<rect x="2.5" y="-1.5" width="3" height="3" underlit:feature="positive-pad"/>'
SIGN = '<path d="M3 0H5"/>'
INSIDE = BODY + PAD + SIGN
LIGHT = 'underlit:part="light" underlit:type="red"'


def parts(content: str):
    return read(content).parts


def test_a_group() -> None:
    group = f'<g id="a" {LIGHT} transform="translate(20,30) rotate(90)">{INSIDE}</g>'
    drawing = read(layer(group, "Lights"))
    (part,) = drawing.parts
    assert (part.id, part.has_id, part.index, part.role, part.kind) == (
        "a",
        True,
        0,
        "lights",
        "light",
    )
    assert part.attributes == {"part": "light", "type": "red"}
    assert part.matrix == pytest.approx(np.array([[0, -1, 20], [1, 0, 30]]))
    assert [(s.part, s.feature) for s in drawing.shapes] == [
        (0, "body"),
        (0, "positive-pad"),
        (0, None),
    ]
    assert box(drawing.shapes[1]) == pytest.approx((18.5, 32.5, 21.5, 35.5))
    assert [s.id for s in drawing.shapes] == ["a", "a", "a"]


def test_shapes_inside_keep_their_own_ids() -> None:
    body = BODY.replace("<rect", '<rect id="b"')
    group = f'<g id="a" {LIGHT}><g id="g">{body}</g>{PAD}</g>'
    assert [s.id for s in read(layer(group, "Lights")).shapes] == ["b", "a"]


def test_a_feature_on_a_group_inside() -> None:
    group = (
        f'<g {LIGHT}><g underlit:feature="lens"><circle r="1"/><g><circle r="2"/></g></g>{SIGN}</g>'
    )
    assert [s.feature for s in read(layer(group, "Lights")).shapes] == ["lens", "lens", None]


def test_without_an_id() -> None:
    content = layer(f"<g {LIGHT}>{INSIDE}</g>" * 2, "Lights")
    assert [(p.id, p.has_id) for p in parts(content)] == [("Lights 1", False), ("Lights 2", False)]
    assert [s.id for s in read(content).shapes] == ["Lights 1"] * 3 + ["Lights 2"] * 3


def test_a_clone_of_a_group() -> None:
    source = f'<g id="a" {LIGHT} transform="translate(5)">{INSIDE}</g>'
    drawing = read(layer(source + '<use id="b" href="#a" x="20" transform="scale(2)"/>', "Lights"))
    assert [p.id for p in drawing.parts] == ["a", "b"]
    assert drawing.parts[1].matrix == pytest.approx(np.array([[2, 0, 50], [0, 2, 0]]))
    assert [(s.id, s.part) for s in drawing.shapes] == [("a", 0)] * 3 + [("b", 1)] * 3


SYMBOL = f'<symbol id="s" viewBox="-10 -10 20 20"><title>x</title><g {LIGHT}>{INSIDE}</g></symbol>'


def test_a_clone_of_a_symbol() -> None:
    use = '<use id="u" href="#s" width="20" height="20" x="30" underlit:type="blue"/>'
    drawing = read(SYMBOL + layer(use, "Lights"))
    (part,) = drawing.parts
    assert (part.id, part.kind) == ("u", "light")
    assert part.attributes == {"part": "light", "type": "blue"}
    assert part.matrix == pytest.approx(np.array([[1, 0, 40], [0, 1, 10]]))
    assert {s.part for s in drawing.shapes} == {0}


def test_a_clone_of_a_clone() -> None:
    inner = '<use id="v" href="#s" width="20" height="20" underlit:type="amber"/>'
    drawing = read(
        f"<defs>{inner}</defs>{SYMBOL}" + layer('<use id="u" href="#v" y="3"/>', "Lights")
    )
    (part,) = drawing.parts
    assert (part.id, part.attributes["type"]) == ("u", "amber")
    assert part.matrix[:, 2] == pytest.approx([10, 13])


def test_a_clone_that_draws_several_parts() -> None:
    pair = f'<g id="pair"><g id="x" {LIGHT}>{BODY}</g><g {LIGHT} transform="translate(9)">{BODY}</g></g>'
    content = f"<defs>{pair}</defs>" + layer(
        '<use id="u" href="#pair"/><use href="#pair"/>', "Lights"
    )
    assert [(p.id, p.has_id) for p in parts(content)] == [
        ("u#1", True),
        ("u#2", True),
        ("Lights 2#1", False),
        ("Lights 2#2", False),
    ]
    assert [(s.id, s.part) for s in read(content).shapes][:2] == [("u", 0), ("u", 1)]


def test_a_clone_that_itself_is_the_part() -> None:
    use = f'<use id="u" href="#g" x="5" {LIGHT}/>'
    drawing = read(
        f'<defs><g id="g" transform="scale(2)">{INSIDE}</g></defs>' + layer(use, "Lights")
    )
    (part,) = drawing.parts
    assert (part.id, part.kind, part.attributes["type"]) == ("u", "light", "red")
    assert part.matrix == pytest.approx(np.array([[2, 0, 5], [0, 2, 0]]))
    assert [(s.part, s.feature) for s in drawing.shapes] == [
        (0, "body"),
        (0, "positive-pad"),
        (0, None),
    ]


def test_clone_and_target_are_one_part() -> None:
    use = (
        '<use id="u" href="#s" width="40" height="40" underlit:part="light" underlit:type="blue"/>'
    )
    (part,) = parts(
        SYMBOL.replace('type="red"', 'type="red" underlit:shows="edge"') + layer(use, "Lights")
    )
    assert part.attributes == {"part": "light", "type": "blue", "shows": "edge"}
    assert part.matrix == pytest.approx(np.array([[2, 0, 20], [0, 2, 20]]))


def test_a_clone_as_a_feature() -> None:
    group = (
        f'<g id="a" {LIGHT}>{BODY}<use id="p" href="#c" x="4" underlit:feature="positive-pad"/></g>'
    )
    drawing = read('<defs><circle id="c" r="1.5"/></defs>' + layer(group, "Lights"))
    assert [(s.id, s.part, s.feature) for s in drawing.shapes] == [
        ("a", 0, "body"),
        ("p", 0, "positive-pad"),
    ]


def test_a_part_within_a_part_is_its_own() -> None:
    group = f'<g id="a" underlit:part="cell" underlit:type="cr2032">{BODY}<g id="b" {LIGHT}>{PAD}</g>{PAD}</g>'
    drawing = read(layer(group, "Power"))
    assert [(p.id, p.kind, p.attributes["type"]) for p in drawing.parts] == [
        ("a", "cell", "cr2032"),
        ("b", "light", "red"),
    ]
    assert [s.part for s in drawing.shapes] == [0, 1, 0]


def test_a_part_of_one_shape() -> None:
    tab = '<rect id="t" width="9" height="5" underlit:part="pull-tab" underlit:feature="body"/>'
    drawing = read(layer(tab, "Power"))
    assert [(p.id, p.kind) for p in drawing.parts] == [("t", "pull-tab")]
    assert [(s.id, s.part, s.feature) for s in drawing.shapes] == [("t", 0, "body")]


def test_patch_and_panel_stay_attributes() -> None:
    content = layer(
        '<g underlit:part="patch"><rect width="5" height="5"/></g>'
        '<rect width="5" height="5" underlit:part="patch"/>',
        "Tape",
    )
    drawing = read(content + layer('<rect width="5" height="5" underlit:part="panel"/>'))
    assert not drawing.parts
    assert [(s.part, s.attributes["part"]) for s in drawing.shapes] == [
        (None, "patch"),
        (None, "patch"),
        (None, "panel"),
    ]


def test_a_clone_of_a_patch() -> None:
    source = '<defs><rect id="r" width="5" height="5"/></defs>'
    assert only(
        read(source + layer('<use href="#r" underlit:part="patch"/>', "Tape"))
    ).attributes == {"part": "patch"}


def test_a_feature_outside_a_part() -> None:
    shape = only(read(layer(BODY, "Lights")))
    assert (shape.part, shape.feature) == (None, "body")


def test_parts_lie_in_any_layer_of_ours_only() -> None:
    group = f"<g {LIGHT}>{BODY}</g>"
    assert [p.role for p in parts(layer(group, "Tape") + layer(group, "Notes") + group)] == ["tape"]


def test_unpainted_shapes_of_a_part_on_the_tape_layer_are_read() -> None:
    clear = BODY.replace("/>", ' fill="none"/>')
    assert only(read(layer(f"<g {LIGHT}>{clear}</g>", "Tape"))).feature == "body"


def test_attributes_come_from_enclosing_groups_but_not_all() -> None:
    content = layer(
        f'<g underlit:accept="a" underlit:made="x:y" underlit:role="lights" underlit:feature="lens">'
        f'<g {LIGHT} underlit:accept="b" underlit:made="place:q">{BODY}{SIGN}</g></g>',
        "Lights",
        'underlit:pin="true"',
    )
    drawing = read(content)
    wanted = {"accept": "b", "part": "light", "type": "red", "pin": "true"}
    assert drawing.parts[0].attributes == {**wanted, "made": "place:q", "feature": "lens"}
    assert drawing.shapes[0].attributes == {**wanted, "feature": "body"}
    assert drawing.shapes[1].attributes == wanted


def test_what_a_part_stands_in() -> None:
    symbol = SYMBOL.replace(' viewBox="-10 -10 20 20"', "")
    content = layer(
        f'<g id="a" {LIGHT} transform="scale(3)">{BODY}</g><use href="#s" transform="scale(4)"/>',
        "Lights",
        'transform="scale(2)"',
    )
    drawn, cloned = parts(symbol + content)
    assert drawn.outer == pytest.approx(np.array([[2, 0, 0], [0, 2, 0]]))
    assert drawn.matrix == pytest.approx(np.array([[6, 0, 0], [0, 6, 0]]))
    assert cloned.outer == pytest.approx(np.array([[2, 0, 0], [0, 2, 0]]))
    assert cloned.matrix == pytest.approx(np.array([[8, 0, 0], [0, 8, 0]]))
