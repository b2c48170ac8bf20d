"""Finding the fault in German: the same places, and every sentence German."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

import pytest
from lxml import etree

from kit.german import english_in, in_german
from kit.legends import check_nothing_covers, everything
from kit.run import ROOT
from underlit.profiles import load_profile
from underlit.tracing import Symptoms
from underlit.workflows.find_fault import Tracing, find_fault
from underlit.workflows.validate import case_of
from underlit_host.read_drawing import read_drawing

CARDS = (
    "lantern",
    "lighthouse",
    "night-garden",
    "street",
    "faulty/light-unfed",
    "faulty/always-on",
)
PROFILE = load_profile("hand-laid")


def drawing_of(name: str):
    path = ROOT / "sample_svgs" / f"{name}.svg"
    return read_drawing(etree.fromstring(path.read_bytes()), path.name)


def symptoms_of(lights: Iterable[str]) -> list[Symptoms]:
    every = frozenset(lights)
    one = frozenset(sorted(every)[:1])
    return [
        Symptoms(dark=one),
        Symptoms(dark=every),
        Symptoms(flicker=one),
        Symptoms(flicker=every, warm=True),
        Symptoms(always=every),
        Symptoms(dark=every - one, always=one),
        Symptoms(),
    ]


@pytest.mark.parametrize("name", CARDS)
def test_words_are_german_and_places_the_same(name: str, catalogs: Path) -> None:
    drawing = drawing_of(name)
    seen = symptoms_of(light.id for light in case_of(drawing, PROFILE).card.lights)
    english = [find_fault(drawing, PROFILE, one) for one in seen]
    with in_german(catalogs):
        german = [find_fault(drawing, PROFILE, one) for one in seen]
    for one, other in zip(english, german, strict=True):
        check_nothing_covers(other.sheet)
        assert other.report["suspects"] == one.report["suspects"]
        assert places(other) == places(one)
        assert other.message != one.message
        titles = [group.title for group in other.sheet.groups]
        for said in (other.message, other.summary, everything(other.sheet), *titles):
            assert english_in(said) == []


def places(traced: Tracing) -> list[str]:
    return [repr(mark) for mark in traced.sheet.marks]
