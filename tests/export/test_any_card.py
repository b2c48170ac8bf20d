"""Faulty, wild and empty cards: whole files and finite figures, or one sentence."""

from __future__ import annotations

import io

import ezdxf
import pytest
from lxml import etree

from kit.encode import svg
from kit.run import validate_text
from properties.wild import wild_layout
from underlit.errors import UnderlitError, UnfinishedCard
from underlit.workflows.export import Choices

from .exported import ROOT, export_text, sample_text, told

FAULTY = sorted((ROOT / "sample_svgs" / "faulty").glob("*.svg"))
EMPTY = '<svg xmlns="http://www.w3.org/2000/svg" width="90mm" height="60mm" viewBox="0 0 90 60"/>'
WAYS = (
    Choices(("svg",), "in-place", "strips", 1, True),
    Choices(("svg",), "in-place", "whole", 1, True),
    Choices(("svg",), "packed", "strips", 2, True),
)


def check(text: str, way: Choices) -> None:
    if not validate_text(text)["tape"]["strips"]:
        with pytest.raises(UnfinishedCard, match="no tape"):
            export_text(text, way)
        return
    done = export_text(text, way)
    report = told(done)  # refuses numbers that are not finite
    assert set(report["files"]) == set(done.files)
    for data in done.files.values():
        root = etree.fromstring(data)
        assert float(root.get("viewBox").split()[2]) > 0.0
        assert b"nan" not in data.lower().replace(b"nance", b"")
    strips = {name for piece in report["pieces"] for name in piece["strips"]}
    assert strips == {name for net in done.report["nets"] for name in net["strips"]}


@pytest.mark.parametrize("path", FAULTY, ids=lambda path: path.stem)
def test_faulty_samples(path) -> None:
    for way in WAYS:
        check(path.read_text(encoding="utf-8"), way)


@pytest.mark.parametrize("seed", range(10))
def test_wild_layouts(seed: int) -> None:
    for way in WAYS:
        check(svg(wild_layout(seed).card, "plain"), way)


def test_an_empty_drawing_is_refused() -> None:
    for anyway in (False, True):
        with pytest.raises(UnfinishedCard, match="no tape"):
            export_text(EMPTY, Choices(("svg",), anyway=anyway))


def test_tape_alone_is_exported_without_marks() -> None:
    tape = (
        '<g xmlns:inkscape="http://www.inkscape.org/namespaces/inkscape" id="t" '
        'inkscape:groupmode="layer" inkscape:label="Tape">'
        '<path id="a" d="M 10,10 H 60" style="fill:none;stroke:#000;stroke-width:5"/></g>'
    )
    text = EMPTY.replace("/>", f">{tape}</svg>")
    with pytest.raises(UnderlitError, match="layer-missing"):
        export_text(text, Choices(("dxf",)))
    done = export_text(text, Choices(("dxf",), anyway=True))
    assert set(done.files) == {"card-tape.dxf", "card-guides.dxf", "card-test-cut.dxf"}
    assert told(done)["corner_marks"] == 0
    document = ezdxf.read(io.StringIO(done.files["card-tape.dxf"].decode()))
    assert len(document.modelspace()) == 1


@pytest.mark.parametrize("name", ["lantern", "night-garden"])
def test_the_report_is_that_of_validating(name: str) -> None:
    done = dict(export_text(sample_text(name)).report)
    checked = validate_text(sample_text(name))
    assert done.pop("action") == "export"
    assert list(done)[-1] == "export"
    done.pop("export")
    checked.pop("action")
    checked.pop("stack")  # a key that only validating adds
    assert done == checked
