"""Prepare from a shell: roles, layers, openings; the maker's objects stay byte for byte."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from lxml import etree

from kit.run import ROOT, UNDERLIT

SVG = "{http://www.w3.org/2000/svg}"
LABEL = "{http://www.inkscape.org/namespaces/inkscape}label"
HEAD = (
    '<svg xmlns="http://www.w3.org/2000/svg" xmlns:underlit="urn:underlit:card:1" '
    'xmlns:inkscape="http://www.inkscape.org/namespaces/inkscape" '
    'width="210mm" height="297mm" viewBox="0 0 210 297">'
)

PANEL = '<path id="panel" d="M 0,0 H 108 V 140 H 0 Z"/>'
MOON = '<circle id="moon" cx="30" cy="30" r="12"/>'
DOOR = '<rect id="door" x="60" y="80" width="20" height="35"/>'
SHEET = '<path id="sheet" d="M 0,150 H 105 V 250 H 0 Z"/>'
SCORE = '<path id="score" d="M 10,70 H 90"/>'


def layer(*inside: str, label: str = "Layer 1", more: str = "") -> str:
    return (
        f'<g id="own" inkscape:groupmode="layer" inkscape:label="{label}" {more}>'
        f"{''.join(inside)}</g>"
    )


class Run:
    """One run of the script on a drawing made of these elements."""

    def __init__(self, folder: Path, drawing: str, *options: str) -> None:
        self.source = folder / "card.svg"
        self.source.write_text(HEAD + drawing + "</svg>", encoding="utf-8")
        self.again(self.source, folder / "out.svg", *options)

    def again(self, source: Path, target: Path, *options: str) -> Path:
        report = target.with_suffix(".json")
        script = ROOT / "extension" / "prepare_card.py"
        command = [sys.executable, str(script), str(source), *options, "--output", str(target)]
        command += ["--report", str(report)]
        done = subprocess.run(command, capture_output=True, text=True, timeout=60, check=False)
        self.code, self.words, self.error = done.returncode, done.stdout, done.stderr
        self.target = target
        self.report: dict[str, Any] = json.loads(report.read_text()) if report.exists() else {}
        return target

    def root(self) -> etree._Element:
        assert (self.code, self.error) == (0, "")
        return etree.parse(str(self.target)).getroot()

    def openings(self) -> list[str]:
        """Names on the Openings layer in their order."""
        found = self.root().iterfind(f".//{SVG}g[@{UNDERLIT}opening]")
        return [str(element.get(f"{UNDERLIT}opening")) for element in found]

    def roles(self) -> dict[str, list[str]]:
        """role -> ids of objects directly or further inside layers of it (nearest wins)."""
        found: dict[str, list[str]] = {}
        for element in self.root().iter(f"{SVG}path", f"{SVG}circle", f"{SVG}rect"):
            name = element.get("id")
            around = [element, *element.iterancestors()]
            role = next((a.get(f"{UNDERLIT}role") for a in around if a.get(f"{UNDERLIT}role")), "")
            if name in {"panel", "moon", "door", "sheet", "score"}:
                found.setdefault(role, []).append(name)
        return found


def refused(run: Run, words: str) -> None:
    """One sentence, no output."""
    assert run.code == 1
    assert words in run.error
    assert run.error.count("\n") == 1
    assert not run.target.exists()


def test_a_bare_drawing_gets_roles_layers_and_windows(tmp_path: Path) -> None:
    run = Run(tmp_path, layer(PANEL, DOOR, MOON, SCORE))
    assert run.roles() == {"die-cut": ["panel", "door", "moon", "score"]}
    assert run.openings() == ["moon", "door"]  # top to bottom
    labels = {g.get(LABEL) for g in run.root().iterfind(f"{SVG}g")}
    assert labels == {
        *("Layer 1", "Base", "Folds", "Lights", "Power", "Tape", "Foam", "Cover", "Diffuser"),
        "Openings",
    }
    assert run.words.startswith("Panel 108 x 140 mm (4 1/4 x 5 1/2 in) with 2 windows.\n")
    assert "1 score or pen line" in run.words
    assert run.report["action"] == "prepare"
    assert run.report["verdict"] is None
    assert run.report["card"]["panel"] == [108.0, 140.0]
    assert run.report["preparation"]["score_lines"] == 1


def test_the_makers_objects_stay_byte_for_byte(tmp_path: Path) -> None:
    run = Run(tmp_path, layer(PANEL, DOOR, MOON), "--panel", "panel", "--add-base", "true")
    text = run.target.read_text()
    for one in (DOOR, MOON, PANEL.removesuffix("/>")):
        assert one in text


@pytest.mark.parametrize("options", [(), ("--add-base", "true"), ("--panel", "panel")])
def test_a_second_run_changes_nothing(tmp_path: Path, options: tuple[str, ...]) -> None:
    run = Run(tmp_path, PANEL + DOOR + MOON, *options)
    first = run.target.read_bytes()
    again = run.again(run.target, tmp_path / "again.svg", *options)
    assert again.read_bytes() == first


def test_windows_follow_a_changed_outline(tmp_path: Path) -> None:
    run = Run(tmp_path, layer(PANEL, DOOR, MOON))
    text = run.target.read_text().replace(DOOR, "")
    source = tmp_path / "changed.svg"
    source.write_text(text)
    run.again(source, tmp_path / "again.svg")
    assert run.openings() == ["moon"]
    assert "with 1 window." in run.words


def test_what_the_maker_put_on_openings_stays(tmp_path: Path) -> None:
    own = '<g id="o" underlit:role="openings"><circle id="mine" r="2"/></g>'
    run = Run(tmp_path, layer(PANEL, DOOR) + own)
    assert run.root().find(f".//{SVG}circle[@id='mine']") is not None


def test_single_objects_go_into_one_new_layer(tmp_path: Path) -> None:
    run = Run(tmp_path, PANEL + DOOR + MOON)
    (die_cut,) = run.root().iterfind(f"{SVG}g[@{UNDERLIT}role='die-cut']")
    assert [child.get("id") for child in die_cut] == ["panel", "door", "moon"]
    assert die_cut.get(LABEL) == "Die cut"


def test_back_sheet_in_the_same_layer_keeps_its_place_and_look(tmp_path: Path) -> None:
    moved = layer(PANEL, MOON, SHEET, more='transform="translate(10,20)" style="fill:#abc"')
    run = Run(tmp_path, moved, "--panel", "panel", "--base", "sheet")
    assert run.roles() == {"base": ["sheet"], "die-cut": ["panel", "moon"]}
    sheet = run.root().find(f".//{SVG}path[@id='sheet']")
    around = sheet.getparent()
    assert around.get("transform") == "translate(10,20)"
    assert around.get("style") == "fill:#abc"
    assert "do not lie over each other" in run.words


def test_a_group_takes_the_role_itself(tmp_path: Path) -> None:
    run = Run(tmp_path, layer(f'<g id="card">{PANEL}{MOON}</g>', SHEET), "--panel", "card")
    assert run.openings() == ["moon"]
    assert run.report["card"]["panel"] == [108.0, 140.0]


def test_choosing_another_panel_takes_the_mark_off_the_first(tmp_path: Path) -> None:
    run = Run(tmp_path, layer(PANEL, MOON, SHEET), "--panel", "panel")
    run.again(run.target, tmp_path / "again.svg", "--panel", "sheet")
    assert run.report["card"]["panel"] == [105.0, 100.0]
    assert run.root().find(f".//{SVG}path[@id='panel']").get(f"{UNDERLIT}part") is None


class TestSheetOfPieces:
    def test_they_are_numbered_and_named(self, tmp_path: Path) -> None:
        run = Run(tmp_path, layer(SHEET, PANEL, MOON))
        assert "Piece 1: 108 x 140 mm, 1 window." in run.words
        assert "Piece 2: 105 x 100 mm, 0 windows." in run.words
        numbers = run.root().iterfind(f".//{SVG}g[@{UNDERLIT}piece]")
        assert ["".join(n.itertext()).strip() for n in numbers] == [
            "Piece 1Piece 1",
            "Piece 2Piece 2",
        ]

    @pytest.mark.parametrize("option", ["--panel=1", "--panel=panel", "--id=panel"])
    def test_one_is_chosen(self, tmp_path: Path, option: str) -> None:
        run = Run(tmp_path, layer(SHEET, PANEL, MOON), option)
        assert run.report["card"]["panel"] == [108.0, 140.0]
        assert "cutting sheet" not in run.words

    def test_by_its_number_on_the_drawing(self, tmp_path: Path) -> None:
        run = Run(tmp_path, layer(SHEET, PANEL, MOON))
        number = run.root().find(f".//{SVG}g[@{UNDERLIT}piece='2']").get("id")
        run.again(run.target, tmp_path / "again.svg", "--id", number)
        assert run.report["card"]["panel"] == [105.0, 100.0]

    def test_no_such_number(self, tmp_path: Path) -> None:
        refused(Run(tmp_path, layer(SHEET, PANEL), "--panel", "3"), "no piece 3")

    def test_pieces_combined_in_one_path(self, tmp_path: Path) -> None:
        both = '<path id="both" d="M 0,0 H 100 V 90 H 0 Z M 0,100 H 100 V 190 H 0 Z"/>'
        refused(Run(tmp_path, layer(both), "--panel", "1"), "combined with others in one path")


class TestRefusals:
    def test_no_outline(self, tmp_path: Path) -> None:
        refused(Run(tmp_path, layer(PANEL, SCORE), "--panel", "score"), "score does not close")

    def test_text(self, tmp_path: Path) -> None:
        text = '<text id="words" x="9" y="9">Moon</text>'
        refused(Run(tmp_path, layer(PANEL, text), "--panel", "words"), "words is text")

    def test_a_window(self, tmp_path: Path) -> None:
        refused(Run(tmp_path, layer(PANEL, MOON), "--panel", "moon"), "moon is window 1")

    def test_inside_a_window(self, tmp_path: Path) -> None:
        star = '<path id="star" d="M 65,85 h 8 v 8 h -8 z"/>'
        refused(Run(tmp_path, layer(PANEL, DOOR, star), "--panel", "star"), "inside window 1")

    def test_an_open_outline(self, tmp_path: Path) -> None:
        gap = '<path id="gap" d="M 0,0 H 108 V 140 H 0 V 20"/>'
        refused(Run(tmp_path, layer(gap, MOON), "--panel", "gap"), "gap does not close")

    @pytest.mark.parametrize("option", ["--panel", "--base", "--id"])
    def test_the_whole_drawing(self, tmp_path: Path, option: str) -> None:
        source = tmp_path / "own.svg"
        source.write_text(HEAD.replace("<svg ", '<svg id="all" ') + layer(PANEL, MOON) + "</svg>")
        run = Run(tmp_path, layer(PANEL))
        (tmp_path / "out.svg").unlink()
        run.again(source, tmp_path / "out.svg", option, "all")
        refused(run, "all is the whole drawing")

    def test_unknown(self, tmp_path: Path) -> None:
        refused(Run(tmp_path, layer(PANEL), "--panel", "nix"), "has the id nix")

    @pytest.mark.parametrize(
        "options", [("--base-margin", "-1"), ("--selection", "moon"), ("--add-base", "perhaps")]
    )
    def test_options(self, tmp_path: Path, options: tuple[str, ...]) -> None:
        refused(Run(tmp_path, layer(PANEL), *options), options[0])


class TestNothingToRead:
    def test_no_closed_outline(self, tmp_path: Path) -> None:
        run = Run(tmp_path, layer(SCORE))
        assert (run.code, run.error) == (0, "")
        assert "no closed outline" in run.words
        (finding,) = (f for f in run.report["findings"] if f["severity"] == "stop")
        assert finding["rule"] == "layer-missing"
        same = (
            etree.tostring(etree.parse(str(p)), method="c14n") for p in (run.source, run.target)
        )
        assert len(set(same)) == 1

    def test_an_empty_page_gets_its_layers(self, tmp_path: Path) -> None:
        run = Run(tmp_path, "")
        assert "The page is empty" in run.words
        assert len(list(run.root().iterfind(f"{SVG}g"))) == 10
        again = run.again(run.target, tmp_path / "again.svg")
        assert again.read_bytes() == (tmp_path / "out.svg").read_bytes()

    def test_only_specks(self, tmp_path: Path) -> None:
        dust = "".join(
            f'<circle cx="{x}" cy="{y}" r="0.2"/>' for x in range(1, 60) for y in range(1, 60)
        )
        run = Run(tmp_path, layer(dust))
        assert "no closed outline" in run.words
        assert run.openings() == []

    def test_dust_beside_a_panel_is_told(self, tmp_path: Path) -> None:
        dust = "".join(
            f'<circle cx="{x}" cy="{y}" r="0.2"/>' for x in range(1, 60) for y in range(1, 60)
        )
        run = Run(tmp_path, layer(PANEL, MOON, dust))
        assert "3481 specks" in run.words
        assert "let the tracer leave specks out" in run.words
        assert run.openings() == ["moon"]


class TestStraySelection:
    """Something selected by chance must not turn the card upside down."""

    def test_a_window_or_a_light_means_nothing(self, tmp_path: Path) -> None:
        light = '<g underlit:role="lights"><circle id="lamp" cx="30" cy="30" r="2"/></g>'
        for name in ("moon", "lamp"):
            run = Run(tmp_path, layer(PANEL, MOON, label="Die cut") + light, "--id", name)
            assert run.report["card"]["panel"] == [108.0, 140.0]
            assert run.openings() == ["moon"]

    def test_layers_of_other_names_are_left_alone(self, tmp_path: Path) -> None:
        notes = layer(SHEET, label="Lihgts").replace('id="own"', 'id="notes"')
        run = Run(tmp_path, layer(PANEL, MOON) + notes)
        assert run.roles() == {"die-cut": ["panel", "moon"], "": ["sheet"]}


class TestHints:
    @pytest.mark.parametrize(
        ("dots", "size", "name"),
        [(72, (105.0, 148.0), "A6"), (90, (127.0, 177.8), "5 x 7 in"), (90, (148.0, 105.0), "A6")],
    )
    def test_a_usual_card_at_another_inch(
        self, tmp_path: Path, dots: int, size: tuple[float, float], name: str
    ) -> None:
        width, height = (length * dots / 96 for length in size)
        rect = f'<rect id="panel" width="{width}" height="{height}"/>'
        run = Run(tmp_path, layer(rect))
        assert f"{dots} dots per inch" in run.words
        assert f"({name})" in run.words
        assert f"enlarge everything to {9600 / dots:.2f} %" in run.words

    def test_a_usual_card_as_it_is(self, tmp_path: Path) -> None:
        run = Run(tmp_path, layer('<rect id="panel" width="105" height="148"/>'))
        assert "dots per inch" not in run.words


class TestBackSheet:
    def test_drawn_on_request(self, tmp_path: Path) -> None:
        run = Run(tmp_path, layer(PANEL, MOON), "--add-base", "true", "--base-margin", "2")
        (sheet,) = run.root().iterfind(f".//{SVG}path[@id='underlit-back-sheet']")
        assert sheet.get(f"{UNDERLIT}made") == "prepare_card:underlit-back-sheet"
        assert sheet.get("d") == "M 2,2 L 2,138 L 106,138 L 106,2 Z"

    def test_not_beside_another(self, tmp_path: Path) -> None:
        base = '<g underlit:role="base"><rect id="mine" x="2" y="2" width="100" height="130"/></g>'
        run = Run(tmp_path, layer(PANEL) + base, "--add-base", "true")
        assert "There is a back sheet already" in run.words
        assert run.root().find(f".//{SVG}path[@id='underlit-back-sheet']") is None

    def test_too_small_a_panel(self, tmp_path: Path) -> None:
        run = Run(tmp_path, layer(PANEL), "--add-base", "true", "--base-margin", "50")
        assert run.report["preparation"]["base_margin"] == 50.0
        narrow = '<path id="panel" d="M 0,0 H 80 V 140 H 0 Z"/>'
        run = Run(tmp_path, layer(narrow), "--add-base", "true", "--base-margin", "50")
        assert "too small for a back sheet 50 mm inside its edge" in run.words


def test_areas_that_glow_through_are_windows(tmp_path: Path) -> None:
    glow = '<circle id="glow" cx="60" cy="40" r="9" underlit:glow="through"/>'
    run = Run(tmp_path, layer(PANEL, MOON, glow))
    assert run.openings() == ["moon", "glow"]


def test_layers_moved_and_in_px(tmp_path: Path) -> None:
    """Tints lie on the windows whatever the layer's own map."""
    own = '<g id="o" underlit:role="openings" transform="matrix(0,2,-2,0,7,3)"/>'
    run = Run(tmp_path, layer(PANEL, MOON) + own)
    group = run.root().find(f".//{SVG}g[@id='underlit-opening-1']")
    assert group.get("transform") == "matrix(0,-0.5,0.5,0,-1.5,3.5)"


def test_a_click_takes_one_window_alone(tmp_path: Path) -> None:
    """The editor selects the outermost group inside a layer."""
    run = Run(tmp_path, layer(PANEL, DOOR, MOON))
    (openings,) = run.root().iterfind(f"{SVG}g[@{UNDERLIT}role='openings']")
    assert [child.get(f"{UNDERLIT}opening") for child in openings] == ["moon", "door"]


class TestAPanelAsLargeAsThePage:
    """The page was made to measure, and the panel's edge is the page's."""

    PAGE = '<rect id="edge" width="210" height="297"/>'

    def test_it_is_asked_about(self, tmp_path: Path) -> None:
        run = Run(tmp_path, layer(self.PAGE, MOON, DOOR))
        assert len(run.report["card"]["openings"]) == 0
        assert '"edge" is as large as the page' in run.words
        assert "select it and run step 1 again" in run.words
        notes = [f for f in run.report["findings"] if f["rule"] == "object-skipped"]
        assert [(f["severity"], f["objects"]) for f in notes] == [("note", ["edge"])]

    @pytest.mark.parametrize("inside", [(MOON, DOOR), (MOON,), ()])
    @pytest.mark.parametrize("label", ["Layer 1", "Die cut"])
    def test_selected_it_is_the_panel(
        self, tmp_path: Path, inside: tuple[str, ...], label: str
    ) -> None:
        run = Run(tmp_path, layer(self.PAGE, *inside, label=label), "--id", "edge")
        assert run.error == ""
        assert run.report["card"]["panel"] == [210.0, 297.0]
        assert len(run.report["card"]["openings"]) == len(inside)
        assert "as large as the page" not in run.words

    def test_alone(self, tmp_path: Path) -> None:
        run = Run(tmp_path, layer(self.PAGE))
        assert "as large as the page" in run.words
        assert "Trace" not in run.words

    def test_a_frame_round_a_card_is_nothing_to_ask_about(self, tmp_path: Path) -> None:
        card = '<path id="panel" d="M 10,10 H 180 V 250 H 10 Z"/>'
        run = Run(tmp_path, layer(self.PAGE, card, MOON, DOOR))
        assert "as large as the page" not in run.words
        assert len(run.report["card"]["openings"]) == 2


@pytest.mark.parametrize("panel", [PANEL, ""])
def test_outlines_that_come_as_lines_or_with_a_gap_are_told(tmp_path: Path, panel: str) -> None:
    sides = "".join(
        f'<path id="s{n}" d="{d}"/>'
        for n, d in enumerate(("M 20,20 H 40", "M 40,20 V 40", "M 40,40 L 20,20"))
    )
    gap = '<path id="gap" d="M 60,60 H 80 V 80 H 60 V 60.5"/>'
    run = Run(tmp_path, layer(panel, sides, gap))
    assert "1 outline comes as separate lines" in run.words
    assert "1 outline has a small gap" in run.words
    assert any(run.report["card"]["panel"]) == bool(panel)
