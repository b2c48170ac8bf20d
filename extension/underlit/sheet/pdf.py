"""A book as PDF: true size, fonts embedded, the same bytes for the same book."""

from __future__ import annotations

import io
from collections.abc import Sequence
from functools import cache
from typing import Any

from ..language import say, spoken
from ..units import MM_PER_INCH
from .content import Area, Book, Disc, Item, Line, Page, Point, Words
from .fonts import BOLD, REGULAR, clean, metrics

#: Points per mm (1 in = 72 pt).
PT = 72.0 / MM_PER_INCH

_EVEN_ODD = 0


def to_pdf(book: Book, maker: str) -> bytes:
    """The PDF file of a book; `maker` is the name of the program in its properties."""
    from reportlab.pdfgen.canvas import Canvas  # late: only the making sheet needs it

    metrics()
    buffer = io.BytesIO()
    canvas = Canvas(
        buffer, pageCompression=1, invariant=1, lang=spoken(), initialFontName=REGULAR
    )  # else every page names a font that is not embedded
    canvas.setTitle(book.title)
    canvas.setAuthor("")
    canvas.setCreator(maker)
    canvas.setSubject(say("Making sheet of a light-up card"))
    for number, page in enumerate(book.pages, 1):
        canvas.setPageSize((page.width * PT, page.height * PT))
        canvas.bookmarkPage(f"p{number}")
        canvas.addOutlineEntry(clean(page.title), f"p{number}")
        for item in page.items:
            _paint(canvas, page, item)
        canvas.showPage()
    canvas.save()
    return buffer.getvalue()


def _paint(canvas: Any, page: Page, item: Item) -> None:
    if isinstance(item, Words):
        _write(canvas, page, item)
    elif isinstance(item, Line):
        _stroke(canvas, item.colour, item.width)
        canvas.setDash([d * PT for d in item.dash])
        canvas.drawPath(_path(canvas, page, (item.points,), item.closed), stroke=1, fill=0)
        canvas.setDash([])
    elif isinstance(item, Area):
        _inks(canvas, item)
        canvas.setFillAlpha(item.opacity)
        path = _path(canvas, page, item.rings, True)
        canvas.drawPath(
            path, stroke=int(item.stroke is not None), fill=int(item.fill is not None),
            fillMode=_EVEN_ODD,
        )  # fmt: skip
        canvas.setFillAlpha(1.0)
    else:
        _inks(canvas, item)
        x, y = _on(page, item.at)
        canvas.circle(
            x, y, item.radius * PT, stroke=int(item.stroke is not None),
            fill=int(item.fill is not None),
        )  # fmt: skip


@cache
def _colour(text: str) -> Any:
    from reportlab.lib.colors import HexColor  # late: only the making sheet needs it

    return HexColor(text)


def _on(page: Page, point: Point) -> Point:
    return (point[0] * PT, (page.height - point[1]) * PT)


def _write(canvas: Any, page: Page, words: Words) -> None:
    canvas.setFillColor(_colour(words.colour))
    canvas.setFont(BOLD if words.bold else REGULAR, words.size * PT)
    draw = {
        "start": canvas.drawString,
        "middle": canvas.drawCentredString,
        "end": canvas.drawRightString,
    }[words.anchor]
    draw(*_on(page, words.at), clean(words.text))


def _stroke(canvas: Any, colour: str, width: float) -> None:
    canvas.setStrokeColor(_colour(colour))
    canvas.setLineWidth(width * PT)


def _inks(canvas: Any, item: Area | Disc) -> None:
    if item.fill is not None:
        canvas.setFillColor(_colour(item.fill))
    if item.stroke is not None:
        _stroke(canvas, item.stroke, item.width)


def _path(canvas: Any, page: Page, rings: Sequence[Sequence[Point]], closed: bool) -> Any:
    path = canvas.beginPath()
    for ring in rings:
        path.moveTo(*_on(page, ring[0]))
        for point in ring[1:]:
            path.lineTo(*_on(page, point))
        if closed:
            path.close()
    return path
