"""The shipped profiles: complete, within the schema, and as the conventions' table says."""

from __future__ import annotations

import dataclasses
import tomllib
from pathlib import Path

import pytest

from underlit import profiles
from underlit.profiles import load_profile, materials, profile, shipped_names
from underlit.profiles.checking import check_layer, settle
from underlit.profiles.layers import FLAT, lay_over
from underlit.profiles.loading import MATERIALS
from underlit.profiles.schema import NAMED, ORDERS, SINGLE

FOLDER = Path(profiles.__file__).parent

#: Drawing conventions, section 9: key -> hand-laid, hand-laid-cautious, classroom, machine-cut.
LIMITS = {
    "smallest_gap": (2.0, 2.5, 4.0, 1.0),
    "aim_gap": (3.0, 4.0, 5.0, 1.5),
    "edge_margin": (3.0, 4.0, 4.0, 1.5),
    "aim_edge": (5.0, 6.0, 6.0, 3.0),
    "opening_clearance": (1.0, 1.5, 2.0, 0.5),
    "pad_cover": (0.5, 0.6, 0.5, 0.5),
    "aim_pad": (1.0, 1.0, 1.0, 1.0),
    "joint_cover": (0.4, 0.6, 0.4, 0.4),
    "aim_joint": (1.0, 1.0, 1.0, 1.0),
    "narrowest_tape": (3.0, 4.0, 4.0, 2.0),
    "foreign_opening_tape": (2.0, 1.0, 2.0, 1.0),
    "own_opening_tape": (0.5, 0.35, 0.5, 0.5),
    "light_smallest_ma": (0.5, 1.0, 0.5, 0.5),
    "light_evenness": (0.5, 0.6, 0.4, 0.5),
    "least_hours": (2, 5, 2, 2),
    "foam_settling": (0.15, 0.15, 0.15, 0.15),
}

LIGHTS = ("warm-white", "cool-white", "red", "amber", "green", "blue", "colour-change")
CELLS = ("cr1220", "cr1632", "cr2016", "cr2025", "cr2032", "cr2450")
TAPES = ("fabric-5", "foil-5", "foil-5-plain", "foil-6-plain")

KINDS = {
    "limits": profile.Limits,
    "tape": profile.Tape,
    "patch": profile.PatchRule,
    "stack": profile.Stack,
    "glow": profile.GlowRule,
    "lights": profile.LightType,
    "cells": profile.CellType,
    "holders": materials.HolderType,
    "press": materials.PressRule,
    "sheets": materials.SheetType,
    "diffusers": materials.SheetType,
    "foams": materials.FoamType,
    "post": materials.PostClass,
    "cutter": materials.Cutter,
}


def raw(name: str) -> dict[str, object]:
    return tomllib.loads((FOLDER / name).read_text(encoding="utf-8"))


def test_names_are_those_of_the_conventions_default_first() -> None:
    assert shipped_names() == ("hand-laid", "hand-laid-cautious", "classroom", "machine-cut")
    assert load_profile(None).name == "hand-laid"
    assert {path.stem for path in FOLDER.glob("*.toml")} == {
        *shipped_names(),
        "parts",
        "materials",
    }


@pytest.mark.parametrize("column", range(4))
def test_limits_are_those_of_the_conventions(column: int) -> None:
    loaded = load_profile(shipped_names()[column])
    assert loaded.name == shipped_names()[column]
    wanted = {key: values[column] for key, values in LIMITS.items()}
    assert dataclasses.asdict(loaded.limits) == wanted


@pytest.mark.parametrize("name", shipped_names())
def test_every_shipped_file_passes_the_checks_of_a_makers_file(name: str) -> None:
    merged = check_layer("parts.toml", raw("parts.toml") | raw("materials.toml"), {})
    merged = lay_over({}, merged)
    chain = [name] if name == "hand-laid" else ["hand-laid", name]
    for one in chain:
        layer = check_layer(one, raw(f"{one}.toml"), merged)
        before = lay_over(merged, layer)
        merged = settle(one, layer, before)
        assert merged == before  # nothing had to be moved to fit
    for table, keys in NAMED.items():
        for entry, values in merged[table].items():
            needed = {key for key, what in keys.items() if not what.optional}
            assert needed <= values.keys(), (table, entry)
    assert merged["limits"].keys() == SINGLE["limits"].keys()
    assert merged["tape"]["use"] in merged["tapes"]
    for table in ("patch", "stack", "glow"):
        needed = {key for key, what in SINGLE[table].items() if not what.optional}
        assert merged[table].keys() == needed


@pytest.mark.parametrize("name", shipped_names())
def test_loading_trusted_gives_what_loading_checked_gives(name: str, tmp_path: Path) -> None:
    """The unchecked way of the shipped files gives floats and tuples as the checked one does."""
    copy = tmp_path / "copy.toml"
    copy.write_text((FOLDER / f"{name}.toml").read_text(encoding="utf-8"), encoding="utf-8")
    trusted, checked = load_profile(name), load_profile(str(copy))
    for table in ("limits", "tape", "patch", "stack", "glow", "press", "cutter"):
        assert typed(getattr(trusted, table)) == typed(getattr(checked, table))
    for table in ("tapes", "lights", "cells", "holders", "sheets", "diffusers", "foams", "post"):
        one, other = getattr(trusted, table), getattr(checked, table)
        assert list(one) == list(other)
        assert [typed(v) for v in one.values()] == [typed(v) for v in other.values()]


def typed(values: object) -> dict[str, object]:
    """repr tells 2 from 2.0 and a list from a tuple."""
    return {key: repr(value) for key, value in vars(values).items()}


@pytest.mark.parametrize("table", [*SINGLE, *NAMED])
def test_numbers_in_shipped_files_are_floats(table: str) -> None:
    for file in FOLDER.glob("*.toml"):
        values = raw(file.name).get(table, {})
        entries = [values] if table in SINGLE else list(values.values())
        for entry in entries:
            for key, value in entry.items():
                items = value if isinstance(value, list) else [value]
                assert all(isinstance(i, float | str | bool) for i in items), (file, key)


def test_profiles_say_their_base_and_only_what_differs() -> None:
    assert "based-on" not in raw("hand-laid.toml")
    base = raw("hand-laid.toml")
    for name in shipped_names()[1:]:
        own = raw(f"{name}.toml")
        assert own.pop("based-on") == "hand-laid"
        for table, values in own.items():
            for key, value in values.items():
                assert base[table].get(key) != value, f"{name}: {table}.{key} is inherited anyway"


def test_all_parts_of_the_conventions_are_there() -> None:
    loaded = load_profile(None)
    assert tuple(loaded.lights) == LIGHTS
    assert tuple(loaded.cells) == CELLS
    assert tuple(loaded.tapes) == TAPES
    for table in (loaded.sheets, loaded.foams, loaded.diffusers, loaded.holders, loaded.post):
        assert len(table) > 1


def test_example_values_of_the_conventions() -> None:
    loaded = load_profile("hand-laid")
    assert dataclasses.asdict(loaded.tape) == {
        "use": "fabric-5",
        "width": 5.0,
        "stock_widths": (3, 5, 6, 6.35, 8, 10),
        "ohms_per_square": 0.05,
        "adhesive_conducts": True,
        "corners": "fold",
        "joint_ohm_mm2": 2.0,
        "joint_aged_ohm_mm2": 25.0,
        "pad_ohm_mm2": 2.0,
        "pad_aged_ohm_mm2": 5.0,  # our own key: the conventions leave the ageing of feet open
        "thickness": 0.1,
    }
    assert loaded.patch.margin == 2.0
    assert dataclasses.asdict(loaded.lights["warm-white"]) == {
        "body": (12.0, 5.0),
        "pad": (3.0, 3.0),
        "pad_pitch": 8.0,
        "lens": 3.0,
        "height": 1.0,
        "gap_at_light": 1.0,
        "saturation_current_a": 4.628e-18,
        "ideality": 3.0,
        "series_ohm": 26.25,
        "resistor_ohm": 0.0,
        "temperature_c": 25.0,
        "largest_ma": 20.0,
        "beam_angle": 120.0,
        "candela_at": (0.2, 20.0),
        "colour": "#ffe2b0",
        "least_volt": 0.0,
    }
    assert dataclasses.asdict(loaded.cells["cr2032"]) == {
        "volt": 3.0,
        "pulse_ohm": 15.0,
        "sustained_ohm": 60.0,
        "aged_ohm": 100.0,
        "continuous_ma": 10.0,
        "capacity_mah": 225.0,
        "diameter": 20.0,
        "diameter_min": 19.7,
        "height": 3.2,
        "height_min": 2.9,
        "cap_radius": 8.0,
    }


def test_only_colour_change_needs_a_voltage() -> None:
    needing = {name for name, kind in load_profile(None).lights.items() if kind.least_volt > 0}
    assert needing == {"colour-change"}


def test_fields_are_the_keys_of_the_schema() -> None:
    for table, kind in KINDS.items():
        keys = {**SINGLE, **NAMED}[table]
        assert {f.name.replace("_", "-") for f in dataclasses.fields(kind)} == set(keys), table
    assert set(SINGLE) == FLAT
    assert {*SINGLE, *NAMED} >= MATERIALS
    assert set(raw("materials.toml")) == MATERIALS
    assert set(NAMED["tapes"]) == set(SINGLE["tape"]) - {"use"}


def test_schema_says_unit_and_meaning_of_every_key_and_bounds_every_number() -> None:
    for table, keys in {**SINGLE, **NAMED}.items():
        for name, key in keys.items():
            assert key.meaning, (table, name)
            if key.kind in {"number", "pair", "numbers"}:
                assert key.low < key.high < float("inf"), (table, name)
            if key.kind == "word":
                assert len(key.words) > 1
    for order in ORDERS:
        assert order.lead in SINGLE[order.table]
        assert order.follow in SINGLE[order.follow_table]


def test_a_profile_is_frozen_and_its_tables_read_only() -> None:
    loaded = load_profile(None)
    with pytest.raises(dataclasses.FrozenInstanceError):
        loaded.limits.smallest_gap = 1.0  # type: ignore[misc]
    with pytest.raises(TypeError):
        loaded.lights["red"] = loaded.lights["blue"]  # type: ignore[index]
    wider = dataclasses.replace(loaded.limits, smallest_gap=2.2)
    assert (wider.smallest_gap, wider.aim_gap) == (2.2, 3.0)
    assert dataclasses.replace(loaded, limits=wider).post["uk-letter"].thickness == 5.0


def test_a_value_left_out_or_misspelt_is_refused_by_the_constructor() -> None:
    with pytest.raises(TypeError, match="margin"):
        profile.PatchRule()
    with pytest.raises(TypeError, match="margins"):
        profile.PatchRule(margin=1.0, margins=2.0)


def test_changing_a_result_of_one_call_cannot_reach_the_next() -> None:
    load_profile("classroom", {"limits": {"smallest-gap": 4.5}, "lights": {"red": {"lens": 9}}})
    assert load_profile("classroom").limits.smallest_gap == 4.0
    assert load_profile("classroom").lights["red"].lens == 3.0
