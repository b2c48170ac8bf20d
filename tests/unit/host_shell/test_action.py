"""The frame of the actions: options, streams, exit codes, whole-or-nothing results."""

from __future__ import annotations

import io
import json
import os
import re
import shlex
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

import pytest
from lxml import etree

from underlit import __version__
from underlit.errors import UnknownChoice
from underlit_host import action as frame
from underlit_host.names import UNDERLIT

SVG = """<?xml version="1.0" encoding="UTF-8"?>
<!-- kept -->
<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="60mm" viewBox="0 0 100 60">
<rect id="a" x="10" y="10" width="20" height="20"/></svg>
"""

PROFILE = UNDERLIT + "profile"


@dataclass(frozen=True)
class Done:
    """What a workflow gives back."""

    report: dict[str, object]
    summary: str = "Circuit ready."
    message: str = "Ready. Tell me."
    select: tuple[str, ...] = ()


class Draw(frame.Action):
    """An action that draws one rectangle and reports the drawing and the profile."""

    def work(self, drawing, profile):
        return Done({"drawing": drawing.name, "profile": profile.name, "word": "Öffnung"})

    def draw(self, root, drawing, outcome):
        etree.SubElement(root, "{http://www.w3.org/2000/svg}rect", id="drawn")


@pytest.fixture
def card(tmp_path: Path) -> Path:
    path = tmp_path / "card.svg"
    path.write_text(SVG, encoding="utf-8")
    return path


@pytest.fixture(autouse=True)
def _shell(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("DOCUMENT_PATH", raising=False)


def run(*arguments: object, kind: type[frame.Action] = Draw) -> int:
    return kind().run([str(one) for one in arguments])


def ids(data: bytes) -> list[str]:
    return etree.fromstring(data).xpath("//@id")


def refused(capfdbinary, code: int, words: str) -> None:
    """Exit code 1 and exactly one sentence on standard error."""
    out, err = capfdbinary.readouterr()
    text = err.decode()
    assert (code, out) == (1, b"")
    assert words in text
    assert text.count("\n") == 1
    assert "Traceback" not in text


def test_from_a_shell(card: Path, capfdbinary) -> None:
    target, report = card.with_name("out.svg"), card.with_name("out.json")
    assert run(card, "--output", target, "--report", report) == 0
    assert capfdbinary.readouterr() == (b"Circuit ready.\n", b"")
    assert ids(target.read_bytes()) == ["a", "drawn"]
    assert b"<!-- kept -->" in target.read_bytes()
    text = report.read_text(encoding="utf-8")
    assert text.endswith('"word": "Öffnung"\n}\n')
    assert json.loads(text)["drawing"] == "card.svg"
    assert json.loads(text)["profile"] == "hand-laid"
    assert card.read_text(encoding="utf-8") == SVG


def test_in_the_editor(card: Path, capfdbinary, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("DOCUMENT_PATH", "/folder/my card.svg")
    report = card.with_name("out.json")
    assert run("--tab=options", "--profile=", "--profile-file=", card, "--report", report) == 0
    out, err = capfdbinary.readouterr()
    assert ids(out) == ["a", "drawn"]
    assert err == b"Ready. Tell me.\n"
    assert json.loads(report.read_text(encoding="utf-8"))["drawing"] == "my card.svg"


class LeaveAlone(Draw):
    """An action that draws nothing."""

    def draw(self, root, drawing, outcome):
        """Nothing."""


def test_the_editor_gets_nothing_where_nothing_changed(
    card: Path, capfdbinary, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Then it makes no step for undo; a shell that asks for the drawing gets it all the same."""
    assert run("--tell=false", card, kind=LeaveAlone) == 0
    assert ids(capfdbinary.readouterr().out) == ["a"]
    monkeypatch.setenv("DOCUMENT_PATH", "/folder/my card.svg")
    assert run(card, kind=LeaveAlone) == 0
    assert capfdbinary.readouterr() == (b"", b"Ready. Tell me.\n")
    assert run("--profile=classroom", card, kind=LeaveAlone) == 0
    assert b"classroom" in capfdbinary.readouterr().out  # stored for the next time


GLOW = '<g inkscape:groupmode="layer" inkscape:label="Glow" {}>{}</g>'


class ShowGlow(Draw):
    """An action that ends in the picture of the glow."""

    over_glow = True


@pytest.mark.parametrize(("layer", "kind", "told"), [
    (GLOW.format("", "<image/>"), Draw, True),
    (GLOW.format("", "<image/>"), ShowGlow, False),
    (GLOW.format("", ""), Draw, False),
    (GLOW.format('style="display: none"', "<image/>"), Draw, False),
    (GLOW.format("", "<image/>"), LeaveAlone, False),
])  # fmt: skip
def test_what_the_picture_of_the_glow_hides_is_told(
    layer: str, kind: type[frame.Action], told: bool, card: Path, capfdbinary, monkeypatch
) -> None:
    space = 'xmlns:inkscape="http://www.inkscape.org/namespaces/inkscape"'
    whole = SVG.replace("<svg ", f"<svg {space} ", 1) if space not in SVG else SVG
    card.write_text(whole.replace("</svg>", f"{layer}</svg>"), encoding="utf-8")
    monkeypatch.setenv("DOCUMENT_PATH", str(card))
    assert run(card, kind=kind) == 0
    assert (b"click the eye of that layer" in capfdbinary.readouterr().err) is told


class WithFiles(LeaveAlone):
    """An action that writes files beside the drawing."""

    wanted = ("a.pdf", "b.csv")

    def extra_files(self, outcome):
        """The files that are wanted, in the folder of the drawing."""
        return {os.path.join(os.environ["DOCUMENT_PATH"], "..", name): b"" for name in self.wanted}


class WithOneFile(WithFiles):
    """The same with a single file."""

    wanted = ("a.pdf",)


@pytest.mark.parametrize(("kind", "what"), [(WithFiles, "2 files"), (WithOneFile, "a.pdf")])
def test_the_editor_says_where_files_are(
    kind: type[frame.Action], what: str, card: Path, capfdbinary, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("DOCUMENT_PATH", str(card))
    assert run(card, kind=kind) == 0
    told = f"Ready. Tell me.\nSaved in {card.parent}: {what}.\n"
    assert capfdbinary.readouterr() == (b"", told.encode())


def test_the_closing_message_can_be_switched_off_and_on(card: Path, capfdbinary) -> None:
    assert run(card, "--tell=false") == 0
    assert capfdbinary.readouterr().err == b""
    assert run(card, "--tell=true") == 0
    assert capfdbinary.readouterr().err == b"Ready. Tell me.\n"
    assert run(card, "--tell=true", "--output", card.with_name("o.svg")) == 0
    assert capfdbinary.readouterr() == (b"Circuit ready.\nReady. Tell me.\n", b"")


def test_in_place(card: Path) -> None:
    assert run(card, "--output", card) == 0
    assert ids(card.read_bytes()) == ["a", "drawn"]


def test_from_standard_input(card: Path, monkeypatch: pytest.MonkeyPatch, capfdbinary) -> None:
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(SVG.encode())))
    assert run("--output", card.with_name("out.svg")) == 0
    assert card.with_name("out.svg").exists()


def test_what_was_asked_for_is_stored_and_is_the_next_default(card: Path) -> None:
    one, two, report = (card.with_name(name) for name in ("1.svg", "2.svg", "r.json"))
    assert run(card, "--output", one, "--profile", "classroom") == 0
    assert etree.fromstring(one.read_bytes()).get(PROFILE) == "classroom"
    assert b'xmlns:underlit="urn:underlit:card:1"' in one.read_bytes()
    assert run(one, "--output", two, "--report", report) == 0
    assert json.loads(report.read_text(encoding="utf-8"))["profile"] == "classroom"


def test_own_profile_beside_the_drawing_is_stored_relative(
    card: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "mine.toml").write_text("[limits]\nsmallest-gap = 1.5\n", encoding="utf-8")
    target = card.with_name("o.svg")
    for option in ("--profile", "--profile-file"):
        for given in ("mine.toml", tmp_path / "mine.toml"):
            monkeypatch.chdir(tmp_path)
            assert run(card, "--output", target, option, given) == 0
            assert etree.fromstring(target.read_bytes()).get(PROFILE) == "mine.toml"
    monkeypatch.chdir("/")
    assert run(target, "--output", target) == 0


def test_own_profile_elsewhere_is_found_from_where_the_command_runs(
    card: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = tmp_path / "elsewhere"
    folder.mkdir()
    (folder / "mine.toml").write_text("[limits]\nsmallest-gap = 1.5\n", encoding="utf-8")
    monkeypatch.chdir(folder)
    cards = tmp_path / "cards"
    cards.mkdir()
    moved = card.rename(cards / "card.svg")
    assert run(moved, "--output", moved, "--profile", "mine.toml") == 0
    assert etree.fromstring(moved.read_bytes()).get(PROFILE) == str(folder / "mine.toml")


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["--wrong"], "--wrong"),
        (["--prof", "classroom"], "--prof"),
        (["--tell=perhaps"], "--tell is true or false, not perhaps."),
        (["--profile", "nobody"], "nobody"),
        (["--id", "b"], "Nothing in this drawing has the id b."),
        (["--report"], "--report"),
    ],
)
def test_refused_options(card: Path, capfdbinary, arguments: list[str], words: str) -> None:
    target = card.with_name("out.svg")
    refused(capfdbinary, run(card, "--output", target, *arguments), words)
    assert {p.name for p in card.parent.iterdir()} == {"card.svg"}


def test_ids_and_names_of_openings_are_known(card: Path) -> None:
    target = card.with_name("out.svg")
    assert run(card, "--output", target, "--id", "a", "--id", "a#2") == 0


@pytest.mark.parametrize("text", ["", "no xml", SVG[:-10], "<html/>"])
def test_unreadable_drawings(card: Path, capfdbinary, text: str) -> None:
    card.write_text(text, encoding="utf-8")
    target = card.with_name("out.svg")
    target.write_bytes(b"older")
    refused(capfdbinary, run(card, "--output", target), "")
    assert target.read_bytes() == b"older"


def test_no_such_drawing(card: Path, capfdbinary) -> None:
    missing = card.with_name("none.svg")
    code = run(missing, "--output", card.with_name("out.svg"))
    refused(capfdbinary, code, f"There is no file {missing}. Look whether")


def test_a_folder_is_no_drawing(card: Path, capfdbinary) -> None:
    code = run(card.parent, "--output", card.with_name("out.svg"))
    refused(capfdbinary, code, f"{card.parent} is a folder; name a drawing in it.")


def test_targets_that_cannot_be_written(card: Path, capfdbinary) -> None:
    report = card.with_name("r.json")
    bad = card.parent / "nowhere" / "out.svg"
    refused(capfdbinary, run(card, "--output", bad, "--report", report), "there is no folder")
    assert not report.exists()
    code = run(card, "--output", card.with_name("o.svg"), "--report", card)
    refused(capfdbinary, code, "named twice")
    assert card.read_text(encoding="utf-8") == SVG
    assert {p.name for p in card.parent.iterdir()} == {"card.svg"}


@pytest.mark.parametrize("fault", [ValueError("at /a/path"), RecursionError(), MemoryError()])
def test_an_unexpected_fault_is_one_sentence_with_what_to_send(
    card: Path, capfdbinary, fault: Exception, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(*_: object) -> None:
        raise fault

    monkeypatch.setattr(frame, "load_profile", fail)
    target = card.with_name("out.svg")
    code = run(card, "--output", target)
    out, err = capfdbinary.readouterr()
    assert (code, out) == (1, b"")
    expected = rf"{type(fault).__name__} at underlit_host/action\.py:\d+, Draw, version "
    assert re.search(expected + re.escape(__version__), err.decode())
    assert str(card.parent) not in err.decode()
    assert "/a/path" not in err.decode()
    assert not target.exists()


def test_a_refusal_in_the_middle_of_the_work(card: Path, capfdbinary) -> None:
    class Refuse(Draw):
        def work(self, drawing, profile):
            raise UnknownChoice("There is no window 9.\nThe card has 3.")

    code = run(card, "--output", card.with_name("out.svg"), kind=Refuse)
    refused(capfdbinary, code, "There is no window 9. The card has 3.")


def test_in_the_editor_a_refusal_leaves_the_drawing_alone(card: Path, capfdbinary) -> None:
    refused(capfdbinary, run(card, "--id=b"), "has the id b")


@pytest.mark.parametrize("to_file", [True, False])
def test_output_that_nobody_reads_does_no_harm(tmp_path: Path, to_file: bool) -> None:
    root = Path(frame.__file__).parent.parent.parent
    card = root / "sample_svgs" / "firefly-jar.svg"
    target = tmp_path / "o.svg"
    command = [sys.executable, str(root / "extension" / "validate_card.py"), str(card)]
    with open("/dev/full", "wb") as full:
        run = subprocess.run(
            [*command, "--output", str(target)] if to_file else command,
            stdout=full,
            stderr=subprocess.PIPE,
            text=True,
            check=False,
        )
    if to_file:
        assert (run.returncode, run.stderr) == (0, "")
        etree.parse(str(target))
    else:
        assert run.returncode == 1
        assert run.stderr == "The drawing could not be handed over: the disk is full.\n"


@pytest.mark.skipif(os.name != "posix", reason="closing a stream by shell")
@pytest.mark.parametrize("to_file", [True, False])
def test_closed_output_ends_without_a_traceback(tmp_path: Path, to_file: bool) -> None:
    root = Path(frame.__file__).parent.parent.parent
    target = tmp_path / "o.svg"
    words = [sys.executable, str(root / "extension" / "validate_card.py")]
    words += [str(root / "sample_svgs" / "lantern.svg"), *(["--output", str(target)] * to_file)]
    command = shlex.join(words) + " >&-"
    run = subprocess.run(["sh", "-c", command], capture_output=True, text=True, check=False)
    if to_file:
        assert (run.returncode, run.stderr) == (0, "")
        etree.parse(str(target))
    else:
        assert run.returncode == 1
        assert run.stderr.startswith("There is nowhere to hand the drawing to")
        assert "Traceback" not in run.stderr


ROOT = Path(frame.__file__).parent.parent.parent


class TestOptionsOfAShell:
    """Values that begin with minus, and options that do not exist."""

    def run(self, script: str, *options: str) -> subprocess.CompletedProcess[str]:
        command = [sys.executable, str(ROOT / "extension" / script), *options]
        return subprocess.run(command, capture_output=True, text=True, timeout=60, check=False)

    @pytest.mark.parametrize("joined", [True, False])
    def test_a_place_left_of_the_page(self, tmp_path: Path, joined: bool) -> None:
        card = str(ROOT / "sample_svgs" / "firefly-jar.svg")
        place = ["--probe=-5,-10.5"] if joined else ["--probe", "-5,-10.5"]
        report = tmp_path / "r.json"
        options = [*place, "--output", str(tmp_path / "o.svg"), "--report", str(report)]
        done = self.run("preview_glow.py", card, *options)
        assert (done.returncode, done.stderr) == (0, "")
        probes = json.loads(report.read_text(encoding="utf-8"))["glow"]["probes"]
        assert [probe["at"] for probe in probes] == [[-5.0, -10.5]]

    @pytest.mark.parametrize("order", [0, 1])
    def test_an_unknown_option_is_named(self, tmp_path: Path, order: int) -> None:
        card = str(ROOT / "sample_svgs" / "firefly-jar.svg")
        given = ["--colour", "red"]
        given = [card, *given] if order else [*given, card]
        done = self.run("place_lights.py", *given, "--output", str(tmp_path / "o.svg"))
        assert done.returncode == 1
        assert done.stderr == "There is no option --colour. --help lists every option.\n"
        assert not (tmp_path / "o.svg").exists()

    def test_nothing_on_standard_error_without_being_asked(self) -> None:
        card = str(ROOT / "sample_svgs" / "firefly-jar.svg")
        done = self.run("place_lights.py", card)
        assert (done.returncode, done.stderr) == (0, "")
        assert done.stdout.startswith("<?xml")

    def test_a_picture_is_a_png(self, tmp_path: Path) -> None:
        card = str(ROOT / "sample_svgs" / "firefly-jar.svg")
        options = ("--png", str(tmp_path / "x.jpg"), "--output", str(tmp_path / "o.svg"))
        done = self.run("preview_glow.py", card, *options)
        assert done.returncode == 1
        assert "ends in .png" in done.stderr
        assert list(tmp_path.iterdir()) == []
