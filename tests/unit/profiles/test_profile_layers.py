"""Files over files, the card's settings over all, tapes by name, values that follow."""

from __future__ import annotations

import dataclasses
import os
from pathlib import Path

import pytest

from underlit.profiles import load_profile


def write(folder: Path, name: str, text: str) -> str:
    (folder / name).write_text(text, encoding="utf-8")
    return name


def test_a_makers_file_counts_from_the_drawings_folder(tmp_path: Path) -> None:
    (tmp_path / "sub").mkdir()
    write(tmp_path, "sub/mine.toml", 'based-on = "classroom"\n[limits]\nsmallest-gap = 3.5\n')
    loaded = load_profile("sub/mine.toml", None, tmp_path)
    assert loaded.name == "mine.toml"
    assert loaded.limits.smallest_gap == 3.5
    assert loaded.limits.aim_gap == 5.0  # classroom
    assert loaded.limits.pad_cover == 0.5  # hand-laid below it
    assert load_profile(str(tmp_path / "sub" / "mine.toml")).limits.smallest_gap == 3.5


def test_without_a_folder_a_path_counts_from_here(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    write(tmp_path, "mine.toml", "[limits]\nsmallest-gap = 1.5\n")
    monkeypatch.chdir(tmp_path)
    assert load_profile("mine.toml").limits.smallest_gap == 1.5


def test_a_file_that_names_no_base_stands_on_hand_laid(tmp_path: Path) -> None:
    write(tmp_path, "mine.toml", "")
    loaded = load_profile("mine.toml", None, tmp_path)
    assert vars(loaded.limits) == vars(load_profile("hand-laid").limits)


def test_a_base_of_ones_own_counts_from_the_file_that_names_it(tmp_path: Path) -> None:
    (tmp_path / "shared").mkdir()
    write(tmp_path, "shared/ours.toml", 'based-on = "deep.toml"\n[limits]\nleast-hours = 7\n')
    write(tmp_path, "shared/deep.toml", 'based-on = "classroom"\n[limits]\nleast-hours = 6\n')
    write(tmp_path, "mine.toml", 'based-on = "shared/ours.toml"\n[limits]\nedge-margin = 5\n')
    limits = load_profile("mine.toml", None, tmp_path).limits
    assert (limits.least_hours, limits.edge_margin, limits.smallest_gap) == (7.0, 5.0, 4.0)


def test_a_shipped_name_wins_over_a_file_of_that_name(tmp_path: Path) -> None:
    write(tmp_path, "classroom", "[limits]\nsmallest-gap = 1\n")
    assert load_profile("classroom", None, tmp_path).limits.smallest_gap == 4.0


def test_bom_and_windows_line_ends_are_read(tmp_path: Path) -> None:
    (tmp_path / "mine.toml").write_bytes(b"\xef\xbb\xbf[limits]\r\nsmallest-gap = 1.5\r\n")
    assert load_profile("mine.toml", None, tmp_path).limits.smallest_gap == 1.5


def test_settings_lie_over_the_profile(tmp_path: Path) -> None:
    write(tmp_path, "mine.toml", "[limits]\nsmallest-gap = 1.5\nedge-margin = 2\n")
    settings = {"limits": {"smallest-gap": 1.75}, "lights": {"red": {"resistor-ohm": 47}}}
    loaded = load_profile("mine.toml", settings, tmp_path)
    assert (loaded.limits.smallest_gap, loaded.limits.edge_margin) == (1.75, 2.0)
    assert loaded.lights["red"].resistor_ohm == 47.0
    assert loaded.lights["red"].series_ohm == 5.195
    assert isinstance(loaded.lights["red"].resistor_ohm, float)


def test_settings_may_name_the_base_where_no_profile_is_named() -> None:
    assert load_profile(None, {"based-on": "classroom"}).limits.smallest_gap == 4.0
    assert load_profile("classroom", {"based-on": "classroom"}).name == "classroom"
    assert load_profile("", {}).name == "hand-laid"


def test_use_alone_switches_the_whole_tape() -> None:
    tape = load_profile(None, {"tape": {"use": "foil-6-plain"}}).tape
    assert (tape.use, tape.width, tape.adhesive_conducts) == ("foil-6-plain", 6.0, False)
    assert tape.ohms_per_square == pytest.approx(0.0004926)


def test_keys_beside_or_above_use_override_the_tape(tmp_path: Path) -> None:
    write(tmp_path, "mine.toml", '[tape]\nuse = "foil-5"\nwidth = 8\n')
    assert load_profile("mine.toml", None, tmp_path).tape.width == 8.0
    above = load_profile("mine.toml", {"tape": {"corners": "overlap"}}, tmp_path).tape
    assert (above.use, above.width, above.corners) == ("foil-5", 8.0, "overlap")


def test_a_later_use_drops_earlier_overrides(tmp_path: Path) -> None:
    write(tmp_path, "mine.toml", "[tape]\nwidth = 8\nohms-per-square = 0.2\n")
    tape = load_profile("mine.toml", {"tape": {"use": "foil-5-plain"}}, tmp_path).tape
    assert (tape.width, tape.ohms_per_square) == (5.0, pytest.approx(0.0004926))


def test_a_changed_or_new_tape_can_be_used(tmp_path: Path) -> None:
    text = (
        '[tapes.wide]\nbased-on = "fabric-5"\nwidth = 10\n[tapes.foil-5]\nwidth = 5.5\n'
        '[tape]\nuse = "wide"\n'
    )
    loaded = load_profile(write(tmp_path, "mine.toml", text), None, tmp_path)
    assert (loaded.tape.width, loaded.tape.ohms_per_square) == (10.0, 0.05)
    assert loaded.tapes["foil-5"].width == 5.5
    assert loaded.tapes["wide"].use == "wide"
    assert loaded.tapes["foil-5-plain"].width == 5.0


def test_a_light_of_ones_own_may_start_from_another(tmp_path: Path) -> None:
    text = '[lights.tiny]\nbased-on = "red"\nbody = [8, 4]\n[lights.twin]\nbased-on = "tiny"\n'
    lights = load_profile(write(tmp_path, "mine.toml", text), None, tmp_path).lights
    assert lights["tiny"].body == lights["twin"].body == (8.0, 4.0)
    assert lights["twin"].ideality == 1.8
    assert list(lights)[-2:] == ["tiny", "twin"]


def test_a_complete_cell_of_ones_own_needs_no_minima() -> None:
    keys = {
        "volt": 3,
        "pulse-ohm": 8,
        "sustained-ohm": 30,
        "aged-ohm": 60,
        "continuous-ma": 15,
        "capacity-mah": 1000,
        "diameter": 24.5,
        "height": 7.7,
        "cap-radius": 9.8,
    }
    cell = load_profile(None, {"cells": {"cr2477": keys}}).cells["cr2477"]
    assert (cell.diameter_min, cell.height_min) == (24.5, 7.7)


def test_materials_can_be_changed_and_added(tmp_path: Path) -> None:
    text = "[foams.mine]\nthickness = 1.5\n[sheets.card]\nthickness = 0.4\n"
    loaded = load_profile(write(tmp_path, "mine.toml", text), None, tmp_path)
    assert loaded.foams["mine"].thickness == 1.5
    assert (loaded.sheets["card"].thickness, loaded.sheets["card"].transmission) == (0.4, 0.05)
    assert loaded.post["de-standard"].grams == 20.0
    assert "mine" not in load_profile(None).foams


@pytest.mark.parametrize(
    ("lead", "value", "table", "follow"),
    [
        ("smallest-gap", 3.5, "limits", "aim_gap"),
        ("edge-margin", 6.0, "limits", "aim_edge"),
        ("joint-cover", 1.5, "limits", "aim_joint"),
        ("smallest-gap", 2.25, "patch", "margin"),
    ],
)
def test_an_aim_follows_a_limit_that_is_raised_above_it(
    lead: str, value: float, table: str, follow: str
) -> None:
    loaded = load_profile(None, {"limits": {lead: value}})
    assert getattr(getattr(loaded, table), follow) == value


def test_an_aim_stays_where_the_limit_is_lowered() -> None:
    loaded = load_profile(None, {"limits": {"smallest-gap": 1.5}})
    assert (loaded.limits.aim_gap, loaded.patch.margin) == (3.0, 2.0)


def test_smallest_size_of_a_cell_follows_the_largest() -> None:
    cells = {"cr2032": {"diameter": 19.5, "height": 2.5}}
    cell = load_profile(None, {"cells": cells}).cells["cr2032"]
    assert (cell.diameter_min, cell.height_min) == (19.5, 2.5)


@pytest.mark.parametrize(
    ("own", "fresh", "aged"),
    [
        ({}, 2.0, 5.0),
        ({"tape": {"pad-ohm-mm2": 0.0}}, 0.0, 0.0),
        ({"tape": {"pad-ohm-mm2": 3.0, "pad-aged-ohm-mm2": 9.0}}, 3.0, 9.0),
        ({"tape": {"pad-aged-ohm-mm2": 9.0}}, 2.0, 9.0),
        ({"tape": {"use": "foil-5"}}, 5.0, 12.5),
        ({"tapes": {"own": {"based-on": "foil-5", "pad-ohm-mm2": 4.0}}, "tape": {"use": "own"}},
         4.0, 4.0),
    ],
)  # fmt: skip
def test_feet_stay_as_a_profile_sets_them_unless_it_ages_them(
    own: dict[str, object], fresh: float, aged: float
) -> None:
    tape = load_profile(None, own).tape
    assert (tape.pad_ohm_mm2, tape.pad_aged_ohm_mm2) == (fresh, aged)


def test_aged_overlaps_follow_fresh_ones_up() -> None:
    assert load_profile(None, {"tape": {"joint-ohm-mm2": 40}}).tape.joint_aged_ohm_mm2 == 40.0


def test_bounds_themselves_are_allowed() -> None:
    loaded = load_profile(
        None,
        {
            "limits": {"pad-cover": 1, "foam-settling": 0, "edge-margin": 0, "smallest-gap": 50},
            "tape": {"joint-ohm-mm2": 0, "pad-ohm-mm2": 0, "ohms-per-square": 0},
        },
    )
    assert (loaded.limits.pad_cover, loaded.limits.foam_settling) == (1.0, 0.0)
    assert loaded.tape.joint_ohm_mm2 == 0.0


def test_equal_input_gives_equal_profiles() -> None:
    settings = {"limits": {"smallest-gap": 1.5}, "sheets": {"card": {"thickness": 0.3}}}
    one, other = load_profile("classroom", settings), load_profile("classroom", settings)
    assert vars(one.limits) == vars(other.limits)
    assert [dataclasses.asdict(v) for v in one.lights.values()] == [
        dataclasses.asdict(v) for v in other.lights.values()
    ]


def test_settings_given_are_not_changed() -> None:
    settings = {"limits": {"smallest-gap": 3.5}, "lights": {"red": {"body": [1, 2]}}}
    load_profile(None, settings)
    assert settings == {"limits": {"smallest-gap": 3.5}, "lights": {"red": {"body": [1, 2]}}}


@pytest.mark.skipif(os.name == "nt", reason="home folders are found differently there")
def test_tilde_is_the_home_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("HOME", str(tmp_path))
    write(tmp_path, "mine.toml", "[limits]\nsmallest-gap = 1.5\n")
    assert load_profile("~/mine.toml", None, tmp_path / "cards").limits.smallest_gap == 1.5
