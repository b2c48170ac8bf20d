"""Linear networks: potentials of many nodes by star-mesh elimination, no matrix ever inverted.

A node with branches g_1 .. g_d to its neighbours and a leak l to ground is taken out and its
star replaced by the mesh g_i g_j / s, s = l + g_1 + .. + g_d (A. Rosen, 1924); leaks of the
neighbours grow by g_i l / s. With positive conductances nothing is ever subtracted, so that a
piece hanging on a picosiemens beside copper foil comes out as exactly as the rest.

Nodes that do not touch each other leave in one round, those with fewest neighbours first; the
rounds are planned once and serve every set of conductances. Small networks take the plain way.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from ..records import record

Floats = NDArray[np.float64]
Ints = NDArray[np.intp]

#: Up to so many nodes one full table is quicker than a plan.
SMALL = 40

#: Nodes of up to so many neighbours may leave in any round: of a long ladder, whose rungs have
#: few and whose ends fewest, only the ends would leave else, and there would be a round per rung.
MODEST = 8


@record
class Sums:
    """Adds up groups of rows: `order` sorts them, `starts` begin the groups, `into` names them."""

    order: Ints
    starts: Ints
    into: Ints

    def of(self, rows: Floats) -> Floats:
        """(groups, ...) sums of (n, ...) rows."""
        return np.add.reduceat(rows[self.order], self.starts, axis=0)


@record
class Round:
    """Pivots that leave together. `legs` are their branches: pivot row, neighbour, branch.

    `first` and `second` are the branches of each pair of legs of one pivot (row `pair_pivot`);
    `meshed` adds the pairs into the new branches; `kept` go on as `moved`.
    """

    pivots: Ints
    leg_pivot: Ints
    leg_node: Ints
    leg_branch: Ints
    by_pivot: Sums
    by_node: Sums
    pair_pivot: Ints
    first: Ints
    second: Ints
    meshed: Sums | None
    kept: Ints
    moved: Ints
    branches: int


@record
class Factors:
    """What one set of conductances leaves behind, to solve for any currents."""

    plan: Plan
    shares: tuple[Floats, ...]
    sums: tuple[Floats, ...]
    last: Floats


@record
class Plan:
    """The order in which the nodes of a network leave. `ends` (m, 2) are its branches."""

    nodes: int
    ends: Ints
    rounds: tuple[Round, ...]
    alone: Ints
    start: Sums | None
    branches: int

    def factor(self, siemens: Floats, leak: Floats) -> Factors:
        """Conductances (m, S) of the branches and leaks (n, S) to ground; S sets at once."""
        if not self.rounds:
            return _factor_whole(self, siemens, leak)
        assert self.start is not None
        branch = self.start.of(siemens)
        leak = leak.copy()
        shares, sums = [], []
        for step in self.rounds:
            legs = branch[step.leg_branch]
            total = step.by_pivot.of(legs) + leak[step.pivots]
            share = _over(legs, total[step.leg_pivot])
            leak[step.by_node.into] += step.by_node.of(share * leak[step.pivots][step.leg_pivot])
            after = np.zeros((step.branches, branch.shape[1]))
            after[step.moved] = branch[step.kept]
            if step.meshed is not None:
                pairs = _over(branch[step.first] * branch[step.second], total[step.pair_pivot])
                after[step.meshed.into] += step.meshed.of(pairs)
            branch = after
            shares.append(share)
            sums.append(total)
        return Factors(self, tuple(shares), tuple(sums), leak[self.alone])


def solve(factors: Factors, amps: Floats) -> Floats:
    """Potentials (n, S) of the nodes into which currents (n, S) flow."""
    plan = factors.plan
    if not plan.rounds:
        return _solve_whole(factors, amps)
    amps = amps.copy()
    volts = np.zeros_like(amps)
    for step, share in zip(plan.rounds, factors.shares, strict=True):
        amps[step.by_node.into] += step.by_node.of(share * amps[step.pivots][step.leg_pivot])
    volts[plan.alone] = _over(amps[plan.alone], factors.last)
    for k in range(len(plan.rounds) - 1, -1, -1):
        step = plan.rounds[k]
        near = step.by_pivot.of(factors.shares[k] * volts[step.leg_node])
        volts[step.pivots] = _over(amps[step.pivots], factors.sums[k]) + near
    return volts


def _over(part: Floats, sums: Floats) -> Floats:
    """part / sums; 0 where nothing at all holds a node (sums of 0).

    So float an island without a leak, and a loose resistor in the question what would be
    without it.
    """
    return np.divide(part, sums, out=np.zeros_like(part), where=sums > 0.0)


def make_plan(nodes: int, ends: Ints) -> Plan:
    """Plan for a network of `nodes` nodes and branches between `ends` (m, 2), u != v."""
    if nodes <= SMALL:
        return Plan(nodes, ends, (), np.arange(0), None, len(ends))
    low, high = ends.min(axis=1), ends.max(axis=1)
    keys, into = np.unique(low * nodes + high, return_inverse=True)
    start = _sums(into)
    left = np.ones(nodes, dtype=bool)
    rounds = []
    branches = len(keys)
    while len(keys):
        step, keys = _round(nodes, keys)
        left[step.pivots] = False
        rounds.append(step)
    return Plan(nodes, ends, tuple(rounds), np.flatnonzero(left), start, branches)


def _sums(groups: Ints) -> Sums:
    order = np.argsort(groups, kind="stable")
    ordered = groups[order]
    starts = np.flatnonzero(np.r_[True, ordered[1:] != ordered[:-1]])
    return Sums(order, starts, ordered[starts])


def _round(nodes: int, keys: Ints) -> tuple[Round, Ints]:
    """One round of a network whose branches are `keys` (u * nodes + v), and what is left."""
    ends = np.stack([keys // nodes, keys % nodes], axis=1)
    degree = np.bincount(ends.ravel(), minlength=nodes)
    leaves = _independent(nodes, ends, degree)
    pivots = np.flatnonzero(leaves)
    touch = leaves[ends]
    own = touch.any(axis=1)
    branch = np.flatnonzero(own)
    flip = touch[branch, 1].astype(int)
    pivot, node = ends[branch, flip], ends[branch, 1 - flip]
    order = np.lexsort((node, pivot))
    branch, pivot, node = branch[order], pivot[order], node[order]
    row = np.searchsorted(pivots, pivot)
    pair_a, pair_b = _pairs(degree[pivots])
    low = np.minimum(node[pair_a], node[pair_b])
    high = np.maximum(node[pair_a], node[pair_b])
    kept = np.flatnonzero(~own)
    after, where = np.unique(np.r_[keys[kept], low * nodes + high], return_inverse=True)
    meshed = where[len(kept) :]
    step = Round(
        pivots=pivots,
        leg_pivot=row,
        leg_node=node,
        leg_branch=branch,
        by_pivot=_sums(row),
        by_node=_sums(node),
        pair_pivot=row[pair_a],
        first=branch[pair_a],
        second=branch[pair_b],
        meshed=_sums(meshed) if len(meshed) else None,
        kept=kept,
        moved=where[: len(kept)],
        branches=len(after),
    )
    return step, after


def _independent(nodes: int, ends: Ints, degree: Ints) -> NDArray[np.bool_]:
    """Nodes of few neighbours, no two of which touch."""
    least = degree[degree > 0].min()
    able = (degree > 0) & (degree <= max(MODEST, 1.5 * least))
    # a fixed scatter of the numbers breaks ties, so that a long chain loses many at once
    scatter = (np.arange(nodes, dtype=np.uint64) * np.uint64(2654435761)) % np.uint64(2**32)
    rank = np.where(able, degree * float(2**33) + scatter, np.inf)
    best = np.full(nodes, np.inf)
    np.minimum.at(best, ends[:, 0], rank[ends[:, 1]])
    np.minimum.at(best, ends[:, 1], rank[ends[:, 0]])
    return np.asarray(able & (rank < best))


def _pairs(degree: Ints) -> tuple[Ints, Ints]:
    """Positions of all pairs within consecutive groups of the given sizes."""
    starts = np.r_[0, np.cumsum(degree)[:-1]]
    first, second = [], []
    for size in np.unique(degree).tolist():
        a, b = np.triu_indices(size, 1)
        base = starts[degree == size][:, None]
        first.append((base + a).ravel())
        second.append((base + b).ravel())
    return np.concatenate(first), np.concatenate(second)


def _factor_whole(plan: Plan, siemens: Floats, leak: Floats) -> Factors:
    """The same for a small network, as tables (S, n, n): the last node leaves first."""
    n = plan.nodes
    table = np.zeros((leak.shape[1], n, n))
    a, b = plan.ends[:, 0], plan.ends[:, 1]
    np.add.at(table.transpose(1, 2, 0), (a, b), siemens)
    np.add.at(table.transpose(1, 2, 0), (b, a), siemens)
    leak = leak.T.copy()
    shares, sums = [], []
    for p in range(n - 1, -1, -1):
        legs = table[:, p, :p]
        total = np.add.reduce(legs, axis=1) + leak[:, p]
        share = _over(legs, total[:, None])
        table[:, :p, :p] += share[:, :, None] * legs[:, None, :]
        leak[:, :p] += share * leak[:, p, None]
        shares.append(share)
        sums.append(total)
    return Factors(plan, tuple(shares), tuple(sums), leak)


def _solve_whole(factors: Factors, amps: Floats) -> Floats:
    n = factors.plan.nodes
    amps = amps.T.copy()
    volts = np.zeros_like(amps)
    for k, share in enumerate(factors.shares):
        p = n - 1 - k
        amps[:, :p] += share * amps[:, p, None]
    for p in range(n):
        k = n - 1 - p
        near = np.add.reduce(factors.shares[k] * volts[:, :p], axis=1)
        volts[:, p] = _over(amps[:, p], factors.sums[k]) + near
    return volts.T


def labels(count: int, pairs: Ints) -> tuple[Ints, int]:
    """Number (count,) of the set that each node belongs to when pairs are joined; how many."""
    name = np.arange(count)
    a, b = pairs[:, 0], pairs[:, 1]
    while len(a):
        low = np.minimum(name[a], name[b])
        np.minimum.at(name, name[a], low)
        np.minimum.at(name, name[b], low)
        while (name[name] != name).any():
            name = name[name]
        apart = name[a] != name[b]
        a, b = a[apart], b[apart]
    kept, found = np.unique(name, return_inverse=True)
    return np.asarray(found.reshape(-1)), len(kept)
