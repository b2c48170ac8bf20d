"""Every action in German: the same report but for its words, and no English left in those."""

from __future__ import annotations

import json
import re
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from hardening.deeds import QUICK, SLOW, run
from kit.german import english_in, in_german
from kit.run import ROOT

SAMPLES = ROOT / "sample_svgs"
CARDS = sorted(SAMPLES.glob("*.svg"))
FAULTY = sorted((SAMPLES / "faulty").glob("*.svg"))
DEEDS = {deed.script: deed for deed in (*QUICK, *SLOW)}

#: Keys of a report whose values are words to the maker (drawing conventions, section 7).
WORDS = {"message", "remedy", "hints", "where", "reasons", "between", "cures", "note"}

#: Names that stay as they are: of files, codes, options and objects; what stands in quotes.
NAMES = re.compile(r"„[^“]*“|\[[^\]]*\]|--\w+|[\w.]+(?:[-#][\w.]+)+|\w+\.(?:svg|dxf|pdf|csv)")

#: Published names of letters, with their sources: what a post office calls them.
LETTERS = re.compile(r"Der Größe nach passt: .*?\. Das Gewicht")


@dataclass(frozen=True)
class Said:
    """What a run said, and its report."""

    code: int
    words: str
    report: dict[str, Any]


def act(script: str, options: list[str], card: Path, folder: Path) -> Said:
    """Run an action on a card in the language that is spoken now."""
    deed = DEEDS[script]
    report = folder / "report.json"
    report.unlink(missing_ok=True)
    words = [str(card), f"--output={folder / 'out.svg'}", f"--report={report}", "--tell=true"]
    if deed.folder:
        words += [f"--folder={folder}", "--overwrite=true"]
    done = run(deed, [*words, *options])
    found = json.loads(report.read_text("utf-8")) if report.exists() else {}
    return Said(done.code, done.out + done.err, found)


def split(value: object, key: str = "") -> tuple[object, list[str]]:
    """A report without its words, and these."""
    if key in WORDS:
        return None, [text for text in (value if isinstance(value, list) else [value]) if text]
    if isinstance(value, dict):
        parts = [(name, *split(one, name)) for name, one in value.items()]
        return {name: rest for name, rest, _ in parts}, [w for *_, words in parts for w in words]
    if isinstance(value, list):
        found = [split(one) for one in value]
        return [rest for rest, _ in found], [w for _, words in found for w in words]
    return value, []


def check(script: str, options: list[str], card: Path, folder: Path, catalogs: Path) -> None:
    """An action in both languages: equal but for the words, and these all German."""
    english = act(script, options, card, folder)
    with in_german(catalogs):
        german = act(script, options, card, folder)
    rest, words = split(german.report)
    assert (german.code, rest) == (english.code, split(english.report)[0])
    assert german.words != english.words
    text = LETTERS.sub("", "\n".join([german.words, *words]))
    assert english_in(NAMES.sub("", text)) == []


@pytest.mark.parametrize("card", [*CARDS, *FAULTY], ids=lambda path: path.stem)
def test_validate(card: Path, tmp_path: Path, catalogs: Path) -> None:
    check("validate_card", [], card, tmp_path, catalogs)


@pytest.mark.parametrize("card", CARDS, ids=lambda path: path.stem)
@pytest.mark.parametrize(
    ("script", "options"),
    [
        ("prepare_card", ["--add-base=true"]),
        ("prepare_card", ["--add-base=true", "--base-margin=0"]),
        # of the lantern's windows one for each thing that is said: 1 fits, none, has one, 6 fit
        ("place_lights", ["--replace=true", "--count=30", "--openings=1,2,4,5"]),
        ("place_lights", ["--replace=true", "--profile=classroom"]),
        ("place_power", ["--at=20,20", "--closes=flap"]),
        ("place_power", ["--at=54,100", "--replace=true"]),
        ("preview_glow", []),
        ("preview_glow", ["--all-lit=true", "--depth=1"]),
        ("lay_foam", ["--replace=true", "--cover=true", "--diffuser=true"]),
        ("find_fault", []),
        ("export_tape", ["--formats=svg", "--anyway=true"]),
        ("export_tape", ["--formats=svg", "--arrange=packed", "--copies=3"]),
    ],
    ids=lambda value: value if isinstance(value, str) else " ".join(value),
)
def test_actions(
    card: Path, script: str, options: list[str], tmp_path: Path, catalogs: Path
) -> None:
    check(script, options, card, tmp_path, catalogs)


@pytest.mark.parametrize(
    ("script", "options"),
    [
        ("place_lights", ["--openings=x"]),
        ("place_lights", ["--openings=9-7"]),
        ("place_lights", ["--openings=99"]),
        ("place_lights", ["--at=1"]),
        ("place_lights", ["--at=-5,3"]),
        ("place_lights", ["--count=0"]),
        ("place_lights", ["--turn=x"]),
        ("place_lights", ["--type=x"]),
        ("place_power", ["--at=54,100", "--type=x"]),
        ("place_power", ["--at=54,100", "--closes=x"]),
        ("place_power", ["--at=54,100", "--up=x"]),
        ("export_tape", ["--formats=x"]),
        ("export_tape", ["--copies=0"]),
        ("make_build_sheet", ["--copies=0"]),
        ("make_build_sheet", ["--pages=x"]),
        ("make_build_sheet", ["--refill=x"]),
    ],
    ids=lambda value: value if isinstance(value, str) else " ".join(value),
)
def test_refusals(script: str, options: list[str], tmp_path: Path, catalogs: Path) -> None:
    check(script, options, SAMPLES / "lantern.svg", tmp_path, catalogs)


@pytest.mark.slow
@pytest.mark.parametrize(
    ("script", "options"),
    [
        ("route_tape", ["--replace=true", "--effort=1", "--seconds=600"]),
        ("route_tape", ["--effort=1", "--seconds=600", "--profile=classroom"]),
        ("pack_to_share", ["--overwrite=true"]),
    ],
    ids=lambda value: value if isinstance(value, str) else " ".join(value),
)
def test_long_ones(script: str, options: list[str], tmp_path: Path, catalogs: Path) -> None:
    check(script, options, SAMPLES / "faulty" / "sketch-line.svg", tmp_path, catalogs)


@pytest.mark.slow
@pytest.mark.usefixtures("german")
def test_the_whole_way(tmp_path: Path) -> None:
    """Where it gets is a matter of the time it has, so only its words are looked at."""
    panel = SAMPLES / "first-lantern" / "first-lantern-panel.svg"
    said = act("make_it_light", [], panel, tmp_path)
    _, words = split(said.report)
    text = LETTERS.sub("", "\n".join([said.words, *words]))
    assert said.words.startswith("Deine Karte leuchtet: 1 Fenster hell.")
    assert english_in(NAMES.sub("", text)) == []
