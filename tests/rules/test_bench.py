"""The bench card itself is good, so that what a test finds on it is the test's own fault."""

from __future__ import annotations

from rules.cards import bench, case, clean


def test_the_bench_is_clean() -> None:
    clean(bench())


def test_its_lights_are_lit_and_its_nets_are_two() -> None:
    circuit = case(bench()).circuit
    assert circuit.lit == {"light-1", "light-2", "light-3"}
    assert [net.polarity for net in circuit.nets] == ["positive", "negative"]
    assert circuit.shorts == ()
    assert circuit.always == frozenset()
