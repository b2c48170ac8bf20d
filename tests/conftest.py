"""The tests speak English, whatever the language of the machine."""

import os
from collections.abc import Iterator
from pathlib import Path

import pytest

from kit.german import compile_all, in_german
from underlit.language import speak

os.environ["LANGUAGE"] = "en"
speak("en")


@pytest.fixture(scope="session")
def catalogs(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Folder of all catalogs, compiled of what the translators wrote."""
    return compile_all(tmp_path_factory.mktemp("catalogs"))


@pytest.fixture
def german(catalogs: Path) -> Iterator[None]:
    """The test speaks German."""
    with in_german(catalogs):
        yield
