"""The spot to press on the printed pages: where the circuit is truly closed."""

from __future__ import annotations

import numpy as np
import pytest

from underlit.sheet import look
from underlit.sheet.closing import hand_of
from underlit.sheet.content import Area, Disc, Page, Words
from underlit.sheet.scene import scene_of
from underlit.sheet.steps import steps_of

from .made import book, case, pdf_of, sample, sheet, texts_of, titled

#: A slider at (25, 25) mm of the firefly jar, whose drawing has 96 units to the inch.
SWITCH = (
    '<g id="sw" underlit:part="switch" underlit:closes="{way}" transform="translate(94.488,'
    '94.488)"><rect x="-20" y="-8" width="40" height="16" underlit:feature="body"/>'
    '<rect x="-18" y="-5" width="10" height="10" underlit:feature="contact-1"/>'
    '<rect x="8" y="-5" width="10" height="10" underlit:feature="contact-2"/></g>'
)


def jar(closes: str, switch: str | None = None) -> str:
    text = sample("firefly-jar").replace('closes="press"', f'closes="{closes}"')
    if switch is None:
        return text
    return text.replace('<g id="battery"', SWITCH.format(way=switch) + '<g id="battery"', 1)


def marks(page: Page, front: tuple[float, float, float, float]) -> list[tuple[float, float]]:
    """Middles of the red rings on a page, in mm of the card, by the front that is drawn there."""
    rings = [i for i in page.items if isinstance(i, Disc) and i.stroke == look.ALARM]
    fronts = [i for i in page.items if isinstance(i, Area) and i.fill == look.PANEL]
    if not fronts:
        return []
    points = np.concatenate([np.array(ring) for ring in fronts[-1].rings])
    (left, top), (right, _) = points.min(axis=0), points.max(axis=0)
    scale = (front[2] - front[0]) / (right - left)
    return [
        (front[0] + (i.at[0] - left) * scale, front[1] + (i.at[1] - top) * scale) for i in rings
    ]


@pytest.mark.parametrize(
    ("text", "place"),
    [
        (jar("always", "slide"), (25.0, 25.0)),
        (jar("always", "press"), (25.0, 25.0)),
        (jar("press"), None),
        (jar("always", "always"), ()),
        (jar("open"), ()),
    ],
    ids=["slider", "press switch", "battery", "always on", "open"],
)
def test_every_front_marks_what_closes_the_circuit(
    text: str, place: tuple[float, float] | tuple[()] | None
) -> None:
    of = case(text)
    front = scene_of(of).front.bounds
    expected = of.card.cells[0].at if place is None else place
    made = book(text)
    pages = [made.pages[0], *titled(made, "Note"), titled(made, "Steps")[-1]]
    assert len(pages) == 3
    for page in pages:
        found = marks(page, front)
        assert len(found) == (1 if expected else 0)
        for at in found:
            assert at == pytest.approx(expected, abs=0.02)


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        (jar("always", "slide"), "Push the slider: it is at the top, left."),
        (jar("always", "press"), "Press the spot over the switch: it is at the top, left."),
        (jar("press"), "Press the spot over the battery: it is at the bottom, in the middle."),
        (jar("always"), "Nothing to press: it always shines."),
    ],
)
def test_the_note_says_where_to_press(text: str, sentence: str) -> None:
    words = " ".join("\n".join(texts_of(pdf_of(sheet(text, pages="none")))).split())
    assert sentence in words


def test_a_pull_tab_is_taken_where_it_looks_out() -> None:
    """The same tab reaches 12 mm out of the front: the hand goes there."""
    plain = jar("tab")
    assert hand_of(scene_of(case(plain))).at == case(plain).card.cells[0].at
    scene = scene_of(case(plain))
    left, _, right, bottom = scene.front.bounds
    x = (left + right) / 2.0
    strip = f'<rect x="{x - 4}" y="{bottom - 40}" width="8" height="52" underlit:feature="body"/>'
    tab = f'<g id="tab" underlit:part="pull-tab" transform="scale(3.779528)">{strip}</g>'
    hand = hand_of(scene_of(case(plain.replace('<g id="battery"', f'{tab}<g id="battery"', 1))))
    assert hand.at[0] == pytest.approx(x, abs=4.0)
    assert bottom < hand.at[1] < bottom + 12.0
    assert (hand.spot, hand.words) == (hand.at, "pull out the paper tab")


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        (jar("press"), "Press the spot over the battery. Let go: it must go dark."),
        (jar("always", "slide"), "Push the slider. Push it back: it must go dark."),
        (jar("tab"), "Pull out the paper tab. Push the tab in again: it must go dark."),
        (jar("open"), "Open the card. Close it: it must go dark."),
        (jar("always"), "It must shine."),
    ],
)
def test_the_last_test_says_how_it_goes_dark(text: str, sentence: str) -> None:
    assert steps_of(scene_of(case(text)))[-1].words[0] == sentence


@pytest.mark.parametrize(
    ("text", "switching"),
    [
        (jar("always", "slide"), "Push the switch on."),
        (jar("always", "press"), "Press the switch."),
        (jar("press"), None),
        (jar("always", "always"), None),
    ],
)
def test_tests_of_an_open_card_close_its_switch(text: str, switching: str | None) -> None:
    tests = [s for s in steps_of(scene_of(case(text))) if s.show in ("far-end", "all-lights")]
    assert len(tests) == 2
    for step in tests:
        assert ("switch" in step.words[0]) == (switching is not None)
        assert (switching or "") in step.words[0]


#: Strips under both contacts of the slider.
LEADS = (
    '<path id="a" d="M 81.5,60 V 99" style="fill:none;stroke:#000;stroke-width:10"/>'
    '<path id="b" d="M 107.5,60 V 99" style="fill:none;stroke:#000;stroke-width:10"/>'
)


@pytest.mark.parametrize(("leads", "on"), [(LEADS, "on T1 and T2"), ("", "no tape")])
def test_the_circuit_lists_what_the_switch_joins(leads: str, on: str) -> None:
    tape = 'inkscape:label="Tape">'
    text = jar("always", "slide").replace(tape, tape + leads, 1)
    (page,) = [page for page in book(text).pages if page.title == "The whole circuit"]
    assert f"switch: {on}" in [item.text for item in page.items if isinstance(item, Words)]
