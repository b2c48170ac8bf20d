"""What a maker may choose as panel and back sheet; all else is refused in one sentence."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from kit.prepared import DOOR, MOON, PANEL, SCORE, SHEET, SVG, Prepared, layer
from kit.run import UNDERLIT

TEXT = '<text id="words" x="20" y="20">Moon</text>'
PICTURE = '<image id="photo" x="20" y="20" width="9" height="9" xlink:href="data:image/png,x"/>'
STORED = '<defs><path id="stored" d="M 0,0 H 90 V 90 H 0 Z"/></defs>'
AWAY = '<path id="away" d="M 10,160 H 110 V 290 H 10 Z"/>'


@pytest.fixture
def card(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Prepared:
    return Prepared(tmp_path, monkeypatch)


class TestBackSheet:
    @pytest.mark.parametrize("label", ["Layer 1", "Die cut"])
    @pytest.mark.parametrize(
        ("name", "words"),
        [
            ("panel", "panel has 2 windows and looks like the panel itself"),
            ("moon", "moon is window 1 of the panel"),
            ("own", "is all that could be the panel"),
            ("score", "score does not close"),
        ],
    )
    def test_something_else(self, card: Prepared, label: str, name: str, words: str) -> None:
        drawing = layer(PANEL, MOON, DOOR, SCORE, label=label)
        assert words in card.run(drawing, "--base", name).refused()
        selected = card.run(drawing, "--id", name, "--selection", "base")
        assert words in selected.refused()

    def test_a_pattern_that_is_only_stored(self, card: Prepared) -> None:
        for option in ("--base", "--panel", "--id"):
            told = card.run(STORED + layer(PANEL, MOON), option, "stored").refused()
            assert "choose what you see on the page" in told

    def test_panel_and_back_sheet_at_once(self, card: Prepared) -> None:
        told = card.run(layer(PANEL, MOON), "--base", "panel", "--panel", "panel").refused()
        assert "can be only one of them" in told

    def test_drawn_inside_the_panel(self, card: Prepared) -> None:
        card.run(layer(PANEL, MOON, DOOR, SHEET, label="Die cut"), "--base", "sheet")
        assert card.roles() == {"sheet": "base"}  # the others by their layer's label
        assert card.openings() == ["moon", "door"]

    def test_selected_just_inside_the_edge_at_the_first_run_as_later(self, card: Prepared) -> None:
        card.run(PANEL + MOON + DOOR + SHEET, "--id", "sheet")
        assert card.roles() == dict.fromkeys(("panel", "moon", "door"), "die-cut") | {
            "sheet": "base"
        }
        assert card.report["card"]["panel"] == [108.0, 140.0]
        card.run(PANEL + MOON + DOOR + SHEET, "--id", "sheet", "--selection", "panel")
        assert card.report["card"]["panel"] == [106.0, 138.0]

    def test_a_panel_without_windows_on_a_larger_sheet(self, card: Prepared) -> None:
        card.run(layer(PANEL, SHEET), "--base", "panel")
        assert card.roles() == {"panel": "base", "sheet": "die-cut"}

    def test_with_holes_in_a_group(self, card: Prepared) -> None:
        sheet = f'<g id="all">{AWAY}<circle id="hole" cx="50" cy="200" r="9"/></g>'
        card.run(layer(PANEL, MOON, sheet), "--base", "all")
        assert card.roles() == {"panel": "die-cut", "moon": "die-cut", "away": "base"} | {
            "hole": "base"
        }

    def test_its_holes_would_stay_behind(self, card: Prepared) -> None:
        hole = '<circle id="hole" cx="50" cy="200" r="9"/>'
        told = card.run(layer(PANEL, MOON, AWAY, hole), "--base", "away").refused()
        assert "group them with it first" in told

    def test_inside_another_back_sheet(self, card: Prepared) -> None:
        base = layer(PANEL.replace("panel", "first"), label="Base", name="b")
        told = card.run(layer(PANEL, SHEET, MOON) + base, "--base", "sheet").refused()
        assert "lies inside first, which is a back sheet already" in told

    def test_in_a_group_that_is_cloned(self, card: Prepared) -> None:
        """Moved out of the group it would vanish from the clone."""
        group = f'<g id="all">{PANEL}{MOON}{SHEET}</g><use id="u" xlink:href="#all" x="120"/>'
        card.run(layer(group), "--base", "sheet")
        sheet = card.root().find(".//*[@id='sheet']")
        assert [e.get("id") for e in sheet.iterancestors()][1] == "all"
        assert card.roles()["sheet"] == "base"

    def test_in_a_drawing_inside_the_drawing(self, card: Prepared) -> None:
        inner = f'<svg x="5" width="100" height="150" viewBox="0 0 200 300">{PANEL}{MOON}{SHEET}'
        card.run(layer(inner + "</svg>"), "--base", "sheet")
        assert card.report["card"]["panel"] == [54.0, 70.0]
        assert not [f for f in card.report["findings"] if f["rule"] == "base-shows"]


class TestPanel:
    def test_a_layer_stands_for_its_outer_edge(self, card: Prepared) -> None:
        """Marked itself, the layer would make everything drawn on it later a panel."""
        card.run(layer(PANEL, MOON), "--panel", "own")
        assert card.marked() == ["panel"]

    def test_a_group_of_two(self, card: Prepared) -> None:
        told = card.run(layer(PANEL, MOON, AWAY), "--panel", "own").refused()
        assert "2 separate outlines (panel, away)" in told

    def test_one_inside_the_other(self, card: Prepared) -> None:
        drawing = layer(PANEL, SHEET, MOON)
        told = card.run(drawing, "--panel", "panel", "--panel", "sheet").refused()
        assert "sheet lies inside panel" in told

    @pytest.mark.parametrize("option", ["--panel", "--base", "--id"])
    @pytest.mark.parametrize("empty", ["", " "])
    def test_an_empty_name(self, card: Prepared, option: str, empty: str) -> None:
        told = card.run(layer(PANEL), f"{option}={empty}").refused()
        assert f"{option} is empty" in told

    def test_number_nought(self, card: Prepared) -> None:
        assert "no piece 0 in this drawing; it has 1" in card.run(PANEL, "--panel", "0").refused()

    def test_hidden(self, card: Prepared) -> None:
        hidden = PANEL.replace("<path", '<path style="display:none"')
        assert "is hidden" in card.run(layer(hidden, SHEET), "--panel", "panel").refused()


class TestSelectedForUnderlitToJudge:
    @pytest.mark.parametrize("label", ["Layer 1", "Die cut"])
    @pytest.mark.parametrize(
        ("more", "name", "words"),
        [
            (TEXT, "words", "words is text, not an outline"),
            (PICTURE, "photo", "photo is a picture, not an outline"),
            (SCORE, "score", "score does not close"),
            ('<g id="bare"/>', "bare", "bare draws no outline"),
        ],
    )
    def test_no_outline(self, card: Prepared, label: str, more: str, name: str, words: str) -> None:
        told = card.run(layer(PANEL, MOON, more, label=label), "--id", name).refused()
        assert words in told
        assert "or select nothing" in told

    @pytest.mark.parametrize("label", ["Layer 1", "Die cut"])
    def test_everything(self, card: Prepared, label: str) -> None:
        names = [f"--id={name}" for name in ("panel", "moon", "door", "words")]
        card.run(layer(PANEL, MOON, DOOR, TEXT, label=label), *names)
        assert card.openings() == ["moon", "door"]

    def test_everything_on_a_sheet_of_pieces(self, card: Prepared) -> None:
        card.run(layer(PANEL, MOON, AWAY), "--id=panel", "--id=moon", "--id=away")
        assert "2 separate outlines are selected (panel, away)" in card.words
        assert "Piece 2: 100 x 130 mm" in card.words
        assert card.marked() == []

    def test_a_line_just_inside_the_edge_is_the_back_sheet(self, card: Prepared) -> None:
        card.run(layer(PANEL, MOON, DOOR, SHEET, label="Die cut"), "--id", "sheet")
        assert card.roles()["sheet"] == "base"
        assert card.openings() == ["moon", "door"]

    def test_everything_with_a_back_sheet_inside(self, card: Prepared) -> None:
        names = [f"--id={name}" for name in ("panel", "moon", "door", "sheet")]
        card.run(layer(PANEL, MOON, DOOR, SHEET, label="Die cut"), *names)
        assert card.roles() == {}  # nothing was moved

    def test_a_stray_thing_elsewhere_is_told(self, card: Prepared) -> None:
        notes = layer(AWAY, label="Notes", name="notes")
        card.run(layer(PANEL, MOON, label="Die cut") + notes, "--id", "away")
        assert card.report["card"]["panel"] == [108.0, 140.0]
        assert "away is not on Die cut, so I left it out" in card.words
        assert "away" not in card.roles()

    def test_an_edge_round_all_windows_is_the_panel(self, card: Prepared) -> None:
        edge = layer(PANEL, label="Edge", name="edge")
        card.run(layer(MOON, DOOR, label="Die cut") + edge, "--id", "panel")
        assert card.report["card"]["panel"] == [108.0, 140.0]
        assert card.openings() == ["moon", "door"]

    def test_a_window_of_one_of_several_pieces(self, card: Prepared) -> None:
        card.run(layer(PANEL, MOON, AWAY, label="Die cut"), "--panel", "panel")
        card.again("--id", "moon")
        assert card.marked() == ["panel"]

    def test_what_was_left_out_stands_in_the_report(self, card: Prepared) -> None:
        notes = layer(AWAY, label="Notes", name="notes")
        card.run(layer(PANEL, label="Die cut") + notes, "--id", "away")
        assert any("away" in hint for hint in card.report["preparation"]["hints"])


class TestOddChoices:
    def test_what_is_named_goes_before_what_is_selected(self, card: Prepared) -> None:
        drawing = layer(PANEL, MOON, AWAY, label="Die cut")
        card.run(drawing, "--panel", "away", "--id", "panel")
        assert card.marked() == ["away"]
        first = card.drawing
        assert card.again("--panel", "away", "--id", "panel").drawing == first

    def test_a_piece_without_an_id_by_its_number(self, card: Prepared) -> None:
        """It gets one, as the editor would give it; nothing else does."""
        bare = [
            text.replace(f'id="{name}" ', "") for text, name in ((PANEL, "panel"), (AWAY, "away"))
        ]
        card.run(layer(*bare, MOON), "--panel", "2")
        assert card.report["card"]["panel"] == [100.0, 130.0]
        assert len(card.marked()) == 1
        assert card.root().xpath("count(//*[local-name()='path' and not(@id)])") >= 1
        first = card.drawing
        assert card.again("--panel", "2").drawing == first

    def test_a_panel_too_narrow_for_a_back_sheet(self, card: Prepared) -> None:
        """A sliver without area would be drawn anew at each run."""
        card.run('<rect id="p" x="44.2" y="105.7" width="109.2" height="3.2"/>', "--add-base=true")
        assert "too small for a back sheet 1.6 mm inside its edge" in card.words

    def test_a_group_that_is_the_back_sheet_inside_another_drawing(self, card: Prepared) -> None:
        """There is a role, but no layer on which a sheet could be drawn."""
        inner = '<svg width="9" height="9"><g id="b" underlit:role="base"/></svg>'
        card.run(layer(PANEL, MOON, label="Die cut") + inner, "--add-base", "true")
        assert card.root().find(".//*[@id='underlit-back-sheet']") is not None

    def test_a_layer_scaled_to_nothing_holds_no_back_sheet(self, card: Prepared) -> None:
        flat = layer(label="Base", name="flat", more='transform="scale(0)"')
        for options in (("--base", "sheet"), ("--add-base", "true")):
            card.run(f"<g>{flat}</g>" + layer(PANEL, MOON, SHEET), *options)
            assert len(card.report["card"]["openings"]) == 1
            assert not [f for f in card.report["findings"] if f["rule"] == "base-shows"]
            first = card.drawing
            assert card.again(*options).drawing == first

    def test_one_thing_twice(self, card: Prepared) -> None:
        card.run(layer(PANEL, MOON), "--id", "panel", "--id", "panel")
        assert card.marked() == ["panel"]
        card.run(layer(PANEL, MOON, SHEET), "--base", "sheet", "--base", "sheet")
        assert card.openings() == ["moon"]

    def test_the_same_number_of_a_back_sheet_again(self, card: Prepared) -> None:
        """Once it has its role the other pieces have moved up."""
        drawing = layer(
            PANEL, MOON, AWAY, AWAY.replace("away", "third").replace("10,160", "12,162")
        )
        card.run(layer(PANEL, MOON, AWAY), "--base", "2")
        assert card.roles()["away"] == "base"
        first = card.drawing
        card.again("--base", "2")
        assert card.drawing == first
        assert "away is the back sheet already, so I took no piece 2" in card.words
        assert card.run(drawing, "--base", "9").refused()

    def test_the_panels_edge_inside_a_chosen_group(self, card: Prepared) -> None:
        group = f'<g id="both">{PANEL}{MOON}{SHEET}</g>'
        told = card.run(layer(group), "--panel", "both", "--base", "panel").refused()
        assert "can be only one of them" in told
        card.run(layer(group), "--panel", "both", "--base", "sheet")
        assert (card.marked(), card.roles()["sheet"]) == (["panel"], "base")

    def test_a_marked_panel_becomes_the_back_sheet(self, card: Prepared) -> None:
        card.run(layer(PANEL, MOON, AWAY), "--panel", "away")
        card.again("--panel", "panel", "--base", "away")
        assert card.marked() == ["panel"]
        assert card.roles()["away"] == "base"

    @pytest.mark.parametrize("option", ["--panel", "--base"])
    @pytest.mark.parametrize(
        ("label", "words"),
        [
            ("Openings", "is drawn by Underlit"),
            ("Findings", "is drawn by Underlit"),
            ("Tape", "is a layer for something else"),
            ("Lights", "is a layer for something else"),
        ],
    )
    def test_layers_of_other_things(
        self, card: Prepared, option: str, label: str, words: str
    ) -> None:
        other = layer(AWAY, label=label, name="other")
        drawing = layer(PANEL, MOON, label="Die cut") + other
        assert words in card.run(drawing, option, "other").refused()

    def test_a_tinted_window(self, card: Prepared) -> None:
        card.run(layer(PANEL, MOON))
        data = card.drawing
        for option in ("--panel", "--base"):
            told = card.run_on(data, option, "underlit-opening-1").refused()
            assert "choose an outline of your own" in told

    def test_numbers_stay_when_one_piece_becomes_the_back_sheet(self, card: Prepared) -> None:
        small = '<rect id="small" x="130" y="10" width="60" height="40"/>'
        drawing = layer(small, PANEL, MOON, AWAY)
        card.run(drawing)
        assert "Piece 1: 60 x 40 mm" in card.words
        options = ("--base", "1", "--panel", "2")
        card.run(drawing, *options)
        assert (card.roles()["small"], card.marked()) == ("base", ["panel"])
        first = card.drawing
        assert card.again(*options).drawing == first
        card.run(drawing, "--base", "1")
        assert "Piece 2: 108 x 140 mm" in card.words
        assert "Piece 1:" not in card.words
        assert card.again("--panel", "2").marked() == ["panel"]


class TestNestedDies:
    """Rings in each other, as a set of dies comes: all but the innermost may be the panel."""

    RINGS = tuple(
        f'<rect id="r{i}" x="{10 + 6 * i}" y="{10 + 6 * i}" width="{140 - 12 * i}" '
        f'height="{180 - 12 * i}"/>'
        for i in range(6)
    )

    @pytest.mark.parametrize("ring", range(5))
    def test_a_ring_can_be_the_panel(self, card: Prepared, ring: int) -> None:
        wanted = [140.0 - 12 * ring, 180.0 - 12 * ring]
        for chosen in ((f"--panel=r{ring}",), (f"--id=r{ring}", "--selection=panel")):
            card.run(layer(*self.RINGS), *chosen)
            assert card.report["card"]["panel"] == wanted

    def test_what_is_small_or_far_from_filling_its_window_cannot(self, card: Prepared) -> None:
        window = '<path id="window" d="M 20,20 H 110 V 90 H 20 Z"/>'
        for inner in ("M 30,30 h 40 v 40 h -40 z", "M 30,30 h 9 v 9 h -9 z"):
            drawing = layer(PANEL, window, f'<path id="inner" d="{inner}"/>')
            assert "inner lies inside window 1" in card.run(drawing, "--panel=inner").refused()

    def test_the_middle_of_a_letter_cannot(self, card: Prepared) -> None:
        ring = '<circle id="o" cx="50" cy="50" r="12"/><circle id="hole" cx="50" cy="50" r="11"/>'
        assert "inside window 1" in card.run(layer(PANEL, ring), "--panel=hole").refused()


class TestWhatCoversWhat:
    """Single objects go on Die cut; what lies above what stays as it was."""

    GROUP = '<g id="group"><path id="inner" d="M 40,60 h 9 v 9 h -9 z"/></g>'

    @pytest.mark.parametrize("options", [(), ("--panel", "panel"), ("--panel", "1")])
    @pytest.mark.parametrize("between", [PICTURE, TEXT, GROUP, layer(DOOR)])
    def test_order_stays(self, card: Prepared, between: str, options: tuple[str, ...]) -> None:
        def order() -> list[str]:
            names = (element.get("id") for element in card.root().iter())
            return [name for name in names if name and not name.startswith("underlit-")]

        card.run(PANEL + between + MOON, *options)
        inside = re.findall('id="([a-z]+)"', between)
        assert order() == ["panel", *inside, "moon"]
        assert card.roles() | {"panel": "die-cut", "moon": "die-cut"} == card.roles()
        before = card.drawing
        assert card.again(*options).drawing == before

    def test_groups_between_single_objects_go_with_them(self, card: Prepared) -> None:
        card.run(PANEL + self.GROUP + MOON + self.GROUP.replace("group", "last"))
        (new,) = card.root().iterfind(f"{SVG}g[@id='underlit-die-cut']")
        assert [child.get("id") for child in new] == ["panel", "group", "moon"]
        last = card.root().find(f"{SVG}g[@id='last']")
        assert last is not None
        assert last.get(f"{UNDERLIT}role") == "die-cut"


class TestWindowsElsewhere:
    """Choosing the panel first takes no window from it, wherever the windows stand."""

    HOLDERS = (
        f'<g id="group">{MOON}</g>',
        layer(MOON, label="windows", name="second"),
        MOON,
    )

    @pytest.mark.parametrize("options", [("--id=panel",), ("--panel=panel",), ("--panel=1",)])
    @pytest.mark.parametrize("panel", [PANEL, layer(PANEL), f'<g id="edge">{PANEL}</g>'])
    @pytest.mark.parametrize("windows", HOLDERS)
    def test_they_count(
        self, card: Prepared, panel: str, windows: str, options: tuple[str, ...]
    ) -> None:
        card.run(panel + windows, *options)
        assert card.openings() == ["moon"]
        before = card.drawing
        assert card.again(*options).drawing == before


def test_a_piece_by_its_number_where_something_else_has_its_id(card: Prepared) -> None:
    """What is marked is the outline on Die cut, not the strip of the same id below it."""
    strip = '<path id="panel" d="M 20,20 H 60" style="fill:none;stroke:#000;stroke-width:5"/>'
    card.run(layer(strip, label="Tape") + layer(PANEL, MOON, DOOR), "--panel", "1")
    (marked,) = (e for e in card.root().iter() if e.get(UNDERLIT + "part") == "panel")
    assert "stroke-width:5" not in marked.get("style", "")
    assert card.openings() == ["moon", "door"]


def test_a_back_sheet_by_an_id_that_two_have_is_the_same_at_the_second_run(card: Prepared) -> None:
    other = '<circle id="sheet" cx="260" cy="80" r="30"/>'
    cut = layer(PANEL, MOON, DOOR, SHEET, other, label="Die cut")
    card.run(cut + layer(label="Base", name="back"), "--base", "sheet")
    first = card.drawing
    again = card.again("--base", "sheet")
    assert (again.error, again.drawing) == ("", first)


def test_a_panel_by_an_id_that_a_text_has_too(card: Prepared) -> None:
    words = '<text id="panel" x="20" y="20">Moon</text>'
    card.run(words + layer(PANEL, MOON, DOOR, label="Die cut"), "--panel", "panel")
    assert card.openings() == ["moon", "door"]
    first = card.drawing
    assert card.again("--panel", "panel").drawing == first


def test_a_panel_by_an_id_that_a_light_on_die_cut_has_too(card: Prepared) -> None:
    """The outline is chosen wherever it stands, and the light stays a light."""
    light = (
        '<g id="panel" underlit:part="light" underlit:type="warm-white">'
        '<rect x="60" y="60" width="12" height="5" underlit:feature="body"/></g>'
    )
    card.run(layer(MOON, light, label="Die cut") + layer(PANEL, label="Lights"), "--panel=panel")
    assert card.error == ""
    (marked,) = (e for e in card.root().iter() if e.get(UNDERLIT + "part") == "panel")
    assert marked.tag == SVG + "path"
    first = card.drawing
    assert card.again("--panel", "panel").drawing == first
