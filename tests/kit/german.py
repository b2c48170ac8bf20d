"""The tool speaking German, from catalogs compiled of what the translators wrote."""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from underlit.language import saying, speak

#: Words that no German sentence has.
ENGLISH = re.compile(r"\b(?:the|is|are|and|with|of|this|not|your|it|has|for|to)\b")


def compile_all(folder: Path) -> Path:
    """Every language's catalog under a folder, as gettext looks for it."""
    from locale_tools import write_catalogs as tools  # late: few tests need its libraries

    for language in tools.languages():
        path = folder / language / "LC_MESSAGES" / f"{tools.DOMAIN}.mo"
        path.parent.mkdir(parents=True)
        path.write_bytes(tools.as_mo(tools.whole(language)))
    return folder


@contextmanager
def in_german(catalogs: Path) -> Iterator[None]:
    """German inside the block, English after it."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(saying, "FOLDER", catalogs)
        speak("de")
        try:
            yield
        finally:
            speak("en")


def english_in(text: str) -> list[str]:
    """English words with what stands around them."""
    return [text[max(0, m.start() - 40) : m.end() + 40] for m in ENGLISH.finditer(text)]
