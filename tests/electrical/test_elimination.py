"""Potentials by star-mesh elimination against full matrices and closed forms."""

from __future__ import annotations

import numpy as np
import pytest

from underlit.electrical.elimination import SMALL, labels, make_plan, solve


def random_net(seed: int, nodes: int, extra: int) -> tuple[np.ndarray, np.ndarray]:
    """A connected network: a random tree and some more branches; two sets of conductances."""
    rng = np.random.default_rng(seed)
    tree = [(int(rng.integers(0, i)), i) for i in range(1, nodes)]
    more = [tuple(rng.choice(nodes, 2, replace=False)) for _ in range(extra)]
    ends = np.array(tree + more, dtype=np.intp).reshape(-1, 2)
    return ends, 10.0 ** rng.uniform(-3, 2, (len(ends), 2))


def by_matrix(nodes: int, ends: np.ndarray, g: np.ndarray, leak: np.ndarray, amps: np.ndarray):  # type: ignore[no-untyped-def]
    table = np.diag(leak)
    for (a, b), value in zip(ends.tolist(), g.tolist(), strict=True):
        table[a, a] += value
        table[b, b] += value
        table[a, b] -= value
        table[b, a] -= value
    return np.linalg.solve(table, amps)


@pytest.mark.parametrize("nodes", [2, 7, SMALL, SMALL + 1, 120, 400])
@pytest.mark.parametrize("seed", [1, 2])
def test_as_a_full_matrix_says(nodes: int, seed: int) -> None:
    ends, siemens = random_net(seed, nodes, nodes // 3)
    leak = np.zeros((nodes, 2))
    leak[0] = 1.0
    amps = np.random.default_rng(seed).normal(size=(nodes, 2))
    found = solve(make_plan(nodes, ends).factor(siemens, leak), amps)
    for k in range(2):
        right = by_matrix(nodes, ends, siemens[:, k], leak[:, k], amps[:, k])
        np.testing.assert_allclose(found[:, k], right, rtol=1e-8, atol=1e-9)


def test_one_plan_serves_many_currents() -> None:
    ends, siemens = random_net(5, 90, 30)
    leak = np.zeros((90, 1))
    leak[3] = 1.0
    factors = make_plan(90, ends).factor(siemens[:, :1], leak)
    several = np.random.default_rng(5).normal(size=(90, 4))
    together = solve(factors, several)
    for k in range(4):
        np.testing.assert_allclose(together[:, [k]], solve(factors, several[:, [k]]), atol=1e-12)


def test_a_piece_that_hangs_on_almost_nothing_comes_out_exactly() -> None:
    """1e5 S beside 1e-12 S: a full matrix loses the small one altogether."""
    ends = np.array([[0, 1], [1, 2], [2, 3]])
    siemens = np.array([[1e5], [1e-12], [1e5]])
    leak = np.array([[1.0], [0.0], [0.0], [1e-12]])
    amps = np.array([[0.0], [0.0], [1e-12], [0.0]])
    volts = solve(make_plan(4, ends).factor(siemens, leak), amps)
    assert volts[3, 0] == pytest.approx(0.5, rel=1e-9)


def test_long_ladders_leave_in_few_rounds() -> None:
    n = 1000
    rails = [(2 * i + k, 2 * i + 2 + k) for i in range(n - 1) for k in (0, 1)]
    ends = np.array(rails + [(2 * i, 2 * i + 1) for i in range(n)])
    plan = make_plan(2 * n, ends)
    assert len(plan.rounds) < 60
    assert max(step.branches for step in plan.rounds) <= 3 * len(ends)


@pytest.mark.parametrize(
    ("count", "pairs", "expected"),
    [
        (3, [], [0, 1, 2]),
        (4, [(3, 1)], [0, 1, 2, 1]),
        (5, [(0, 1), (3, 4), (1, 4)], [0, 0, 1, 0, 0]),
        (6, [(5, 4), (4, 3), (3, 2), (2, 1), (1, 0)], [0] * 6),
    ],
)
def test_labels(count: int, pairs: list[tuple[int, int]], expected: list[int]) -> None:
    found, sets = labels(count, np.array(pairs, dtype=np.intp).reshape(-1, 2))
    assert found.tolist() == expected
    assert sets == len(set(expected))


@pytest.mark.parametrize("held", [0, 1])
@pytest.mark.parametrize("nodes", [7, SMALL + 20])
def test_a_branch_that_conducts_nothing_is_as_if_it_were_not_there(nodes: int, held: int) -> None:
    """A pair of nodes held by nothing but each other, at 0 S: all others come out as without."""
    ends, siemens = random_net(3, nodes, nodes // 3)
    leak = np.zeros((nodes + 2, 2))
    leak[[0, nodes + held]] = 1.0
    amps = np.random.default_rng(3).normal(size=(nodes + 2, 2))
    amps[nodes:] = 0.0
    loose = np.vstack([ends, [nodes, nodes + 1]])
    with np.errstate(all="raise"):
        plan = make_plan(nodes + 2, loose)
        found = solve(plan.factor(np.vstack([siemens, [0.0, 0.0]]), leak), amps)
    alone = solve(make_plan(nodes, ends).factor(siemens, leak[:nodes]), amps[:nodes])
    np.testing.assert_allclose(found[:nodes], alone, rtol=1e-9)
    np.testing.assert_array_equal(found[nodes:], 0.0)
