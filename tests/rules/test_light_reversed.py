from __future__ import annotations

from rules.cards import SPOTS, bench, case, codes, judge, light, near, only
from underlit.rules import light_reversed


def lights(*angles: float):  # type: ignore[no-untyped-def]
    places = zip(SPOTS, angles, strict=True)
    return tuple(light(f"light-{i}", at, angle) for i, (at, angle) in enumerate(places, 1))


def test_the_right_way_round_is_fine() -> None:
    assert judge(bench(lights=lights(-90, -90, -90))) == []


def test_one_finding_for_the_light_at_its_lens_and_nothing_else() -> None:
    of = bench(lights=lights(-90, 90, -90))
    finding = only(of, "light-reversed", "stop")
    near(finding, *SPOTS[1])
    assert finding.objects == ("light-2",)
    assert "Light 2" in finding.message
    assert case(of).circuit.lit == {"light-1", "light-3"}


def test_one_finding_per_light() -> None:
    assert codes(judge(bench(lights=lights(90, 90, -90)))) == [("light-reversed", "stop")] * 2


def test_without_a_battery_nobody_can_tell() -> None:
    assert list(light_reversed.check(case(bench(lights=lights(90, 90, 90), cells=())))) == []
