from __future__ import annotations

from rules.cards import SPOTS, bench, case, codes, judge, light, near, only, rails, strip, two_feet
from underlit.rules import light_shorted


def test_both_feet_on_one_strip() -> None:
    flat = light("light-2", (35.0, 20.0), 0.0, shows="through")
    of = bench(lights=(bench().lights[0], flat), openings=bench().openings[:1])
    finding = only(of, "light-shorted", "stop")
    near(finding, 35, 20)
    assert finding.objects == ("light-2",)
    assert "plus tape" in finding.message
    assert "minus tape" in finding.remedy


def test_both_feet_on_one_piece_that_leads_nowhere() -> None:
    lost = strip("lost", ((10, 70), (40, 70)))
    flat = light("lost-light", (25, 70), 0.0, shows="through")
    finding = only(bench(lost, lights=(*bench().lights, flat)), "light-shorted", "stop")
    near(finding, 25, 70)


def test_one_foot_on_each_side_is_fine() -> None:
    assert list(light_shorted.check(case(bench()))) == []


def test_beside_a_resistor_both_feet_are_still_plus() -> None:
    """A light parallel to a resistor between two pieces of plus tape."""
    left = strip("left", ((10, 20), (40, 20)), polarity="positive")
    right = strip("right", ((46, 20), (90, 20), (90, 62.5)), polarity="positive")
    link = two_feet("resistor", "r", (43, 20), ohms="100")
    lamp = light("lamp", (43, 13), 0.0, shows="through")
    legs = [
        strip("leg-1", ((39, 11.5), (39, 22)), polarity="positive"),
        strip("leg-2", ((47, 11.5), (47, 22)), polarity="positive"),
    ]
    lights = (light("light-1", SPOTS[0]), lamp)
    of = bench(*legs, strips=[left, right, rails()[1]], resistors=(link,), lights=lights,
               openings=bench().openings[:1])  # fmt: skip
    found = [f for f in judge(of) if f.rule.startswith("light-")]
    assert codes(found) == [("light-shorted", "stop")]
    assert found[0].objects == ("lamp",)
