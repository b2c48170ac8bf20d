"""The German page in a real browser: lit as the English one, and its words fit."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from kit.german import in_german
from sheet.made import sample

from .conftest import GERMAN
from .made import write

pytest.importorskip("websocket", reason="websocket-client is not installed")

from .browser import DARK, LIT, OVERFLOW

#: What is said below the card.
STATE = "document.querySelector('#state').textContent"


@pytest.mark.parametrize("name", GERMAN)
def test_a_finger_lights_it(opened, german_pages: dict[str, Path], name: str) -> None:
    tab = opened(german_pages[name])
    assert tab.ask("document.documentElement.lang") == "de"
    assert tab.ask(DARK)
    tab.touch("touchStart", tab.middle("#press"))
    tab.until(LIT)
    assert re.fullmatch(r"Sie leuchtet: \d+ Licht(er)?\.", tab.ask(STATE))
    tab.touch("touchEnd")
    tab.until(DARK)
    assert tab.ask(STATE) == "Sie ist dunkel."


@pytest.mark.parametrize("way", ["press", "slide", "tab", "open"])
def test_its_word_fits_the_spot(opened, tmp_path: Path, catalogs: Path, way: str) -> None:
    text = sample("firefly-jar").replace('closes="press"', f'closes="{way}"')
    with in_german(catalogs):
        written = write(text, tmp_path)
    assert opened(written).ask(OVERFLOW) < 0


@pytest.mark.parametrize("name", GERMAN)
def test_it_fits_a_small_window(opened, german_pages: dict[str, Path], name: str) -> None:
    tab = opened(german_pages[name], (320, 640))
    assert tab.ask("document.documentElement.scrollWidth") <= 320
