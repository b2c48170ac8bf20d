"""Words of parts and of the drawing that are misspelt: told, and the usual one taken."""

from __future__ import annotations

from typing import Any

import pytest

from kit.run import validate_text

HEAD = (
    '<svg xmlns="http://www.w3.org/2000/svg" xmlns:underlit="urn:underlit:card:1" '
    'width="120mm" height="160mm" viewBox="0 0 120 160" {}>'
)
CELL = (
    '<g underlit:role="power"><g id="battery" underlit:part="cell" underlit:type="cr2032" {}>'
    '<circle cx="30" cy="120" r="10" underlit:feature="body"/>'
    '<circle cx="30" cy="120" r="4" underlit:feature="positive-pad"/>'
    '<circle cx="30" cy="120" r="4" underlit:feature="negative-pad"/></g></g>'
)
LAMP = (
    '<g underlit:role="lights"><g id="lamp" underlit:part="light" underlit:type="red" {}>'
    '<rect x="48" y="35" width="12" height="5" underlit:feature="body"/>'
    '<rect x="56.5" y="36" width="3" height="3" underlit:feature="positive-pad"/>'
    '<rect x="48.5" y="36" width="3" height="3" underlit:feature="negative-pad"/>'
    '<circle cx="54" cy="37.5" r="1.5" underlit:feature="lens"/></g></g>'
)


def told(root: str = "", cell: str = "", lamp: str = "") -> list[dict[str, Any]]:
    text = HEAD.format(root) + CELL.format(cell) + LAMP.format(lamp) + "</svg>"
    return [f for f in validate_text(text)["findings"] if f["rule"] == "object-skipped"]


@pytest.mark.parametrize(
    ("where", "key", "wrong", "taken"),
    [
        ("root", "side", "left", "front"),
        ("cell", "closes", "presss", "press"),
        ("cell", "up", "positive", "plus"),
        ("lamp", "contact", "under", "below"),
        ("lamp", "shows", "window", "opening"),
    ],
)
def test_an_unknown_word_is_told_and_the_usual_one_taken(
    where: str, key: str, wrong: str, taken: str
) -> None:
    (finding,) = told(**{where: f'underlit:{key}="{wrong}"'})
    assert finding["severity"] == "caution"
    assert finding["objects"] == {"root": [], "cell": ["battery"], "lamp": ["lamp"]}[where]
    words = f'says {key} = "{wrong}": I do not know that word, so I take {taken}.'
    assert words in finding["message"]
    assert finding["remedy"].startswith(f"Write underlit:{key} = {SIX[key]}")


SIX = {
    "side": "front or back.",
    "closes": "press, slide, flap, tab, open or always.",
    "up": "plus or minus.",
    "contact": "below, above or both.",
    "shows": "opening, through or edge.",
}


def test_case_and_blanks_do_not_matter() -> None:
    right = {
        "root": 'underlit:side=" Back"',
        "cell": 'underlit:closes="Flap "',
        "lamp": 'underlit:contact="BOTH"',
    }
    assert told(**right) == []


def test_a_misspelt_press_is_a_press() -> None:
    """Foam over a battery that is pressed is told; a word that nobody knows hides nothing."""
    foam = '<g underlit:role="foam"><rect x="20" y="110" width="20" height="20"/></g>'
    for word in ("presss", "press"):
        cell = CELL.format(f'underlit:closes="{word}"')
        rules = {
            f["rule"] for f in validate_text(HEAD.format("") + cell + foam + "</svg>")["findings"]
        }
        assert "foam-on-part" in rules
