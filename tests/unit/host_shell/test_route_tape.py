"""Laying the tape from a shell: what is drawn, what stays, what is refused."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from lxml import etree
from shapely.geometry import box

from kit.run import ROOT, UNDERLIT
from routing.boards import drawing, holder, light, unlaid
from underlit.routing import Pinned, Task

SVG = "{http://www.w3.org/2000/svg}"
LABEL = "{http://www.inkscape.org/namespaces/inkscape}label"


def without_tape(name: str, target: Path, keep: tuple[str, ...] = ()) -> Path:
    """A sample card with its parts, its tape taken up but for patches and some strips."""
    document = etree.parse(str(ROOT / "sample_svgs" / f"{name}.svg"))
    for layer in document.getroot().findall(f"{SVG}g"):
        if layer.get(LABEL) == "Tape" or layer.get(f"{UNDERLIT}role") == "tape":
            for strip in list(layer):
                if strip.get(f"{UNDERLIT}part") != "patch" and strip.get("id") not in keep:
                    layer.remove(strip)
        elif layer.get(LABEL) == "Marks":
            layer.getparent().remove(layer)
    document.write(str(target))
    return target


class Run:
    """One run of an action."""

    def __init__(self, source: Path, target: Path, *options: str, script: str = "route_tape.py"):
        report = target.with_suffix(".json")
        command = [sys.executable, str(ROOT / "extension" / script), str(source)]
        command += ["--output", str(target), "--report", str(report), *options]
        done = subprocess.run(command, capture_output=True, text=True, timeout=120, check=False)
        self.code, self.words, self.error = done.returncode, done.stdout, done.stderr
        self.target = target
        self.report: dict[str, Any] = json.loads(report.read_text()) if report.exists() else {}

    def strips(self) -> list[etree._Element]:
        """What the action laid, in drawing order."""
        assert (self.code, self.error) == (0, "")
        root = etree.parse(str(self.target)).getroot()
        found = root.iter(f"{SVG}path")
        return [p for p in found if (p.get(f"{UNDERLIT}polarity") or "") and laid(p)]


def laid(path: etree._Element) -> bool:
    return path.get(f"{UNDERLIT}made") == f"route_tape:{path.get('id')}"


@pytest.fixture(scope="module")
def jar(tmp_path_factory: pytest.TempPathFactory) -> Run:
    folder = tmp_path_factory.mktemp("jar")
    return Run(without_tape("firefly-jar", folder / "in.svg"), folder / "out.svg")


def test_plain_strokes_one_side_whole_then_the_other(jar: Run) -> None:
    sides = [strip.get(f"{UNDERLIT}polarity") for strip in jar.strips()]
    assert set(sides) == {"positive", "negative"}
    assert sides in (sorted(sides), sorted(sides, reverse=True))
    for strip in jar.strips():
        assert "fill:none" in strip.get("style")
        assert "stroke-width:5;" in strip.get("style")


def test_the_card_is_ready_and_the_report_tells_how(jar: Run, tmp_path: Path) -> None:
    checked = Run(jar.target, tmp_path / "v.svg", script="validate_card.py")
    assert checked.report["verdict"] == "ready"
    assert all(light["lit"] for light in checked.report["lights"])
    routing = jar.report["routing"]
    assert list(jar.report)[-1] == "routing"
    assert jar.report["action"] == "route"
    assert jar.report["verdict"] is None
    assert routing["laid"]
    assert routing["no_room"] == []
    assert routing["ratio"] == pytest.approx(routing["length"] / routing["reference"], abs=2e-3)
    assert set(routing["joints"]) == {light["id"] for light in checked.report["lights"]}
    assert max(routing["joints"].values()) == checked.report["tape"]["joints_to_worst_light"]


def test_words(jar: Run) -> None:
    first = jar.words.splitlines()[0]
    assert first.startswith("Plus: ")
    assert " Minus: " in first
    assert "Closest place" in first


def test_signs_stand_on_marks(jar: Run) -> None:
    root = etree.parse(str(jar.target)).getroot()
    (marks,) = (g for g in root.iter(f"{SVG}g") if g.get(f"{UNDERLIT}role") == "marks")
    titles = [t.text for t in marks.iter(f"{SVG}title")]
    assert any(t.startswith("Plus strip P1") for t in titles)
    assert any(t.startswith("Minus strip M1") for t in titles)


def test_laid_anew_the_drawing_is_the_same(jar: Run, tmp_path: Path) -> None:
    anew = ("--replace", "true", "--seconds", "600")  # however busy the machine is
    again = Run(jar.target, tmp_path / "again.svg", *anew)
    third = Run(again.target, tmp_path / "third.svg", *anew)
    assert len(again.strips()) == len(jar.strips())
    assert third.target.read_bytes() == again.target.read_bytes()


def test_a_makers_strip_stays_and_is_completed(tmp_path: Path) -> None:
    whole = etree.parse(str(ROOT / "sample_svgs" / "firefly-jar.svg")).getroot()
    tape = next(g for g in whole.iter(f"{SVG}g") if g.get(LABEL) == "Tape")
    own = next(strip for strip in tape if strip.get("id"))
    source = without_tape("firefly-jar", tmp_path / "in.svg", keep=(own.get("id"),))
    run = Run(source, tmp_path / "out.svg", "--turn", "locked", "--replace", "true")
    root = etree.parse(str(run.target)).getroot()
    (kept,) = (p for p in root.iter(f"{SVG}path") if p.get("id") == own.get("id"))
    assert kept.get("d") == own.get("d")
    assert run.report["routing"]["laid"]
    assert "stays as drawn" in run.words
    checked = Run(run.target, tmp_path / "v.svg", script="validate_card.py")
    assert checked.report["verdict"] == "ready"


def test_an_overlap_with_the_makers_strip_is_a_joint(tmp_path: Path) -> None:
    """Half of a strip is hers: the lights behind it have the overlap in series."""
    source = without_tape("firefly-jar", tmp_path / "in.svg", keep=("plus-strip",))
    tree = etree.parse(str(source))
    (own,) = (p for p in tree.iter(f"{SVG}path") if p.get("id") == "plus-strip")
    places = own.get("d").split(" L ")
    own.set("d", " L ".join([*places[:3], "300 337"]))  # between two lights
    tree.write(str(source))
    run = Run(source, tmp_path / "out.svg", "--turn", "locked")
    checked = Run(run.target, tmp_path / "v.svg", script="validate_card.py")
    assert checked.report["verdict"] == "ready"
    joints = run.report["routing"]["joints"]
    assert set(joints.values()) == {0, 1}
    assert max(joints.values()) == checked.report["tape"]["joints_to_worst_light"]


def test_locked_lights_keep_their_angle(tmp_path: Path) -> None:
    source = without_tape("firefly-jar", tmp_path / "in.svg")
    before = Run(source, tmp_path / "v.svg", script="validate_card.py").report["lights"]
    run = Run(source, tmp_path / "out.svg", "--turn", "locked")
    assert run.report["routing"]["turned"] == {}
    after = Run(run.target, tmp_path / "w.svg", script="validate_card.py").report["lights"]
    assert [light["angle"] for light in after] == [light["angle"] for light in before]


def fenced(target: Path) -> Path:
    """Three lights behind a plus strip of the maker that runs from edge to edge."""
    lights = tuple(light(f"L{k + 1}", (75.0 + 25.0 * k, 40.0)) for k in range(3))
    fence = Pinned("mine", box(49.5, 4.0, 54.5, 76.0), 5.0, None, "positive")
    cell = holder((28.0, 40.0), 90.0)
    task = Task(box(0, 0, 150, 80), lights, (cell,), pinned=(fence,))
    target.write_text(drawing(task, unlaid(task)), encoding="utf-8")
    return target


def papers(path: Path) -> list[str]:
    root = etree.parse(str(path)).getroot()
    return [p.get("id") for p in root.iter(f"{SVG}path") if p.get(f"{UNDERLIT}part") == "patch"]


def test_a_crossing_only_where_it_is_allowed(tmp_path: Path) -> None:
    source = fenced(tmp_path / "in.svg")
    refused = Run(source, tmp_path / "no.svg", "--effort", "1")
    assert refused.words.startswith("I changed nothing. ")
    assert papers(refused.target) == []
    options = ("--allow-patches", "true", "--effort", "1", "--seconds", "600")
    run = Run(source, tmp_path / "out.svg", *options)
    assert len(papers(run.target)) == 1
    assert "In 1 place one strip crosses the other (M1 over P1)" in run.words
    (patch,) = run.report["routing"]["patches"]
    assert len(patch) == 4
    checked = Run(run.target, tmp_path / "v.svg", script="validate_card.py")
    assert checked.report["verdict"] in {"ready", "ready-with-cautions"}
    of_tape = {f["rule"] for f in checked.report["findings"] if f["severity"] != "note"}
    assert not of_tape & {"polarities-touch", "gap-too-small", "light-unfed", "edge-too-near"}
    again = Run(run.target, tmp_path / "again.svg", "--replace", "true", *options)
    assert len(papers(again.target)) == 1
    root = etree.parse(str(again.target)).getroot()
    order = [p.get("id") or "" for p in root.iter(f"{SVG}path")]
    upper = next(i for i, n in enumerate(order) if n.startswith("underlit-tape-M"))
    assert order.index("mine") < order.index(papers(again.target)[0]) < upper


def test_what_must_come_first_is_no_lack_of_room(tmp_path: Path) -> None:
    source = without_tape("lantern", tmp_path / "in.svg")
    document = etree.parse(str(source))
    for part in document.getroot().findall(f".//*[@{UNDERLIT}part='light']"):
        part.getparent().remove(part)
    document.write(str(source))
    run = Run(source, tmp_path / "out.svg")
    assert run.words.startswith("I changed nothing. ")
    legend = " ".join(etree.parse(str(run.target)).getroot().itertext())
    assert "Before the tape can be laid" in legend
    assert "No room" not in legend


def test_no_paper_over_a_bare_rim(tmp_path: Path) -> None:
    source = without_tape("lantern", tmp_path / "in.svg")
    document = etree.parse(str(source))
    for patch in document.getroot().findall(f".//*[@{UNDERLIT}part='patch']"):
        patch.getparent().remove(patch)
    document.write(str(source))
    run = Run(source, tmp_path / "out.svg")
    assert run.words.startswith("I changed nothing. ")
    assert run.strips() == []
    assert {f["rule"] for f in run.report["findings"]} == {"no-room"}
    assert "paper" in run.report["findings"][0]["remedy"]


def test_nothing_to_lay(tmp_path: Path) -> None:
    empty = tmp_path / "in.svg"
    empty.write_text('<svg xmlns="http://www.w3.org/2000/svg" width="90mm" height="90mm"/>')
    run = Run(empty, tmp_path / "out.svg")
    assert (run.code, run.error) == (0, "")
    assert {f["rule"] for f in run.report["findings"]} == {"layer-missing"}
    assert run.report["routing"] == {"laid": False, "no_room": []}


@pytest.mark.parametrize(
    ("options", "words"),
    [
        (("--turn", "upside"), "--turn is free, 45 or locked, not upside"),
        (("--style", "curly"), "--style is free or rails"),
        (("--fewer-strips", "2"), "--fewer-strips is a number from 0 to 1, not 2"),
        (("--effort", "0"), "--effort is a whole number"),
        (("--effort", "1.5"), "--effort is a whole number"),
        (("--seconds", "soon"), "--seconds is a number"),
        (("--replace", "maybe"), "--replace is true or false"),
    ],
)
def test_refused(tmp_path: Path, options: tuple[str, ...], words: str) -> None:
    run = Run(ROOT / "sample_svgs" / "lantern.svg", tmp_path / "out.svg", *options)
    assert run.code == 1
    assert words in run.error
    assert run.error.count("\n") == 1
    assert not run.target.exists()
