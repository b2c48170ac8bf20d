"""Steps, working view, tiling, look: what is on the pages before they are printed."""

from __future__ import annotations

import html
import re
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from lxml import etree

from underlit.markup import signs
from underlit.model.case import Case
from underlit.sheet import look
from underlit.sheet.far_light import far_light
from underlit.sheet.kinds import KINDS
from underlit.sheet.labels import text_box
from underlit.sheet.paper import read_paper
from underlit.sheet.pricks import prick_points
from underlit.sheet.scene import Scene, scene_of
from underlit.sheet.steps import steps_of
from underlit.sheet.supplies import cut_length
from underlit.sheet.tiling import OVERLAP, tiles_of
from underlit.sheet.true_size import true_size_pages
from underlit.sheet.wording import tape_words

from .made import CARDS, case, pdf_of, sample, sheet, texts_of

LIGHT = (
    '<g id="{id}" underlit:part="light" underlit:type="warm-white" transform="translate({x},{y})">'
    '<rect x="-6" y="-2.5" width="12" height="5" underlit:feature="body"/>'
    '<rect x="2.5" y="-1.5" width="3" height="3" underlit:feature="positive-pad"/>'
    '<rect x="-5.5" y="-1.5" width="3" height="3" underlit:feature="negative-pad"/>'
    '<circle r="1.5" underlit:feature="lens"/></g>'
)


def plain(width: float, height: float, *, lights: str = "", tape: str = "") -> str:
    """A back sheet of a size with what is given on it."""
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" xmlns:underlit="urn:underlit:card:1" '
        f'width="{width}mm" height="{height}mm" viewBox="0 0 {width} {height}">'
        f'<g underlit:role="base"><rect id="b" x="5" y="5" width="{width - 10}" '
        f'height="{height - 10}"/></g><g underlit:role="lights">{lights}</g>'
        f'<g underlit:role="tape">{tape}</g></svg>'
    )


def test_colours_are_those_of_the_drawing() -> None:
    assert (look.PLUS, look.MINUS) == (signs.PLUS, signs.MINUS)
    assert (look.ON_PLUS, look.ON_MINUS) == (signs.ON_PLUS, signs.ON_MINUS)


@pytest.mark.parametrize("name", CARDS)
def test_each_thing_is_new_in_one_step_and_the_battery_comes_last(name: str) -> None:
    scene = scene_of(case(sample(name)))
    steps = steps_of(scene)
    new = [thing for step in steps for thing in step.new]
    for tape in scene.tapes:
        assert new.count(tape) == 1
    for light in scene.lights:
        assert new.count(light) == 1
    for step in steps:
        assert not (set(map(id, step.new)) - {id(c) for c in scene.cells}) & set(map(id, step.done))
    titles = [step.title for step in steps]
    assert titles.index("Test the tape with a loose light") < titles.index("Test all lights")
    assert titles.index("Test all lights") < next(
        i for i, t in enumerate(titles) if t.startswith("Set the battery")
    )
    assert titles[-1] == "Test the finished card"


def test_words_of_a_light_name_the_tapes_under_its_feet() -> None:
    words = "\n".join(
        w for step in steps_of(scene_of(case(sample("night-garden")))) for w in step.words
    )
    for number in range(1, 9):
        assert f"Light {number}: plus foot on P1, minus foot on M1." in words


def test_the_far_light_lies_at_the_other_end_of_the_tape() -> None:
    """The lighthouse's rails run straight up from the battery: the lamp on top is the last."""
    far = far_light(scene_of(case(sample("lighthouse"))))
    assert far is not None
    assert far.id == "light-lamp"


def plain_foil(joint: str) -> Case:
    """The night garden on foil whose glue does not conduct, its crossing joined so."""
    text = sample("night-garden").replace(
        'id="minus-crossing"', f'id="minus-crossing" underlit:joint="{joint}"'
    )
    return case(text, settings={"tape": {"adhesive-conducts": False}})


def all_words(scene: Scene) -> str:
    return "\n".join(word for step in steps_of(scene) for word in step.words)


def test_plain_glue_asks_for_a_folded_end() -> None:
    folded = all_words(scene_of(plain_foil("folded-end")))
    glued = all_words(scene_of(case(sample("night-garden"))))
    assert "fold its end under" in folded
    assert "fold its end under" not in glued
    assert "press hard" in glued


@pytest.mark.parametrize(("joint", "ends", "cut"), [
    ("folded-end", 1, 45), ("soldered", 0, 40)
])  # fmt: skip
def test_a_folded_end_takes_one_width_of_tape(joint: str, ends: int, cut: int) -> None:
    """By hand: 40 mm are drawn, and 5 mm of it lie on the other strip; the fold covers those."""
    scene = scene_of(plain_foil(joint))
    tape = next(t for t in scene.tapes if t.name == "minus-crossing")
    assert (tape.folds, tape.ends, cut_length(tape)) == (0, ends, cut)
    told = "40 mm long, 5 mm wide. Cut 45 mm (1 folded end takes 5 mm)."
    words = all_words(scene)
    assert (told in words) == ("fold its end under" in words) == (joint == "folded-end")
    assert ("solder the two" in words) == (joint == "soldered")


def test_folded_corners_and_ends_are_told_together() -> None:
    scene = scene_of(plain_foil("folded-end"))
    tape = replace(next(t for t in scene.tapes if t.name == "minus-crossing"), folds=2)
    assert tape_words(tape).endswith("Cut 55 mm (folded corners and ends take 15 mm).")


def test_a_circuit_on_the_back_is_shown_from_there() -> None:
    front = scene_of(case(sample("lantern")))
    back = scene_of(
        case(
            sample("lantern").replace(
                "underlit:profile=", 'underlit:side="back" underlit:profile=', 1
            )
        )
    )
    assert back.back
    assert not front.back
    middle = (front.base.bounds[0] + front.base.bounds[2]) / 2.0
    assert back.lights[0].at[0] == pytest.approx(2.0 * middle - front.lights[0].at[0])
    assert [t.length for t in back.tapes] == [t.length for t in front.tapes]
    made = sheet(
        sample("lantern").replace("underlit:profile=", 'underlit:side="back" underlit:profile=', 1)
    )
    text = "\n".join(texts_of(pdf_of(made)))
    assert "lies on the back" in text
    assert "Seen from the back" in text


@pytest.mark.parametrize(
    ("long", "room"), [(100.0, 180.0), (180.0, 180.0), (181.0, 180.0), (900.0, 180.0)]
)
def test_tiles_cover_everything_and_overlap(long: float, room: float) -> None:
    tiles = tiles_of((0.0, 0.0, long, 50.0), room, 200.0)
    assert min(t.view[0] for t in tiles) <= 0.0
    assert max(t.view[2] for t in tiles) >= long
    for a, b in pairwise(tiles):
        assert a.view[2] - b.view[0] == pytest.approx(OVERLAP)
    assert (len(tiles) == 1) == (long <= room)


def test_a_large_sheet_is_printed_in_parts_with_marks_that_meet() -> None:
    strip = '<path id="p" d="M 204 20 V 280" fill="none" stroke="#000" stroke-width="5"/>'
    text = plain(420.0, 300.0, lights=LIGHT.format(id="l", x=200, y=150), tape=strip)
    texts = [t for t in texts_of(pdf_of(sheet(text))) if "Trace through (part" in t]
    assert len(texts) >= 4
    marks = [mark for t in texts for mark in re.findall(r"\b(?:\d[A-Z]\d|[A-Z]\d\d)\b", t)]
    assert marks
    assert all(marks.count(mark) == 2 for mark in set(marks))


def test_a_giant_is_told_and_left_out() -> None:
    made = sheet(plain(4000.0, 3000.0))
    assert any("Choose larger paper" in t for t in texts_of(pdf_of(made)))
    assert made.report["supplies"]["pages"] < 12


@pytest.mark.parametrize("gone", ["lights", "power", "tape"])
def test_what_is_missing_is_said_and_the_rest_is_printed(gone: str) -> None:
    root = etree.fromstring(sample("firefly-jar").encode())
    for group in root.findall("{http://www.w3.org/2000/svg}g"):
        if group.get("id") == f"layer-{gone}":
            root.remove(group)
    made = sheet(etree.tostring(root).decode())
    text = "\n".join(texts_of(pdf_of(made)))
    assert "yet: I print what is drawn so far" in made.message
    assert "NOT READY" in text
    assert "Print on the back sheet" in text
    assert ("Stick light" in text) == (gone != "lights")
    assert ("This card lights up" in text) == (gone == "tape")
    assert ("Lay plus" in text) == (gone != "tape")
    assert "Test the tape" not in text
    assert "Test all lights" not in text
    assert "Test once more" not in text
    assert "Test the finished card" not in text
    assert ("Cut out the note and put it" in text) == (gone == "tape")
    assert ("the note for the reader, and these steps" in text) == (gone == "tape")


def test_nothing_at_all_prints_nothing() -> None:
    made = sheet(
        '<svg xmlns="http://www.w3.org/2000/svg" width="9mm" height="9mm" viewBox="0 0 9 9"/>'
    )
    assert dict(made.files) == {}
    assert made.report["supplies"] is None
    assert "nothing was printed" in made.message


def test_pricks_hold_the_shape() -> None:
    """Joining the pricks of a circle strays less than 1 mm; a rectangle has its four corners."""
    turn = np.linspace(0.0, 2.0 * np.pi, 200, endpoint=False)
    ring = 13.0 * np.column_stack([np.cos(turn), np.sin(turn)])
    points = prick_points(ring)
    middles = (points + np.roll(points, -1, axis=0)) / 2.0
    assert np.hypot(*middles.T).min() > 12.0
    box = np.array([(0.0, 0.0), (50.0, 0.0), (50.0, 5.0), (0.0, 5.0)])
    assert len(prick_points(box)) == 4


def test_the_window_page_is_the_mirror_of_the_page_to_trace() -> None:
    scene = scene_of(case(sample("street")))
    trace, window = true_size_pages(scene, read_paper("a4"), (KINDS["trace"], KINDS["window"]))

    def xs(draft, number):
        return next(i.at[0] for i in draft.items if getattr(i, "text", "") == number)

    assert xs(trace, "1") < xs(trace, "6")
    assert xs(window, "1") > xs(window, "6")
    assert xs(trace, "6") - xs(trace, "1") == pytest.approx(
        xs(window, "1") - xs(window, "6"), abs=4.0
    )


def test_the_svg_holds_the_same_words() -> None:
    made = sheet(sample("lantern"))
    root = etree.fromstring(made.files["card-build-sheet.svg"])
    assert root.get("width", "").endswith("mm")
    texts = {t.text for t in root.iter("{http://www.w3.org/2000/svg}text")}
    assert {"P1", "M1", "100 mm", "Making sheet: card"} <= texts
    assert not [a for el in root.iter() for a in el.attrib.values() if "http" in a]


def test_odd_names_are_printable() -> None:
    made = sheet(sample("lantern"), "灯 & <Laterne> é.svg")
    assert all(name.startswith("灯 & <Laterne> é-") for name in made.files)
    assert "Laterne" in texts_of(pdf_of(made))[0]


def test_text_boxes_agree_with_the_font() -> None:
    from underlit.sheet.content import Words

    left, top, right, bottom = text_box(Words((10.0, 20.0), "Hello", 10.0, False, "middle"))
    assert (left + right) / 2.0 == pytest.approx(10.0)
    assert bottom > 20.0 > top
    assert 20.0 < right - left < 30.0


def words_of(name: str) -> str:
    return "\n".join(w for step in steps_of(scene_of(case(sample(name)))) for w in step.words)


def test_words_fit_the_card() -> None:
    """Glued hearts and a bird in the night garden; a flap to crease on the lantern only."""
    assert "Glue 3 pieces back into the windows" in words_of("night-garden")
    assert "pieces back" not in words_of("street")
    assert "Crease the fold now" in words_of("lantern")
    assert "Crease the fold now" not in words_of("street")


@pytest.mark.parametrize(
    ("pages", "words"),
    [
        ("all", "Choose ONE true-size page of the back sheet."),
        ("trace,front", "Print the true-size page of the back sheet at 100 %"),
        ("front", "The plan at true size is left out here: print it before you lay anything."),
        ("none", "The plan at true size is left out here: print it before you lay anything."),
    ],
)
def test_the_first_page_says_how_the_plan_comes_onto_the_sheet(pages: str, words: str) -> None:
    first = texts_of(pdf_of(sheet(sample("lantern"), pages=pages)))[0]
    said = " ".join(first.split())
    known = ("Choose ONE", "Print the true-size", "left out here")
    assert sum(said.count(one) for one in known) == 1
    assert words in said


#: What the step for the plan says, by the true-size pages that are asked for.
PLANS = [
    ("all", "Take one of the true-size pages of the making sheet. Draw every strip"),
    ("trace,window", "Take one of the true-size pages of the making sheet. Draw every strip"),
    ("stencil,front", 'Take the true-size page "Stencil to prick through" of the making sheet'),
    (
        "front",
        "comes with these steps: print the making sheet with one, or measure on the drawing.",
    ),
    ("none", "comes with these steps: print the making sheet with one, or measure on the drawing."),
]


@pytest.mark.parametrize(("pages", "words"), PLANS)
def test_the_step_for_the_plan_knows_which_pages_there_are(pages: str, words: str) -> None:
    """On the sheet, line by line, and on the page to share beside it."""
    made = sheet(sample("lighthouse"), pages=pages)
    root = etree.fromstring(made.files["card-build-sheet.svg"])
    said = " ".join(str(t.text) for t in root.iter("{http://www.w3.org/2000/svg}text"))
    beside = sheet(sample("lighthouse"), pages=f"{pages},share").files["card-share.html"].decode()
    for told in (said, html.unescape(beside)):
        assert words in told
        assert told.count("of the making sheet") + told.count("comes with these steps") == 1


def test_a_circuit_on_the_back_is_not_measured_on_the_drawing() -> None:
    """The drawing shows it from the front, the wrong way round."""
    scene = replace(scene_of(case(sample("lighthouse"))), back=True)
    words = next(s for s in steps_of(scene, printed=()) if s.show == "guides").words[0]
    assert "print the making sheet with one. Then draw" in words
