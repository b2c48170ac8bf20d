"""One display and one installed extension for all tests in the real editor."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from .editor import Editor, missing_for_batch, virtual_display


@pytest.fixture(scope="session")
def display() -> Iterator[str]:
    """A screen of its own."""
    reason = missing_for_batch()
    if reason:
        pytest.skip(reason)
    with virtual_display() as name:
        yield name


@pytest.fixture(scope="session")
def editor(display: str, tmp_path_factory: pytest.TempPathFactory) -> Editor:
    """The extension installed by install.py into a profile of its own."""
    editor = Editor(tmp_path_factory.mktemp("profile"), display)
    editor.install()
    return editor


@pytest.fixture
def fresh_editor(display: str, tmp_path: Path) -> Editor:
    """An installed extension that a test may break."""
    editor = Editor(tmp_path / "profile", display)
    editor.install()
    return editor
