"""What is painted: the cascade, inheritance, paint that is none, strokes."""

# ruff: noqa: E501 - tables of drawings

from __future__ import annotations

import sys

import numpy as np
import pytest
from host_drawing import layer, only, read, read_cut, read_tape, remark

from underlit.units import MM_PER_PX

D = 'd="M0 0H50V9"'


def sheet(css: str, more: str = "") -> str:
    return f"<style {more}>{css}</style>"


STROKED = [
    ("attribute", f'<path {D} fill="none" stroke="red" stroke-width="5"/>'),
    ("style", f'<path {D} style="fill:none;stroke:red;stroke-width:5"/>'),
    (
        "style wins",
        f'<path {D} fill="none" stroke="none" stroke-width="1" style="stroke:red;stroke-width:5"/>',
    ),
    ("from a group", f'<g style="fill:none;stroke:red;stroke-width:5"><path {D}/></g>'),
    (
        "from the layer's parent",
        f'<g fill="none"><g stroke="red" stroke-width="5"><path {D}/></g></g>',
    ),
    (
        "inherit",
        f'<g stroke-width="5"><path {D} fill="none" stroke="red" style="stroke-width:inherit"/></g>',
    ),
    ("blanks and case", f'<path {D} style=" FILL : none ;; stroke:RED ; Stroke-Width : 5px ;"/>'),
    ("comment", f'<path {D} style="fill:none;/* stroke:none; */stroke:red;stroke-width:5"/>'),
    (
        "quotes",
        f"<path {D} style=\"font-family:'a;stroke:none';fill:none;stroke:red;stroke-width:5\"/>",
    ),
    (
        "data link",
        f'<path {D} style="cursor:url(data:a;b,c);fill:none;stroke:red;stroke-width:5"/>',
    ),
    (
        "important",
        f'<path {D} style="fill:none;stroke:red;stroke-width:5!important;stroke-width:1"/>',
    ),
    ("element", sheet("path{fill:none;stroke:red;stroke-width:5}") + f"<path {D}/>"),
    ("class", sheet(".t{fill:none;stroke:red;stroke-width:5}") + f'<path class="s t" {D}/>'),
    ("id", sheet("#p{fill:none;stroke:red;stroke-width:5}") + f'<path id="p" {D}/>'),
    (
        "cdata",
        sheet("<![CDATA[ g > path {fill:none;stroke:red;stroke-width:5} ]]>")
        + f"<g><path {D}/></g>",
    ),
    (
        "attribute selector",
        sheet("[class~=t]{fill:none;stroke:red;stroke-width:5}") + f'<path class="s t" {D}/>',
    ),
    (
        "list of selectors",
        sheet("rect, path , x{fill:none;stroke:red;stroke-width:5}") + f"<path {D}/>",
    ),
    ("descendant", sheet("g g path{fill:none;stroke:red;stroke-width:5}") + f"<g><path {D}/></g>"),
    (
        "nth child",
        sheet("path:nth-child(2){fill:none;stroke:red;stroke-width:5}")
        + f"<g><desc/><path {D}/></g>",
    ),
    (
        "order",
        sheet("path{stroke-width:1}path{fill:none;stroke:red;stroke-width:5}") + f"<path {D}/>",
    ),
    (
        "specificity",
        sheet("#p{stroke-width:5}.t{stroke-width:1}path{fill:none;stroke:red}")
        + f'<path id="p" class="t" {D}/>',
    ),
    (
        "rule over attribute",
        sheet("path{fill:none;stroke:red;stroke-width:5}")
        + f'<path {D} stroke="none" stroke-width="1"/>',
    ),
    (
        "style over rule",
        sheet("#p{fill:none;stroke:red;stroke-width:1}")
        + f'<path id="p" {D} style="stroke-width:5"/>',
    ),
    (
        "important rule",
        sheet("path{fill:none;stroke:red;stroke-width:5!important}")
        + f'<path {D} style="stroke-width:1"/>',
    ),
    (
        "importants",
        sheet("path{fill:none;stroke:red;stroke-width:1!important}")
        + f'<path {D} style="stroke-width:5!important"/>',
    ),
    (
        "media",
        sheet("path{fill:none;stroke:red;stroke-width:5}@media print{path{stroke-width:1}}")
        + f"<path {D}/>",
    ),
    (
        "media screen",
        sheet("path{fill:none;stroke:red}@media screen,tv{path{stroke-width:5}}") + f"<path {D}/>",
    ),
    (
        "sheet for print",
        sheet("path{stroke:none}", 'media="print"')
        + f'<path {D} fill="none" stroke="red" stroke-width="5"/>',
    ),
    (
        "sheet of another type",
        sheet("path{stroke:none}", 'type="text/less"')
        + f'<path {D} fill="none" stroke="red" stroke-width="5"/>',
    ),
    (
        "wrong rules",
        sheet(
            "path{stroke-width:5;;:x;stroke} >>{} ..p{stroke-width:1} p:hover,path!{stroke:none} @import 'x.css'; path{fill:none;stroke:red}"
        )
        + f"<path {D}/>",
    ),
    (
        "two sheets",
        sheet("path{stroke-width:5;fill:none}") + sheet("path{stroke:red}") + f"<path {D}/>",
    ),
    ("sheet behind", f"<path {D}/>" + sheet("path{fill:none;stroke:red;stroke-width:5}")),
    ("unit", f'<path {D} fill="none" stroke="red" stroke-width="1.25pc" transform="scale(.25)"/>'),
]


@pytest.mark.parametrize("content", [c[1] for c in STROKED], ids=[c[0] for c in STROKED])
def test_stroke_of_five(content: str) -> None:
    shape = only(read_tape(content))
    assert shape.stroke is not None
    assert not shape.filled
    assert shape.stroke.width * np.sqrt(np.linalg.det(shape.stroke.linear)) == pytest.approx(5)


def test_sheets_cost_nothing_where_there_are_none() -> None:
    import subprocess

    code = (
        "import sys; from lxml import etree; from underlit_host.read_drawing import read_drawing; "
        'read_drawing(etree.fromstring(\'<svg xmlns="http://www.w3.org/2000/svg" width="9" '
        "height=\"9\"/>'), ''); print('tinycss2' in sys.modules, 'svg.path' in sys.modules)"
    )
    run = subprocess.run(
        [sys.executable, "-c", code],
        capture_output=True,
        text=True,
        env={"PYTHONPATH": ":".join(sys.path)},
        check=True,
    )
    assert run.stdout == "False False\n"


def test_a_stroke_per_cent_of_the_diagonal() -> None:
    shape = only(read_tape(f'<path {D} stroke="red" stroke-width="10%"/>'))
    assert shape.stroke is not None
    assert shape.stroke.width == pytest.approx(10 * np.hypot(2, 1) / np.sqrt(2))


def test_details_of_a_stroke() -> None:
    style = (
        "stroke:red;stroke-width:5;stroke-linecap:square;stroke-linejoin:bevel;stroke-miterlimit:7"
    )
    stroke = only(read_tape(f'<path {D} style="{style}"/>')).stroke
    assert stroke is not None
    assert (stroke.cap, stroke.join, stroke.miter_limit) == ("square", "bevel", 7)


def test_initial_values_and_unknown_words() -> None:
    for style in ("", "stroke-linecap:x;stroke-linejoin:arcs;stroke-miterlimit:0.5"):
        shape = only(read_tape(f'<path {D} style="stroke:red;{style}"/>'))
        assert shape.stroke is not None
        assert shape.filled
        assert shape.fill_rule == "nonzero"
        assert (shape.stroke.width, shape.stroke.cap, shape.stroke.join) == (1, "butt", "miter")
        assert shape.stroke.miter_limit == 4


def test_an_uneven_transform_stays_with_the_stroke() -> None:
    stroke = only(read_tape(f'<path {D} stroke="red" transform="matrix(2 1 0 3 0 0)"/>')).stroke
    assert stroke is not None
    assert stroke.linear == pytest.approx(np.array([[2, 0], [1, 3]]))


def test_a_stroke_that_does_not_scale() -> None:
    # 5 px at 96 px per inch, whatever the transform: measured on the editor's own picture
    style = "stroke:red;stroke-width:5;vector-effect:non-scaling-stroke"
    stroke = only(read_tape(f'<g transform="scale(3,7)"><path {D} style="{style}"/></g>')).stroke
    assert stroke is not None
    assert stroke.width * stroke.linear == pytest.approx(5 * MM_PER_PX * np.eye(2))
    group = f'<g vector-effect="non-scaling-stroke"><path {D} stroke="red" stroke-width="5"/></g>'
    stroke = only(read_tape(group)).stroke  # not inherited
    assert stroke is not None
    assert stroke.linear == pytest.approx(np.eye(2))


@pytest.mark.parametrize("rule", ["evenodd", "nonzero"])
def test_fill_rule_is_inherited(rule: str) -> None:
    shape = only(read_cut(f'<g style="fill-rule:{rule}"><path d="M0 0h9v9zM1 1h2v2z"/></g>'))
    assert shape.fill_rule == rule


GRADIENTS = """<defs>
<linearGradient id="full"><stop stop-color="red"/></linearGradient>
<linearGradient id="linked" xlink:href="#full"/>
<linearGradient id="empty"/>
<linearGradient id="round" xlink:href="#round"/>
<radialGradient id="clear"><stop style="stop-opacity:0"/><stop stop-opacity="0"/></radialGradient>
<pattern id="dots"/><g id="group"/></defs>"""

UNPAINTED = [
    'fill="none"',
    'fill="none" stroke="red" stroke-width="0"',
    'fill="none" stroke="red" stroke-width="-2"',
    'fill="none" stroke="red" stroke-opacity="0"',
    'fill-opacity="0"',
    'fill-opacity="0%"',
    'fill="transparent"',
    'fill="rgba(1,2,3,0)"',
    'fill="rgba(1 2 3 / 0%)"',
    'fill="hsla(1,2%,3%,0.0)"',
    'fill="#12345600"',
    'fill="#1230"',
    'fill="currentColor" color="transparent"',
    'fill="none" stroke="url(#nothing)"',
    'fill="url(#empty)"',
    'fill="url(#round)"',
    'fill="url(#clear)"',
    'fill="url(#group)"',
    'fill="url(#nothing) none"',
    'opacity="0"',
    'style="opacity:0"',
]

PAINTED = [
    'fill="red"',
    'fill="rgb(0,0,0)"',
    'fill="rgba(0,0,0,0.01)"',
    'fill="#123456"',
    'fill="#100"',
    'fill="#000000"',
    'fill="currentColor"',
    'fill="url(#full)"',
    "fill=\"url('#linked')\"",
    'fill="url(#dots)"',
    'fill="url(#nothing) red"',
    'fill="none" stroke="url(#full)"',
    'fill-opacity="0.01"',
    'fill-opacity="rubbish"',
    'opacity="1e-3"',
    'opacity="0.5"',
]


@pytest.mark.parametrize("paint", UNPAINTED)
def test_unpainted_tape(paint: str) -> None:
    found = remark(read(GRADIENTS + layer(f'<path id="p" {D} {paint}/>', "Tape")))
    assert (found.kind, found.id, found.role) == ("unpainted", "p", "tape")
    assert found.at == pytest.approx((25, 4.5))


@pytest.mark.parametrize("paint", PAINTED)
def test_painted_tape(paint: str) -> None:
    assert only(read(GRADIENTS + layer(f"<path {D} {paint}/>", "Tape")))


@pytest.mark.parametrize("paint", UNPAINTED)
def test_elsewhere_paint_does_not_count(paint: str) -> None:
    assert only(read(GRADIENTS + layer(f"<path {D} {paint}/>")))


def test_nothing_in_a_transparent_group_is_painted() -> None:
    assert (
        remark(read_tape(f'<g opacity="0"><g opacity="1"><path {D}/></g></g>')).kind == "unpainted"
    )


def test_unpainted_is_said_of_what_is_filled_or_stroked() -> None:
    shape = only(read_cut(f'<path {D} fill="none"/>'))
    assert not shape.filled
    assert shape.stroke is None


HIDDEN = [
    'display="none"',
    'style="display:none"',
    'visibility="hidden"',
    'style="visibility:collapse"',
]


@pytest.mark.parametrize("how", HIDDEN)
def test_hidden_objects_are_not_read(how: str) -> None:
    found = remark(read_cut(f'<path id="p" {D} {how}/>'))
    assert (found.kind, found.id, found.in_part) == ("hidden", "p", False)
    assert found.at == pytest.approx((25, 4.5))


@pytest.mark.parametrize("how", HIDDEN)
def test_hidden_layers_count(how: str) -> None:
    assert only(read(layer(f"<path {D}/>", more=how)))
    assert only(read(layer(layer(f"<path {D}/>", "Sketches", how), "Die cut", how)))
    assert only(read(f'<g underlit:role="die-cut" {how}><path {D}/></g>'))
    assert only(read(layer(layer(f"<path {D}/>"), "Mine", how)))


def test_a_transparent_layer_counts() -> None:
    assert only(read(layer(f"<path {D}/>", "Tape", 'style="opacity:0"')))


def test_a_hidden_group_is_one_remark() -> None:
    found = remark(read_cut(f'<g id="g" display="none"><path {D}/><path {D}/></g>'))
    assert (found.kind, found.id) == ("hidden", "g")
    assert found.at == pytest.approx((25, 4.5))


def test_a_visible_child_of_a_hidden_group() -> None:
    shape = only(read_cut(f'<g visibility="hidden"><path visibility="visible" {D}/></g>'))
    assert shape.tag == "path"


def test_locked_counts() -> None:
    assert only(read_cut(f'<path sodipodi:insensitive="true" {D}/>'))


def test_markers_filters_and_dashes_are_ignored() -> None:
    style = "stroke:red;stroke-dasharray:1;filter:url(#f);marker-start:url(#m)"
    assert only(read_tape(f'<path {D} style="{style}"/>')).stroke is not None


def test_a_stroke_width_that_cannot_be_read() -> None:
    path = f'<path {D} stroke="red" stroke-width="2em"/>'
    found = remark(read_tape(path))
    assert (found.kind, found.detail) == ("unreadable", "its stroke width is 2em")
    assert only(read_cut(path)).stroke is None


def test_a_straight_line_is_never_filled() -> None:
    for line in ('<line x2="20" y2="5"', '<path d="M0 0L20 5"', '<path d="M0 0L20 5z"'):
        shape = only(read_tape(f'{line} fill="red" stroke="red"/>'))
        assert not shape.filled
        assert remark(read_tape(f'{line} fill="red"/>')).kind == "unpainted"
        assert only(read_cut(f'{line} fill="red"/>')).stroke is None
