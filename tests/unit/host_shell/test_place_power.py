"""Place the battery from a shell: layers, marks of the tool, refusals, and what Validate says."""

from __future__ import annotations

import json
import math
import re
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from lxml import etree
from shapely.geometry import box

from kit.run import ROOT, UNDERLIT, validate_text

SVG = "{http://www.w3.org/2000/svg}"
LABEL = "{http://www.inkscape.org/namespaces/inkscape}label"
HEAD = (
    '<svg xmlns="http://www.w3.org/2000/svg" xmlns:underlit="urn:underlit:card:1" '
    'xmlns:xlink="http://www.w3.org/1999/xlink" '
    'xmlns:inkscape="http://www.inkscape.org/namespaces/inkscape" '
)
PAGE = 'width="210mm" height="297mm" viewBox="0 0 210 297">'

PANEL = '<path id="panel" d="M 0,0 H 108 V 140 H 0 Z"/>'
DOOR = '<rect id="door" x="44" y="20" width="20" height="35"/>'
MOON = '<circle id="moon" cx="54" cy="95" r="9"/>'
STAR = '<path id="path12" d="M 20,80 l 10,0 l -5,12 Z"/>'
SCORE = '<path id="score" d="M 10,70 H 90"/>'
TREE = '<path id="tree" d="M 2,2 h 10 v 10 h -10 z"/>'


def layer(label: str, *inside: str, more: str = "") -> str:
    return f'<g inkscape:groupmode="layer" inkscape:label="{label}" {more}>{"".join(inside)}</g>'


CARD = layer("Die cut", PANEL, DOOR) + layer("Picture", MOON, STAR, SCORE, TREE)


class Run:
    """One run of the script on a drawing made of these elements."""

    def __init__(self, folder: Path, drawing: str, *options: str, page: str = PAGE) -> None:
        self.source = folder / "card.svg"
        self.source.write_text(HEAD + page + drawing + "</svg>", encoding="utf-8")
        self.again(self.source, folder / "out.svg", *options)

    def again(self, source: Path, target: Path, *options: str) -> Path:
        report = target.with_suffix(".json")
        report.unlink(missing_ok=True)
        script = ROOT / "extension" / "place_power.py"
        command = [sys.executable, str(script), str(source), *options, "--output", str(target)]
        command += ["--report", str(report)]
        done = subprocess.run(command, capture_output=True, text=True, timeout=60, check=False)
        self.code, self.words, self.error = done.returncode, done.stdout, done.stderr
        self.target = target
        self.report: dict[str, Any] = json.loads(report.read_text()) if report.exists() else {}
        return target

    @property
    def placed(self) -> dict[str, Any]:
        assert (self.code, self.error) == (0, "")
        return self.report["placement"]

    def root(self) -> etree._Element:
        assert (self.code, self.error) == (0, "")
        return etree.parse(str(self.target)).getroot()

    def made(self) -> dict[str, etree._Element]:
        """Objects that carry the action's mark with their own id."""
        found = {}
        for element in self.root().iter(f"{SVG}*"):
            name = element.get("id", "")
            if element.get(f"{UNDERLIT}made") == f"place_power:{name}":
                found[name] = element
        return found

    def role_of(self, name: str) -> str:
        element = self.made()[name]
        return next(
            str(a.get(f"{UNDERLIT}role") or a.get(LABEL))
            for a in element.iterancestors()
            if a.get(f"{UNDERLIT}role") or a.get(LABEL)
        )


def own_faults(run: Run) -> list[dict[str, Any]]:
    """What Validate says of the card besides that lights and tape are missing."""
    report = validate_text(run.target.read_text())
    return [
        f
        for f in report["findings"]
        if f["severity"] != "note"
        and not (
            f["rule"] == "layer-missing" and ("light" in f["message"] or "ape" in f["message"])
        )
    ]


def struck_through(run: Run) -> list[str]:
    """Words on the Marks layer over which a part, foam, paper or a window is drawn."""
    from underlit.interpretation.card import read_card
    from underlit_host.read_drawing import read_drawing

    card = read_card(read_drawing(run.root(), "x"), "fold").card
    areas = [area for part in card.parts for area in part.features.values()]
    areas += [one.geometry for one in (*card.foam, *card.patches)]
    areas += [opening.outline for opening in card.openings]
    found = []
    for text in run.root().iter(f"{SVG}text"):
        x, y = float(text.get("x", "")), float(text.get("y", ""))
        half = 0.25 * 2.2 * len(str(text.text))  # letters are about half as wide as high
        if any(area.intersects(box(x - half, y - 1.6, x + half, y + 0.4)) for area in areas):
            found.append(str(text.text))
    return found


@pytest.mark.parametrize("options", [
    ("--id", "moon"), ("--id", "moon", "--type", "cr2450"),
    ("--at", "30,100", "--type", "plain-20"),
    ("--at", "54,90", "--closes", "flap"), ("--at", "54,90", "--closes", "tab"),
    ("--at", "54,90", "--type", "slide-20"), ("--at", "54,90", "--closes", "open"),
])  # fmt: skip
def test_nothing_is_drawn_over_the_words_of_the_mark(
    tmp_path: Path, options: tuple[str, ...]
) -> None:
    run = Run(tmp_path, CARD, *options)
    assert run.placed["fits"]
    assert struck_through(run) == []


def refused(run: Run, words: str) -> None:
    """One sentence, exit 1, no output."""
    assert run.code == 1
    assert words in run.error
    assert run.error.count("\n") == 1
    assert run.words == ""
    assert not run.target.exists()


def test_a_battery_under_the_moon(tmp_path: Path) -> None:
    run = Run(tmp_path, CARD, "--id", "moon")
    first = "Battery under the moon, plus side up. Ring 26 mm, soft press.\n"
    assert run.words.startswith(first)
    assert run.placed["at"] == [54.0, 95.0]
    assert (run.placed["type"], run.placed["closes"]) == ("cr2032", "press")
    roles = {name: run.role_of(name) for name in run.placed["objects"].values()}
    assert roles == {
        "battery": "power",
        "pull-tab": "power",
        "press-ring": "foam",
        "rim-paper": "tape",
    }
    battery = run.made()["battery"]
    assert battery.get(f"{UNDERLIT}part") == "cell"
    assert battery.get(f"{UNDERLIT}type") == "cr2032"
    assert battery.get(f"{UNDERLIT}up") == "plus"
    assert run.made()["rim-paper"].get(f"{UNDERLIT}part") == "patch"
    marks = [name for name in run.made() if run.role_of(name) == "marks"]
    texts = [t.text for t in run.root().iter(f"{SVG}text")]
    assert marks
    assert texts == ["press here", "plus side up"]
    assert struck_through(run) == []
    assert own_faults(run) == []


@pytest.mark.parametrize(
    ("shape", "words"),
    [
        ('<circle id="circle42" cx="54" cy="95" r="6"/>', "under the round shape that you chose"),
        ('<rect id="rect5-3" x="46" y="90" width="16" height="9"/>',
         "under the shape that you chose"),
        ('<circle id="circle42" inkscape:label="Moon" cx="54" cy="95" r="6"/>', "under the moon"),
        ('<circle id="circle42" inkscape:label="circle42" cx="54" cy="95" r="6"/>',
         "under the round shape that you chose"),
    ],
)  # fmt: skip
def test_an_id_of_a_drawing_program_is_no_name(tmp_path: Path, shape: str, words: str) -> None:
    name = shape.split('"')[1]
    run = Run(tmp_path, CARD + layer("Sketch", shape), "--id", name)
    assert run.words.startswith(f"Battery {words}, plus side up.")


def test_a_loose_piece_without_a_name_is_told_by_its_window(tmp_path: Path) -> None:
    piece = '<circle id="circle42" cx="54" cy="37" r="6"/>'
    run = Run(tmp_path, layer("Die cut", PANEL, DOOR, piece), "--id", "circle42")
    assert run.words.startswith("The battery does not fit under the loose piece in window 1.")
    assert "circle42" not in run.words


def test_the_reading_back_is_what_was_reported(tmp_path: Path) -> None:
    run = Run(tmp_path, CARD, "--at", "54,95", "--type", "plain-20")
    back = validate_text(run.target.read_text())
    assert run.report["cells"] == back["cells"]
    assert run.report["nets"] == back["nets"]
    assert run.report["action"] == "place_power"
    assert run.report["verdict"] is None
    assert [f["rule"] for f in run.report["findings"]] == ["coin-cell"]
    assert list(run.report)[-1] == "placement"
    assert run.placed["ring"]["inside"] == pytest.approx(2 * math.hypot(14, 10.5) + 2, abs=1e-3)
    assert "under" not in run.words.split("\n", maxsplit=1)[0]


@pytest.mark.parametrize(
    ("options", "keys"),
    [
        (("--closes", "slide"), {"cell", "collar"}),
        (("--closes", "open"), {"cell", "collar"}),
        (("--closes", "always"), {"cell", "collar"}),
        (("--closes", "tab"), {"cell", "collar", "tab"}),
        (("--closes", "flap"), {"cell", "collar", "tab", "fold"}),
        (("--closes", "flap", "--up", "minus"), {"cell", "collar", "tab", "fold"}),
        (("--closes", "press", "--up", "minus"), {"cell", "collar", "tab", "ring"}),
        (("--closes", "press", "--pull-tab", "false"), {"cell", "collar", "ring"}),
        (("--type", "cr2450"), {"cell", "collar", "tab", "ring"}),
        (("--type", "cr1220", "--closes", "open", "--pull-tab", "true"), {"cell", "collar", "tab"}),
        (("--type", "slide-20"), {"cell"}),
        (("--type", "plain-20", "--closes", "always"), {"cell"}),
        (("--type", "plain-20", "--closes", "tab"), {"cell", "tab"}),
    ],
)
@pytest.mark.parametrize("profile", ["hand-laid", "classroom"])
def test_every_way_of_closing_leaves_validate_content(
    tmp_path: Path, options: tuple[str, ...], keys: set[str], profile: str
) -> None:
    run = Run(tmp_path, CARD, "--at", "54,94", "--profile", profile, *options)
    assert run.placed["fits"], run.words
    assert set(run.placed["objects"]) == keys
    assert own_faults(run) == []


def test_a_flap_brings_its_contact_onto_the_battery(tmp_path: Path) -> None:
    from underlit.connectivity.folding import flaps_of
    from underlit.interpretation.card import read_card
    from underlit_host.read_drawing import read_drawing

    run = Run(tmp_path, CARD, "--id", "moon", "--closes", "flap")
    card = read_card(read_drawing(run.root(), "x"), "fold").card
    (flap,) = flaps_of(card)
    landed = flap.land(card.cells[0].features["positive-pad"]).centroid
    assert landed.distance(card.cells[0].features["negative-pad"].centroid) < 0.01
    assert flap.moving.covers(card.cells[0].features["positive-pad"])


def test_a_place_without_room_is_said_with_figures_and_nothing_changes(tmp_path: Path) -> None:
    run = Run(tmp_path, CARD, "--id", "door")
    assert not run.placed["fits"]
    assert run.words.startswith("The battery does not fit under window 1. The press ring would")
    assert "Nearest it fits at 2" in run.words
    (finding,) = run.report["findings"]
    assert (finding["rule"], finding["severity"]) == ("no-room", "stop")
    assert finding["objects"] == ["door"]
    assert run.made() == {}
    x, y = run.placed["nearest"]
    again = Run(tmp_path, CARD, "--at", f"{x},{y}")
    assert again.placed["fits"]


@pytest.mark.parametrize("turn", [11, 23, 37])
def test_the_place_that_is_said_fits_when_it_is_typed(tmp_path: Path, turn: int) -> None:
    drawing = f'<g transform="translate(60,40) rotate({turn})">{CARD}</g>'
    run = Run(tmp_path, drawing, "--id", "door")
    said = re.search(r"Nearest it fits at ([\d.]+), ([\d.]+) mm, that is .* farther", run.words)
    assert said is not None
    again = Run(tmp_path, drawing, "--at", f"{said[1]},{said[2]}")
    assert again.placed["fits"], again.words
    assert f"Battery at {said[1]}, {said[2]} mm," in again.words


def test_a_fold_through_the_middle_is_as_deep_as_the_ring_is_wide(tmp_path: Path) -> None:
    fold = layer("Folds", '<path id="fold" d="M 54,0 V 140"/>')
    run = Run(tmp_path, CARD + fold, "--at", "54,95")
    assert not run.placed["fits"]
    assert "The press ring would reach 17 mm into a fold." in run.words


def test_a_place_hardly_beside_is_said_so() -> None:
    from underlit.workflows.place_power import _way

    assert _way((50.0, 50.0), (50.0, 50.04)) == "less than 0.1 mm beside it"
    way = _way((50.0, 50.0), (47.0, 62.0))
    assert way == "that is 12 mm farther down and 3 mm to the left"


def test_windows_by_name_and_by_their_tint(tmp_path: Path) -> None:
    tint = (
        '<g id="tint" underlit:opening="door"><path id="inner" d="M 44,20 h 20 v 35 h -20 z"/></g>'
    )
    drawing = CARD + layer("Openings", f'<g id="all">{tint}</g>')
    for name in ("tint", "inner", "all", "door"):
        run = Run(tmp_path, drawing, "--id", name)
        assert run.placed["where"] == "under window 1"
        assert run.placed["at"] == [54.0, 37.5]


def test_any_shape_of_any_layer_counts_where_it_is_drawn(tmp_path: Path) -> None:
    hidden = layer("Sketch", '<g transform="translate(4,5) scale(2)"><circle id="sun" cx="25" '
                   'cy="45" r="3"/></g>')  # fmt: skip
    clone = layer("More", '<use id="twin" xlink:href="#sun" transform="translate(0,5)"/>')
    run = Run(tmp_path, CARD + hidden + clone, "--id", "sun", "--closes", "open")
    assert run.placed["at"] == [54.0, 95.0]
    twin = Run(tmp_path, CARD + hidden + clone, "--id", "twin", "--closes", "open")
    assert twin.placed["at"] == [25.0, 50.0]
    plain = Run(tmp_path, CARD, "--id", "path12", "--closes", "open")
    assert plain.placed["where"] == "under the shape that you chose"  # path12 is no name


def test_pages_in_other_units_and_layers_moved(tmp_path: Path) -> None:
    k = 96 / 25.4
    page = f'width="210mm" height="297mm" viewBox="0 0 {210 * k} {297 * k}">'
    scaled = f'<g transform="scale({k})">{CARD}</g>'
    power = layer("Power", more='transform="translate(7,9) rotate(20)" id="power-layer"')
    run = Run(tmp_path, scaled + power, "--id", "moon", page=page)
    assert run.placed["at"] == [54.0, 95.0]
    (cell,) = validate_text(run.target.read_text())["cells"]
    assert cell["id"] == "battery"
    assert own_faults(run) == []
    plain = Run(tmp_path, CARD, "--id", "moon")
    assert run.placed == plain.placed


# ---- placed before ---------------------------------------------------------------------------


def test_a_second_run_says_so_and_changes_nothing(tmp_path: Path) -> None:
    run = Run(tmp_path, CARD, "--id", "moon")
    first = run.target
    before = first.read_bytes()
    second = run.again(first, tmp_path / "second.svg", "--id", "path12")
    assert run.words == (
        "There is a battery already, so I changed nothing. To place it anew, choose Replace.\n"
    )
    assert run.code == 0
    assert etree.canonicalize(second.read_text()) == etree.canonicalize(before.decode())


def test_replace_takes_away_only_what_the_tool_made(tmp_path: Path) -> None:
    mine = layer("Foam", '<rect id="mine" x="2" y="2" width="20" height="4"/>')
    run = Run(tmp_path, CARD + mine, "--id", "moon")
    root = run.root()
    ring = run.made()["press-ring"]
    twin = etree.fromstring(etree.tostring(ring))
    twin.set("id", "copied-ring")  # a copy of the maker's: its mark names another id
    twin.set("transform", "translate(200,0)")
    next(e for e in root.iter() if e.get("id") == "press-ring").getparent().append(twin)
    changed = tmp_path / "changed.svg"
    changed.write_bytes(etree.tostring(root))
    run.again(changed, tmp_path / "third.svg", "--at", "54,90", "--closes", "slide",
              "--replace", "true")  # fmt: skip
    assert run.placed["at"] == [54.0, 90.0]
    ids = [e.get("id") for e in run.root().iter(f"{SVG}*")]
    assert "mine" in ids
    assert "copied-ring" in ids
    assert "press-ring" not in ids
    assert "pull-tab" not in ids
    assert ids.count("battery") == 1
    texts = [t.text for t in run.root().iter(f"{SVG}text")]
    assert texts == ["plus side up"]


def test_replace_without_a_shape_keeps_the_place(tmp_path: Path) -> None:
    run = Run(tmp_path, CARD, "--at", "54,92", "--closes", "flap")
    run.again(run.target, tmp_path / "b.svg", "--type", "plain-20", "--replace", "true")
    assert run.placed["at"] == [54.0, 92.0]
    assert run.placed["holder"] == "plain-20"
    assert "flap-fold" not in run.made()


def test_replace_that_does_not_fit_leaves_the_old_one(tmp_path: Path) -> None:
    run = Run(tmp_path, CARD, "--id", "moon")
    before = run.target.read_text()
    run.again(run.target, tmp_path / "b.svg", "--id", "door", "--replace", "true")
    assert not run.placed["fits"]
    assert etree.canonicalize(run.target.read_text()) == etree.canonicalize(before)


@pytest.mark.parametrize("how", ["own", "pinned"])
def test_a_battery_of_the_makers_own_is_left(tmp_path: Path, how: str) -> None:
    run = Run(tmp_path, CARD, "--id", "moon")
    text = run.target.read_text()
    if how == "own":
        text = text.replace('underlit:made="place_power:battery"', "")
    else:
        text = text.replace('id="battery"', 'id="battery" underlit:pin="true"')
    changed = tmp_path / "own.svg"
    changed.write_text(text)
    run.again(changed, tmp_path / "b.svg", "--id", "moon", "--replace", "true")
    why = {
        "own": "You drew it yourself, so it stays. Delete it if",
        "pinned": "It is pinned, so it stays. Unpin or delete it if",
    }
    assert why[how] in run.words
    assert etree.canonicalize(run.target.read_text()) == etree.canonicalize(text)


def test_what_is_there_stays_byte_for_byte(tmp_path: Path) -> None:
    run = Run(tmp_path, CARD, "--id", "moon")
    text = run.target.read_text()
    for one in (PANEL, DOOR, MOON, STAR, SCORE, TREE):
        assert one in text


def test_the_same_run_gives_the_same_bytes(tmp_path: Path) -> None:
    one = Run(tmp_path, CARD, "--id", "moon", "--closes", "flap").target.read_bytes()
    other = Run(tmp_path, CARD, "--id", "moon", "--closes", "flap").target.read_bytes()
    assert one == other


# ---- refusals ---------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("options", "words"),
    [
        ((), "Select the shape under which the battery goes"),
        (("--replace", "true"), "Select the shape under which the battery goes"),
        (("--id", "nobody"), "Nothing in this drawing has the id nobody."),
        (("--id", "door#7"), "There is no window door#7"),
        (("--id", "score"), "score is no closed shape"),
        (("--id", "moon", "--id", "path12"), "Choose one shape for the battery; 2 are selected."),
        (("--at", "here"), "A place is X,Y on the page in mm"),
        (("--at", "1,2,3"), "A place is X,Y on the page in mm"),
        (("--at", "nan,2"), "A place is X,Y on the page in mm"),
        (("--id", "moon", "--type", "cr9999"), 'I know no battery "cr9999". Use one of: cr1220'),
        (("--id", "moon", "--closes", "magic"), "--closes is one of press, slide, flap, tab"),
        (("--id", "moon", "--up", "left"), "--up is plus or minus, not left."),
        (("--id", "moon", "--closes", "flap", "--type", "plain-20"), "A flap closes a bare"),
        (("--id", "moon", "--closes", "tab", "--pull-tab", "false"), "needs one"),
        (("--id", "moon", "--replace", "perhaps"), "--replace is true or false"),
        (("--id", "moon", "--profile", "nothing"), "The profile must be one of"),
    ],
)
def test_bad_input_is_one_sentence(tmp_path: Path, options: tuple[str, ...], words: str) -> None:
    refused(Run(tmp_path, CARD, *options), words)


@pytest.mark.parametrize("place", ["54.5,90.25", " 54.5, 90.25 ", "54.5;90.25", "54,5; 90,25"])
def test_a_place_goes_before_what_is_selected(tmp_path: Path, place: str) -> None:
    """With decimal commas it is parted by a semicolon."""
    run = Run(tmp_path, CARD, "--id", "moon", "--id", "path12", "--at", place)
    assert run.placed["at"] == [54.5, 90.25]


def test_lights_left_selected_are_no_choice(tmp_path: Path) -> None:
    """Placing lights selects them; the battery comes next."""
    lens = '<circle cx="20" cy="30" r="1.5" underlit:feature="lens"/>'
    lamps = [f'<g id="light-{n}" underlit:part="light">{lens}</g>' for n in (1, 2)]
    drawing = CARD + layer("Lights", *lamps)
    lights = ("--id", "light-1", "--id", "light-2")
    refused(Run(tmp_path, drawing, *lights), "Select the shape under which the battery goes")
    assert Run(tmp_path, drawing, *lights, "--id", "moon").placed["at"] == [54.0, 95.0]


def test_several_windows_at_once_are_no_choice(tmp_path: Path) -> None:
    tints = '<g underlit:opening="door"/><g underlit:opening="moon"/>'
    drawing = CARD + layer("Openings", f'<g id="all">{tints}</g>')
    refused(Run(tmp_path, drawing, "--id", "all"), "all holds 2 windows; choose one of them")


def test_a_drawing_without_a_panel_is_a_finding(tmp_path: Path) -> None:
    run = Run(tmp_path, layer("Picture", MOON), "--id", "moon")
    assert run.code == 0
    assert [f["rule"] for f in run.report["findings"]] == ["layer-missing"]
    assert run.made() == {}
    empty = Run(tmp_path, "", "--at", "10,10")
    assert [f["rule"] for f in empty.report["findings"]] == ["layer-missing"]


def test_replace_with_the_battery_itself_selected(tmp_path: Path) -> None:
    run = Run(tmp_path, CARD, "--at", "54,92", "--closes", "flap")
    run.again(run.target, tmp_path / "b.svg", "--id", "battery", "--replace", "true",
              "--closes", "slide")  # fmt: skip
    assert run.placed["at"] == [54.0, 92.0]
    assert "at its old place" in run.words


# ---- taped afterwards --------------------------------------------------------------------------

HOLE = '<circle id="hole" cx="54" cy="37" r="6"/>'


def taped(run: Run, plus: str, minus: str, turn: float = 0.0) -> dict[str, Any]:
    """The card with one light and two strips, drawn on the layer Tape as a maker would."""
    root = run.root()
    layers = {g.get(LABEL): g for g in root.iter(f"{SVG}g") if g.get(LABEL)}
    tape = layers["Tape"] if "Tape" in layers else etree.SubElement(root, f"{SVG}g")
    tape.set(f"{UNDERLIT}role", "tape")
    for name, way in (("plus", plus), ("minus", minus)):
        strip = etree.SubElement(tape, f"{SVG}path", {"id": name, "d": way})
        strip.set("style", "fill:none;stroke:#000;stroke-width:5")
    lights = etree.SubElement(root, f"{SVG}g", {f"{UNDERLIT}role": "lights"})
    light = etree.SubElement(
        lights,
        f"{SVG}g",
        {"id": "light", f"{UNDERLIT}part": "light", f"{UNDERLIT}type": "warm-white",
         "transform": f"translate(54,37) rotate({turn})"},
    )  # fmt: skip
    for feature, (x, y, w, h) in {
        "body": (-6, -2.5, 12, 5),
        "positive-pad": (2.5, -1.5, 3, 3),
        "negative-pad": (-5.5, -1.5, 3, 3),
        "lens": (-1.5, -1.5, 3, 3),
    }.items():
        size = {"x": str(x), "y": str(y), "width": str(w), "height": str(h)}
        etree.SubElement(light, f"{SVG}rect", {**size, f"{UNDERLIT}feature": feature})
    return validate_text(etree.tostring(root).decode())


def test_a_press_taped_by_hand_is_ready(tmp_path: Path) -> None:
    drawing = layer("Die cut", PANEL, HOLE)
    run = Run(tmp_path, drawing, "--at", "54,95")
    assert run.placed["angle"] == 180.0
    plus = "M 49,97.5 V 35.5"
    minus = "M 59,97.5 V 35.5"
    report = taped(run, plus, minus, 180.0)
    faults = [f for f in report["findings"] if f["severity"] != "note"]
    assert {f["rule"] for f in faults} <= {"tape-shows"}, faults
    assert [light["lit"] for light in report["lights"]] == [True]
    assert not any(f["rule"] == "cell-rim-touch" for f in faults)


def test_without_its_paper_the_rim_would_touch(tmp_path: Path) -> None:
    """The paper is what keeps Validate content: taken out, it says so."""
    run = Run(tmp_path, layer("Die cut", PANEL, HOLE), "--at", "54,95")
    text = run.target.read_text()
    (paper,) = [e for e in run.root().iter(f"{SVG}path") if e.get("id") == "rim-paper"]
    assert paper.getparent().get(LABEL) == "Rim paper"
    run.target.write_text(text.replace('id="rim-paper"', 'id="rim-paper" display="none"'))
    report = taped(run, "M 49,97.5 V 35.5", "M 59,97.5 V 35.5", 180.0)
    assert "cell-rim-touch" in {f["rule"] for f in report["findings"]}


def test_minus_up_has_its_paper_below_all_tape(tmp_path: Path) -> None:
    run = Run(tmp_path, layer("Die cut", PANEL, HOLE), "--at", "54,95", "--up", "minus")
    turn = run.placed["angle"]
    x = {0.0: (59, 49), 180.0: (49, 59)}[turn]
    report = taped(run, f"M {x[0]},97.5 V 35.5", f"M {x[1]},97.5 V 35.5", turn)
    assert [light["lit"] for light in report["lights"]] == [True]
    assert "cell-rim-touch" not in {f["rule"] for f in report["findings"]}


def test_a_flap_taped_by_hand_closes(tmp_path: Path) -> None:
    run = Run(tmp_path, layer("Die cut", PANEL, HOLE), "--at", "54,90", "--closes", "flap",
              "--pull-tab", "false")  # fmt: skip
    assert run.placed["angle"] == 45.0  # a corner folds: less paper moves
    assert run.placed["fold"]["distance"] == 17.0
    minus = "M 54,92 V 70 L 50,66 V 35.5"
    plus = "M 75,117.1 L 95.7,96.4 L 58,58.7 V 35.5"
    report = taped(run, plus, minus)
    faults = [f for f in report["findings"] if f["severity"] != "note"]
    assert {f["rule"] for f in faults} <= {"tape-shows"}, faults
    assert [light["lit"] for light in report["lights"]] == [True]


def test_paper_over_a_bare_rim_is_no_tape_yet(tmp_path: Path) -> None:
    """It comes with the battery; the tape is still to come."""
    run = Run(tmp_path, CARD, "--id", "moon")
    back = validate_text(run.target.read_text())
    lacking = [f["message"] for f in back["findings"] if f["rule"] == "layer-missing"]
    assert lacking[-1] == "There is no tape yet."


def test_an_emptied_paper_layer_goes_with_its_paper(tmp_path: Path) -> None:
    run = Run(tmp_path, CARD, "--id", "moon")
    run.again(run.target, tmp_path / "b.svg", "--type", "plain-20", "--replace", "true")
    labels = [g.get(LABEL) for g in run.root().iter(f"{SVG}g")]
    assert "Rim paper" not in labels
    assert "Tape" in labels


LIGHT = (
    '<g id="lamp" underlit:part="light" underlit:type="red">'
    '<rect x="48" y="35" width="12" height="5" underlit:feature="body"/>'
    '<rect x="56.5" y="36" width="3" height="3" underlit:feature="positive-pad"/>'
    '<rect x="48.5" y="36" width="3" height="3" underlit:feature="negative-pad"/>'
    '<circle cx="54" cy="37.5" r="1.5" underlit:feature="lens"/></g>'
)


@pytest.mark.parametrize("place", ["54,95", "30,100", "80,95"])
@pytest.mark.parametrize("kind", ["cr2032", "plain-20"])
def test_words_keep_out_of_the_way_of_tape(tmp_path: Path, place: str, kind: str) -> None:
    """More than an eighth of a turn off the ways to the feet and to the light."""
    from underlit.interpretation.card import read_card
    from underlit_host.read_drawing import read_drawing

    run = Run(tmp_path, CARD + layer("Lights", LIGHT), "--at", place, "--type", kind)
    card = read_card(read_drawing(run.root(), "x"), "fold").card
    x, y = (float(word) for word in place.split(","))
    cell = card.cells[0].features
    ends = [cell["positive-pad"], cell["negative-pad"], card.lights[0].features["lens"]]
    words = next(t for t in run.root().iter(f"{SVG}text") if t.text == "press here")
    where = math.atan2(float(words.get("y")) - y, float(words.get("x")) - x)
    for end in (area.centroid for area in ends):
        turn = math.remainder(where - math.atan2(end.y - y, end.x - x), math.tau)
        assert abs(math.degrees(turn)) > 35.0


@pytest.mark.parametrize("kind", ["cr2032", "plain-20", "cr2450", "cr1220"])
def test_ring_glow_and_foam_are_of_one_plan(tmp_path: Path, kind: str) -> None:
    """The ring's foam is the report's; light is followed up to where it has settled."""
    run = Run(tmp_path, CARD + layer("Lights", LIGHT), "--at", "54,90", "--type", kind,
              "--closes", "press")  # fmt: skip
    ring = run.placed["ring"]
    told = [other(run.target, script, tmp_path) for script in ("lay_foam", "preview_glow")]
    stack, (glow,) = told[0]["stack"], told[1]["glow"]["lights"]
    assert (stack["spacer"], stack["foam"]) == (ring["thickness"], ring["foam"])
    assert stack["travel"] == ring["travel"]
    assert glow["depth"] == pytest.approx(0.85 * ring["thickness"] - 1.0 - 0.1, abs=1e-3)


def other(source: Path, script: str, folder: Path) -> dict[str, Any]:
    """The report of another action on a drawing."""
    target, report = folder / f"{script}.svg", folder / f"{script}.json"
    command = [sys.executable, str(ROOT / "extension" / f"{script}.py"), str(source)]
    command += ["--output", str(target), "--report", str(report)]
    subprocess.run(command, check=True, capture_output=True, timeout=60)
    told: dict[str, Any] = json.loads(report.read_text())
    return told


@pytest.mark.parametrize(("spacer", "fits"), [(5.0, True), (9.0, False), (3.0, False)])
def test_foam_that_the_maker_named_is_taken_or_refused(
    tmp_path: Path, spacer: float, fits: bool
) -> None:
    """5 mm settle to 4.25: 0.85 above 3.4. 9 mm leave 4.25 of travel, 3 mm none at all."""
    own = tmp_path / "own.toml"
    own.write_text(f'based-on = "hand-laid"\n[stack]\nspacer = {spacer}\n')
    run = Run(tmp_path, CARD, "--id", "moon", "--profile", str(own))
    assert run.placed["fits"] is fits
    if fits:
        assert (run.placed["ring"]["thickness"], run.placed["ring"]["travel"]) == (5.0, 0.85)
        assert "Foam 5 mm: the panel goes down 0.8 mm when pressed." in run.words
    else:
        assert "a press needs 0.3 to 1.5 mm" in run.words
