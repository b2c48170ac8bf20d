"""Clones, symbols, nested drawings: what is read is what they draw."""

# ruff: noqa: E501 - tables of drawings

from __future__ import annotations

import pytest
from host_drawing import box, layer, only, read, remark

from underlit.errors import UnreadableDrawing
from underlit_host import references

RECT = '<rect id="r" x="1" y="2" width="3" height="4"/>'


def cloned(defs: str, content: str, label: str = "Die cut") -> str:
    return f"<defs>{defs}</defs>{layer(content, label)}"


@pytest.mark.parametrize(
    ("defs", "content", "bounds"),
    [
        (RECT, '<use xlink:href="#r"/>', (1, 2, 4, 6)),
        (RECT, '<use href="#r"/>', (1, 2, 4, 6)),
        (RECT, '<use href=" #r " x="10" y="20"/>', (11, 22, 14, 26)),
        (RECT, '<use href="#r" x="10%" transform="scale(2)"/>', (42, 4, 48, 12)),
        (RECT, '<use href="#r" width="50" height="50"/>', (1, 2, 4, 6)),
        (RECT.replace("/>", ' transform="scale(3)"/>'), '<use href="#r" x="1"/>', (4, 6, 13, 18)),
        (RECT + '<use id="u" href="#r" x="10"/>', '<use href="#u" y="5"/>', (11, 7, 14, 11)),
        (f'<g id="g" transform="translate(5)">{RECT}</g>', '<use href="#g"/>', (6, 2, 9, 6)),
        (f'<symbol id="s">{RECT}</symbol>', '<use href="#s" x="10"/>', (11, 2, 14, 6)),
        (f'<symbol id="s" viewBox="0 0 10 10">{RECT}</symbol>', '<use href="#s" width="20" height="20"/>', (2, 4, 8, 12)),
        (f'<symbol id="s" viewBox="0 0 10 10">{RECT}</symbol>', '<use href="#s"/>', (60, 20, 90, 60)),
        (f'<symbol id="s" viewBox="0 0 10 10" width="20" height="30">{RECT}</symbol>', '<use href="#s"/>', (2, 9, 8, 17)),
        (f'<symbol id="s" viewBox="1 2 10 10" preserveAspectRatio="xMinYMin">{RECT}</symbol>', '<use href="#s" width="20" height="40"/>', (0, 0, 6, 8)),
        (f'<symbol id="s" style="display:none">{RECT}</symbol>', '<use href="#s"/>', (1, 2, 4, 6)),
        (f'<svg id="s" x="3" viewBox="0 0 10 10" width="10" height="10">{RECT}</svg>', '<use href="#s" width="20" height="20"/>', (5, 4, 11, 12)),
        ("", f'<svg x="10" y="20" width="20" height="20" viewBox="0 0 10 10">{RECT}</svg>', (12, 24, 18, 32)),
        ("", '<svg width="20" height="50" viewBox="0 0 40 100"><rect width="50%" height="50%"/></svg>', (0, 0, 10, 25)),
        ("", f'<svg width="20" height="50" transform="scale(2)">{RECT}</svg>', (2, 4, 8, 12)),
        ("", f"<a>{RECT}</a>", (1, 2, 4, 6)),
        ("", f"<switch><foreignObject requiredExtensions='x'/><g>{RECT}</g></switch>", (1, 2, 4, 6)),
    ],
)  # fmt: skip
def test_where_it_lies(defs: str, content: str, bounds: tuple) -> None:
    assert box(only(read(cloned(defs, content)))) == pytest.approx(bounds)


def test_a_clone_is_named_by_what_can_be_clicked() -> None:
    defs = f'<g id="g">{RECT}<circle id="c" r="2"/></g><use id="inner" href="#g"/>'
    drawing = read(cloned(defs, '<use id="outer" href="#inner"/><use href="#inner"/>'))
    assert [(s.id, s.has_id) for s in drawing.shapes] == [
        ("outer", True),
        ("outer", True),
        ("Die cut 2", False),
        ("Die cut 2", False),
    ]


def test_a_clone_inherits_from_where_it_stands() -> None:
    defs = '<path id="p" d="M0 0H9V9"/><path id="q" d="M0 0H9V9" stroke-width="7"/>'
    styled = '<g stroke="red" stroke-width="5"><use href="#p" fill="none"/><use href="#q"/></g>'
    first, second = read(cloned(defs, styled, "Tape")).shapes
    assert first.stroke is not None
    assert second.stroke is not None
    assert (first.stroke.width, second.stroke.width) == (5, 7)
    assert (first.filled, second.filled) == (False, True)


def test_a_rule_matches_the_cloned_element() -> None:
    css = "<style>defs path{stroke:red;stroke-width:5} use{fill:none}</style>"
    shape = only(read(css + cloned('<path id="p" d="M0 0H9V9"/>', '<use href="#p"/>', "Tape")))
    assert shape.stroke is not None
    assert (shape.stroke.width, shape.filled) == (5, False)


def test_attributes_of_a_clone_win_over_those_of_its_target() -> None:
    defs = '<g underlit:accept="z"><rect id="r" width="9" height="9" underlit:polarity="positive" underlit:made="route:r" underlit:joint="soldered"/></g>'
    use = '<use id="u" href="#r" underlit:polarity="negative" underlit:made="route:u" underlit:role="tape"/>'
    shape = only(read(cloned(defs, f'<g underlit:accept="a">{use}</g>')))
    assert shape.role == "tape"
    assert shape.attributes == {
        "accept": "a",
        "polarity": "negative",
        "joint": "soldered",
        "made": "route:u",
    }


def test_the_outermost_clone_wins() -> None:
    defs = RECT + '<use id="u" href="#r" underlit:polarity="positive" underlit:made="route:u"/>'
    shape = only(read(cloned(defs, '<use href="#u" underlit:polarity="negative"/>')))
    assert shape.attributes == {"polarity": "negative"}


def test_a_target_that_is_a_role_layer_brings_no_role() -> None:
    source = layer(RECT, "Tape", 'id="t"')
    copies = layer('<use href="#t"/>', "Copies") + layer('<use href="#t"/>', "Foam")
    drawing = read(source + copies)
    assert [s.role for s in drawing.shapes] == ["tape", "foam"]
    assert [one.label for one in drawing.layers] == ["Tape", "Copies", "Foam"]


def test_a_target_with_a_role_of_its_own_brings_none() -> None:
    source = '<rect id="r" width="3" height="4" underlit:role="base"/>'
    drawing = read(source + layer('<use href="#r"/>', "Foam") + layer('<use href="#r"/>', "Notes"))
    assert [s.role for s in drawing.shapes] == ["base", "foam"]


def test_a_transparent_clone_paints_nothing() -> None:
    for use in ('<use href="#r" opacity="0"/>', '<g opacity="0"><use href="#r"/></g>'):
        assert remark(read(cloned(RECT, use, "Tape"))).kind == "unpainted"


def test_what_is_ignored_stays_so_in_a_clone() -> None:
    defs = f'<g id="g">{RECT}<rect underlit:role="ignore" width="9" height="9"/></g>'
    assert only(read(cloned(defs, '<use href="#g"/>'))).tag == "rect"


@pytest.mark.parametrize(
    "content",
    [
        '<use id="u" href="#none"/>',
        '<use id="u"/>',
        '<use id="u" href=""/>',
        '<use id="u" xlink:href="other.svg#r"/>',
    ],
)
def test_a_clone_of_nothing(content: str) -> None:
    found = remark(read(cloned(RECT, content)))
    assert (found.kind, found.id, found.role) == ("clone-missing", "u", "die-cut")


@pytest.mark.parametrize(
    ("defs", "content"),
    [
        ("", '<use id="u" href="#u"/>'),
        ("", '<g id="g"><use id="u" href="#g"/></g>'),
        ('<use id="a" href="#b"/><use id="b" href="#a"/>', '<use id="u" href="#a"/>'),
        ('<g id="a"><use href="#b"/></g><g id="b"><use href="#a"/></g>', '<use id="u" href="#a"/>'),
        ('<symbol id="s"><g><use href="#s"/></g></symbol>', '<use id="u" href="#s"/>'),
    ],
)
def test_a_clone_of_itself(defs: str, content: str) -> None:
    found = remark(read(cloned(defs, content)))
    assert (found.kind, found.id) == ("clone-cycle", "u")


def test_a_cycle_does_not_hide_its_neighbours() -> None:
    defs = f'<g id="a">{RECT}<use href="#a"/></g>'
    drawing = read(cloned(defs, '<use id="u" href="#a"/>'))
    assert [s.id for s in drawing.shapes] == ["u"]
    assert [r.kind for r in drawing.remarks] == ["clone-cycle"]


def test_hidden_clones_and_targets() -> None:
    hidden = RECT.replace("/>", ' display="none"/>')
    assert remark(read(cloned(hidden, '<use id="u" href="#r"/>'))).kind == "hidden"
    assert remark(read(cloned(RECT, '<use id="u" href="#r" display="none"/>'))).id == "u"


def bomb(levels: int, each: int) -> str:
    inner = '<rect id="l0" width="1" height="1"/>'
    for i in range(levels):
        inner += f'<g id="l{i + 1}">' + f'<use href="#l{i}"/>' * each + "</g>"
    return inner


@pytest.mark.parametrize("label", ["Die cut", "Tape"])
def test_a_bomb_of_clones_is_counted_not_drawn(label: str) -> None:
    with pytest.raises(UnreadableDrawing, match="200,000 objects"):
        read(cloned(bomb(9, 10), '<use href="#l9"/>', label))
    with pytest.raises(UnreadableDrawing, match="200,000 objects"):
        read(layer(bomb(60, 3), label))


def test_a_bomb_in_a_foreign_layer_or_unused_does_no_harm() -> None:
    bad = bomb(9, 10)
    content = f"<defs>{bad}</defs>" + layer('<use href="#l9"/>', "Picture") + layer(RECT)
    assert only(read(content)).id == "r"


def test_a_bomb_in_a_clip_path(monkeypatch: pytest.MonkeyPatch) -> None:
    defs = bomb(9, 10) + '<clipPath id="c"><use href="#l9"/></clipPath>'
    with pytest.raises(UnreadableDrawing, match="200,000 objects"):
        read(cloned(defs, '<rect clip-path="url(#c)" width="9" height="9"/>'))


def test_the_limit_counts_every_clone(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(references, "MOST_CLONED", 12)
    defs = f'<g id="g">{RECT}<circle r="2"/></g>'  # three elements
    assert len(read(cloned(defs, '<use href="#g"/>' * 4)).shapes) == 8
    with pytest.raises(UnreadableDrawing):
        read(cloned(defs, '<use href="#g"/>' * 5))


def test_a_long_chain_of_clones() -> None:
    chain = RECT + '<use id="u0" href="#r"/>'
    chain += "".join(f'<use id="u{i + 1}" href="#u{i}" x="0.1"/>' for i in range(400))
    assert box(only(read(cloned(chain, '<use href="#u400"/>'))))[0] == pytest.approx(41)
    chain += "".join(f'<use id="u{i + 1}" href="#u{i}"/>' for i in range(400, 3000))
    with pytest.raises(UnreadableDrawing, match="500 deep"):
        read(cloned(chain, '<use href="#u3000"/>'))


def test_depth_costs_no_stack() -> None:
    from lxml import etree

    from underlit_host.read_drawing import read_drawing

    root = etree.fromstring(
        '<svg xmlns="http://www.w3.org/2000/svg" width="9mm" height="9mm" viewBox="0 0 9 9"/>'
    )
    group = root
    for _ in range(5_000):
        group = etree.SubElement(group, "{http://www.w3.org/2000/svg}g")
    group.set("{urn:underlit:card:1}role", "die-cut")
    etree.SubElement(group, "{http://www.w3.org/2000/svg}rect", width="3", height="3")
    assert only(read_drawing(root, "deep")).role == "die-cut"
