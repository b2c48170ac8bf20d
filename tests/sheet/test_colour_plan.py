"""The colour plan on the making sheet: table, pictures and report say the same."""

from __future__ import annotations

import re
from collections import Counter

import pytest

from underlit.errors import UnknownChoice
from underlit.profiles import load_profile
from underlit.sheet.colour_pages import colour_pages
from underlit.sheet.content import Area
from underlit.sheet.paper import read_paper
from underlit.sheet.scene import scene_of
from underlit.sheet.steps import steps_of
from underlit.workflows.build_sheet import BuildSheet, build_sheet, read_choices
from underlit.workflows.colouring import palette_for, read_wanted

from .made import PT, case, drawing_of, pages_of, pdf_of, sample, texts_of
from .test_pdf_pages import letters_on_letters

COLOURS = "red, kraft, cream, navy"


def made_of(name: str, colours: str, refill: str = "unlit", copies: str = "1") -> BuildSheet:
    choices = read_choices("a4", copies, "none", None, colours, refill)
    return build_sheet(drawing_of(sample(name)), load_profile("hand-laid", {}, None), choices)


def plan_in(made: BuildSheet) -> dict:
    return made.report["supplies"]["colours"]


def rows_in(made: BuildSheet, colours: str) -> list[list[str]]:
    """Rows of the printed table: front and pieces, by the words of an independent reader."""
    names = "|".join(word.strip() for word in colours.split(","))
    text = "\n".join(t for t in texts_of(pdf_of(made)) if "Colour plan" in t[:200])
    rows = re.findall(rf"^\d+((?: \d (?:{names}))+)$", text, re.MULTILINE)
    return [re.findall(rf"\d ({names})", row) for row in rows]


def test_the_printed_table_is_that_of_the_report() -> None:
    made = made_of("night-garden", COLOURS)
    plan = plan_in(made)
    assert [p["name"] for p in plan["places"]] == ["bird", "aster-heart", "daisy-heart"]
    assert rows_in(made, COLOURS) == [[c["front"], *c["pieces"]] for c in plan["cards"]]
    assert len(plan["cards"]) == 4
    assert "Colour plan: 4 cards from 4 colours, all different." in made.message
    for column in zip(*[[c["front"], *c["pieces"]] for c in plan["cards"]], strict=True):
        assert sorted(column) == ["cream", "kraft", "navy", "red"]


def test_every_card_is_pictured_in_its_colours() -> None:
    of = case(sample("night-garden"))
    palette = palette_for(of, scene_of(of), read_wanted(COLOURS, "all"), 8)
    drafts = colour_pages(palette, read_paper("a4"))
    fills = Counter(i.fill for d in drafts for i in d.items if isinstance(i, Area))
    places = len(palette.fronts.places)
    assert places == 17
    for colour in palette.colours:
        chip, fronts, pieces = 1, 2, 2 * places
        assert fills[colour.paint] == chip + fronts + pieces


@pytest.mark.parametrize(
    ("copies", "fronts", "cards", "words"),
    [
        ("1", 1, 3, "You asked for 1 card; whole sets of colours make 3."),
        ("3", 1, 3, None),
        ("14", 5, 15, "You asked for 14 cards; whole sets of colours make 15."),
    ],
)
def test_a_batch_takes_whole_sets(copies: str, fronts: int, cards: int, words: str | None) -> None:
    made = made_of("street", "red, yellow, blue", "all", copies)
    plan = plan_in(made)
    assert (plan["fronts_of_each"], len(plan["cards"])) == (fronts, cards)
    assert len({(c["front"], *c["pieces"]) for c in plan["cards"]}) == cards
    text = "\n".join(texts_of(pdf_of(made)))
    assert f"Cut {fronts} front{'s' if fronts > 1 else ''} from every colour" in text
    assert ("You asked for" in text) is (words is not None)
    assert words is None or words in " ".join(text.split())


def test_when_there_are_no_more_cards_it_says_so() -> None:
    made = made_of("night-garden", "red, blue", "pieces", "10")
    assert len(plan_in(made)["cards"]) == plan_in(made)["possible"] == 2
    text = " ".join("\n".join(texts_of(pdf_of(made))).split())
    assert "all the different cards that 2 colours give here; you asked for 10." in text


@pytest.mark.parametrize(
    ("name", "refill", "words"),
    [
        ("firefly-jar", "unlit", "a light shines through every window that is large enough"),
        ("firefly-jar", "pieces", "this front has no loose piece"),
    ],
)
def test_nothing_to_fill_is_said_and_the_rest_is_printed(
    name: str, refill: str, words: str
) -> None:
    made = made_of(name, COLOURS, refill)
    assert plan_in(made) is None
    assert words in made.message
    texts = texts_of(pdf_of(made))
    assert len(texts) == made.report["supplies"]["pages"]
    assert not any("Colour plan" in t for t in texts)


def test_without_colours_there_is_no_plan() -> None:
    made = made_of("night-garden", "")
    assert plan_in(made) is None
    assert "olour plan" not in made.message


@pytest.mark.parametrize(
    ("colours", "refill", "words"),
    [
        ("red", "unlit", "A colour plan takes 2 to 20 colours"),
        (COLOURS, "some", "--refill is unlit,"),
    ],
)
def test_what_cannot_be_is_refused(colours: str, refill: str, words: str) -> None:
    with pytest.raises(UnknownChoice, match=words):
        read_choices("a4", "1", "none", None, colours, refill)


def test_a_plan_needs_a_sheet_to_stand_on() -> None:
    choices = read_choices("a4", "1", "share", None, COLOURS)
    drawing, profile = drawing_of(sample("night-garden")), load_profile("hand-laid", {}, None)
    made = build_sheet(drawing, profile, choices)
    assert "No colour plan: it stands on the making sheet" in made.message


@pytest.mark.parametrize("name", ["night-garden", "lantern"])
def test_no_word_of_a_plan_lies_on_another(name: str) -> None:
    """Long names of colours, many places, the smallest paper."""
    colours = "red, light blue, kraft, mustard yellow with speckles of gold"
    choices = read_choices("190x240", "9", "none", None, colours, "all")
    made = build_sheet(drawing_of(sample(name)), load_profile("hand-laid", {}, None), choices)
    pages = [page for page in pages_of(pdf_of(made)) if "Colour plan" in page.extract_text()]
    assert len(pages) > 1
    for page in pages:
        assert letters_on_letters(page) == []
        assert max(char["x1"] for char in page.chars) <= page.width - 5 * PT


def test_a_long_table_begins_each_page_with_its_head() -> None:
    made = made_of("street", "red, yellow, blue", "all", "90")
    pages = [t for t in texts_of(pdf_of(made)) if "Colour plan" in t[:200]]
    tables = [t for t in pages if re.search(r"^\d+ \d (red|yellow|blue)( \d)+$", t, re.MULTILINE)]
    assert len(tables) > 1
    assert all("card front A B C D" in t for t in tables)


@pytest.mark.parametrize(
    ("colours", "copies", "sheets"),
    [("red, kraft, cream", "5", 3), (COLOURS, "20", 8), (COLOURS, "16", 4)],
)
def test_no_sheet_is_shared_by_two_colours(colours: str, copies: str, sheets: int) -> None:
    """A front of 105 x 148 mm goes four times on A4: 2 of each of 3 colours take 3 sheets."""
    supplies = made_of("lantern", colours, copies=copies).report["supplies"]
    (front,) = (line for line in supplies["items"] if line["item"] == "front")
    plan = supplies["colours"]
    assert front["total"] == sheets
    assert front["what"].endswith(f"4 from a sheet, in {len(plan['colours'])} colours")
    assert front["total"] == len(plan["colours"]) * -(-plan["fronts_of_each"] // 4)


@pytest.mark.parametrize(("colours", "times"), [(COLOURS, 1), ("", 0)])
def test_the_steps_say_when_the_pieces_are_glued_in(colours: str, times: int) -> None:
    text = "\n".join(texts_of(pdf_of(made_of("night-garden", colours))))
    assert text.count("Glue in the coloured pieces") == times


def test_pieces_of_other_colours_take_the_place_of_those_that_came_out() -> None:
    scene = scene_of(case(sample("night-garden")))
    plain, filled = (
        " ".join(word for step in steps_of(scene, letters) for word in (step.title, *step.words))
        for letters in ("", "ABC")
    )
    assert "Glue 3 pieces back into the windows, as drawn." in plain
    assert "back into the windows" not in filled
    assert filled.index("Glue in the coloured pieces") < filled.index("Put the front on")


def test_its_words_name_the_places() -> None:
    scene = scene_of(case(sample("night-garden")))
    few, many = (
        next(s for s in steps_of(scene, letters) if s.show == "pieces").words[0]
        for letters in ("ABC", "ABCDEFGHIJ")
    )
    assert few.startswith("3 places of this front take pieces of other colours: A, B and C.")
    assert many.startswith("10 places of this front take pieces of other colours: A to J.")


@pytest.mark.parametrize(("pages", "told"), [("none,share", True), ("share", False)])
def test_the_page_to_share_has_that_step_where_the_plan_is_printed(pages: str, told: bool) -> None:
    choices = read_choices("a4", "1", pages, None, COLOURS, "unlit")
    profile = load_profile("hand-laid", {}, None)
    made = build_sheet(drawing_of(sample("night-garden")), profile, choices)
    page = made.files["card-share.html"]
    assert (b"Glue in the coloured pieces" in page) is told
