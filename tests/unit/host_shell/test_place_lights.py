"""Place lights from a shell: where they stand, what is replaced, what is refused."""

from __future__ import annotations

import json
import math
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from lxml import etree

from kit.run import ROOT, UNDERLIT

HEAD = (
    '<svg xmlns="http://www.w3.org/2000/svg" xmlns:underlit="urn:underlit:card:1" '
    'xmlns:inkscape="http://www.inkscape.org/namespaces/inkscape" '
    'width="120mm" height="160mm" viewBox="0 0 120 160">'
)
PANEL = '<path id="panel" d="M 1,1 H 119 V 159 H 1 Z"/>'
MOON = '<circle id="moon" cx="30" cy="30" r="12"/>'
DOOR = '<rect id="door" x="60" y="80" width="20" height="35"/>'
SLIT = '<rect id="slit" x="60" y="20" width="30" height="2.4"/>'
CUT = '<g id="cut" underlit:role="die-cut">{}</g>'
BATTERY = (
    '<g underlit:role="power"><g id="battery" underlit:part="cell" underlit:type="cr2032" '
    'underlit:closes="press"><circle cx="30" cy="120" r="10" underlit:feature="body"/>'
    '<circle cx="30" cy="120" r="4" underlit:feature="positive-pad"/>'
    '<circle cx="30" cy="120" r="4" underlit:feature="negative-pad"/></g></g>'
)

LAMP = '<g id="lamp" underlit:part="light"><circle r="3" underlit:feature="body"/></g>'
INKSCAPE = "{http://www.inkscape.org/namespaces/inkscape}"


def cut(*shapes: str) -> str:
    return CUT.format("".join((PANEL, *shapes)))


class Run:
    """One run of the script."""

    def __init__(self, folder: Path, drawing: str, *options: str, name: str = "out") -> None:
        source = folder / "card.svg"
        if drawing.startswith("<svg") or drawing.startswith("<?xml"):
            source.write_text(drawing, encoding="utf-8")
        else:
            source.write_text(f"{HEAD}{drawing}</svg>", encoding="utf-8")
        self.target, report = folder / f"{name}.svg", folder / f"{name}.json"
        command = [sys.executable, str(ROOT / "extension" / "place_lights.py"), str(source)]
        command += [*options, "--output", str(self.target), "--report", str(report)]
        done = subprocess.run(command, capture_output=True, text=True, timeout=60, check=False)
        self.code, self.words, self.error = done.returncode, done.stdout, done.stderr
        self.report: dict[str, Any] = json.loads(report.read_text()) if report.exists() else {}

    @property
    def text(self) -> str:
        assert (self.code, self.error) == (0, "")
        return self.target.read_text(encoding="utf-8")

    @property
    def lights(self) -> list[dict[str, Any]]:
        assert (self.code, self.error) == (0, "")
        placed: list[dict[str, Any]] = self.report["placement"]["lights"]
        return placed

    def made(self) -> list[str]:
        root = etree.fromstring(self.text.encode())
        return [el.get("id") for el in root.iter() if el.get(f"{UNDERLIT}part") == "light"]


def test_every_window_gets_its_light_at_its_centre(tmp_path: Path) -> None:
    run = Run(tmp_path, cut(MOON, DOOR))
    assert run.made() == ["light-1", "light-2"]
    assert [one["opening"] for one in run.lights] == ["moon", "door"]
    assert run.lights[0]["at"] == pytest.approx([30.0, 30.0], abs=0.05)
    assert run.lights[0]["clearance"] == pytest.approx(12.0, abs=0.05)
    assert run.lights[1]["at"] == pytest.approx([70.0, 97.5], abs=0.1)
    assert all(one["visible"] > 0.99 for one in run.lights)
    assert run.words == "2 lights placed.\n"


def test_what_is_drawn_is_what_is_reported(tmp_path: Path) -> None:
    """The script's own report of lights, read again from its drawing by validating it."""
    run = Run(tmp_path, cut(MOON, DOOR), "--turn", "30")
    command = [sys.executable, str(ROOT / "extension" / "validate_card.py"), str(run.target)]
    command += ["--output", str(tmp_path / "v.svg"), "--report", str(tmp_path / "v.json")]
    subprocess.run(command, check=True, capture_output=True, timeout=60)
    seen = json.loads((tmp_path / "v.json").read_text())["lights"]
    placed = run.report["lights"]
    assert [one["id"] for one in seen] == [one["id"] for one in placed] == run.made()
    for one, other in zip(seen, placed, strict=True):
        assert math.dist(one["at"], other["at"]) < 0.002
        assert one["angle"] == pytest.approx(30.0, abs=0.01)
        assert other["angle"] == pytest.approx(30.0, abs=0.01)
        assert one["opening"] == other["opening"]


def test_too_small_is_told_with_figures_and_marked(tmp_path: Path) -> None:
    run = Run(tmp_path, cut(MOON, SLIT))
    assert run.words.startswith(
        "1 light placed.\n  1. caution at 75.0, 21.2 mm: Window 1 is too small for this light "
        "(2.4 mm at its widest, needs 3)."
    )
    (finding,) = run.report["findings"]
    assert (finding["rule"], finding["severity"]) == ("opening-not-lit", "caution")
    assert finding["objects"] == ["slit"]
    assert "underlit-finding" in run.text
    (dark,) = run.report["placement"]["unlit"]
    assert (dark["reason"], dark["measured"], dark["needed"]) == ("too-small", 2.4, 3.0)


@pytest.mark.parametrize(
    ("options", "names"),
    [
        (("--id", "door"), ["door"]),
        (("--openings", "1"), ["moon"]),
        (("--openings", "1-2"), ["moon", "door"]),
        (("--at", "70,100"), ["door"]),
        (("--id", "moon", "--at", "70,100"), ["moon", "door"]),
    ],
)
def test_windows_are_chosen(tmp_path: Path, options: tuple[str, ...], names: list[str]) -> None:
    run = Run(tmp_path, cut(MOON, DOOR), *options)
    assert [one["opening"] for one in run.lights] == names


def test_a_clicked_tint_stands_for_its_window(tmp_path: Path) -> None:
    tint = '<g id="t" underlit:opening="door"><path id="p" d="M60,80 h20 v35 h-20z"/></g>'
    layer = f'<g id="tints" underlit:role="openings">{tint}</g>'
    for name in ("t", "p", "tints"):
        run = Run(tmp_path, cut(MOON, DOOR) + layer, "--id", name)
        assert [one["opening"] for one in run.lights] == ["door"], name


def test_a_second_run_adds_nothing_where_a_light_shines(tmp_path: Path) -> None:
    first = Run(tmp_path, cut(MOON, DOOR), "--id", "moon")
    second = Run(tmp_path, first.text, name="second")
    assert second.made() == ["light-1", "light-2"]
    assert [one["opening"] for one in second.lights] == ["door"]
    assert "Window 1 has light already." in second.words
    third = Run(tmp_path, second.text, name="third")
    assert third.text == second.text
    assert third.words.startswith("No light placed.")


def test_replace_takes_only_what_the_tool_made(tmp_path: Path) -> None:
    first = Run(tmp_path, cut(MOON, DOOR))
    own = first.text.replace('underlit:made="place_lights:light-1"', 'underlit:x="mine"')
    assert own != first.text
    again = Run(tmp_path, own, "--replace", "true", "--type", "red", name="again")
    assert again.report["placement"]["removed"] == ["light-2"]
    assert [(one["id"], one["type"]) for one in again.lights] == [("light-2", "red")]
    assert 'underlit:x="mine"' in again.text


def test_replace_keeps_the_angle_of_a_locked_light(tmp_path: Path) -> None:
    first = Run(tmp_path, cut(MOON, DOOR), "--turn", "37").text
    locked = first.replace('id="light-1"', 'id="light-1" underlit:turn="locked"')
    options = ("--replace", "true", "--type", "red", "--count", "2")
    again = Run(tmp_path, locked, *options, name="again")
    assert again.report["placement"]["removed"] == ["light-1", "light-2"]
    angles = {one["id"]: one["angle"] for one in again.lights}
    assert [angles["light-1"], angles["light-1-2"]] == pytest.approx([37.0, 37.0], abs=0.01)
    assert angles["light-2"] != pytest.approx(37.0, abs=0.01)
    root = etree.fromstring(again.text.encode())
    locks = {e.get("id") for e in root.iter() if e.get(f"{UNDERLIT}turn") == "locked"}
    assert locks == {"light-1", "light-1-2"}
    same = Run(tmp_path, again.text, *options, name="same")
    assert same.text == again.text


def test_replace_keeps_pinned_and_copied_lights(tmp_path: Path) -> None:
    first = Run(tmp_path, cut(MOON, DOOR)).text
    kept = first.replace('id="light-1"', 'id="light-1" underlit:pin="true"')
    again = Run(tmp_path, kept, "--replace", "true", name="again")
    assert again.report["placement"]["removed"] == ["light-2"]
    clone = '<use id="u" href="#light-1" transform="translate(60,0)"/></svg>'
    again = Run(tmp_path, first.replace("</svg>", clone), "--replace", "true", name="again")
    assert again.report["placement"]["removed"] == ["light-2"]
    copied = first.replace('id="light-1"', 'id="my-copy"')
    again = Run(tmp_path, copied, "--replace", "true", name="again")
    assert again.report["placement"]["removed"] == ["light-2"]


def test_replace_of_one_window_leaves_the_others(tmp_path: Path) -> None:
    first = Run(tmp_path, cut(MOON, DOOR)).text
    again = Run(tmp_path, first, "--replace", "true", "--openings", "2", "--count", "2", name="b")
    assert again.report["placement"]["removed"] == ["light-2"]
    assert again.made() == ["light-1", "light-2", "light-2-2"]
    same = Run(tmp_path, again.text, "--replace", "true", "--openings", "2", "--count", "2")
    assert same.text == again.text


def test_auto_is_capped_by_the_battery_and_lights_keep_clear_of_it(tmp_path: Path) -> None:
    slots = "".join(
        f'<rect id="s{i}" x="5" y="{8 + 9 * i}" width="110" height="6"/>' for i in range(9)
    )
    over = '<circle id="sun" cx="30" cy="120" r="14"/>'
    run = Run(tmp_path, cut(slots, over) + BATTERY)
    assert run.report["placement"]["battery_feeds"] == 16
    assert len(run.lights) <= 16
    reasons = {one["opening"]: one["reason"] for one in run.report["placement"]["unlit"]}
    assert reasons.get("sun") == "no-room"
    assert "the battery, needs" in run.words


@pytest.mark.parametrize(
    ("options", "words"),
    [
        (("--id", "panel"), "panel is no window"),
        (("--id", "nothing"), "Nothing in this drawing has the id nothing."),
        (("--openings", "9"), "There is no window 9; this card has windows 1 to 2."),
        (("--openings", "a"), "Window numbers look like 1,4,7-9, not a."),
        (("--at", "5,5"), "There is no window at 5, 5 mm."),
        (("--at", "here"), "A place looks like 12.5,40 (mm), not here."),
        (("--type", "neon"), "There is no light neon; this profile has warm-white,"),
        (("--count", "0"), "The number of lights per window is auto or 1 to 200, not 0."),
        (("--count", "-2"), "The number of lights per window is auto or 1 to 200, not -2."),
        (("--turn", "left"), "The turn is free, 45 or an angle in degrees, not left."),
        (("--replace", "maybe"), "--replace is true or false, not maybe."),
    ],
)
def test_bad_input_is_one_sentence(tmp_path: Path, options: tuple[str, ...], words: str) -> None:
    run = Run(tmp_path, cut(MOON, DOOR), *options)
    assert run.code == 1
    assert words in run.error
    assert run.error.count("\n") == 1
    assert not run.target.exists()


def test_the_closing_words_of_the_editor(tmp_path: Path) -> None:
    run = Run(tmp_path, cut(MOON, SLIT), "--tell", "true")
    assert run.words.endswith(
        "\n1 light placed. Window 1 is too small for this light (2.4 mm at its widest, needs 3).\n"
    )


def test_a_name_that_a_stray_clone_waits_for_is_not_taken(tmp_path: Path) -> None:
    stray = '<g underlit:role="lights"><use id="u" href="#light-1"/></g>'
    run = Run(tmp_path, cut(MOON) + stray)
    assert [one["id"] for one in run.lights] == ["light-1-2"]


@pytest.mark.parametrize("drawing", ["", cut(), '<g underlit:role="base"/>'])
def test_nothing_to_light_is_a_finding(tmp_path: Path, drawing: str) -> None:
    run = Run(tmp_path, drawing)
    assert run.made() == []
    (finding,) = run.report["findings"]
    assert (finding["rule"], finding["severity"]) == ("layer-missing", "stop")
    assert run.words.startswith("No light placed.\n  1. stop: ")


def test_foam_over_a_window_counts_as_closed(tmp_path: Path) -> None:
    foam = '<g underlit:role="foam"><rect x="58" y="78" width="12" height="40"/></g>'
    run = Run(tmp_path, cut(DOOR) + foam)
    (light,) = run.lights
    assert light["at"][0] == pytest.approx(75.0, abs=0.1)


FOAM = '<g underlit:role="foam"><rect id="pad" x="{}" y="10" width="60" height="40"/></g>'
COVER = '<g underlit:role="cover"><rect id="sheet" x="20" y="10" width="60" height="40"/></g>'
GLUED = '<circle id="glued" cx="30" cy="30" r="11" underlit:glued="true"/>'


@pytest.mark.parametrize(
    ("drawing", "words", "objects"),
    [
        (cut(MOON) + FOAM.format(20), "Foam lies over window 1: 2 mm of it stay open", ["pad"]),
        (cut(MOON) + FOAM.format(10), "Foam lies over window 1: nothing of it stays", ["pad"]),
        (cut(MOON) + COVER, "The cover lies over window 1: 2 mm of it stay open", ["sheet"]),
        (cut(MOON, GLUED), "A piece stays in window 1: 1 mm of it stay open", []),
    ],
)
def test_what_covers_a_window_is_said_not_that_it_is_small(
    tmp_path: Path, drawing: str, words: str, objects: list[str]
) -> None:
    run = Run(tmp_path, drawing)
    (finding,) = run.report["findings"]
    assert finding["message"].startswith(words)
    assert finding["message"].endswith("this light needs 3.")
    assert finding["objects"] == ["moon", *objects]
    assert "too small" not in run.words
    assert run.report["placement"]["unlit"][0]["reason"] == "covered"


def test_a_window_that_is_small_without_foam_stays_too_small(tmp_path: Path) -> None:
    run = Run(tmp_path, cut(SLIT) + FOAM.format(60))
    assert "Window 1 is too small for this light (" in run.words


def test_a_small_battery_says_that_it_feeds_fewer(tmp_path: Path) -> None:
    slots = "".join(
        f'<rect id="s{i}" x="5" y="{8 + 12 * i}" width="110" height="6"/>' for i in range(4)
    )
    run = Run(tmp_path, cut(slots) + BATTERY.replace("cr2032", "cr1220"))
    assert len(run.lights) == 6
    words = "By their length the windows would take 16 lights; a CR1220 feeds 6, so some get fewer."
    assert words in run.words
    more = Run(tmp_path, cut(slots) + BATTERY, name="more")
    assert len(more.lights) == 16
    assert "so some get fewer" not in more.words


def test_windows_without_ids_go_by_layer_and_number(tmp_path: Path) -> None:
    two = '<path d="M20,60h9v9h-9z M20,90h9v9h-9z"/>'
    drawing = cut(MOON.replace('id="moon" ', ""), two)
    names = [one["name"] for one in Run(tmp_path, drawing).report["card"]["openings"]]
    assert [name.partition("#")[2] for name in names] == ["", "1", "2"]
    for name in names:
        again = Run(tmp_path, drawing, "--id", name, name="again")
        assert [one["opening"] for one in again.lights] == [name]


def test_a_sign_in_an_id_makes_no_name_double(tmp_path: Path) -> None:
    two = '<path id="a" d="M20,60h9v9h-9z M20,90h9v9h-9z"/>'
    drawing = cut('<path id="a#1" d="M60,60h9v9h-9z"/>', two)
    names = [one["opening"] for one in Run(tmp_path, drawing).lights]
    assert len(set(names)) == 3
    for name in names:
        again = Run(tmp_path, drawing, "--id", name, name="again")
        assert [one["opening"] for one in again.lights] == [name]


def test_numbers_of_windows_move_out_from_under_lights(tmp_path: Path) -> None:
    """Those that the tool wrote on the Openings layer; a second run writes the same bytes."""
    prepared = tmp_path / "prepared.svg"
    source = tmp_path / "plain.svg"
    source.write_text(f"{HEAD}{cut(MOON, DOOR)}</svg>")
    command = [sys.executable, str(ROOT / "extension" / "prepare_card.py"), str(source)]
    subprocess.run([*command, "--output", str(prepared)], check=True, capture_output=True)
    run = Run(tmp_path, prepared.read_text(encoding="utf-8"))
    root = etree.fromstring(run.text.encode())
    at = {
        text.text: (float(text.get("x")), float(text.get("y")))
        for text in root.iter("{http://www.w3.org/2000/svg}text")
    }
    for light in run.lights:
        x, y = at[str(light["number"])]
        assert math.dist((x, y - 2.0), light["at"]) > 3.5
    again = Run(tmp_path, run.text, "--replace", "true", name="again")
    assert again.text == run.text


def test_lights_across_tape_are_told(tmp_path: Path) -> None:
    """Tape as wide as the window and more; the same tape aside troubles nobody."""
    strip = (
        '<g underlit:role="tape"><path id="strip" d="M {},5 V 60" '
        'style="fill:none;stroke:#000;stroke-width:40"/></g>'
    )
    run = Run(tmp_path, cut(MOON) + strip.format(30))
    words = "The light of window 1 lies across tape that is there already: lay the tape anew"
    assert words in run.words
    assert [one["across_tape"] for one in run.lights] == [True]
    aside = Run(tmp_path, cut(MOON) + strip.format(90), name="aside")
    assert "across" not in aside.words
    assert [one["across_tape"] for one in aside.lights] == [False]


def test_a_window_just_as_wide_as_the_lens_gets_its_light(tmp_path: Path) -> None:
    """3 mm for a lens of 3: a limit is met within 0.01 mm, a curve is followed within 0.005."""
    run = Run(tmp_path, cut('<circle id="just" cx="60" cy="60" r="1.5"/>'))
    assert [one["opening"] for one in run.lights] == ["just"]
    short = Run(tmp_path, cut('<circle id="short" cx="60" cy="60" r="1.48"/>'), name="short")
    assert "Window 1 is too small for this light (2.9" in short.words


def test_a_fold_is_told_with_its_real_distance(tmp_path: Path) -> None:
    fold = '<g underlit:role="folds"><path id="f" d="M 60,1 V159"/></g>'
    run = Run(tmp_path, cut('<circle id="hole" cx="61" cy="60" r="7"/>') + fold)
    (dark,) = run.report["placement"]["unlit"]
    assert (dark["in_the_way"], dark["measured"], dark["needed"]) == ("a fold", 0.0, 5.5)
    assert "it would be 0 mm from a fold, needs 5.5." in run.words


def test_what_stays_dark_is_said_alike_a_second_time(tmp_path: Path) -> None:
    rows = "".join(
        f'<circle id="c{i}" cx="{20 + 7 * (i % 3)}" cy="{40 + 7 * (i // 3)}" r="2.5"/>'
        for i in range(6)
    )
    run = Run(tmp_path, cut(rows))
    assert run.report["placement"]["unlit"]
    again = Run(tmp_path, run.text, name="again")
    assert again.report["findings"] == run.report["findings"]
    assert again.text == run.text
    anew = Run(tmp_path, run.text, "--replace", "true", name="anew")
    assert anew.text == run.text


def test_report_has_the_keys_of_the_conventions_then_placement(tmp_path: Path) -> None:
    run = Run(tmp_path, cut(MOON))
    assert list(run.report)[:3] == ["underlit", "schema", "action"]
    assert list(run.report)[-1] == "placement"
    assert (run.report["action"], run.report["verdict"]) == ("place_lights", None)


RING = (
    '<path d="M 11,120 a 19,19 0 1,0 38,0 a 19,19 0 1,0 -38,0 Z '
    'M 17,120 a 13,13 0 1,0 26,0 a 13,13 0 1,0 -26,0 Z" fill-rule="evenodd"/>'
)
FRAME = '<path d="M 2,2 H 118 V 158 H 2 Z M 6,6 V 154 H 114 V 6 Z"/>'


def test_lights_keep_off_the_press_ring_but_not_off_what_a_frame_holds(tmp_path: Path) -> None:
    """A window right beside the ring: level, the body would lie under the foam of the ring."""
    near = '<circle id="near" cx="53" cy="120" r="3"/>'
    foam = f'<g underlit:role="foam">{FRAME}{RING}</g>'
    run = Run(tmp_path, cut(near, MOON) + BATTERY + foam)
    placed = {light["opening"]: light for light in run.lights}
    assert set(placed) == {"near", "moon"}
    assert placed["near"]["angle"] in (90.0, 270.0)
    level = Run(tmp_path, cut(near, MOON) + BATTERY + foam, "--turn", "0", name="level")
    (dark,) = level.report["placement"]["unlit"]
    assert (dark["opening"], dark["in_the_way"]) == ("near", "the battery")


def test_lights_keep_off_a_fold_that_moves_often(tmp_path: Path) -> None:
    fold = '<g underlit:role="folds"><path id="f" d="M 26,1 V 159" {}/></g>'
    often = Run(tmp_path, cut(MOON) + fold.format(""))
    once = Run(tmp_path, cut(MOON) + fold.format('underlit:moves="once"'), name="once")
    assert once.lights[0]["at"] == pytest.approx([30.0, 30.0], abs=0.05)
    (light,) = often.lights
    assert light["at"][0] - 26.0 >= 5.0 + 2.5
    assert light["visible"] > 0.99


def test_many_windows_that_the_battery_cannot_feed_are_one_line(tmp_path: Path) -> None:
    """Each has its finding in the report; drawn and said they are one, the same every time."""
    rows = [(x, y) for y in range(12, 200, 24) for x in range(12, 150, 22)]
    windows = "".join(
        f'<circle id="w{k}" cx="{x}" cy="{y}" r="6"/>' for k, (x, y) in enumerate(rows)
    )
    panel = '<rect id="panel" x="0" y="0" width="160" height="210"/>'
    head = '<svg xmlns="http://www.w3.org/2000/svg" xmlns:underlit="urn:underlit:card:1" '
    size = 'width="160mm" height="210mm" viewBox="-1 -1 162 212">'
    layer = f'<g underlit:role="die-cut">{panel}{windows}</g>'
    source = tmp_path / "in.svg"
    source.write_text(head + size + layer + "</svg>")
    first = place(source, tmp_path / "1.svg")
    second = place(tmp_path / "1.svg", tmp_path / "2.svg")
    dark = [f for f in first["findings"] if f["rule"] == "opening-not-lit"]
    assert len(dark) == len(rows) - len(first["placement"]["lights"]) > 4
    assert len({f["message"].partition(": ")[2] for f in dark}) == 1
    assert second["placement"]["lights"] == []
    assert (tmp_path / "1.svg").read_bytes() == (tmp_path / "2.svg").read_bytes()


def place(source: Path, target: Path) -> dict[str, Any]:
    """The report of placing lights everywhere; what a shell says must be short."""
    report = target.with_suffix(".json")
    command = [sys.executable, str(ROOT / "extension" / "place_lights.py"), str(source)]
    command += ["--output", str(target), "--report", str(report)]
    done = subprocess.run(command, capture_output=True, text=True, timeout=60, check=True)
    assert "windows stay dark: the battery feeds no more than the" in done.stdout
    assert done.stdout.count("\n") < 5
    told: dict[str, Any] = json.loads(report.read_text(encoding="utf-8"))
    return told


@pytest.mark.parametrize("transform", ["scale(0)", "rotate(nan)"])
def test_a_lights_layer_on_which_nothing_can_be_drawn(tmp_path: Path, transform: str) -> None:
    """Lights go to a layer of their own, again and again to that one."""
    layer = f'<g id="lost" inkscape:groupmode="layer" inkscape:label="Lights" {{}}>{LAMP}</g>'
    layer = layer.format(f'transform="{transform}"')
    first = Run(tmp_path, cut(MOON, DOOR) + layer, "--id", "moon")
    (placed,) = first.made()[1:]
    root = etree.fromstring(first.text.encode())
    (part,) = root.xpath(f"//*[@id='{placed}']")
    assert part.getparent().get(f"{INKSCAPE}label") == "Lights"
    assert part.getparent().get("id") != "lost"
    again = Run(tmp_path, first.text, "--id", "door", name="again")
    root = etree.fromstring(again.text.encode())
    assert len(root.xpath("//*[@*[local-name()='label']='Lights']")) == 2
