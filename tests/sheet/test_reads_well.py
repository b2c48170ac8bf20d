"""What a new maker stumbled over on the printed pages, one test each."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from kit.run import ROOT
from underlit.sheet import look
from underlit.sheet.content import Area, Disc, Line, Words
from underlit.sheet.drawing import Fit, piece
from underlit.sheet.fonts import width
from underlit.sheet.kinds import KINDS
from underlit.sheet.paper import read_paper
from underlit.sheet.scene import Piece, scene_of
from underlit.sheet.step_words import over_it_words
from underlit.sheet.steps import steps_of
from underlit.sheet.supplies import supplies_of
from underlit.sheet.true_size import true_size_pages

from .made import CARDS, book, case, sample, sheet, titled


def signs(one: Piece) -> list[str]:
    """Plus and minus signs within the body of a part in its picture, by their strokes."""
    items = [i for i in piece(one, Fit(1.0, 0.0, 0.0)) if isinstance(i, Line) and not i.closed]
    left, top, right, bottom = one.body.bounds
    inside = [
        np.array(i.points)
        for i in items
        if all(left <= x <= right and top <= y <= bottom for x, y in i.points)
    ]
    level = sum(bool(np.ptp(p[:, 1]) == 0.0) for p in inside)
    upright = sum(bool(np.ptp(p[:, 0]) == 0.0) for p in inside)
    return ["plus"] * upright + ["minus"] * (level - upright)


@pytest.mark.parametrize(("up", "sign"), [("plus", "plus"), ("minus", "minus")])
def test_a_bare_battery_shows_the_face_that_looks_up(up: str, sign: str) -> None:
    """Not the sign of the tape's end that it covers."""
    (cell,) = scene_of(case(sample("lighthouse"))).cells
    assert cell.bare
    assert signs(replace(cell, up=up)) == [sign]


@pytest.mark.parametrize(
    ("name", "words"),
    [("lantern", "You need 1 warm white light."), ("street", "You need 12 warm white lights.")],
)
def test_lights_are_called_lights(name: str, words: str) -> None:
    scene = scene_of(case(sample(name)))
    assert steps_of(scene)[0].words[0].startswith(words)
    first = " ".join(i.text for i in book(sample(name)).pages[0].items if isinstance(i, Words))
    assert words.removeprefix("You need ").removesuffix(".") in first


@pytest.mark.parametrize(
    ("name", "between"), [("street", "the contact of its holder"), ("lantern", "tape")]
)
def test_the_strip_for_the_post_goes_where_a_battery_makes_contact(name: str, between: str) -> None:
    words = "\n".join(w for step in steps_of(scene_of(case(sample(name)))) for w in step.words)
    assert f"slip a strip of paper between battery and {between}, to be pulled out" in words


def test_foam_is_counted_in_every_layer() -> None:
    """The night garden's foam lies in two layers: twice the area of its pads."""
    scene = scene_of(case(sample("night-garden")))
    (foam,) = [s for s in supplies_of(scene, read_paper("a4"), 1).lines if s.item == "foam"]
    boxes = [part.bounds for part in scene.foam.geoms]
    area = sum((b[2] - b[0]) * (b[3] - b[1]) for b in boxes)
    assert foam.what == "Foam 3.2 mm, 5 pads in 2 layers"
    assert foam.per_card == pytest.approx(2 * area / (0.7 * 210.0 * 297.0))


def test_no_page_of_steps_holds_a_single_box() -> None:
    for name in CARDS:
        last = titled(book(sample(name)), "Steps")[-1]
        badges = [
            i for i in last.items if isinstance(i, Disc) and i.radius == 3.0 and i.fill == look.INK
        ]
        assert len(badges) > 1, name


@pytest.mark.parametrize("name", CARDS)
def test_names_of_strips_keep_within_them_where_they_are_traced(name: str) -> None:
    scene = scene_of(case(sample(name)))
    (page,) = true_size_pages(scene, read_paper("a4"), (KINDS["trace"],))
    for tape in scene.tapes:
        (label,) = [i for i in page.items if isinstance(i, Words) and i.text == tape.label]
        assert width(label.text, label.size, True) < tape.width
        assert label.size >= 2.0


def test_a_pull_tab_has_its_name_on_the_circuit_to_share() -> None:
    text = (ROOT / "sample_svgs" / "first-lantern" / "first-lantern.svg").read_text("utf-8")
    (page,) = sheet(text, pages="share").files.values()
    assert ">pull tab<" in page.decode()


def test_a_pull_tab_hides_no_sign_of_the_battery() -> None:
    """The first lantern's tab lies over its battery: paper that one sees through."""
    text = (ROOT / "sample_svgs" / "first-lantern" / "first-lantern.svg").read_text("utf-8")
    scene = scene_of(case(text))
    (tab,), (cell,) = scene.tabs, scene.cells
    assert tab.body.intersects(cell.body)
    (paper,) = [i for i in piece(tab, Fit(1.0, 0.0, 0.0)) if isinstance(i, Area)]
    assert paper.opacity < 0.7
    note = " ".join(i.text for i in titled(book(text), "Note")[0].items if isinstance(i, Words))
    assert "First pull out the paper tab. Press the spot" in note


@pytest.mark.parametrize(
    ("up", "closes", "first", "last"),
    [
        ("plus", "press", "P1 comes over it", "where pressing brings it down."),
        ("minus", "press", "M1 comes over it", "where pressing brings it down."),
        ("plus", "tab", "P1 comes over it", "over the upper face."),
    ],
)
def test_the_strip_over_a_bare_battery_stays_loose_until_then(
    up: str, closes: str, first: str, last: str
) -> None:
    (cell,) = scene_of(case(sample("lighthouse"))).cells
    (words,) = over_it_words(replace(cell, up=up, closes=closes))
    assert words.startswith(first)
    assert words.endswith(last)


def test_a_flap_brings_its_own_strip_down() -> None:
    (cell,) = scene_of(case(sample("lighthouse"))).cells
    assert over_it_words(replace(cell, closes="flap")) == []
