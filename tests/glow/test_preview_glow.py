"""Show the glow from a shell: options, report, the Glow layer, what is left alone."""

from __future__ import annotations

import base64
import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from lxml import etree

from kit.run import ROOT, UNDERLIT
from rules.draw_faulty import clean, text_of
from underlit.glow.display import lux_of

from .read_png import read_png

SVG = "{http://www.w3.org/2000/svg}"
HREF = "{http://www.w3.org/1999/xlink}href"
JAR = ROOT / "sample_svgs" / "firefly-jar.svg"
CARDS = ("lantern", "lighthouse", "firefly-jar", "street", "night-garden")


class Run:
    """One run of the script."""

    def __init__(self, folder: Path, source: Path, *options: str) -> None:
        self.target, report = folder / "out.svg", folder / "out.json"
        script = ROOT / "extension" / "preview_glow.py"
        command = [sys.executable, str(script), str(source), "--output", str(self.target)]
        command += ["--report", str(report), *options]
        done = subprocess.run(command, capture_output=True, text=True, timeout=60, check=False)
        self.code, self.words, self.error = done.returncode, done.stdout, done.stderr
        self.report: dict[str, Any] = json.loads(report.read_text()) if report.exists() else {}

    def pictures(self) -> list[etree._Element]:
        assert (self.code, self.error) == (0, "")
        return list(etree.parse(str(self.target)).getroot().iter(f"{SVG}image"))

    def glow(self) -> dict[str, Any]:
        assert (self.code, self.error) == (0, "")
        found: dict[str, Any] = self.report["glow"]
        return found


def png_of(picture: etree._Element) -> bytes:
    head, _, data = str(picture.get(HREF)).partition(",")
    assert head == "data:image/png;base64"
    return base64.b64decode(data)


def drawing(folder: Path, text: str) -> Path:
    path = folder / "card.svg"
    path.write_text(text, encoding="utf-8")
    return path


@pytest.mark.parametrize("name", CARDS)
def test_the_samples_glow(name: str, tmp_path: Path) -> None:
    run = Run(tmp_path, ROOT / "sample_svgs" / f"{name}.svg", "--png", str(tmp_path / "a.png"))
    assert run.words.startswith("Glow drawn, as in a dim room.\n")
    (picture,) = run.pictures()
    assert (tmp_path / "a.png").read_bytes() == png_of(picture)
    lit = [o for o in run.glow()["openings"] if o["lights"]]
    assert len(lit) == sum(light["opening"] is not None for light in run.report["lights"])
    assert all(o["mean_lux"] > 0 for o in lit)
    assert run.report["action"] == "preview"
    assert run.report["verdict"] is None
    assert list(run.report)[-1] == "glow"


def test_the_picture_lies_on_the_panel_and_carries_the_light(tmp_path: Path) -> None:
    """The five windows of the jar, at their lights, 3 mm beside them: picture against probes."""
    places = []
    first = Run(tmp_path, JAR)
    for light in first.report["lights"]:
        x, y = light["at"]
        places += [(x, y), (x + 3.0, y), (x, y - 2.5)]
    asked = [word for x, y in places for word in ("--probe", f"{x},{y}")]
    run = Run(tmp_path, JAR, *asked)
    (picture,) = run.pictures()
    pixels, _ = read_png(png_of(picture))
    glow = run.glow()
    x0, y0, x1, y1 = glow["picture"]["box"]
    assert [float(picture.get(k)) for k in ("x", "y", "width", "height")] == pytest.approx(
        [x0, y0, x1 - x0, y1 - y0], abs=1e-3
    )
    assert [x1 - x0, y1 - y0] == pytest.approx(run.report["card"]["panel"], abs=1e-3)
    assert picture.get("preserveAspectRatio") == "none"
    full = glow["picture"]["full_lux"]
    height, width, _ = pixels.shape
    for (x, y), probe in zip(places, glow["probes"], strict=True):
        assert probe["at"] == pytest.approx([x, y], abs=1e-3)
        column, row = int((x - x0) / (x1 - x0) * width), int((y - y0) / (y1 - y0) * height)
        seen = float(lux_of(pixels[row, column, :3], full))
        assert abs(seen - 0.65 * probe["lux"]) <= 0.02 * full


def test_probes_follow_the_law(tmp_path: Path) -> None:
    """One lit light, 20 mA, 10 mm: cos^4 law with 0.2 cd (check D16)."""
    source = ROOT / "sample_svgs" / "lantern.svg"
    at = Run(tmp_path, source).report["lights"][0]["at"]
    places = [f"{at[0] + dx},{at[1]}" for dx in (0.0, 5.0, 10.0, 20.0)]
    asked = [word for place in places for word in ("--probe", place)]
    glow = Run(tmp_path, source, "--depth", "10", "--current-ma", "20", *asked).glow()
    assert [p["lux"] for p in glow["probes"]] == pytest.approx([2000, 1280, 500, 80], rel=1e-6)
    half = Run(tmp_path, source, "--depth", "10", "--current-ma", "10", *asked).glow()
    assert [p["lux"] for p in half["probes"]] == pytest.approx([1000, 640, 250, 40], rel=1e-6)


def test_currents_are_those_that_are_computed(tmp_path: Path) -> None:
    source = ROOT / "sample_svgs" / "lantern.svg"
    run = Run(tmp_path, source, "--depth", "10")
    (light,) = run.report["lights"]
    x, y = light["at"]
    run = Run(tmp_path, source, "--depth", "10", "--probe", f"{x},{y}")
    (seen,) = run.glow()["lights"]
    assert seen["current_ma"] == pytest.approx(light["current_ma"], abs=1e-3)
    (probe,) = run.glow()["probes"]  # 0.2 cd at 20 mA, 10 mm: 2000 lx
    assert probe["lux"] == pytest.approx(100.0 * seen["current_ma"], rel=1e-6)


def test_lights_that_no_circuit_feeds_yet_take_the_typical_current(tmp_path: Path) -> None:
    source = ROOT / "sample_svgs" / "faulty" / "power-missing.svg"
    currents = {light["current_ma"] for light in Run(tmp_path, source).glow()["lights"]}
    assert currents == {5.0}


def test_a_light_that_is_not_lit_gives_none(tmp_path: Path) -> None:
    source = ROOT / "sample_svgs" / "faulty" / "light-reversed.svg"
    run = Run(tmp_path, source)
    dark = [light["id"] for light in run.report["lights"] if not light["lit"]]
    assert len(dark) == 1
    assert dark[0] not in [light["id"] for light in run.glow()["lights"]]
    assert "Dark: light" in run.words
    assert "too little current" in run.words
    all_lit = Run(tmp_path, source, "--all-lit", "true")
    assert dark[0] in [light["id"] for light in all_lit.glow()["lights"]]
    assert "Dark" not in all_lit.words


def test_without_a_battery_all_lights_are_shown_as_if_they_burned(tmp_path: Path) -> None:
    source = ROOT / "sample_svgs" / "faulty" / "power-missing.svg"
    run = Run(tmp_path, source)
    assert "as if all lights burned: battery or tape are still missing" in run.words
    pixels, _ = read_png(png_of(run.pictures()[0]))
    assert pixels[..., :3].max() > 120
    assert len(run.glow()["lights"]) == 3


def test_a_current_for_all_lights_lights_all(tmp_path: Path) -> None:
    source = ROOT / "sample_svgs" / "faulty" / "light-reversed.svg"
    run = Run(tmp_path, source, "--current-ma", "3")
    assert {light["current_ma"] for light in run.glow()["lights"]} == {3.0}
    assert len(run.glow()["lights"]) == len(run.report["lights"])


def test_a_second_run_changes_nothing_and_the_makers_objects_stay(tmp_path: Path) -> None:
    first = Run(tmp_path, JAR)
    once = first.target.read_bytes()
    source = tmp_path / "again.svg"
    source.write_bytes(once)
    assert Run(tmp_path, source).target.read_bytes() == once
    before, after = (etree.parse(str(p)).getroot() for p in (JAR, source))
    layer = next(el for el in after if el.get(f"{UNDERLIT}role") == "glow")
    assert layer is list(after)[-1]
    after.remove(layer)
    assert [etree.tostring(el).strip() for el in after] == [
        etree.tostring(el).strip() for el in before
    ]


def test_a_validated_card_stays_as_it_was_found(tmp_path: Path) -> None:
    """The picture is the tool's own: validating after it gives the same findings."""
    shown = Run(tmp_path, JAR).target
    script = ROOT / "extension" / "validate_card.py"
    reports = []
    for source in (JAR, shown):
        report = tmp_path / "v.json"
        command = [sys.executable, str(script), str(source), "--output", str(tmp_path / "v.svg")]
        subprocess.run([*command, "--report", str(report)], check=True, timeout=60)
        reports.append(json.loads(report.read_text()) | {"drawing": ""})
    assert reports[0] == reports[1]


@pytest.mark.parametrize(
    ("options", "words"),
    [
        (["--depth", "0"], "--depth is more than 0 mm, not 0."),
        (["--depth", "-2"], "--depth is more than 0 mm, not -2."),
        (["--depth", "deep"], "--depth is more than 0 mm, not deep."),
        (["--current-ma", "0"], "--current-ma is more than 0 mA, not 0."),
        (["--current-ma", "inf"], "--current-ma is more than 0 mA, not inf."),
        (["--probe", "3"], "--probe is a place on the page in mm, as 52.5,70, not 3."),
        (["--probe", "1,2,3"], "--probe is a place"),
        (["--probe", "nan,1"], "--probe is a place"),
        (["--png", "/no/such/folder/a.png"], "cannot be written: there is no folder"),
        (["--profile", "nobody"], "nobody"),
    ],
)
def test_bad_input_is_one_sentence_and_writes_nothing(
    options: list[str], words: str, tmp_path: Path
) -> None:
    run = Run(tmp_path, JAR, *options)
    assert run.code == 1
    assert words in run.error
    assert run.error.count("\n") <= 1
    assert list(tmp_path.iterdir()) == []


def test_the_picture_may_not_overwrite_the_drawing(tmp_path: Path) -> None:
    """Neither by a name that is no picture's nor by that of a drawing called so."""
    source = drawing(tmp_path, JAR.read_text(encoding="utf-8"))
    odd = source.rename(source.with_name("odd.png"))
    run = Run(tmp_path, odd, "--png", str(odd))
    assert run.code == 1
    assert "named twice" in run.error
    assert odd.read_text(encoding="utf-8") == JAR.read_text(encoding="utf-8")
    source = odd.rename(source)
    run = Run(tmp_path, source, "--png", str(source))
    assert run.code == 1
    assert "ends in .png" in run.error
    assert source.read_text(encoding="utf-8") == JAR.read_text(encoding="utf-8")


def test_no_light_is_a_finding_and_nothing_is_drawn(tmp_path: Path) -> None:
    d = clean()
    d.layers["lights"] = []
    source = drawing(tmp_path, text_of(d))
    run = Run(tmp_path, source, "--probe", "50,50", "--png", str(tmp_path / "a.png"))
    assert (run.code, run.error) == (0, "")
    stops = [f for f in run.report["findings"] if f["severity"] == "stop"]
    assert [f["rule"] for f in stops] == ["layer-missing"]
    assert "lights" in stops[0]["message"]
    assert run.words.startswith("No glow drawn. I find no lights layer.")
    assert run.pictures() == []
    assert run.glow()["probes"] == [{"at": [50.0, 50.0], "lux": 0.0}]
    assert not (tmp_path / "a.png").exists()
    before, after = (etree.tostring(etree.parse(str(p))) for p in (source, run.target))
    assert before == after


def test_no_panel_is_a_finding_but_probes_are_answered(tmp_path: Path) -> None:
    d = clean()
    del d.layers["die-cut"]
    asked = ("--depth", "5", "--current-ma", "5", "--probe", "34,54")
    run = Run(tmp_path, drawing(tmp_path, text_of(d)), *asked)
    stops = [f["message"] for f in run.report["findings"] if f["severity"] == "stop"]
    assert stops == ["There is no panel to show the glow on."]
    assert run.pictures() == []
    assert run.glow()["probes"][0]["lux"] == pytest.approx(0.05e6 / 25, rel=0.05)


def test_an_empty_drawing(tmp_path: Path) -> None:
    empty = '<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="100mm"/>'
    run = Run(tmp_path, drawing(tmp_path, empty))
    assert (run.code, run.error) == (0, "")
    assert {f["rule"] for f in run.report["findings"]} == {"layer-missing"}
    assert run.pictures() == []


@pytest.mark.parametrize("comma", [True, False])
def test_empty_fields_of_the_dialog_mean_not_given(comma: bool, tmp_path: Path) -> None:
    plain = Run(tmp_path, JAR).glow()
    assert Run(tmp_path, JAR, "--depth=", "--current-ma=", "--png=").glow() == plain
    (planned,) = {light["depth"] for light in plain["lights"]}
    depth = str(planned).replace(".", "," if comma else ".")
    assert Run(tmp_path, JAR, f"--depth={depth}").glow() == plain


def test_drawn_in_a_moved_layer_the_picture_still_lies_on_the_panel(tmp_path: Path) -> None:
    """A Glow layer of the maker's with a transform of its own."""
    text = JAR.read_text(encoding="utf-8").replace(
        "</svg>",
        '<g inkscape:groupmode="layer" inkscape:label="Glow" id="mine" '
        'transform="translate(30,7) scale(2)"></g></svg>',
    )
    (picture,) = Run(tmp_path, drawing(tmp_path, text)).pictures()
    ways = [el.get("transform") for el in picture.iterancestors() if el.get("transform")]
    matrix = np.eye(3)
    for way in ways:
        if way.startswith("matrix("):
            a, b, c, d, e, f = map(float, way[7:-1].split(","))
            own = np.array([[a, c, e], [b, d, f], [0, 0, 1]])
        else:
            own = np.array([[2.0, 0, 30], [0, 2, 7], [0, 0, 1]])
        matrix = own @ matrix
    corner = matrix @ [float(picture.get("x")), float(picture.get("y")), 1]
    px = 96 / 25.4  # the jar is drawn in px
    assert corner[:2] / px == pytest.approx([10.0, 10.0], abs=1e-3)
