from __future__ import annotations

import re
from dataclasses import replace

import pytest

from rules.cards import SPOTS, bench, case, codes, judge, light, only, profile
from underlit.model.operation import AGED
from underlit.profiles import Profile
from underlit.rules.uneven_lights import share_words


def poor(evenness: float = 0.5, ohms: float = 8.0) -> Profile:
    own = profile()
    return replace(
        own,
        tape=replace(own.tape, ohms_per_square=ohms),
        limits=replace(own.limits, light_evenness=evenness, light_smallest_ma=0.01),
    )


def evenness() -> float:
    operation = case(bench(), poor()).operation
    assert operation is not None
    amps = [flow.amps[AGED] for flow in operation.lights.values()]
    return min(amps) / max(amps)


@pytest.mark.parametrize(("share", "found"), [(0.999, 0), (1.0, 0), (1.001, 1)])
def test_below_at_and_above_the_limit(share: float, found: int) -> None:
    rules = codes(judge(bench(), poor(evenness() * share)))
    assert rules == [("uneven-lights", "caution")] * found


def test_names_both_and_what_lies_before() -> None:
    finding = only(bench(), "uneven-lights", "caution", poor(0.8))
    assert finding.objects == ("light-1", "light-3")
    assert "mm of tape" in finding.message
    assert "Start the minus tape at light 1" in finding.remedy
    low, high = re.search(r"about ([\d.]+) to ([\d.]+) mA", finding.remedy).groups()  # type: ignore[union-attr]
    assert float(low) >= 0.8 * float(high) - 0.02


def test_colours_are_not_held_against_each_other() -> None:
    lights = (light("light-1", SPOTS[0], type="red"), light("light-2", SPOTS[1], type="blue"))
    card = bench(lights=lights, openings=())
    assert "uneven-lights" not in {f.rule for f in judge(card)}


def test_one_of_each_type() -> None:
    kinds = ("green", "green", "blue", "blue")
    spots = (*SPOTS, (28.0, 24.0))
    lights = tuple(
        light(f"light-{i}", at, type=kind)
        for i, (at, kind) in enumerate(zip(spots, kinds, strict=True), 1)
    )
    found = [f for f in judge(bench(lights=lights, openings=()), poor(0.97)) if "uneven" in f.rule]
    assert len(found) == 2


@pytest.mark.parametrize(
    ("share", "words"),
    [(0.01, "next to nothing"), (0.25, "a quarter"), (0.45, "less than half"), (0.7, "70 % of it")],
)
def test_words_before_figures(share: float, words: str) -> None:
    operation = case(bench()).operation
    assert operation is not None
    flow = operation.lights["light-1"]
    low = replace(flow, amps=tuple(share * a for a in flow.amps))  # type: ignore[arg-type]
    assert share_words(low, flow) == words
