"""What is suspected on the sample cards."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest
from lxml import etree

from kit.run import ROOT
from underlit.profiles import load_profile
from underlit.tracing import Suspect, Symptoms, Wiring, find_suspects
from underlit.workflows.validate import case_of
from underlit_host.read_drawing import read_drawing

SAMPLES = sorted((ROOT / "sample_svgs").glob("*.svg"))


def wiring(name: str) -> Wiring:
    drawing = read_drawing(etree.parse(str(ROOT / "sample_svgs" / f"{name}.svg")), name)
    case = case_of(drawing, load_profile(drawing.profile, drawing.settings, None))
    return Wiring(case.card, case.circuit)


def first(name: str, symptoms: Symptoms) -> Suspect:
    return find_suspects(wiring(name), symptoms, 2.0)[0]


def test_one_dark_light_is_looked_for_at_its_own_feet() -> None:
    found = first("street", Symptoms(dark=frozenset({"light-3"})))
    assert set(found.kinds) == {"foot", "light"}
    assert set(found.objects) == {("light-3",)}
    assert found.lights == {"light-3"}


def test_two_dark_lights_are_looked_for_in_what_they_share() -> None:
    """The last two fireflies on the plus strip: it may be cracked before them."""
    found = first("firefly-jar", Symptoms(dark=frozenset({"light-1", "light-2"})))
    assert found.lights == {"light-1", "light-2"}
    assert found.kinds == ("strip",)


def test_a_warm_battery_points_to_tape_that_touches() -> None:
    lights = frozenset(light.id for light in wiring("street").card.lights)
    assert set(first("street", Symptoms(dark=lights, warm=True)).kinds) == {"touch"}
    assert "touch" not in first("street", Symptoms(dark=lights)).kinds


def test_flickering_is_no_dead_light() -> None:
    found = first("street", Symptoms(flicker=frozenset({"light-3"})))
    assert found.kinds[0] == "foot"
    assert found.kinds.index("light") == len(found.kinds) - 1


def test_shining_without_pressing_is_the_battery_held() -> None:
    found = first("firefly-jar", Symptoms(always=frozenset({"light-1"})))
    assert found.kinds == ("held",)


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda p: p.stem)
def test_same_words_in_the_same_order_each_time(sample: Path) -> None:
    here = wiring(sample.stem)
    lights = frozenset(light.id for light in here.card.lights)
    runs = [find_suspects(here, Symptoms(dark=lights), 2.0) for _ in range(2)]
    plain = [[(s.kinds, s.places, s.objects, s.score) for s in run] for run in runs]
    assert plain[0] == plain[1] != []


class TestAction:
    def run(self, folder: Path, *options: str) -> subprocess.CompletedProcess[str]:
        script = ROOT / "extension" / "find_fault.py"
        sample = ROOT / "sample_svgs" / "street.svg"
        command = [sys.executable, str(script), str(sample), "--output", str(folder / "o.svg")]
        command += ["--report", str(folder / "r.json"), *options]
        return subprocess.run(command, capture_output=True, text=True, timeout=60, check=False)

    def test_marks_and_words(self, tmp_path: Path) -> None:
        done = self.run(tmp_path, "--id", "light-3")
        assert (done.returncode, done.stderr) == (0, "")
        assert done.stdout.startswith("This foot of light 3 may not touch its tape. Press the foot")
        text = (tmp_path / "o.svg").read_text()
        assert "Look here first" in text
        report = json.loads((tmp_path / "r.json").read_text())
        assert report["action"] == "find-fault"
        assert report["suspects"][0]["lights"] == ["light-3"]
        numbered = [f["at"] for f in report["findings"]]
        assert numbered[:3] == report["suspects"][0]["places"][:3]

    def test_a_part_of_a_light_will_do(self, tmp_path: Path) -> None:
        root = etree.parse(str(ROOT / "sample_svgs" / "street.svg")).getroot()
        light = next(e for e in root.iter() if e.get("id") == "light-3")
        inner = [e.get("id") for e in light.iter() if e is not light and e.get("id")]
        for name in inner[:1]:
            assert self.run(tmp_path, "--id", name).returncode == 0

    def test_a_window_is_called_as_its_maker_sees_it(self, tmp_path: Path) -> None:
        root = etree.parse(str(ROOT / "sample_svgs" / "street.svg")).getroot()
        tint = etree.SubElement(root, "{http://www.w3.org/2000/svg}g", id="underlit-opening-3")
        etree.SubElement(tint, "{http://www.w3.org/2000/svg}title").text = "Window 3"
        card = tmp_path / "card.svg"
        card.write_bytes(etree.tostring(root))
        script = ROOT / "extension" / "find_fault.py"
        command = [sys.executable, str(script), str(card), "--id", "underlit-opening-3"]
        done = subprocess.run(command, capture_output=True, text=True, timeout=60, check=False)
        assert done.returncode == 1
        assert "Window 3 is no light. Select the lights that stay dark." in done.stderr

    @pytest.mark.parametrize(
        ("options", "words"),
        [
            (("--dark", "battery"), "is no light"),
            (("--see", "dim"), "--see is dark, flicker or always"),
            (("--warm", "hot"), "--warm is true or false"),
        ],
    )
    def test_refused(self, tmp_path: Path, options: tuple[str, ...], words: str) -> None:
        done = self.run(tmp_path, *options)
        assert done.returncode == 1
        assert words in done.stderr
        assert done.stderr.count("\n") == 1
        assert not (tmp_path / "o.svg").exists()


def test_a_light_that_is_not_whole_is_told(tmp_path: Path) -> None:
    """The only light has lost a foot: it cannot shine as drawn, and there is nothing to trace."""
    sample = ROOT / "sample_svgs" / "lantern.svg"
    text = sample.read_text().replace('underlit:feature="lens"', "", 1)
    assert "not whole cannot shine as drawn: run Validate my card first" in told(tmp_path, text)


def test_a_card_without_battery_has_no_light_that_shines(tmp_path: Path) -> None:
    root = etree.parse(str(ROOT / "sample_svgs" / "firefly-jar.svg")).getroot()
    (power,) = (layer for layer in root if layer.get("id") == "layer-power")
    root.remove(power)
    said = told(tmp_path, etree.tostring(root).decode())
    assert said.startswith("No light can shine as drawn: run Validate my card first")


def told(tmp_path: Path, text: str) -> str:
    """What the action says of a card."""
    (tmp_path / "broken.svg").write_text(text)
    script = ROOT / "extension" / "find_fault.py"
    command = [sys.executable, str(script), str(tmp_path / "broken.svg")]
    command += ["--output", str(tmp_path / "o.svg")]
    done = subprocess.run(command, capture_output=True, text=True, timeout=60, check=False)
    assert (done.returncode, done.stderr) == (0, "")
    return done.stdout
