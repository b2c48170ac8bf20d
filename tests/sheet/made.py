"""Making sheets of drawings, and what an independent reader finds in them."""

from __future__ import annotations

import io
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pdfplumber
from lxml import etree

from kit.run import ROOT
from underlit.profiles import load_profile
from underlit.rules import check_all
from underlit.sheet.book import book_of
from underlit.sheet.content import Book, Page
from underlit.sheet.kinds import KINDS
from underlit.sheet.paper import read_paper
from underlit.sheet.scene import scene_of
from underlit.sheet.steps import steps_of
from underlit.sheet.supplies import supplies_of
from underlit.workflows.build_sheet import BuildSheet, build_sheet, read_choices
from underlit.workflows.validate import case_of
from underlit_host.read_drawing import read_drawing

#: Points of the PDF per mm.
PT = 72.0 / 25.4

CARDS = ("lantern", "lighthouse", "firefly-jar", "night-garden", "street")


def sample(name: str) -> str:
    return (ROOT / "sample_svgs" / f"{name}.svg").read_text(encoding="utf-8")


def drawing_of(text: str, name: str = "card.svg"):
    return read_drawing(etree.fromstring(text.encode()), name)


def case(text: str, profile: str = "hand-laid", settings: dict[str, object] | None = None):
    return case_of(drawing_of(text), load_profile(profile, settings, None))


def sheet(text: str, name: str = "card.svg", *, paper: str = "a4", copies: str = "1",
          pages: str = "all", prices: bytes | None = None,
          profile: str = "hand-laid") -> BuildSheet:  # fmt: skip
    listed = None if prices is None else (prices, "prices.csv")
    choices = read_choices(paper, copies, pages, listed)
    return build_sheet(drawing_of(text, name), load_profile(profile, {}, None), choices)


def pdf_of(made: BuildSheet) -> bytes:
    return next(data for name, data in made.files.items() if name.endswith(".pdf"))


def pages_of(data: bytes) -> Iterator[pdfplumber.page.Page]:
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        yield from pdf.pages


def texts_of(data: bytes) -> list[str]:
    return [page.extract_text() for page in pages_of(data)]


def script(name: str) -> Path:
    return ROOT / "extension" / f"{name}.py"


def book(text: str, *, paper: str = "a4", copies: int = 1) -> Book:
    """The pages of a drawing as data."""
    of = case(text)
    scene, stock = scene_of(of), read_paper(paper)
    supplies = supplies_of(scene, stock, copies)
    return book_of(scene, stock, "card", supplies, check_all(of), tuple(KINDS), "", steps_of(scene))


def titled(made: Book, title: str) -> list[Page]:
    """Its pages of a title, and those that continue them."""
    return [page for page in made.pages if page.title.startswith(title)]


def letters_on_letters(page) -> list[tuple[str, str]]:
    """Pairs of letters whose boxes cover each other by more than 0.15 pt both ways."""
    chars = [char for char in page.chars if char["text"].strip()]
    x0, x1, top, bottom = (
        np.array([char[key] for char in chars]) for key in ("x0", "x1", "top", "bottom")
    )
    across = np.minimum(x1[:, None], x1) - np.maximum(x0[:, None], x0)
    down = np.minimum(bottom[:, None], bottom) - np.maximum(top[:, None], top)
    first, second = np.nonzero(np.triu((across > 0.15) & (down > 0.15), 1))
    return [(chars[i]["text"], chars[k]["text"]) for i, k in zip(first, second, strict=True)]


def off_page(page) -> list[str]:
    """Letters nearer to the edge of the page than 5 mm."""
    near = 5 * PT
    return [
        char["text"]
        for char in page.chars
        if char["x0"] < near or char["x1"] > page.width - near
        or char["top"] < near or char["bottom"] > page.height - near
    ]  # fmt: skip
