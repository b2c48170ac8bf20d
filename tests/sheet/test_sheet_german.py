"""The making sheet in German: the same card on the same lines, in words that fit."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from lxml import etree

from kit.german import english_in, in_german
from underlit.sheet import look
from underlit.sheet.content import Area, Book, Page, Words
from underlit.sheet.pdf import to_pdf
from underlit.sheet.prices import read_prices, to_csv
from underlit.sheet.scene import scene_of
from underlit.sheet.stamp import stamp, stamped
from underlit.sheet.supplies import figures, supplies_of
from underlit.sheet.svg import to_svg

from .made import CARDS, book, case, letters_on_letters, off_page, pages_of, read_paper, sample

#: Cards in the sizes of paper that leave words least room, and faults with words of their own.
BOOKS = [
    *((card, "a4") for card in CARDS),
    ("street", "190x240"),
    ("lighthouse", "letter"),
    ("faulty/polarities-touch", "letter"),
    ("faulty/power-missing", "190x240"),
    ("faulty/joint-not-conducting", "letter"),
    ("faulty/always-on", "letter"),
    ("faulty/loose-piece", "letter"),
]

#: Titles of pages at true size, in both languages.
TRUE_SIZE = {
    "Print on the back sheet": "Auf das Rückblatt drucken",
    "Trace through": "Durchpausen",
    "Window page: MIRRORED": "Fensterseite: GESPIEGELT",
    "Stencil to prick through": "Schablone zum Durchstechen",
    "The front, to cut by hand": "Die Vorderseite, von Hand zu schneiden",
}


@pytest.fixture(scope="module", params=BOOKS, ids="-".join)
def both(request, catalogs: Path) -> Iterator[tuple[Book, Book]]:
    """The same sheet in English and in German."""
    name, paper = request.param
    english = book(sample(name), paper=paper, copies=3)
    with in_german(catalogs):
        yield english, book(sample(name), paper=paper, copies=3)


def words_of(made: Book) -> list[str]:
    return [item.text for page in made.pages for item in page.items if isinstance(item, Words)]


def drawn_on(page: Page) -> list[str]:
    """All but words, the frame round those that say what is not ready, and the stamp of that."""
    return [
        repr(item)
        for item in page.items
        if not isinstance(item, Words)
        and not (isinstance(item, Area) and look.ALARM in (item.fill, item.stroke))
    ]


def test_no_english_is_left(both: tuple[Book, Book]) -> None:
    english, german = both
    assert english_in(" ".join(words_of(english)))
    assert english_in(" ".join([german.title, *words_of(german)])) == []
    assert english_in(" ".join(page.title for page in german.pages)) == []


def test_figures_have_a_comma(both: tuple[Book, Book]) -> None:
    for text in words_of(both[1]):
        assert not re.search(r"\d\.\d", text), text


def test_all_words_lie_inside_the_page_and_none_on_another(both: tuple[Book, Book]) -> None:
    seen = 0
    for page in pages_of(to_pdf(both[1], "test")):
        assert off_page(page) == []
        assert letters_on_letters(page) == []
        seen += len(page.chars)
    assert seen > 2000


def test_words_of_true_size_pages_end_above_the_plan(both: tuple[Book, Book]) -> None:
    """The plan begins below the same three lines of words as in English."""
    for page in both[1].pages:
        if page.title.split(" (")[0] in TRUE_SIZE.values():
            running, heading, *words = [i for i in page.items if isinstance(i, Words)][1:]
            block = [w for w in words if w.size == 2.7 and w.at[0] == heading.at[0]]
            assert running.at[1] < heading.at[1]
            assert block[-1].at[1] <= 12.0 + 7.0 + 21.0


def test_the_plan_is_the_same(both: tuple[Book, Book]) -> None:
    """True-size pages hold the same lines at the same places; only words differ."""
    english, german = (
        [page for page in made.pages if page.title.split(" (")[0] in titles]
        for made, titles in zip(both, (TRUE_SIZE, TRUE_SIZE.values()), strict=True)
    )
    assert len(english) == len(german) >= 4
    for one, other in zip(english, german, strict=True):
        assert TRUE_SIZE[one.title.split(" (")[0]] == other.title.split(" (")[0]
        assert (one.width, one.height) == (other.width, other.height)
        assert drawn_on(one) == drawn_on(other)


def test_svg_says_what_the_pages_say(both: tuple[Book, Book]) -> None:
    root = etree.fromstring(to_svg(both[1]))
    said = ["".join(text.itertext()) for text in root.iter("{*}text")]
    assert len(said) == len(words_of(both[1]))
    labels = [
        g.get("{http://www.inkscape.org/namespaces/inkscape}label") for g in root.iterfind("{*}g")
    ]
    assert labels[0] == "Seite 1: Erste Seite"


def test_pdf_names_its_language(both: tuple[Book, Book]) -> None:
    assert b"/Lang (de)" in to_pdf(both[1], "test")


@pytest.mark.parametrize("name", CARDS)
def test_supplies_keep_their_keys_and_figures(name: str, catalogs: Path) -> None:
    """Price lists are found again by the same names of things, whatever language is spoken."""
    stock = read_paper("a4")
    scene = scene_of(case(sample(name)))
    english = supplies_of(scene, stock, 12)
    with in_german(catalogs):
        german = supplies_of(scene, stock, 12)
        listed = to_csv(german)
        assert read_prices(listed, "supplies.csv") == {}
    assert [line.item for line in german.lines] == [line.item for line in english.lines]
    wanted, found = figures(english), figures(german)
    for one in (*wanted["items"], *found["items"]):  # type: ignore[misc]
        del one["what"], one["unit"]
    assert found == wanted
    assert "Stück" in listed.decode("utf-8-sig")


def test_the_stamp_is_drawn_in_german(german: None) -> None:
    assert stamped() == "NICHT FERTIG"
    (area,) = stamp(210.0, 297.0)
    assert isinstance(area, Area)
    assert len(area.rings) >= 11, "each letter has an outline"
    assert all(0.0 < x < 210.0 and 0.0 < y < 297.0 for ring in area.rings for x, y in ring)


def test_a_language_of_other_letters_gets_the_english_stamp(monkeypatch) -> None:
    monkeypatch.setattr("underlit.sheet.stamp.say", lambda text: "PAS PRÊT")
    assert stamped() == "NOT READY"
