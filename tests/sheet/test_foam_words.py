"""The foam step says what the report's stack says."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from lxml import etree
from shapely.geometry import box

from foam.cards import NAMES, sample
from rules.cards import bare_cell, bench, case, profile, sheet
from underlit.sheet.content import Words
from underlit.sheet.foam_words import foam_words
from underlit.sheet.scene import scene_of
from underlit.sheet.steps import steps_of
from underlit.workflows.stacking import stack_report

from . import made

PAD = (sheet("foam", "foam", box(2, 2, 98, 6)),)


@pytest.mark.parametrize("name", NAMES)
def test_the_samples_say_the_figures_of_their_report(name: str) -> None:
    of = sample(name)
    report, scene = stack_report(of), scene_of(of)
    assert report is not None
    words = " ".join(next(step for step in steps_of(scene) if step.show == "foam").words)
    foams = report["foam"]
    assert isinstance(foams, list)
    for foam in foams:
        assert f"{of.profile.foams[foam].thickness:g} mm" in words
    assert f"{report['spacer']:g} mm high" in words
    assert f"{scene.foam_pads} pieces" in words
    assert ("two layers" in words) == (len(foams) == 2 and len(set(foams)) == 1)
    assert ("A press goes down" in words) == (report["travel"] is not None)


def test_a_holder_takes_two_layers() -> None:
    """5 mm: two layers of 3.2 settle to 5.44. One layer beside a holder is too low (trade)."""
    words = foam_words(scene_of(case(bench(foam=PAD))))
    assert words[0] == "1 piece, each two layers of 3.2 mm foam, one on the other: 6.4 mm high."
    assert words[1] == ("It settles to 5.4 mm; the battery stands 5 mm. A press goes down 0.4 mm.")


def test_other_heights_say_other_words() -> None:
    flap = bench(foam=PAD, cells=(replace(bare_cell(closes="flap"), type="cr2016"),))
    assert "one layer of 3 mm foam: 3 mm high" in foam_words(scene_of(case(flap)))[0]
    bare = bench(foam=PAD, cells=(bare_cell(),))
    assert (
        "of foam 3 mm + 1.6 mm, one on the other: 4.6 mm high"
        in foam_words(scene_of(case(bare)))[0]
    )
    own = profile()
    named = replace(own, stack=replace(own.stack, spacer=7.0))
    assert "of foam 7 mm high" in foam_words(scene_of(case(bench(foam=PAD), named)))[0]
    nothing = bench(foam=PAD, cells=(), lights=())
    assert foam_words(scene_of(case(nothing)))[0] == "1 piece of foam."


def test_a_card_without_foam_says_what_it_takes() -> None:
    """The bare battery of the lantern: 3.2 mm, two tapes of 0.1 mm, 0.35 mm of flap; 6 mm do."""
    root = etree.fromstring(made.sample("lantern").encode())
    for group in root.findall("{http://www.w3.org/2000/svg}g"):
        if group.get("id") == "layer-foam":
            root.remove(group)
    bare = [*steps_of(scene_of(made.case(etree.tostring(root).decode())))]
    (front,) = (step for step in bare if step.show == "front")
    assert "Hold the front over the battery" in front.words[0]
    assert front.words[1].startswith(
        "No foam is drawn. To clear the battery (3.8 mm high) it takes"
    )
    assert "two layers of 3 mm foam, one on the other" in front.words[1]
    (padded,) = (
        s for s in steps_of(scene_of(made.case(made.sample("lantern")))) if s.show == "front"
    )
    assert not any("No foam" in word for word in padded.words)


@pytest.mark.parametrize("name", made.CARDS)
def test_the_first_page_says_how_thick_the_closed_card_is(name: str) -> None:
    """As the report's stack has it."""
    stack = stack_report(made.case(made.sample(name)))
    words = " ".join(i.text for i in made.book(made.sample(name)).pages[0].items
                     if isinstance(i, Words))  # fmt: skip
    thick, posted = (re.search(rf"{p} ([\d.]+) mm", words) for p in ("Closed about", "thick,"))
    assert float(thick[1]) == pytest.approx(stack["thickest"], abs=0.0501)
    assert float(posted[1]) == pytest.approx(stack["thickest_in_envelope"], abs=0.0501)
