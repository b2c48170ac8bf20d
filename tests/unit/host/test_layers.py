"""Layers by role and by label."""

# ruff: noqa: E501 - tables of drawings

from __future__ import annotations

import pytest
from host_drawing import layer, only, read

from underlit.errors import UnreadableDrawing
from underlit.model.drawing import LABELS, TOOL_ROLES

RECT = '<rect width="3" height="4"/>'
MAKERS = [role for role in LABELS if role not in TOOL_ROLES]


def roles(content: str) -> list[str]:
    return [shape.role for shape in read(content).shapes]


@pytest.mark.parametrize("role", MAKERS)
def test_every_role(role: str) -> None:
    assert roles(layer(RECT, LABELS[role])) == [role]
    assert roles(layer(RECT, f"  {LABELS[role].upper()} ")) == [role]
    assert roles(layer(RECT, role)) == [role]
    assert roles(layer(RECT, "Klebeband", f'underlit:role="{role}"')) == [role]
    assert roles(f'<g underlit:role=" {role.upper()} ">{RECT}</g>') == [role]


@pytest.mark.parametrize("role", sorted(TOOL_ROLES))
def test_what_the_tool_draws_is_not_read(role: str) -> None:
    drawing = read(layer(RECT + "<text>x</text>", LABELS[role]))
    assert not drawing.shapes
    assert not drawing.remarks
    assert drawing.layers[0].role == role


def test_other_layers_are_not_read() -> None:
    content = RECT + layer(RECT, "Die cuts") + layer(RECT, "Notes") + f'<g id="tape">{RECT}</g>'
    drawing = read(content + "<text>x</text>")
    assert not drawing.shapes
    assert not drawing.remarks
    assert [(one.role, one.label) for one in drawing.layers] == [
        (None, "Die cuts"),
        (None, "Notes"),
    ]


@pytest.mark.parametrize("role", MAKERS)
def test_a_second_layer_of_one_name(role: str) -> None:
    """The editor numbers it, since no two layers may have one label."""
    assert roles(layer(RECT, LABELS[role]) + layer(RECT, f"{LABELS[role]} #2")) == [role] * 2
    assert roles(layer(RECT, f"{role} #12")) == [role]
    assert roles(layer(RECT, f"{LABELS[role]} 2") + layer(RECT, f"{LABELS[role]} #b")) == []


def test_the_attribute_goes_before_the_label() -> None:
    assert roles(layer(RECT, "Tape", 'underlit:role="foam"')) == ["foam"]


def test_an_unknown_role_leaves_the_label() -> None:
    drawing = read(layer(RECT, "Tape", 'underlit:role="tapes"'))
    assert [shape.role for shape in drawing.shapes] == ["tape"]
    assert not drawing.layers[0].by_attribute


def test_sub_layers_and_groups_inherit() -> None:
    assert roles(layer(layer(f"<g><g>{RECT}</g></g>", "Left half"), "Tape")) == ["tape"]


def test_own_role_wins() -> None:
    assert roles(layer(RECT + layer(RECT, "Foam") + RECT, "Tape")) == ["tape", "foam", "tape"]
    assert roles(layer(RECT + f'<g underlit:role="base">{RECT}</g>', "Tape")) == ["tape", "base"]


def test_a_role_within_a_foreign_layer() -> None:
    inner = f"<g transform='translate(5)'>{layer(RECT, 'Tape')}</g>"
    shape = only(read(layer(inner, "Card 1", 'transform="scale(2)"')))
    assert shape.contours[0].points[0].tolist() == [10, 0]


def test_a_role_within_a_tool_layer() -> None:
    assert roles(layer(RECT + layer(RECT, "Tape"), "Marks")) == ["tape"]


def test_two_layers_of_one_role_are_one_in_drawing_order() -> None:
    content = layer(RECT, "Tape") + layer(RECT, "Foam") + layer(RECT, "tape")
    assert [(s.index, s.role) for s in read(content).shapes] == [
        (0, "tape"),
        (1, "foam"),
        (2, "tape"),
    ]


def test_ignore_prunes() -> None:
    content = (
        f'<g underlit:role="ignore">{RECT}{layer(RECT, "Tape")}</g>'
        '<rect underlit:role="ignore" width="9" height="9"/><text underlit:role="ignore">x</text>'
        f'<g id="g" underlit:role="ignore" display="none">{RECT}</g>'
    )
    drawing = read(layer(content, "Tape") + content)
    assert not drawing.shapes
    assert not drawing.remarks


def test_a_role_on_an_object() -> None:
    rect = '<rect id="r" underlit:role="die-cut" width="9" height="9"/>'
    assert roles(rect) == ["die-cut"]
    assert roles(layer(rect, "Sketch") + layer(rect, "Tape")) == ["die-cut", "die-cut"]
    assert roles('<rect underlit:role="openings" width="9" height="9"/>') == []
    use = f"<defs>{RECT.replace('<rect', '<rect id=a')}</defs>".replace("id=a", 'id="a"')
    assert roles(use + '<use xlink:href="#a" underlit:role="base"/>') == ["base"]


def test_layers_as_found() -> None:
    drawing = read(
        layer(layer("", "Left"), "Tape", 'id="t"')
        + layer("", "Lihgts", 'id="l"')
        + '<g id="x" underlit:role="foam"/>'
    )
    assert [(one.role, one.label, one.id, one.by_attribute) for one in drawing.layers] == [
        ("tape", "Tape", "t", False),
        ("tape", "Left", "", False),
        (None, "Lihgts", "l", False),
        ("foam", "", "x", True),
    ]


def test_names_without_ids() -> None:
    content = layer(
        f'{RECT}<rect id="b" width="3" height="4"/>{RECT}', "Klebeband", 'underlit:role="tape"'
    )
    names = [(s.id, s.has_id) for s in read(content + layer(RECT, "Foam")).shapes]
    assert names == [("Klebeband 1", False), ("b", True), ("Klebeband 3", False), ("Foam 1", False)]


def test_other_elements_are_passed_over() -> None:
    odd = (
        "<!-- x --><?pi?><title/><desc/><metadata><rect/></metadata>"
        f"<defs>{RECT}</defs><symbol>{RECT}</symbol><clipPath>{RECT}</clipPath><mask>{RECT}</mask>"
        f'<marker>{RECT}</marker><pattern>{RECT}</pattern><x:g xmlns:x="urn:x">{RECT}</x:g>'
        "<script/><style/><linearGradient/><filter/><inkscape:path-effect/>"
    )
    drawing = read(layer(odd, "Tape"))
    assert not drawing.shapes
    assert not drawing.remarks


def test_settings_of_the_root() -> None:
    more = """underlit:profile="machine-cut" underlit:side="back" underlit:settings='{"tape": {"width": 3}}'"""
    drawing = read("", f'width="9mm" height="9mm" {more}')
    assert drawing.profile == "machine-cut"
    assert drawing.side == "back"
    assert drawing.settings == {"tape": {"width": 3}}
    plain = read("")
    assert (plain.profile, plain.side, dict(plain.settings), plain.name) == (
        None,
        "front",
        {},
        "card.svg",
    )


@pytest.mark.parametrize("text", ["{", "[]", "3", "{'a': 1}", "[" * 100_000])
def test_settings_that_cannot_be_read(text: str) -> None:
    with pytest.raises(UnreadableDrawing, match="underlit:settings"):
        read("", f'width="9mm" height="9mm" underlit:settings="{text}"')


def test_what_the_findings_layer_remembers() -> None:
    more = """underlit:remembered='{"strip-1": "a1b2"}'"""
    assert read(layer("", "Findings", more)).remembered == {"strip-1": "a1b2"}
    damaged = read(layer("", "Findings", 'underlit:remembered="x"'))
    assert damaged.remembered == {}, "a damaged note of the tool's own must not stop a maker"


def test_an_empty_drawing() -> None:
    drawing = read("")
    assert not drawing.shapes
    assert not drawing.parts
    assert not drawing.remarks
    assert not drawing.layers
