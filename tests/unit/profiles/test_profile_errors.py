"""A wrong profile gets one sentence: file, key, what was expected, what came."""

from __future__ import annotations

import json
import os
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kit.wrong_profiles import NUMBERS, WRONG, error_of, refusal, settings_of
from underlit.errors import UnusableProfile
from underlit.profiles import Profile, load_profile
from underlit.profiles.schema import NAMED, SINGLE


def outcome(settings: dict[str, object]) -> str:
    """What loading says: nothing when all is well. Any other error goes through."""
    try:
        assert isinstance(load_profile(None, settings), Profile)
    except UnusableProfile as error:
        return str(error)
    return ""


@pytest.mark.parametrize(("text", "parts"), WRONG)
def test_one_sentence_names_file_key_and_what_was_expected(
    text: str, parts: list[str], tmp_path: Path
) -> None:
    message = error_of(text, tmp_path)
    assert message.startswith("mine.toml")
    for part in parts:
        assert part in message
    assert len(message) < 400
    assert "\n" not in message


@pytest.mark.parametrize(("table", "key"), NUMBERS)
def test_every_number_refuses_what_is_no_number_in_its_range(table: str, key: str) -> None:
    what = {**SINGLE, **NAMED}[table][key]
    below = what.low if what.open else what.low - 0.001
    wrong = (float("nan"), float("inf"), float("-inf"), True, "1", None, below, what.high * 1.001)
    for value in wrong:
        assert f"{key} must be a number" in refusal(settings_of(table, key, value))


@pytest.mark.parametrize(("table", "key"), NUMBERS)
def test_every_number_takes_its_highest_and_lowest(table: str, key: str) -> None:
    """What is in range may still clash with a neighbour, but is never called out of range."""
    what = {**SINGLE, **NAMED}[table][key]
    low = what.low + 1e-9 if what.open else what.low
    said = [outcome(settings_of(table, key, value)) for value in (low, what.high)]
    assert "" in said or key == "sustained-ohm"  # it has a neighbour on either side
    known = ("must not be", "less than half", "-ohm must be at least")
    for sentence in said:
        assert not sentence or any(words in sentence for words in known)


def test_a_missing_file_is_named_with_what_could_be_meant(tmp_path: Path) -> None:
    with pytest.raises(UnusableProfile) as caught:
        load_profile("hand-layed", None, tmp_path)
    message = str(caught.value)
    assert 'did you mean "hand-laid"' in message
    assert str(tmp_path / "hand-layed") in message
    with pytest.raises(UnusableProfile, match="is a folder"):
        load_profile(".", None, tmp_path)
    with pytest.raises(UnusableProfile, match="cannot be looked for"):
        load_profile("a\0b", None, tmp_path)
    with pytest.raises(UnusableProfile, match="is not there"):
        load_profile("x" * 5000, None, tmp_path)


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="root reads all")
def test_a_locked_file_is_named(tmp_path: Path) -> None:
    path = tmp_path / "mine.toml"
    path.write_text("")
    path.chmod(0)
    with pytest.raises(UnusableProfile, match=r"mine\.toml cannot be read"):
        load_profile("mine.toml", None, tmp_path)


def test_a_file_that_vanishes_or_cannot_be_opened_is_named(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(os.path, "isfile", lambda path: True)
    with pytest.raises(UnusableProfile, match=r"mine\.toml cannot be read \(.+\)"):
        load_profile("mine.toml", None, tmp_path)


def test_bytes_that_are_no_text_and_large_files_are_refused(tmp_path: Path) -> None:
    (tmp_path / "mine.toml").write_bytes(b"\xff\xfe[\x00l\x00")
    with pytest.raises(UnusableProfile, match="UTF-8"):
        load_profile("mine.toml", None, tmp_path)
    (tmp_path / "mine.toml").write_bytes(b"#" * 1_000_001)
    with pytest.raises(UnusableProfile, match="too large"):
        load_profile("mine.toml", None, tmp_path)


def test_a_circle_names_its_files(tmp_path: Path) -> None:
    (tmp_path / "b.toml").write_text('based-on = "a.toml"')
    message = error_of('based-on = "b.toml"', tmp_path, "a.toml")
    assert message == (
        "a.toml: these profiles are based on each other in a circle: "
        '"a.toml" <- "b.toml" <- "a.toml". Base one of them on "hand-laid".'
    )
    assert "circle" in error_of('based-on = "me.toml"', tmp_path, "me.toml")


def test_an_error_in_a_base_names_the_base(tmp_path: Path) -> None:
    (tmp_path / "ours.toml").write_text("[limits]\nsmallest-gap = -1\n")
    assert error_of('based-on = "ours.toml"', tmp_path).startswith("ours.toml: limits.smallest-gap")


def test_settings_are_named_as_such() -> None:
    assert refusal({"limits": {"smallest-gap": -1}}).startswith("The card's own settings: limits.")
    assert "a table of tables" in refusal([1, 2])
    assert "nothing" in refusal({"limits": None})
    assert "must be the name" in refusal({"based-on": 4})


def test_settings_that_name_another_base_than_the_card_are_refused() -> None:
    with pytest.raises(UnusableProfile, match="Take based-on out"):
        load_profile("classroom", {"based-on": "machine-cut"})


def test_nan_from_json_is_refused() -> None:
    settings = json.loads('{"limits": {"smallest-gap": NaN}}')
    assert "it is nan" in refusal(settings)


_LETTERS = 'ab-_."é\n\0'
_VALUES = st.recursive(
    st.none()
    | st.booleans()
    | st.integers()
    | st.floats()
    | st.text(_LETTERS, max_size=60)
    | st.sampled_from(["fabric-5", "red", "fold", "#ffffff"]),
    lambda inner: (
        st.lists(inner, max_size=3)
        | st.dictionaries(
            st.text(_LETTERS, max_size=60)
            | st.sampled_from(
                ["limits", "tape", "use", "lights", "red", "body", "based-on", "smallest-gap"]
            ),
            inner,
            max_size=3,
        )
    ),
    max_leaves=8,
)
_TABLES = st.dictionaries(st.sampled_from([*SINGLE, *NAMED, "odd"]), _VALUES, max_size=3)


@given(_TABLES)
def test_any_settings_load_or_get_a_sentence(settings: dict[str, object]) -> None:
    """Nothing but our own error comes out, whatever stands in the drawing."""
    said = outcome(settings)
    assert not said or said.startswith("The card's own settings")
    assert len(said) < 500
    assert said.isprintable()


@pytest.mark.parametrize(
    ("low", "high"), [("pulse-ohm", "sustained-ohm"), ("sustained-ohm", "aged-ohm")]
)
def test_a_battery_does_not_get_better_with_time(low: str, high: str) -> None:
    good = {"pulse-ohm": 20.0, "sustained-ohm": 20.0, "aged-ohm": 20.0}
    assert outcome({"cells": {"cr2032": good}}) == ""
    said = refusal({"cells": {"cr2032": good | {high: 19.0}}})
    assert f"cells.cr2032.{high} must be at least {low}, 20.0; it is 19.0" in said


@pytest.mark.parametrize("contact", ["joint", "pad"])
@pytest.mark.parametrize("table", ["tape", "tapes.foil-5"])
def test_no_contact_gets_better_by_ageing(tmp_path: Path, table: str, contact: str) -> None:
    lines = f"[{table}]\n{contact}-ohm-mm2 = 8\n{contact}-aged-ohm-mm2 = 7\n"
    (tmp_path / "mine.toml").write_text(lines, encoding="utf-8")
    with pytest.raises(UnusableProfile) as caught:
        load_profile("mine.toml", None, tmp_path)
    key = f"{table}.{contact}-aged-ohm-mm2"
    assert f"mine.toml: {key} must be at least {contact}-ohm-mm2, 8.0; it is 7.0." in str(
        caught.value
    )
