"""glow-uneven: one light behind a window, below, at and above the limit; cures that hold."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import replace

import pytest
import shapely
from shapely.geometry import box

from rules import cards
from rules.cards import bench, case, light, near, opening, profile, said, sheet, window
from sheet.made import case as made
from sheet.made import sample
from underlit.glow.unevenness import uneven_glow
from underlit.model.card import Card, Opening
from underlit.model.finding import Finding, told_once
from underlit.model.glow import Cure, Glow, WindowGlow
from underlit.profiles import Profile
from underlit.rules import check_all
from underlit.rules.glow_uneven import check

#: Two layers of 3.2 mm over the holder of the bench (tests/reference/test_stack), settled by 0.15,
#: less a light of 1 mm on tape of 0.1 mm.
DEPTH = 6.4 * 0.85 - 1.0 - 0.1

#: The light in the middle of the bench; others would help.
SPOT = cards.SPOTS[1]


def lonely(*windows: Opening, **more: object) -> Card:
    """The bench with a single light."""
    return bench(openings=windows, lights=(light("light-1", SPOT),), **more)


def notes(of: Card, own: Profile | None = None) -> list[Finding]:
    found = check_all(replace(case(of, own), shine=uneven_glow))
    return [f for f in found if f.rule == "glow-uneven"]


def with_glow(**values: float) -> Profile:
    own = profile()
    return replace(own, glow=replace(own.glow, **values))


def radius_of(evenness: float, depth: float = DEPTH) -> float:
    """The cos^4 law turned round: where a light gives that share of its middle."""
    return depth * math.sqrt(1.0 / math.sqrt(evenness) - 1.0)


@pytest.mark.parametrize(("factor", "count"), [(0.99, 0), (1.01, 1), (1.3, 1)])
def test_a_round_window_below_and_above_the_limit(factor: float, count: int) -> None:
    """0.01 of the middle lies 13 mm away (3 depths)."""
    assert radius_of(0.01) == pytest.approx(3.0 * DEPTH)
    found = notes(lonely(opening(1, SPOT, radius=factor * radius_of(0.01))))
    assert len(found) == count
    for finding in found:
        assert finding.severity == "note"
        assert finding.objects == ("window-1",)
        near(finding, *SPOT)
        said(finding)


def test_a_limit_that_is_met_exactly_passes() -> None:
    """A square of 10 x 10: its corners get what the law says."""
    square = lonely(window(1, box(SPOT[0] - 5, SPOT[1] - 5, SPOT[0] + 5, SPOT[1] + 5)))
    corner = (1.0 + 50.0 / DEPTH**2) ** -2
    assert notes(square, with_glow(evenness=corner * (1 - 1e-9))) == []
    assert len(notes(square, with_glow(evenness=corner * 1.001))) == 1


def test_the_figures() -> None:
    (finding,) = notes(lonely(opening(1, SPOT, radius=14.0)))
    assert "Window 1" in finding.message
    assert f"{2 * 0.64359 * DEPTH:.1f} mm across" in finding.message  # half value, reference values
    assert "less than 1 %" in finding.message


def test_vellum_behind_a_window_passes_less() -> None:
    vellum = sheet("vellum", "diffuser", cards.BASE)
    bare, soft = radius_of(0.01), radius_of(0.003)
    assert soft > 1.3 * bare
    wide = lonely(opening(1, SPOT, radius=1.3 * bare))
    assert "Vellum" in notes(wide)[0].remedy
    assert notes(replace(wide, diffusers=(vellum,))) == []
    wider = lonely(opening(1, SPOT, radius=1.02 * soft), diffusers=(vellum,))
    (finding,) = notes(wider)
    assert "ellum behind" not in finding.remedy


def remedied(of: Card) -> str:
    (finding,) = notes(of)
    return finding.remedy


def test_more_foam_is_a_cure_that_holds() -> None:
    wide = lonely(opening(1, SPOT, radius=14.0))
    assert "1 mm more foam" in remedied(wide)
    own = profile()
    assert notes(wide, replace(own, stack=replace(own.stack, spacer=7.0))) == []


def test_more_lights_are_a_cure_that_holds() -> None:
    long = window(1, box(SPOT[0] - 15, SPOT[1] - 5, SPOT[0] + 15, SPOT[1] + 5))
    assert "2 lights spread over it instead of 1" in remedied(lonely(long))
    pair = tuple(light(f"light-{i}", (SPOT[0] + x, SPOT[1])) for i, x in ((1, -7.5), (2, 7.5)))
    assert notes(bench(openings=(long,), lights=pair)) == []


def test_a_light_that_stays_dark_lights_no_window() -> None:
    """Two that would do for a long window, but the red one leaves nothing to the blue one."""
    long = window(1, box(SPOT[0] - 15, SPOT[1] - 5, SPOT[0] + 15, SPOT[1] + 5))
    for first, rules in (("blue", []), ("red", ["glow-uneven"])):
        lights = (
            light("light-1", (SPOT[0] - 7.5, SPOT[1]), type=first),
            light("light-2", (SPOT[0] + 7.5, SPOT[1]), type="blue"),
        )
        assert [f.rule for f in notes(bench(openings=(long,), lights=lights))] == rules


def test_where_nothing_alone_helps_the_maker_is_told_so() -> None:
    huge = window(1, shapely.Point(SPOT).buffer(45.0))
    assert "More lights and vellum together" in remedied(lonely(huge))


@pytest.mark.parametrize("radius", [7.5, 10.0, 15.0])
def test_good_ordinary_windows_with_vellum_get_no_note(radius: float) -> None:
    """One light behind a window of 15 to 30 mm with vellum, wherever its lens is in the middle."""
    vellum = sheet("vellum", "diffuser", cards.BASE)
    assert notes(lonely(opening(1, SPOT, radius=radius), diffusers=(vellum,))) == []


def nothing_said(cards: Sequence[Card]) -> None:
    for of in cards:
        assert notes(of) == []


def test_windows_that_are_not_lit_are_not_judged() -> None:
    wide = opening(1, SPOT, radius=14.0)
    aside = opening(1, (75.0, 24.0), radius=14.0)
    reversed_light = light("light-1", SPOT, 90.0)
    sideways = light("light-1", SPOT, shows="edge")
    nothing_said(
        [
            lonely(aside),
            bench(openings=(wide,), lights=()),
            bench(openings=(wide,), lights=(reversed_light,)),
            bench(openings=(wide,), lights=(sideways,)),
            lonely(wide, cells=()),
        ]
    )


def test_one_finding_per_window() -> None:
    both = bench(
        openings=(opening(1, SPOT, radius=14.0), opening(2, cards.SPOTS[0], radius=1.0)),
        lights=(light("light-1", SPOT), light("light-2", cards.SPOTS[0])),
    )
    assert [f.objects for f in notes(both)] == [("window-1",)]


def test_a_window_half_behind_vellum_is_judged_bare() -> None:
    half = sheet("vellum", "diffuser", box(0, 0, SPOT[0], 80))
    found = notes(lonely(opening(1, SPOT, radius=14.0), diffusers=(half,)))
    assert len(found) == 1


def night_garden() -> list[Finding]:
    """The notes on a sample card with four such windows."""
    return [
        finding
        for finding in check_all(replace(made(sample("night-garden")), shine=uneven_glow))
        if finding.rule == "glow-uneven"
    ]


def test_windows_that_the_same_would_even_are_told_in_one() -> None:
    found = night_garden()
    assert len(found) == 4
    told = [one for _, one in told_once(found)]
    assert len(told) < len(found)
    named = " ".join(one.message for one in told)
    for finding in found:
        (number,) = re.findall(r"^Window (\d+) has", finding.message)
        assert re.search(rf"\b{number}\b", named)


def test_several_are_told_by_the_strongest_of_what_each_needs() -> None:
    def window_glow(k: int, hot_spot: float, evenness: float) -> WindowGlow:
        return WindowGlow(k, 1.0, 2.0, 0.1, evenness, hot_spot, cards.SPOTS[k], ("l",), False, 1.0)

    several = (window_glow(0, 4.0, 0.02), window_glow(1, 5.0, 0.06), window_glow(2, 4.0, 0.06))
    cures = {0: Cure(1.5, None, True), 1: Cure(2.5, None, True), 2: Cure(None, 3, False)}
    glow = Glow(several, lambda window: cures[window.opening])
    found = list(check(replace(case(bench()), shine=lambda _: glow)))
    assert found[0].together is found[1].together is not None
    assert found[2].together is None
    assert [one.message for _, one in told_once(found)] == [
        "Windows 1 and 2 have a bright spot each, 4 to 5 mm across; their darkest places get at "
        "most 6 % of the light there.",
        "Window 3 has a bright spot 4 mm across; its darkest place gets 6 % of the light there.",
    ]
    assert told_once(found)[0][1].remedy == (
        "Vellum behind them or 2.5 mm more foam under the panel would even them; or leave it: many "
        "like it."
    )
