"""The printed pages, read back by a reader that knows nothing of the tool."""

from __future__ import annotations

import io
import re

import pdfplumber
import pytest
from pdfminer.pdftypes import resolve1

from .made import (
    CARDS,
    PT,
    letters_on_letters,
    off_page,
    pages_of,
    pdf_of,
    sample,
    sheet,
    texts_of,
)

NOT_READY = ("polarities-touch", "light-reversed", "power-missing", "layer-missing")


@pytest.fixture(scope="module", params=CARDS)
def card(request):
    return request.param, sheet(sample(request.param), f"{request.param}.svg", copies="12")


@pytest.mark.parametrize(
    ("name", "paper"),
    [*((card, "a4") for card in CARDS), ("street", "letter"),
        ("street", "190x240"), ("lighthouse", "letter"),
     *((f"faulty/{one}", "letter") for one in NOT_READY)],
)  # fmt: skip
def test_all_words_lie_inside_the_page_and_none_on_another(name: str, paper: str) -> None:
    seen = 0
    for page in pages_of(pdf_of(sheet(sample(name), paper=paper, copies="3"))):
        assert off_page(page) == []
        assert letters_on_letters(page) == []
        seen += len(page.chars)
    assert seen > 2000


def test_words_on_words_would_be_seen() -> None:
    """The check above can fail: one line twice, shifted a little."""
    from underlit.sheet.content import Book, Page, Words
    from underlit.sheet.pdf import to_pdf

    two = (Words((20.0, 30.0), "plus", 4.0), Words((22.0, 31.0), "minus", 4.0))
    data = to_pdf(Book("x", (Page(210.0, 297.0, "x", two),)), "test")
    assert letters_on_letters(next(pages_of(data))) != []


def rules(page) -> list[tuple[float, bool]]:
    """Lengths (mm) of straight lines of 50 or 100 mm that carry ticks, and whether upright."""
    found = []
    for line in page.lines:
        wide, high = line["x1"] - line["x0"], line["bottom"] - line["top"]
        long = max(wide, high)
        if min(wide, high) < 0.01 and min(abs(long / PT - n) for n in (50.0, 100.0)) < 0.2:
            found.append((long / PT, high > wide))
    return found


def test_check_rules_are_true_both_ways_on_every_true_size_page(card) -> None:
    _, made = card
    titles = ("Print on the back sheet", "Trace through", "MIRRORED", "Stencil")
    seen = 0
    for page in pages_of(pdf_of(made)):
        text = page.extract_text().splitlines()[1]
        if not any(title in text for title in titles):
            continue
        seen += 1
        found = rules(page)
        for upright in (False, True):
            for length in (50.0, 100.0):
                assert any(up is upright and abs(long - length) <= 0.1 for long, up in found), (
                    text,
                    upright,
                    length,
                )
    assert seen == 4


def test_the_plan_is_true_size(card) -> None:
    """The corner marks of the back sheet stand as far apart as the sheet is wide and high."""
    name, made = card
    base = {
        "lantern": (103.0, 146.0), "lighthouse": (106.0, 170.0), "firefly-jar": (103.0, 146.0),
        "night-garden": (146.0, 146.0), "street": (206.0, 75.5),
    }  # fmt: skip
    page = next(p for p in pages_of(pdf_of(made)) if "Print on" in p.extract_text()[:120])
    short = [ln for ln in page.lines if abs(max(ln["width"], ln["height"]) / PT - 5.0) < 0.01]
    upright = sorted({round(ln["x0"] / PT, 2) for ln in short if ln["height"] > ln["width"]})
    level = sorted({round(ln["top"] / PT, 2) for ln in short if ln["width"] > ln["height"]})
    assert upright[-1] - upright[0] == pytest.approx(base[name][0], abs=0.1)
    assert level[-1] - level[0] == pytest.approx(base[name][1], abs=0.1)


def test_fonts_are_embedded(card) -> None:
    _, made = card
    with pdfplumber.open(io.BytesIO(pdf_of(made))) as pdf:
        used = {char["fontname"] for page in pdf.pages for char in page.chars}
        fonts = [
            resolve1(font)
            for page in pdf.pages
            for font in resolve1(page.page_obj.resources["Font"]).values()
        ]
        embedded = {
            font["BaseFont"].name
            for font in fonts
            if "FontDescriptor" in font and "FontFile2" in resolve1(font["FontDescriptor"])
        }
    assert len(used) == 2
    assert used == embedded == {font["BaseFont"].name for font in fonts}


def test_strips_read_back_are_those_of_the_report(card) -> None:
    _, made = card
    text = "\n".join(texts_of(pdf_of(made)))
    strips = [s for net in made.report["nets"] for s in net["strips"]]
    tape = made.report["supplies"]["tape"]
    listed = [s for use in tape for s in use["strips"]] + made.report["supplies"]["shapes"]
    assert sorted(s["strip"] for s in listed) == sorted(strips)
    for one in listed:
        printed = re.findall(rf"^{one['label']} ([\d.]+) ", text, re.MULTILINE)
        assert printed, one
        assert all(abs(float(p) - one["length"]) <= 0.05 + 1e-9 for p in printed)
    whole = re.search(r"strips of tape, ([\d.]+) mm together", text)
    assert float(whole[1]) == pytest.approx(made.report["tape"]["length"], abs=0.051)
    assert f"{made.report['tape']['strips']} strips of tape" in text
    lengths = {s["strip"]: s["length"] for s in listed}
    for net in made.report["nets"]:
        assert sum(lengths[s] for s in net["strips"]) == pytest.approx(net["length"], abs=0.002)


def test_lights_read_back_are_those_of_the_report(card) -> None:
    _, made = card
    count = len(made.report["lights"])
    text = "\n".join(texts_of(pdf_of(made)))
    numbers = {int(n) for n in re.findall(r"^.*?Light (\d+): plus", text, re.MULTILINE)}
    numbers |= {int(n) for n in re.findall(r"Light (\d+): plus", text)}
    assert numbers == set(range(1, count + 1))
    assert re.search(rf"Light, warm white piece {count} {12 * count}\b", text)


@pytest.mark.parametrize("name", NOT_READY)
def test_a_card_with_stops_says_so_on_every_page(name: str) -> None:
    made = sheet(sample(f"faulty/{name}"))
    texts = texts_of(pdf_of(made))
    assert made.report["verdict"] == "not-ready"
    assert len(texts) > 5
    assert all("NOT READY" in text for text in texts)


def test_a_ready_card_does_not(card) -> None:
    _, made = card
    assert not any("NOT READY" in text for text in texts_of(pdf_of(made)))


def test_same_drawing_same_bytes() -> None:
    first, second = sheet(sample("lantern")), sheet(sample("lantern"))
    assert dict(first.files) == dict(second.files)


@pytest.mark.parametrize(
    ("name", "card", "drawing"),
    [
        ("誕生日-lantern", "lantern", "lantern.svg"),
        ("誕生日 🎂", "Your card", "your drawing"),
        ("Świąteczna kartka", "Swiateczna kartka", "Swiateczna kartka.svg"),
        ("2024-12", "2024-12", "2024-12.svg"),
    ],
)
def test_a_name_is_printed_by_what_the_fonts_have_of_it(name: str, card: str, drawing: str) -> None:
    made = sheet(sample("lantern"), f"{name}.svg", pages="none")
    assert f"{name}-build-sheet.pdf" in made.files
    for text in texts_of(pdf_of(made)):
        assert f"{card}: making sheet" in text
        assert f"from {drawing}." in text
        assert "?" not in text.partition("\n")[0]
