"""Profiles with one thing wrong, and what is said of them."""

from __future__ import annotations

from pathlib import Path

import pytest

from underlit.errors import UnusableProfile
from underlit.profiles import load_profile
from underlit.profiles.schema import NAMED, SINGLE

NUMBERS = [
    (table, key)
    for table, keys in {**SINGLE, **NAMED}.items()
    for key, what in keys.items()
    if what.kind == "number"
]

#: An entry that exists in each table of named entries.
ENTRY = {
    "tapes": "foil-5",
    "lights": "red",
    "cells": "cr2032",
    "holders": "plain-20",
    "sheets": "card",
    "diffusers": "vellum",
    "foams": "foam-2",
    "post": "uk-letter",
}


def error_of(text: str, folder: Path, name: str = "mine.toml") -> str:
    """The one sentence that a file of this text gets."""
    (folder / name).write_text(text, encoding="utf-8")
    with pytest.raises(UnusableProfile) as caught:
        load_profile(name, None, folder)
    return str(caught.value)


def settings_of(table: str, key: str, value: object) -> dict[str, object]:
    keys = {key: value}
    return {table: keys if table in SINGLE else {ENTRY[table]: keys}}


def refusal(settings: object) -> str:
    with pytest.raises(UnusableProfile) as caught:
        load_profile(None, settings)  # type: ignore[arg-type]
    return str(caught.value)


#: A file, and parts of what is said of it.
WRONG = [
    ("[limits]\nsmalest-gap = 1", ['"smalest-gap"', "[limits]", 'mean "smallest-gap"']),
    ("[limits]\nsmallest_gap = 1", ['"smallest_gap"', 'mean "smallest-gap"']),
    ("[limits]\nzzz = 1", ['"zzz"', "known are smallest-gap"]),
    ("[limit]\nsmallest-gap = 1", ['"limit"', 'mean "limits"']),
    ("smallest-gap = 1", ['"smallest-gap"', "belongs under [limits]"]),
    ("limits = 3", ["limits must be a table", "it is 3"]),
    ("[lights]\nlens = 3", ["lights.lens must be a table", "[lights.NAME]"]),
    (
        '[limits]\nsmallest-gap = "two"',
        ["limits.smallest-gap", "in mm", "more than 0", '"two"'],
    ),
    ("[limits]\nsmallest-gap = true", ["a number", "it is true"]),
    ("[limits]\nsmallest-gap = [1]", ["a number", "it is [1]"]),
    ("[limits]\nsmallest-gap = 2024-01-01", ["a number", "it is 2024-01-01"]),
    ("[limits]\nsmallest-gap = 0", ["more than 0 and at most 50", "it is 0"]),
    ("[limits]\npad-cover = 1.01", ["limits.pad-cover", "at most 1", "it is 1.01"]),
    ("[limits]\nfoam-settling = -0.1", ["from 0 to 0.9", "it is -0.1"]),
    ("[limits]\naim-gap = 1", ["limits.aim-gap = 1", "limits.smallest-gap = 2"]),
    ("[limits]\nsmallest-gap = 4\naim-gap = 3", ["limits.aim-gap = 3", "smallest-gap = 4"]),
    ("[patch]\nmargin = 1", ["patch.margin = 1", "limits.smallest-gap = 2"]),
    ("[tape]\nadhesive-conducts = 1", ["tape.adhesive-conducts", "true or false", "it is 1"]),
    ('[tape]\ncorners = "folded"', ['one of "fold", "overlap"', '"folded"']),
    ('[tape]\nuse = "foil5"', ["tape.use", "fabric-5, foil-5", 'mean "foil-5"']),
    ("[tape]\nuse = 5", ["tape.use must be a text in quotes", "it is 5"]),
    ("[tape]\nstock-widths = []", ["one or more numbers in mm", "it is []"]),
    ("[tape]\nstock-widths = [3, -1]", ["tape.stock-widths", "it is [3, -1]"]),
    ("[tape]\nstock-widths = 3", ["tape.stock-widths", "it is 3"]),
    ("[lights.red]\nbody = [1, 2, 3]", ["lights.red.body", "two numbers", "[1, 2, 3]"]),
    ("[lights.red]\nbody = [1, true]", ["lights.red.body", "[1, true]"]),
    ('[lights.red]\ncolour = "red"', ["lights.red.colour", '"#ffe2b0"', '"red"']),
    ('[lights.red]\ncolour = "#ff00"', ["lights.red.colour"]),
    ('[lights.red]\ncolour = "#ggffff"', ["lights.red.colour"]),
    ("[lights.warmwhite]\nlens = 3", ["lights.warmwhite", 'mean "warm-white"', "needs body"]),
    ('[lights.a]\nbased-on = "rde"', ["lights.a.based-on", 'mean "red"']),
    ('[lights.a]\nbased-on = "b"\n[lights.b]\nbased-on = "red"', ["stands before it"]),
    ("[lights.a]\nbased-on = 1", ["lights.a.based-on", "it is 1"]),
    ("[cells.cr2032]\ndiameter-min = 21", ["diameter-min = 21", "diameter = 20"]),
    ("[cells.cr2032]\ncap-radius = 10", ["cap-radius = 10", "half"]),
    ("[cells.cr9999]\nvolt = 3", ["cells.cr9999 is new", "needs pulse-ohm"]),
    ('[holders.plain-20]\ncell = "cr2033"', ["holders.plain-20.cell", 'mean "cr2032"']),
    ('[holders.plain-20]\ncloses = "snap"', ["holders.plain-20.closes", '"slide"']),
    ("[foams.thick]\nheight = 3", ['"height"', "[foams.thick]", "known are thickness"]),
    ("based-on = 3", ["based-on", "in quotes"]),
    ('based-on = "clasroom"', ["based-on", 'mean "classroom"', "is not there"]),
    ("[limits\n", ["line 1"]),
    ("[limits]\nsmallest-gap = 2,5\n", ["line 2"]),
    ("[limits]\nsmallest-gap = 2\nsmallest-gap = 3\n", ["line 3"]),
    ("a = " + "[" * 5000, ["mine.toml"]),
    ("[limits]\nsmallest-gap = " + "9" * 5000, ["mine.toml"]),
    ("[limits]\nsmallest-gap = 0x" + "f" * 9000, ["limits.smallest-gap", "far too large"]),
]
