"""Pages of drawings."""

from __future__ import annotations

from pathlib import Path

from sheet.made import sheet
from underlit.workflows.build_sheet import BuildSheet


def shared(text: str, name: str = "card.svg", **options: str) -> BuildSheet:
    """What the action gives when only the page is asked for."""
    return sheet(text, name, **{"pages": "share", **options})


def page(text: str, name: str = "card.svg", **options: str) -> str:
    """The page of a drawing."""
    (data,) = shared(text, name, **options).files.values()
    return data.decode()


def write(text: str, folder: Path, name: str = "card.svg", **options: str) -> Path:
    """The page of a drawing as a file."""
    (data,) = shared(text, name, **options).files.values()
    path = folder / (name.removesuffix(".svg").replace("/", "-") + "-share.html")
    path.write_bytes(data)
    return path
