"""Sentences in the maker's language, through gettext of the standard library."""

from __future__ import annotations

import gettext
from functools import cache
from operator import index
from pathlib import Path

DOMAIN = "underlit"

#: Catalogs lie beside the package: `<language>/LC_MESSAGES/underlit.mo`.
FOLDER = Path(__file__).resolve().parents[2] / "locale"

#: The language asked for by `speak`; none: that of the environment.
_asked: list[str] = []


def speak(language: str | None) -> None:
    """Speak this language (as "de") from now on; None: that of the environment."""
    _asked[:] = [] if language is None else [language]
    _catalog.cache_clear()


def spoken() -> str:
    """The language that is really spoken, as HTML names it: "de"; "en" without a catalog."""
    return _catalog().info().get("language", "en").replace("_", "-")


@cache
def _catalog() -> gettext.NullTranslations:
    return gettext.translation(DOMAIN, FOLDER, _asked or None, fallback=True)


def say(text: str, /, **words: object) -> str:
    """A sentence in the maker's language, with its words in braces filled in by `str.format`.

    Text without words is taken as it stands, braces and all.
    """
    said = _catalog().gettext(text) if text else text
    return said.format(**words) if words else said


def say_count(one: str, many: str, number: int, /, **words: object) -> str:
    """A sentence about a number of things; `{number}` in it is that number.

    say_count("{number} light", "{number} lights", 3) -> "3 lights"; numpy's integers will do.
    """
    return _catalog().ngettext(one, many, index(number)).format(number=number, **words)


def later(text: str) -> str:
    """Mark a text of a table for the catalogs; `say` it when it is used."""
    return text
