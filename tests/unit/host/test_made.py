"""What the tool made goes; what the maker put into it stays as and where it is."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from lxml import etree

from kit.prepared import HEAD, MOON, PANEL, SVG, Prepared, layer
from kit.run import UNDERLIT
from place_lights import PlaceLights
from place_power import PlacePower
from preview_glow import PreviewGlow
from underlit_host.layers import matrix_of
from underlit_host.made import is_made
from validate_card import ValidateCard

HERS = (
    '<rect id="hers-1" x="-1" y="2" width="3" height="2"/>',
    '<path id="hers-2" d="M 0,0 L 3,3" style="fill:none;stroke:#ff0000;stroke-width:0.3"/>',
    '<text id="hers-3" x="1" y="1" style="font-size:3px">Mine</text>',
    '<g id="hers-4" transform="rotate(30)"><circle id="hers-5" r="2" style="fill:#123456"/></g>',
)


@pytest.fixture
def card(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Prepared:
    return Prepared(tmp_path, monkeypatch)


def run(script: type, data: bytes, folder: Path, *options: str) -> bytes:
    source, target = folder / "before.svg", folder / "after.svg"
    source.write_bytes(data)
    assert script().run([str(source), *options, "--output", str(target)]) == 0
    return target.read_bytes()


def put_into(data: bytes, path: str) -> bytes:
    """Draw the maker's own things into a group of the tool's (among its shapes)."""
    root = etree.fromstring(data)
    (group,) = root.xpath(path, namespaces={"u": "urn:underlit:card:1"})[:1]
    drawn = etree.fromstring(f"{HEAD}{''.join(HERS)}</svg>")
    for n, element in enumerate(list(drawn)):
        etree._Element.insert(group, 2 * n, element)
    return etree.tostring(root)


def theirs(data: bytes) -> dict[str, tuple[object, ...]]:
    """id -> attributes, text and place on the page of what is the maker's."""
    found = {}
    for element in etree.fromstring(data).iter(SVG + "*"):
        name = element.get("id", "")
        if name.startswith("hers-"):
            place = tuple(np.round(matrix_of(element), 6))
            found[name] = (dict(element.attrib), element.text, place)
    return found


LIGHT = "//*[@u:part='light']"
WINDOW = "//*[@u:opening]"


def lit(card: Prepared, folder: Path) -> bytes:
    card.run(layer(PANEL, MOON, more='transform="translate(3,4)"'))
    return run(PlaceLights, card.drawing, folder)


class TestInLights:
    @pytest.mark.parametrize("turn", ["0", "30"])
    def test_replacing_them(self, card: Prepared, tmp_path: Path, turn: str) -> None:
        data = put_into(run(PlaceLights, lit(card, tmp_path), tmp_path, "--replace=true"), LIGHT)
        before = theirs(data)
        assert len(before) == 5
        after = run(PlaceLights, data, tmp_path, "--replace", "true", "--turn", turn)
        assert theirs(after) == before
        lights = etree.fromstring(after).xpath(LIGHT, namespaces={"u": "urn:underlit:card:1"})
        assert len(lights) == 1
        assert not [e for e in lights[0].iter() if e.get("id", "").startswith("hers")]
        loose = [e for e in etree.fromstring(after).iter() if e.get(f"{UNDERLIT}feature")]
        assert len(loose) == 4  # body, two feet and lens of the one light: no shape of the old

    def test_nothing_of_the_tool_stays(self, card: Prepared, tmp_path: Path) -> None:
        data = lit(card, tmp_path)
        assert run(PlaceLights, data, tmp_path, "--replace", "true") == data


def test_in_a_battery(card: Prepared, tmp_path: Path) -> None:
    data = run(PlacePower, lit(card, tmp_path), tmp_path, "--at", "60,110")
    data = put_into(data, "//*[@u:part='cell']")
    before = theirs(data)
    after = run(PlacePower, data, tmp_path, "--at", "70,110", "--replace", "true")
    assert theirs(after) == before


def test_in_a_tinted_window(card: Prepared) -> None:
    card.run(layer(PANEL, MOON))
    data = put_into(card.drawing, WINDOW)
    before = theirs(data)
    assert theirs(card.run_on(data).drawing) == before
    assert theirs(card.again().drawing) == before
    assert len(card.openings()) == 1


@pytest.mark.parametrize(
    ("script", "path"),
    [
        (ValidateCard, "//*[@u:made='validate:underlit-findings-drawn']"),
        (ValidateCard, "//*[starts-with(@u:made, 'validate:underlit-finding-')]"),
        (PreviewGlow, "//*[@u:made='preview_glow:underlit-glows-drawn']"),
    ],
)
def test_in_findings_and_glow(card: Prepared, tmp_path: Path, script: type, path: str) -> None:
    data = put_into(run(script, lit(card, tmp_path), tmp_path), path)
    before = theirs(data)
    after = run(script, data, tmp_path)
    assert theirs(after) == before
    made = [e for e in etree.fromstring(after).iter(SVG + "g") if is_made(e)]
    clean = etree.fromstring(run(script, lit(card, tmp_path), tmp_path))
    assert len(made) == len([e for e in clean.iter(SVG + "g") if is_made(e)])


class TestLayersOfTheMakersOwn:
    """Her own layers called Glow and Findings: locked, moved, hidden, with her things on them."""

    MORE = 'sodipodi:insensitive="true" transform="translate(7,8) scale(2)" style="display:none"'

    @pytest.mark.parametrize(
        ("script", "label"), [(ValidateCard, "Findings"), (PreviewGlow, "Glow")]
    )
    def test_what_is_on_them_stays(
        self, card: Prepared, tmp_path: Path, script: type, label: str
    ) -> None:
        name = "xmlns:sodipodi='http://sodipodi.sourceforge.net/DTD/sodipodi-0.dtd' "
        own = layer(*HERS, label=label, name="own-layer", more=name + self.MORE)
        card.run(own + layer(PANEL, MOON, label="Die cut", name="cut"))
        data = run(PlaceLights, card.drawing, tmp_path)
        before = theirs(data)
        once = run(script, data, tmp_path)
        assert theirs(once) == before
        assert run(script, once, tmp_path) == once

    def test_a_locked_layer_of_windows_can_be_clicked_again(self, card: Prepared) -> None:
        name = "{http://sodipodi.sourceforge.net/DTD/sodipodi-0.dtd}insensitive"
        card.run(layer(PANEL, MOON))
        root = card.root()
        windows = root.find(f".//{SVG}g[@{UNDERLIT}role='openings']")
        windows.set(name, "true")
        card.run_on(etree.tostring(root))
        assert card.root().find(f".//{SVG}g[@{UNDERLIT}role='openings']").get(name) is None
