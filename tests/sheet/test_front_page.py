"""The front at true size: lines to cut, numbers, the spot to press."""

from __future__ import annotations

import pytest
import shapely

from underlit.sheet import look
from underlit.sheet.content import Disc, Line, Page, Words

from .made import CARDS, PT, book, case, pages_of, pdf_of, sample, sheet, texts_of, titled

TITLE = "The front, to cut by hand"


def cut_lines(page: Page) -> list[shapely.Polygon]:
    """Closed solid outlines in ink: what is cut."""
    return [
        shapely.Polygon(item.points)
        for item in page.items
        if isinstance(item, Line) and item.closed and not item.dash and item.colour == look.INK
    ]


@pytest.mark.parametrize("name", CARDS)
@pytest.mark.parametrize("side", ["front", "back"])
def test_front_and_windows_are_there_at_true_size_and_never_mirrored(name: str, side: str) -> None:
    text = sample(name).replace("<svg", f'<svg underlit:side="{side}"', 1)
    card = case(text).card
    (page,) = titled(book(text), TITLE)
    holes = shapely.union_all([o.clear for o in card.openings])
    front = shapely.difference(shapely.union_all([p.outline for p in card.panels]), holes)
    rings = cut_lines(page)
    assert len(rings) == len(shapely.get_parts(shapely.boundary(front)))
    outer = max(rings, key=lambda ring: ring.area)
    dx, dy = outer.bounds[0] - front.bounds[0], outer.bounds[1] - front.bounds[1]
    drawn = shapely.union_all([ring.boundary for ring in rings])
    there = shapely.transform(drawn, lambda points: points - (dx, dy))
    assert there.hausdorff_distance(front.boundary) < 0.06
    numbers = {item.text for item in page.items if isinstance(item, Words) and item.size == 2.4}
    assert numbers == {str(o.number) for o in card.openings}
    rings = [i for i in page.items if isinstance(i, Disc) and i.stroke == look.ALARM]
    assert [(i.at[0] - dx, i.at[1] - dy) for i in rings] == [
        pytest.approx(card.cells[0].at, abs=0.02)
    ]


def test_a_reader_of_the_pdf_measures_the_front() -> None:
    """The street's front in the PDF, by the boxes that another library finds."""
    text = sample("street")
    left, top, right, bottom = case(text).card.panels[0].outline.bounds
    made = pdf_of(sheet(text, pages="front"))
    page = next(p for p in pages_of(made) if "Tape this page onto your front" in p.extract_text())
    boxes = [(float(c["width"]) / PT, float(c["height"]) / PT) for c in page.curves]
    assert max(boxes) == pytest.approx((right - left, bottom - top), abs=0.1)


def test_words_name_only_what_is_there() -> None:
    more = (
        '<path d="M 20 20 H 60" style="fill:none"/>'
        '<rect x="70" y="125" width="20" height="8" underlit:glow="through"/>'
    )
    head = '<g id="layer-die-cut" inkscape:groupmode="layer" inkscape:label="Die cut">'
    plain, marked = sample("lantern"), sample("lantern").replace(head, head + more, 1)
    for text, there in ((plain, False), (marked, True)):
        (page,) = titled(book(text), TITLE)
        words = " ".join(i.text for i in page.items if isinstance(i, Words))
        assert "Red ring: press the flap onto the battery." in words
        assert ("Dotted: score only." in words) is there
        assert ("Dashed: leave uncut, light shines through." in words) is there
        dashed = [i for i in page.items if isinstance(i, Line) and i.dash]
        assert len(dashed) == (2 if there else 0)


def test_without_a_front_there_is_no_such_page() -> None:
    from .test_sheet_content import plain

    made = sheet(plain(100.0, 100.0), pages="front")
    assert not any(TITLE in t for t in texts_of(pdf_of(made)))
