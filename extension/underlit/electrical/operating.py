"""The operating point of lights, cells and resistors: damped Newton on a convex function.

Every element passes more current at more voltage, so that Kirchhoff's laws are the minimum of
one convex function, the sum of co-contents (W. Millar, 1951, from memory). Newton's step is
halved until that sum falls; this converges from any start. Several states of the same
network (fresh, after a minute, aged) are solved side by side.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache

import numpy as np

from ..records import record
from .elimination import Floats, Ints, Plan, labels, make_plan, solve
from .parts import Diodes

#: What conducts better is one node (S): 0.00001 ohm.
JOINED = 1e5

#: Least resistance of a cell (ohm): its metal.
LEAST_CELL_OHM = 1e-3

#: Currents of Kirchhoff's sum at a node that may remain (A).
RESIDUAL = 1e-9

#: Newton steps allowed; circuits need about ten.
STEPS = 200

#: Lights whose sources are computed side by side.
AT_ONCE = 64

#: Of the conductance between a light's feet, what at least is not its own: a light that hangs
#: in the air sees a source of almost infinite resistance.
LEAST_REST = 1e-9

#: A step below this ends the search (V): the next one would be its square.
LAST_STEP = 1e-8


class NoOperatingPoint(ArithmeticError):
    """Newton's search did not end: a fault of this module, not of the card."""


@record
class Network:
    """Elements between numbered nodes in S states; ends are (k, 2), values (k, S).

    `siemens` of resistors (inf where ends are one), `lights` from plus to minus foot, `cells`
    from plus to minus pad with their voltage and inner resistance.
    """

    nodes: int
    ends: Ints
    siemens: Floats
    lights: Ints
    diodes: Diodes
    cells: Ints
    volt: Floats
    ohm: Floats


@record
class Solution:
    """Potentials (n, S), currents and voltages of lights (l, S), currents of cells (c, S).

    `residual` is the largest sum of currents at any node that should be 0 (A).
    `source_ohm(k, which)`: the resistance that each light of `which` (numbers) sees in state k,
    looking away from itself into everything else at its operating point (ohm, Thevenin's).
    """

    volts: Floats
    light_amps: Floats
    light_volts: Floats
    cell_amps: Floats
    residual: float
    source_ohm: Callable[[int, Ints], Floats]


@record
class _System:
    """The network with joined nodes made one, as one list of branches: r, l, c in this order."""

    network: Network
    node_of: Ints
    nodes: int
    kept: Ints
    ends: Ints
    ground: Ints
    siemens: Floats
    cell_siemens: Floats


def operating_point(network: Network) -> Solution:
    """All potentials and currents. Raises NoOperatingPoint if the search does not end."""
    system = _system(network)
    plan = _plan_of(system.nodes, system.ends.tobytes())
    leak = np.zeros((system.nodes, network.volt.shape[1]))
    leak[system.ground] = 1.0
    volts = _first_guess(system, plan, leak)
    for _ in range(STEPS):
        drop = _across(system, volts)
        amps, slopes, content = _elements(system, drop)
        excess = _into_nodes(system, amps) + leak * volts
        step = solve(plan.factor(slopes, leak), -excess)
        downhill = (excess * step).sum(axis=0)
        volts = volts + _damped(system, volts, leak, step, content, downhill) * step
        if np.abs(step).max(initial=0.0) < LAST_STEP:
            return _solution(system, plan, volts)
    raise NoOperatingPoint(f"no operating point after {STEPS} steps")


@lru_cache(maxsize=8)
def _plan_of(nodes: int, ends: bytes) -> Plan:
    """The order of elimination: the same for all that is tried out on one card."""
    return make_plan(nodes, np.frombuffer(ends, dtype=np.intp).reshape(-1, 2))


def _damped(
    system: _System, volts: Floats, leak: Floats, step: Floats, content: Floats, downhill: Floats
) -> Floats:
    """Share (S,) of a step that makes the sum of co-contents fall in every state."""
    share = np.ones(volts.shape[1])
    if np.abs(step).max(initial=0.0) < 1e-3:
        return share
    before = content + (leak * volts * volts).sum(axis=0) / 2.0
    slack = 1e-12 * np.abs(before)
    for _ in range(50):
        trial = volts + share * step
        after = _elements(system, _across(system, trial))[2]
        after = after + (leak * trial * trial).sum(axis=0) / 2.0
        fell = after <= before + 1e-4 * share * downhill + slack
        if fell.all():
            break
        share = np.where(fell, share, share / 2.0)
    return share


def _system(network: Network) -> _System:
    joined = (network.siemens >= JOINED).all(axis=1)
    node_of, nodes = labels(network.nodes, network.ends[joined])
    ends = node_of[network.ends]
    kept = np.flatnonzero(ends[:, 0] != ends[:, 1])
    lights, cells = node_of[network.lights], node_of[network.cells]
    cell_siemens = 1.0 / np.maximum(network.ohm, LEAST_CELL_OHM)
    everything = np.concatenate([ends[kept], lights, cells])
    piece, _ = labels(nodes, everything)
    # each piece is held at 0 V where its first cell's minus pad is, or anywhere
    ground = np.full(int(piece.max(initial=-1)) + 1, -1, dtype=np.intp)
    for node in [*range(nodes - 1, -1, -1), *cells[::-1, 1].tolist()]:
        ground[piece[node]] = node
    siemens = np.minimum(network.siemens[kept], JOINED)
    return _System(network, node_of, nodes, kept, everything, ground, siemens, cell_siemens)


def _across(system: _System, volts: Floats) -> Floats:
    return np.asarray(volts[system.ends[:, 0]] - volts[system.ends[:, 1]])


def _elements(system: _System, drop: Floats) -> tuple[Floats, Floats, Floats]:
    """Current and conductance of every branch, and the sum of co-contents per state."""
    r, c = len(system.kept), len(system.network.cells)
    last = len(system.ends) - c
    amps_r = system.siemens * drop[:r]
    amps_l, slope_l, content_l = system.network.diodes.state(drop[r:last])
    over = drop[last:] - system.network.volt
    amps_c = system.cell_siemens * over
    content = (amps_r * drop[:r]).sum(axis=0) / 2.0 + content_l.sum(axis=0)
    content = content + (amps_c * over).sum(axis=0) / 2.0
    amps = np.concatenate([amps_r, amps_l, amps_c])
    return amps, np.concatenate([system.siemens, slope_l, system.cell_siemens]), content


def _into_nodes(system: _System, amps: Floats) -> Floats:
    """Sum (n, S) of the currents that leave each node through its branches."""
    found = np.empty((system.nodes, amps.shape[1]))
    for k in range(amps.shape[1]):
        out = np.bincount(system.ends[:, 0], amps[:, k], system.nodes)
        found[:, k] = out - np.bincount(system.ends[:, 1], amps[:, k], system.nodes)
    return found


def _first_guess(system: _System, plan: object, leak: Floats) -> Floats:
    return np.zeros_like(leak)


def _solution(system: _System, plan: Plan, volts: Floats) -> Solution:
    drop = _across(system, volts)
    amps, slopes, _ = _elements(system, drop)
    residual = float(np.abs(_into_nodes(system, amps)).max(initial=0.0))
    if not residual < RESIDUAL:
        raise NoOperatingPoint(f"currents at a node do not add up: {residual:.1e} A")
    r, last = len(system.kept), len(system.ends) - len(system.network.cells)

    def source_ohm(state: int, which: Ints) -> Floats:
        return _source_ohm(system, plan, slopes[:, [state]], r + which)

    own = volts[system.node_of]
    return Solution(own, amps[r:last], drop[r:last], -amps[last:], residual, source_ohm)


def _source_ohm(system: _System, plan: Plan, slopes: Floats, lights: Ints) -> Floats:
    """Resistance between the feet of each of some lights with that light itself taken out.

    One ampere is sent through each light in turn, all others replaced by their slopes (m, 1).
    """
    leak = np.zeros((system.nodes, 1))
    leak[system.ground] = 1.0
    factors = plan.factor(slopes, leak)
    ends, own = system.ends[lights], slopes[lights, 0]
    found = np.zeros(len(ends))
    for start in range(0, len(ends), AT_ONCE):
        part = ends[start : start + AT_ONCE]
        column = np.arange(len(part))
        amps = np.zeros((system.nodes, len(part)))
        np.add.at(amps, (part[:, 0], column), 1.0)
        np.add.at(amps, (part[:, 1], column), -1.0)
        volts = solve(factors, amps)
        found[start : start + AT_ONCE] = volts[part[:, 0], column] - volts[part[:, 1], column]
    return np.asarray(found / np.maximum(1.0 - found * own, LEAST_REST))
