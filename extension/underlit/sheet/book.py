"""The whole making sheet of a scene as pages."""

from __future__ import annotations

from collections.abc import Sequence

from ..colours.palette import Palette
from ..language import say, say_count
from ..model.finding import Finding
from .colour_pages import colour_pages
from .content import Book
from .diagram import diagram_page
from .first_page import first_page
from .frame import Running, bound
from .notes import lacking, note_pages
from .paper import Paper as Stock
from .scene import Scene
from .step_pages import step_pages
from .steps import Step
from .supplies import Supplies
from .supply_pages import supply_pages
from .true_size import MOST_TILES, printed, tile_count, too_large, true_size_pages


def book_of(
    scene: Scene,
    stock: Stock,
    name: str,
    supplies: Supplies,
    findings: Sequence[Finding],
    kinds: Sequence[str],
    footer: str,
    steps: Sequence[Step],
    palette: Palette | None = None,
) -> Book:
    """All pages: first page, true size, circuit, steps, supplies, colours, notes."""
    complete = bool(scene.lights and scene.cells)
    remarks = [text for text in (lacking(scene), _size_remark(scene, stock, kinds)) if text]
    chosen = printed(scene, stock, kinds)
    rest = [
        *true_size_pages(scene, stock, chosen),
        diagram_page(scene, stock, findings),
        *step_pages(scene, stock, steps),
        *supply_pages(scene, supplies, stock),
        *(colour_pages(palette, stock) if palette else ()),
        *note_pages(scene, stock, findings, complete),
    ]
    drafts = [first_page(scene, stock, name, supplies, chosen, rest, remarks), *rest]
    title = say("{card}: making sheet", card=name)
    running = Running(title, footer, not_ready_words(findings))
    return Book(title, bound(drafts, stock, running))


def not_ready_words(findings: Sequence[Finding]) -> str | None:
    """NOT READY with the first fault, None without a stop."""
    stops = [finding for finding in findings if finding.severity == "stop"]
    if not stops:
        return None
    return say_count(
        "NOT READY: {number} fault to mend first. {fault}",
        "NOT READY: {number} faults to mend first. {fault}",
        len(stops),
        fault=stops[0].message,
    )


def _size_remark(scene: Scene, stock: Stock, kinds: Sequence[str]) -> str | None:
    count = tile_count(scene, stock)
    if not kinds or count <= MOST_TILES:
        return None
    return say(
        "This card of {size} would take {count} pages at true size; they are left out. Choose "
        "larger paper.",
        size=too_large(scene),
        count=count,
    )
