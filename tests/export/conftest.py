"""Cards and a folder for their files."""

from __future__ import annotations

from pathlib import Path

import pytest

from .exported import sample_text


def sample_file(folder: Path, name: str) -> Path:
    path = folder / f"{name}.svg"
    path.write_text(sample_text(name), encoding="utf-8")
    return path


@pytest.fixture
def card(tmp_path: Path) -> Path:
    return sample_file(tmp_path, "lantern")


@pytest.fixture
def garden(tmp_path: Path) -> Path:
    return sample_file(tmp_path, "night-garden")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    path = tmp_path / "files"
    path.mkdir()
    return path
