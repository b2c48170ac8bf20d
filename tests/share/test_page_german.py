"""The page in German: the same card, steps and figures."""

from __future__ import annotations

from pathlib import Path

import pytest
from lxml import html

from kit.german import english_in, in_german
from sheet.made import sample
from underlit.share import words

from .conftest import GERMAN
from .made import page

#: What the page itself says in English, but for single words and what has words filled in.
SAID = [
    text
    for name, text in vars(words).items()
    if name.isupper() and isinstance(text, str) and text.count(" ") > 1 and "{" not in text
]

#: What has no words in it.
KEPT = (
    *("//*[@class='body']//@d", "//*[local-name()='image']/@href", "//@data-new", "//@data-own"),
    *("//@viewbox", "//@id", "//@class", "//style/text()", "//script/text()"),
)


def parsed(text: str) -> html.HtmlElement:
    return html.document_fromstring(text)


def text_of(root: html.HtmlElement) -> str:
    """All that is read, without the script."""
    texts = root.xpath("body//text()[not(parent::script)]")
    return " ".join(" ".join(texts).split())


@pytest.mark.parametrize("name", GERMAN)
class TestText:
    def test_it_is_said_to_be_german(self, german_pages: dict[str, Path], name: str) -> None:
        root = parsed(german_pages[name].read_text(encoding="utf-8"))
        assert root.get("lang") == "de"
        assert SAID
        said = text_of(root)
        assert [text for text in SAID if text in said] == []
        assert "So wird sie gemacht" in said
        assert english_in(said) == []
        for label in root.xpath("//@aria-label | //@data-lit | //@data-dark | //title/text()"):
            assert english_in(label) == []
        assert "Schritt 1 von" in said

    def test_all_but_the_words_is_the_same(self, german_pages: dict[str, Path], name: str) -> None:
        english = parsed(page(sample(name), f"{name}.svg"))
        german = parsed(german_pages[name].read_text(encoding="utf-8"))
        for what in KEPT:
            assert german.xpath(what) == english.xpath(what) != [], what
        cells = [root.xpath("//td[@class='figure']/text()") for root in (english, german)]
        assert [cell.replace(",", ".") for cell in cells[1]] == cells[0]


@pytest.mark.parametrize("fault", ["polarities-touch", "light-unfed", "tape-shows"])
def test_what_is_wrong_is_said_in_german(catalogs: Path, fault: str) -> None:
    text = sample(f"faulty/{fault}")
    with in_german(catalogs):
        root = parsed(page(text))
    english = parsed(page(text))
    assert english_in(text_of(root)) == []
    for what in ("//ol[@class='stop']/li", "//ul[@class='caution']/li", "//*[@class='stamp']"):
        assert len(root.xpath(what)) == len(english.xpath(what))
    stamps = {node.text for node in root.xpath("//*[@class='stamp']")}
    assert stamps == ({"Nicht fertig"} if english.xpath("//*[@class='banner']") else set())
