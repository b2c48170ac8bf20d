"""The script itself: what it draws, replaces, keeps and refuses; cutter files and making sheet."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
import shapely
from lxml import etree

from foam.cards import NAMES, SAMPLES
from kit.run import validate_text
from underlit.profiles import load_profile
from underlit.workflows.validate import case_of
from underlit_host.read_drawing import read_drawing

ROOT = Path(__file__).parents[2]
U, SVG = "{urn:underlit:card:1}", "{http://www.w3.org/2000/svg}"


def script(name: str, source: Path, *options: str) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, str(ROOT / "extension" / name), str(source), *options]
    return subprocess.run(command, capture_output=True, text=True, timeout=60, check=False)


def lay(source: Path, target: Path, *options: str) -> dict[str, Any]:
    report = target.with_suffix(".json")
    more = ("--output", str(target), "--report", str(report))
    done = script("lay_foam.py", source, *options, *more)
    assert (done.returncode, done.stderr) == (0, "")
    told: dict[str, Any] = json.loads(report.read_text(encoding="utf-8"))
    return told


def made(path: Path) -> list[etree._Element]:
    root = etree.parse(str(path)).getroot()
    return [e for e in root.iter(f"{SVG}*") if e.get(U + "made") == f"lay_foam:{e.get('id')}"]


def read(path: Path):  # type: ignore[no-untyped-def]
    drawing = read_drawing(etree.parse(str(path)).getroot(), path.name)
    return case_of(drawing, load_profile(drawing.profile, drawing.settings, None))


@pytest.fixture(params=NAMES)
def card(request: pytest.FixtureRequest) -> Path:
    return next(path for path in SAMPLES if path.stem == request.param)


LANTERN = next(path for path in SAMPLES if path.stem == "lantern")
NIGHT = next(path for path in SAMPLES if path.stem == "night-garden")


@pytest.mark.parametrize("style", ["pads", "frame"])
def test_samples_stay_ready_and_a_second_run_is_byte_equal(
    card: Path, style: str, tmp_path: Path
) -> None:
    first, second = tmp_path / "first.svg", tmp_path / "second.svg"
    options = ("--style", style, "--cover", "true", "--diffuser", "true")
    told = lay(card, first, *options, "--replace", "true")
    assert validate_text(first.read_text(encoding="utf-8"))["verdict"] == "ready"
    assert validate_text(card.read_text(encoding="utf-8"))["verdict"] == "ready"
    assert lay(first, second, *options, "--replace", "true") == {**told, "drawing": first.name}
    assert second.read_bytes() == first.read_bytes()


def test_the_report_says_what_lies_there(card: Path, tmp_path: Path) -> None:
    told = lay(card, tmp_path / "out.svg")
    foam, stack = told["foam"], told["stack"]
    before, after = read(card).card.foam, read(tmp_path / "out.svg").card.foam
    new = [sheet for sheet in after if sheet.object in set(foam["objects"])]
    assert len(after) == len(before) + len(new)
    assert (foam["pieces"], foam["kept_pieces"]) == (len(new), len(before))
    assert foam["area"] == pytest.approx(sum(s.geometry.area for s in new), rel=0.02)
    assert foam["layers"] == stack["foam"]
    assert foam["thickness"] == stack["spacer"]
    assert foam["supported"] == (foam["longest_unsupported"] <= foam["span"] + 0.01)
    for element in made(tmp_path / "out.svg"):
        assert element.get(U + "foam") == " ".join(stack["foam"])
        assert float(element.get(U + "height") or 0) == stack["spacer"]
    presses = sum(cell.attributes.get("closes") == "press" for cell in read(card).card.cells)
    assert len(foam["press"]) == presses
    assert all(one["estimate"] in {"soft", "firm", "too stiff"} for one in foam["press"])


def test_the_makers_own_foam_stays_as_it_was(card: Path, tmp_path: Path) -> None:
    out = tmp_path / "out.svg"
    lay(card, out, "--replace", "true")
    new = {str(e.get("id")) for e in made(out)}
    before = {str(e.get("id")): etree.tostring(e, with_tail=False) for e in _objects(card)}
    after = {str(e.get("id")): etree.tostring(e, with_tail=False) for e in _objects(out)}
    assert {k: v for k, v in after.items() if k not in new} == before


def _objects(path: Path) -> list[etree._Element]:
    root = etree.parse(str(path)).getroot()
    return [e for e in root.iter(f"{SVG}*") if e.get("id") and not len(e)]


def test_what_is_pinned_or_copied_stays_and_counts(tmp_path: Path) -> None:
    first, second = tmp_path / "first.svg", tmp_path / "second.svg"
    lay(LANTERN, first)
    tree = etree.parse(str(first))
    pads = [e for e in tree.getroot().iter() if (e.get(U + "made") or "").startswith("lay_foam:")]
    pads[0].set(U + "pin", "true")
    pads[1].set("id", "mine")  # a copy: the mark names another id
    tree.write(str(first))
    told = lay(first, second, "--replace", "true")
    ids = {e.get("id") for e in etree.parse(str(second)).getroot().iter(f"{SVG}*")}
    assert {pads[0].get("id"), "mine"} <= ids
    assert told["foam"]["kept_pieces"] == len(read(LANTERN).card.foam) + 2


def test_a_second_run_without_replace_only_adds_what_is_lacking(tmp_path: Path) -> None:
    first, second = tmp_path / "first.svg", tmp_path / "second.svg"
    told = lay(LANTERN, first)
    again = lay(first, second)
    assert told["foam"]["pieces"] > 10
    assert again["foam"]["pieces"] <= 2
    assert len(made(second)) == told["foam"]["pieces"] + again["foam"]["pieces"]


def test_a_wider_span_replaces_with_less(tmp_path: Path) -> None:
    first, second = tmp_path / "first.svg", tmp_path / "second.svg"
    many = lay(LANTERN, first, "--span", "20")["foam"]
    few = lay(first, second, "--span", "50", "--replace", "true")["foam"]
    assert few["pieces"] < many["pieces"]
    assert len(made(second)) == few["pieces"]


def test_cover_and_vellum_are_those_of_the_cutter_files(tmp_path: Path) -> None:
    """Drawn, they are cut as they would be offered: the same areas."""
    offered, drawn = tmp_path / "offered", tmp_path / "drawn"
    offered.mkdir()
    drawn.mkdir()
    out = tmp_path / "lantern.svg"
    lay(LANTERN, out, "--cover", "true", "--diffuser", "true")
    card = read(out).card
    assert {s.object for s in (*card.covers, *card.diffusers)} == {"cover", "vellum"}
    vellum = shapely.union_all([s.geometry for s in card.diffusers])
    cover = shapely.union_all([s.geometry for s in card.covers])
    for opening in card.openings:
        margin = opening.outline.boundary.distance(vellum.boundary)
        assert vellum.contains(opening.outline)
        assert (
            margin == pytest.approx(4.0, abs=0.2)
            or card.panels[0].outline.boundary.distance(opening.outline) < 5.0
        )
    for light in card.lights:
        assert cover.distance(light.features["lens"]) == pytest.approx(1.0, abs=0.15)
    for source, folder in ((LANTERN, offered), (out, drawn)):
        more = ("--folder", str(folder), "--formats", "svg", "--output", str(tmp_path / "x.svg"))
        assert script("export_tape.py", source, *more).returncode == 0
    for name in ("lantern-cover.svg", "lantern-diffuser.svg"):
        a, b = (_path_area(folder / name) for folder in (offered, drawn))
        assert a == pytest.approx(b, rel=1e-3)
        assert a > 100.0


def _path_area(path: Path) -> float:
    """Area of all closed lines of a cutter file, holes taken off (even-odd)."""
    rings = []
    for element in etree.parse(str(path)).getroot().iter(f"{SVG}path"):
        for run in (element.get("d") or "").split("M")[1:]:
            words = run.replace("L", " ").replace("Z", " ").replace(",", " ").split()
            numbers = [float(word) for word in words]
            rings.append(list(zip(numbers[::2], numbers[1::2], strict=True)))
    area = shapely.Polygon()
    for ring in rings:
        area = area.symmetric_difference(shapely.Polygon(ring).buffer(0))
    return float(area.area)


def test_a_cover_of_the_makers_own_is_not_doubled(tmp_path: Path) -> None:
    out = tmp_path / "out.svg"
    lay(NIGHT, out, "--cover", "true")
    assert len(read(out).card.covers) == len(read(NIGHT).card.covers) == 1


def test_foam_is_cut_and_stands_in_the_making_sheet(tmp_path: Path) -> None:
    out = tmp_path / "card.svg"
    told = lay(LANTERN, out)
    folder = tmp_path / "files"
    folder.mkdir()
    more = ("--folder", str(folder), "--output", str(tmp_path / "x.svg"))
    assert script("export_tape.py", out, "--formats", "svg", *more).returncode == 0
    own = sum(s.geometry.area for s in read(LANTERN).card.foam)
    wanted = told["foam"]["area"] + own
    assert _path_area(folder / "card-foam.svg") == pytest.approx(wanted, rel=0.02)
    assert script("make_build_sheet.py", out, *more).returncode == 0
    root = etree.parse(str(folder / "card-build-sheet.svg")).getroot()
    lines = [(e.text or "") for e in root.iter(f"{SVG}text", f"{SVG}tspan")]
    words = " ".join(" ".join(lines).split())
    pieces = told["foam"]["pieces"] + told["foam"]["kept_pieces"]
    assert f"{pieces} pieces, each two layers of 3 mm foam" in words


@pytest.mark.parametrize(
    ("options", "word"),
    [
        (("--span", "0"), "--span"),
        (("--span", "-30"), "--span"),
        (("--span", "wide"), "--span"),
        (("--span", "nan"), "--span"),
        (("--style", "ring"), "--style"),
        (("--off-tape", "perhaps"), "--off-tape"),
        (("--profile", "no-such"), "no-such"),
    ],
)
def test_what_cannot_be_meant_is_one_sentence_and_no_file(
    options: tuple[str, ...], word: str, tmp_path: Path
) -> None:
    out = tmp_path / "out.svg"
    done = script("lay_foam.py", LANTERN, *options, "--output", str(out))
    assert done.returncode == 1
    assert word in done.stderr
    assert done.stderr.count("\n") == 1
    assert not out.exists()


EMPTY = (
    '<svg xmlns="http://www.w3.org/2000/svg" xmlns:i="http://www.inkscape.org/namespaces/inkscape" '
    'width="100mm" height="100mm" viewBox="0 0 100 100">{}</svg>'
)
PANEL = '<g i:groupmode="layer" i:label="Die cut"><rect id="p" width="40" height="60"/></g>'
BASE = '<g i:groupmode="layer" i:label="Base"><rect id="b" x="{}" width="38" height="60"/></g>'


@pytest.mark.parametrize(
    ("inside", "rule", "words"),
    [
        ("", "layer-missing", "I find no panel"),
        (BASE.format(0), "layer-missing", "I find no panel"),
        (PANEL + BASE.format(60), "outside-panel", "do not lie over each other"),
    ],
)
def test_without_a_place_for_foam_nothing_is_changed(
    inside: str, rule: str, words: str, tmp_path: Path
) -> None:
    source, out = tmp_path / "in.svg", tmp_path / "out.svg"
    source.write_text(EMPTY.format(inside), encoding="utf-8")
    told = lay(source, out)
    assert [f["rule"] for f in told["findings"]] == [rule]
    assert words in told["findings"][0]["message"]
    assert told["foam"] is None
    assert etree.tostring(etree.parse(str(out)), method="c14n") == etree.tostring(
        etree.parse(str(source)), method="c14n"
    )


def test_without_a_back_sheet_the_panel_counts(tmp_path: Path) -> None:
    source, out = tmp_path / "in.svg", tmp_path / "out.svg"
    source.write_text(EMPTY.format(PANEL), encoding="utf-8")
    told = lay(source, out)
    assert told["foam"]["supported"]
    assert told["foam"]["layers"] == []
    assert len(made(out)) == told["foam"]["pieces"] >= 4


def test_a_panel_hardly_larger_than_its_margin_gets_no_frame(tmp_path: Path) -> None:
    text = (
        '<svg xmlns="http://www.w3.org/2000/svg" xmlns:inkscape='
        '"http://www.inkscape.org/namespaces/inkscape" width="140mm" height="200mm" '
        'viewBox="0 0 140 200">'
        '<g inkscape:groupmode="layer" inkscape:label="Base"><rect width="3" height="3"/></g>'
        '<g inkscape:groupmode="layer" inkscape:label="Die cut"><rect width="3" height="3"/></g>'
        "</svg>"
    )
    own = tmp_path / "speck.svg"
    own.write_text(text, encoding="utf-8")
    done = script("lay_foam.py", own, "--style", "frame", "--output", str(tmp_path / "out.svg"))
    assert "Something went wrong" not in done.stderr
