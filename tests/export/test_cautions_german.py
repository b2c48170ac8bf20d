"""Cautions in German: the same of every piece and place, and the same files to cut."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pytest

from kit.german import english_in, in_german
from rules import cards
from underlit.export.cautions import cutter_cautions
from underlit.workflows.export import Choices, Export, make_cuts, stock_of

from .exported import export_text, sample_text, told
from .test_cautions import long_card, taped

#: One drawing for each kind of caution.
EXPORTS: dict[str, Callable[[], Export]] = {
    "sheet": lambda: export_text(sample_text("street"), sheet=[150.0, 100.0]),
    "roll": lambda: export_text(sample_text("street"), roll_width=50.0),
    "mat": lambda: export_text(sample_text("lantern"), mat=[100.0, 130.0]),
    "long-shape": lambda: export_text(
        sample_text("street"), Choices(("svg",), "in-place", "whole")
    ),
    "curved": lambda: export_text(
        sample_text("firefly-jar"), Choices(("svg",), "packed"), roll_width=32.0
    ),
    "hole": lambda: export_text(sample_text("night-garden")),
    "one hole": lambda: export_text(
        taped("M 20,20 H 100", "M 97.5,17.5 V 40", "M 22.5,17.5 V 40", "M 20,26.2 H 100"),
        Choices(("svg",), pieces="whole", anyway=True),
    ),
    "slot": lambda: export_text(
        taped("M 20,20 H 100", "M 30,15 V 40", "M 90,15 V 40", "M 60,20 V 40", "M 40,26 H 80"),
        Choices(("svg",), pieces="whole", anyway=True),
    ),
    "feature": lambda: export_text(
        sample_text("lantern").replace("stroke-width:5", "stroke-width:2.4"),
        Choices(("svg",), anyway=True),
    ),
}


def figures(text: str) -> list[str]:
    return re.findall(r"\d+(?:\.\d+)?", re.sub(r"(?<=\d),(?=\d)", ".", text))


def lines_of(done: Export) -> dict[str, bytes]:
    """The files without headings, and without the digest that covers them."""
    bare = re.compile(rb"<title>.*?</title>|underlit-export [0-9a-f]{64}")
    return {name: bare.sub(b"", data) for name, data in done.files.items()}


@pytest.mark.parametrize("about", EXPORTS)
def test_the_same_is_told(about: str, catalogs: Path) -> None:
    english = EXPORTS[about]()
    with in_german(catalogs):
        german = EXPORTS[about]()
    assert lines_of(german) == lines_of(english)
    pairs = list(zip(told(english)["warnings"], told(german)["warnings"], strict=True))
    assert pairs
    for one, other in pairs:
        assert other | {"message": "", "remedy": ""} == one | {"message": "", "remedy": ""}
        for key in ("message", "remedy"):
            assert figures(other[key]) == figures(one[key])
            assert other[key] != one[key]
            assert english_in(other[key]) == []


def test_a_strip_too_long_is_told_where_to_divide_it(catalogs: Path) -> None:
    case = cards.case(long_card())
    made = make_cuts(case, Choices(("svg",), "packed"))
    stock = stock_of(case.profile.cutter)
    with in_german(catalogs):
        found = cutter_cautions(case, made.cuts, made.pieces, made.sheets, stock, False, False)
    (one,) = [c for c in found if c.about == "piece-too-long"]
    assert one.message == (
        "Streifen P1 braucht 402,5 x 45 mm; dein Bandbogen hat innerhalb seines Rands nur "
        "188 x 288 mm."
    )
    x, y = (f"{v:.1f}".removesuffix(".0").replace(".", ",") for v in one.at)
    assert one.remedy == (
        f"Zeichne ihn als 2 Streifen: teile ihn bei {x} / {y} mm, mit einer Überlappung von 5 mm."
    )
