"""Findings on the drawing: the right place in every document, nothing else touched."""

from __future__ import annotations

import csv
import io
import json
import re
import shutil
import subprocess
from collections.abc import Callable, Mapping, Sequence
from itertools import combinations
from pathlib import Path

import inkex
import pytest
from lxml import etree

from underlit.markup.findings import findings_sheet
from underlit.markup.primitives import Text
from underlit.model.drawing import Drawing, Page
from underlit.model.finding import Finding
from underlit_host.layers import find_layers, tool_layer
from underlit_host.made import is_made
from underlit_host.names import INKSCAPE, ROLE, SODIPODI, SVG, UNDERLIT
from underlit_host.transforms import compose, inverse
from underlit_host.write_drawing import append_item, draw_findings, number

NS = (
    'xmlns="http://www.w3.org/2000/svg" '
    'xmlns:inkscape="http://www.inkscape.org/namespaces/inkscape" '
    'xmlns:sodipodi="http://sodipodi.sourceforge.net/DTD/sodipodi-0.dtd" '
    'xmlns:underlit="urn:underlit:card:1"'
)
ROOTS = {
    "mm": 'width="100mm" height="150mm" viewBox="0 0 100 150"',
    "px": 'width="377.952756" height="566.929134"',
    "px-box": 'width="377.952756" height="566.929134" viewBox="0 0 377.952756 566.929134"',
    "offset": 'width="100mm" height="150mm" viewBox="-20 30 200 300"',
    "inch": 'width="3.93700787in" height="5.90551181in" viewBox="5 5 1000 1500"',
    "letterbox": 'width="100mm" height="150mm" viewBox="0 0 100 100"',
}
BODY = """
  <!-- a card -->
  <g id="tape" inkscape:groupmode="layer" inkscape:label="Tape">
    <path id="strip" d="M 10,10 L 50,10" style="stroke:#003f66;stroke-width:5"/>
  </g>
"""

PAGE = Page(100.0, 150.0, 1.0)
STOP = Finding("polarities-touch", "stop", (31.5, 42.25), ("a",), "They touch.", "Move one.")
EDGE = Finding("edge-too-near", "caution", (99.0, 149.0), ("b",), "Tape 1 mm from the edge.", "3.")

Parse = Callable[[str], etree._Element]


def plain(text: str) -> etree._Element:
    return etree.fromstring(text.encode())


def host(text: str) -> etree._Element:
    return inkex.load_svg(text.encode()).getroot()


@pytest.fixture(params=[plain, host], ids=["lxml", "inkex"])
def parse(request: pytest.FixtureRequest) -> Parse:
    return request.param


def document(body: str = BODY, root: str = ROOTS["mm"], names: str = NS) -> str:
    return f"<svg {names} {root}>{body}</svg>"


def draw(
    root: etree._Element,
    findings: Sequence[Finding] = (STOP, EDGE),
    remember: Mapping[str, str] | None = None,
) -> etree._Element:
    sheet = findings_sheet(PAGE, (0.0, 0.0, 100.0, 150.0), findings, (), "Checked.", "not-ready")
    drawing = Drawing("card.svg", PAGE, (), (), (), ())
    draw_findings(root, drawing, sheet, remember or {})
    (layer,) = find_layers(root, "findings")
    return layer


def text_of(root: etree._Element) -> str:
    return etree.tostring(root).decode()


def dot(root: etree._Element, n: int) -> etree._Element:
    """The point at the place of a finding."""
    (found,) = (
        el for el in root.iter(SVG + "g") if el.attrib.get("id", "").endswith(f"-place-{n}")
    )
    return found.findall(SVG + "circle")[-1]


def matrix(text: str | None) -> tuple[float, ...]:
    """Of the few spellings that these tests use."""
    one = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)
    for name, inside in re.findall(r"(\w+)\(([^)]*)\)", text or ""):
        v = [float(x) for x in inside.split(",")]
        step = {
            "matrix": lambda v=v: tuple(v),
            "translate": lambda v=v: (1.0, 0.0, 0.0, 1.0, *v),
            "scale": lambda v=v: (v[0], 0.0, 0.0, v[-1], 0.0, 0.0),
        }[name]()
        one = compose(one, step)
    return one


def user_place(element: etree._Element) -> tuple[float, float]:
    """Where the centre of a circle lies in the user units of the drawing."""
    x, y = float(element.attrib["cx"]), float(element.attrib["cy"])
    for node in element.iterancestors():
        a, b, c, d, e, f = matrix(node.attrib.get("transform"))
        x, y = a * x + c * y + e, b * x + d * y + f
    return x, y


@pytest.mark.parametrize(
    ("name", "place"),
    [
        ("mm", (31.5, 42.25)),
        ("px", (31.5 * 96 / 25.4, 42.25 * 96 / 25.4)),
        ("px-box", (31.5 * 96 / 25.4, 42.25 * 96 / 25.4)),
        ("offset", (31.5 * 2 - 20, 42.25 * 2 + 30)),
        ("inch", (31.5 * 10 + 5, 42.25 * 10 + 5)),
        ("letterbox", (31.5, 42.25 - 25.0)),
    ],
)
def test_a_mark_stands_at_its_millimetres(
    name: str, place: tuple[float, float], parse: Parse
) -> None:
    root = parse(document(root=ROOTS[name]))
    draw(root)
    assert user_place(dot(root, 1)) == pytest.approx(place, abs=1e-4)


@pytest.mark.parametrize(
    "wrapper",
    [
        'transform="translate(7,-3)"',
        'transform="matrix(0,2,-2,0,5,6)"',
        'transform="scale(-0.5,3) translate(1,2)"',
    ],
)
def test_a_layer_in_a_moved_parent_is_used_where_it_is(wrapper: str, parse: Parse) -> None:
    body = (
        f'<g id="outer" {wrapper}><g id="mine" inkscape:groupmode="layer" '
        'inkscape:label=" FINDINGS " transform="translate(3,4)"/></g>'
    )
    root = parse(document(body, ROOTS["offset"]))
    layer = draw(root)
    assert layer.attrib["id"] == "mine"
    assert layer.getparent().attrib["id"] == "outer"
    assert user_place(dot(root, 1)) == pytest.approx((43.0, 114.5), abs=1e-3)


def test_new_layer_is_last_labelled_and_locked(parse: Parse) -> None:
    root = parse(document())
    layer = draw(root)
    assert root[-1] is layer
    assert layer.attrib["id"] == "underlit-findings"
    assert layer.attrib[ROLE] == "findings"
    assert layer.attrib[INKSCAPE + "label"] == "Findings"
    assert layer.attrib[INKSCAPE + "groupmode"] == "layer"
    assert layer.attrib[SODIPODI + "insensitive"] == "true"


def test_layer_is_found_by_role_whatever_its_label(parse: Parse) -> None:
    body = (
        '<g id="was" inkscape:groupmode="layer" inkscape:label="Faults" underlit:role="findings"/>'
    )
    assert draw(parse(document(body))).attrib["id"] == "was"


def test_an_unlocked_hidden_covered_layer_is_locked_shown_and_on_top(parse: Parse) -> None:
    body = (
        '<g id="f" underlit:role="findings" style="display:none;opacity:0.9" display="none"/>'
        '<g id="above"/>'
    )
    root = parse(document(body))
    layer = draw(root)
    assert [el.attrib["id"] for el in root] == ["above", "f"]
    assert layer.attrib[SODIPODI + "insensitive"] == "true"
    assert layer.attrib["style"] == "opacity:0.9"
    assert "display" not in layer.attrib


@pytest.mark.parametrize(
    "body",
    [
        '<g transform="scale(0)"><g id="f" underlit:role="findings"/></g>',
        '<g id="f" underlit:role="findings" transform="wobble(3)"/>',
        '<defs><g id="f" underlit:role="findings"/></defs>',
    ],
)
def test_a_layer_that_cannot_show_anything_is_left_alone(body: str) -> None:
    root = plain(document(body))
    sheet = findings_sheet(PAGE, (0, 0, 100, 150), (STOP,), (), "", "not-ready")
    draw_findings(root, Drawing("c", PAGE, (), (), (), ()), sheet, {})
    assert root[-1].attrib["id"] == "underlit-findings"
    assert user_place(dot(root, 1)) == pytest.approx((31.5, 42.25))


def outside(text: str) -> str:
    """A document without its Findings layer."""
    return re.sub(r'<g [^>]*id="underlit-findings".*</g>\n', "", text, flags=re.DOTALL)


@pytest.mark.parametrize("name", sorted(ROOTS))
def test_nothing_else_is_touched(name: str, parse: Parse) -> None:
    before = text_of(parse(document(root=ROOTS[name])))
    root = parse(document(root=ROOTS[name]))
    draw(root, (STOP, EDGE), {"a": "1"})
    after = text_of(root)
    assert after != before
    assert outside(after) == before


@pytest.mark.parametrize("names", [NS, 'xmlns="http://www.w3.org/2000/svg"'])
@pytest.mark.parametrize("body", [BODY, '<g id="f" underlit:role="findings"/>'])
def test_drawing_again_gives_the_same_bytes(names: str, body: str, parse: Parse) -> None:
    if names != NS:
        body = "<path d='M 0,0'/>"
    root = parse(document(body, names=names))
    draw(root, remember={"strip": "1 2 3"})
    first = text_of(root)
    again = parse(first)
    draw(again, remember={"strip": "1 2 3"})
    assert text_of(again) == first
    draw(again, remember={"strip": "1 2 3"})
    assert text_of(again) == first


def test_prefixes_are_the_usual_ones() -> None:
    root = plain(document("", names='xmlns="http://www.w3.org/2000/svg"'))
    draw(root)
    text = text_of(root)
    assert "ns0" not in text
    assert 'underlit:role="findings"' in text
    assert 'inkscape:groupmode="layer"' in text


def test_old_marks_go(parse: Parse) -> None:
    root = parse(document())
    draw(root, (STOP, EDGE))
    assert "They touch." in text_of(root)
    draw(root, (EDGE,))
    assert "They touch." not in text_of(root)
    assert "edge" in text_of(root)


def test_what_the_maker_put_there_stays(parse: Parse) -> None:
    body = (
        '<g id="f" underlit:role="findings">'
        '<path id="hers" d="M 0,0 L 1,1"/>'
        '<path id="copy" underlit:made="validate:was" d="M 0,0 L 1,1"/>'
        '<path id="kept" underlit:made="validate:kept" underlit:pin="true" d="M 0,0 L 1,1"/>'
        '<path id="old" underlit:made="route:old" d="M 0,0 L 1,1"/>'
        '<g id="her-group"><path id="older" underlit:made="validate:older" d="M 0,0"/></g>'
        '<g id="sub" underlit:role="marks"><path id="m" underlit:made="route:m" d="M 0,0"/></g>'
        "</g>"
    )
    root = parse(document(body))
    draw(root)
    ids = {el.attrib.get("id") for el in root.iter()}
    assert {"hers", "copy", "kept", "her-group", "sub", "m"} <= ids
    assert not {"old", "older"} & ids


def test_two_layers_of_the_role_are_one(parse: Parse) -> None:
    body = (
        '<g id="g" underlit:role="findings" underlit:remembered="{}"><path id="old" '
        'underlit:made="validate:old" d="M 0,0"/></g><g id="f" underlit:role="findings"/>'
    )
    root = parse(document(body))
    sheet = findings_sheet(PAGE, (0, 0, 100, 150), (STOP,), (), "", "not-ready")
    draw_findings(root, Drawing("c", PAGE, (), (), (), ()), sheet, {"a": "b"})
    first, second = find_layers(root, "findings")
    by_id = {first.attrib["id"]: first, second.attrib["id"]: second}
    assert len(by_id["f"]) == 1
    assert len(by_id["g"]) == 0
    assert UNDERLIT + "remembered" not in by_id["g"].attrib


def test_all_that_is_made_says_so_with_ids_of_its_own(parse: Parse) -> None:
    body = '<g id="underlit-findings"/><path id="underlit-finding-mark-1" d="M 0,0"/>'
    root = parse(document(body))
    layer = draw(root)
    groups = list(layer.iterdescendants(SVG + "g"))
    assert len(groups) > 6
    assert all(is_made(el) for el in groups)
    assert all(el.attrib[UNDERLIT + "made"].startswith("validate:") for el in groups)
    ids = [el.attrib["id"] for el in root.iter() if "id" in el.attrib]
    assert len(set(ids)) == len(ids)
    assert layer.attrib["id"] == "underlit-findings-2"
    assert "underlit-finding-mark-1-2" in ids


def test_remembered_is_json_with_sorted_keys(parse: Parse) -> None:
    root = parse(document())
    layer = draw(root, remember={"b": '2 ä "', "a": "1"})
    stored = layer.attrib[UNDERLIT + "remembered"]
    assert json.loads(stored) == {"a": "1", "b": '2 ä "'}
    assert stored.index('"a"') < stored.index('"b"')
    assert UNDERLIT + "remembered" not in draw(root).attrib


def test_any_text_is_safe(parse: Parse) -> None:
    evil = "a\x00\x07<b>&\"'\ud800\uffff\u202e 灯 🏮 ]]> \x1b[31m"
    root = parse(document())
    draw(root, (Finding("x", "stop", (5.0, 5.0), (), evil, evil),))
    again = plain(text_of(root))
    texts = [el.text or "" for el in again.iter(SVG + "text", SVG + "title")]
    assert any("a<b>&\"' 灯 🏮 ]]> [31m" in text for text in texts)
    assert all(text.isprintable() for text in texts)


def test_a_line_of_text_is_cleaned_where_it_is_written() -> None:
    parent = plain(document(""))
    element = append_item(parent, Text((1.0, 2.0), "a\x00b\tc", 3.0, True, "start", "#000000"))
    assert element.text == "ab c"


def test_text_is_plain(parse: Parse) -> None:
    layer = draw(parse(document()))
    tags = {el.tag for el in layer.iterdescendants()}
    assert tags == {SVG + name for name in ("g", "title", "path", "circle", "text")}


def test_numbers_have_at_most_four_decimals(parse: Parse) -> None:
    layer = draw(parse(document()), (Finding("x", "stop", (1 / 3, 2 / 3), (), "a", "b"),))
    for el in layer.iterdescendants():
        for name, value in el.attrib.items():
            if name != "transform":
                assert not re.search(r"\d\.\d{5}", value), (name, value)
    assert float(dot(layer, 1).attrib["cx"]) == 0.3333


@pytest.mark.parametrize(
    ("value", "text"), [(0.0, "0"), (-0.00001, "0"), (1.5, "1.5"), (100.0, "100"), (1e-4, "0.0001")]
)
def test_number(value: float, text: str) -> None:
    assert number(value) == text


def test_inverse_map() -> None:
    m = (2.0, 1.0, -3.0, 4.0, 5.0, -6.0)
    assert compose(m, inverse(m)) == pytest.approx((1.0, 0.0, 0.0, 1.0, 0.0, 0.0))


def test_two_layers_of_findings_keep_their_order() -> None:
    """The topmost is taken, so that a second run finds everything where it left it."""
    layers = [f'<g id="{name}" underlit:role="findings"/>' for name in ("lower", "upper")]
    root = etree.fromstring(f'<svg {NS} {ROOTS["mm"]}>{"".join(layers)}<rect id="r"/></svg>')
    for _ in range(2):
        assert tool_layer(root, "findings").attrib["id"] == "upper"
        assert [child.attrib["id"] for child in root] == ["lower", "r", "upper"]


def test_other_tool_layers_by_role() -> None:
    root = plain(document('<g id="m" inkscape:groupmode="layer" inkscape:label="marks"/>'))
    assert tool_layer(root, "marks").attrib["id"] == "m"
    assert tool_layer(root, "glow").attrib["id"] == "underlit-glow"


# ---- the real program as referee -----------------------------------------------------------

INKSCAPE_PROGRAM = shutil.which("inkscape")
LONG = (
    "Plus and minus are only 1.3 mm apart here; a hand needs 2. WWWWW@@@@@ MMMMM %%%%% "
    "Light 4's plus foot only just touches its tape (3 of 9 mm2) and Strip_with_a_very_long_name"
)


def measured(path: Path) -> dict[str, tuple[float, float, float, float]]:
    """Boxes (x0, y0, x1, y1) in page mm of everything, as the editor draws it."""
    done = subprocess.run(
        [str(INKSCAPE_PROGRAM), "--query-all", str(path)],
        capture_output=True,
        text=True,
        timeout=60,
        check=True,
    )
    boxes = {}
    for name, *values in csv.reader(io.StringIO(done.stdout)):
        x, y, w, h = (float(v) * 25.4 / 96.0 for v in values)
        boxes[name] = (x, y, x + w, y + h)
    return boxes


@pytest.mark.editor
@pytest.mark.skipif(INKSCAPE_PROGRAM is None, reason="Inkscape is not installed")
@pytest.mark.parametrize("name", ["px", "offset"])
def test_the_editor_draws_it_so(name: str, tmp_path: Path) -> None:
    findings = [
        Finding("x", severity, at, (), f"{LONG} {n}", LONG)
        for n, (severity, at) in enumerate(
            [("stop", (31.5, 42.25)), ("stop", (31.5, 42.25)), ("caution", (0.0, 0.0))]
            + [("caution", (99.5, 80.0)), ("note", (33.0, 43.0)), ("note", None)] * 3
        )
    ]
    root = plain(document(root=ROOTS[name]))
    layer = draw(root, findings)
    sheet = findings_sheet(PAGE, (0.0, 0.0, 100.0, 150.0), findings, (), "", "not-ready")
    texts = list(layer.iter(SVG + "text"))
    for n, element in enumerate(texts):
        element.attrib["id"] = f"text-{n}"
    for n in (1, 3):
        dot(root, n).attrib["id"] = f"dot-{n}"
    path = tmp_path / "card.svg"
    path.write_bytes(etree.tostring(root))
    boxes = measured(path)
    for n, at in ((1, (31.5, 42.25)), (3, (0.0, 0.0))):
        x0, y0, x1, y1 = boxes[f"dot-{n}"]
        assert ((x0 + x1) / 2, (y0 + y1) / 2) == pytest.approx(at, abs=0.002)
    drawn = [boxes[f"text-{n}"] for n in range(len(texts))]
    assert len(drawn) > 60
    for a, b in combinations(drawn, 2):
        assert a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]
    left, top, right, bottom = sheet.panel
    for element, (x0, y0, x1, y1) in zip(texts, drawn, strict=True):
        if element.getparent().attrib["id"].startswith("underlit-finding-legend"):
            assert left < x0 < x1 < right
            assert top < y0 < y1 < bottom
