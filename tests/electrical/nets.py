"""Networks by hand, by chance, and as ngspice sees them."""

from __future__ import annotations

import random
import re
import subprocess
import tempfile
from pathlib import Path

import numpy as np

from underlit.electrical.operating import Network
from underlit.electrical.parts import LEAK, Diodes, thermal_volt

#: (plus, minus, saturation current, ideality, series ohm)
Light = tuple[int, int, float, float, float]

RED = (3.127e-20, 1.8, 5.195)
GREEN = (4.007e-18, 3.0, 20.696)
BLUE = (4.628e-18, 3.0, 26.25)
KINDS = (RED, GREEN, BLUE, (1e-22, 1.5, 6.0), (1e-10, 4.09, 0.1), (1e-10, 6.68, 0.1))


def network(
    nodes: int,
    resistors: list[tuple[int, int, float]],
    lights: list[Light],
    cells: list[tuple[int, int, float, float]],
    celsius: float = 25.0,
) -> Network:
    """One state. Resistors (a, b, ohm), cells (plus, minus, volt, ohm)."""

    def ends(rows: list) -> np.ndarray:  # type: ignore[type-arg]
        return np.array([row[:2] for row in rows], dtype=np.intp).reshape(-1, 2)

    def column(rows: list, k: int) -> np.ndarray:  # type: ignore[type-arg]
        return np.array([[row[k]] for row in rows], dtype=float).reshape(-1, 1)

    ohm = column(resistors, 2)
    siemens = np.where(ohm > 0.0, 1.0 / np.where(ohm > 0.0, ohm, 1.0), np.inf)
    slope = column(lights, 3) * thermal_volt(celsius)
    diodes = Diodes(column(lights, 2), slope, column(lights, 4))
    return Network(
        nodes, ends(resistors), siemens, ends(lights), diodes, ends(cells),
        column(cells, 2), column(cells, 3),
    )  # fmt: skip


# ---- by chance ---------------------------------------------------------------------------------


def chance(seed: int) -> Network:
    """A circuit such as cards have, and some that they should not: every kind of trouble."""
    rng = random.Random(seed)
    resistors: list[tuple[int, int, float]] = []
    lights: list[Light] = []
    count = rng.randint(1, 14)
    sheet = 10 ** rng.uniform(-3.0, 0.5)
    plus, minus = [0], [1]
    nodes = 2
    for _ in range(count):
        for rail in (plus, minus):
            fork = rail[-1] if rng.random() < 0.8 else rng.choice(rail)
            resistors.append((fork, nodes, sheet * rng.uniform(0.5, 20.0)))
            rail.append(nodes)
            nodes += 1
        nodes = _hang(rng, resistors, lights, nodes, (plus[-1], minus[-1]))
    if rng.random() < 0.15:
        resistors.append((rng.choice(plus), rng.choice(minus), 10 ** rng.uniform(-2.0, 3.0)))
    if rng.random() < 0.1:
        resistors.append((nodes, nodes + 1, 1.0))
        lights.append((nodes, nodes + 1, *BLUE))
        nodes += 2
    cells = [(0, 1, rng.choice((3.0, 3.2, 2.6)), rng.choice((10.0, 15.0, 60.0, 150.0)))]
    while rng.random() < 0.2 and len(cells) < 3:
        cells.append((rng.choice(plus), rng.choice(minus), rng.uniform(2.5, 3.2), 40.0))
    return network(nodes, resistors, lights, cells)


def _hang(
    rng: random.Random,
    resistors: list[tuple[int, int, float]],
    lights: list[Light],
    nodes: int,
    rails: tuple[int, int],
) -> int:
    """Something between two rails: one light, two in a row, a resistor before it, a fault."""
    a, b = rails
    kind = rng.choice(KINDS[:4] if rng.random() < 0.8 else KINDS)
    resistors.append((a, nodes, rng.choice((0.05, 0.2, 2.5))))
    a, nodes = nodes, nodes + 1
    what = rng.random()
    if what < 0.12:
        lights.append((a, nodes, *kind))
        a, nodes = nodes, nodes + 1
    elif what < 0.27:
        resistors.append((a, nodes, rng.choice((10.0, 47.0, 100.0, 470.0))))
        a, nodes = nodes, nodes + 1
    elif what < 0.32:
        resistors.append((a, b, 10 ** rng.uniform(-1.0, 3.0)))
    elif what < 0.37:
        b, nodes = nodes, nodes + 1
    elif what < 0.43:
        a, b = b, a
    lights.append((a, b, *kind))
    return nodes


# ---- ngspice -----------------------------------------------------------------------------------


class SpiceTrouble(AssertionError):
    """ngspice warned, failed or left out a value."""


def spice_currents(net: Network, celsius: float = 25.0) -> np.ndarray:
    """Current of every light by ngspice (A). Raises SpiceTrouble at any doubt."""
    with tempfile.TemporaryDirectory() as folder:
        source = Path(folder) / "card.cir"
        source.write_text(_netlist(net, celsius), encoding="ascii")
        done = subprocess.run(
            ["ngspice", "-b", str(source)], capture_output=True, text=True, timeout=60, check=False
        )
    text = done.stdout + done.stderr
    for line in text.splitlines():
        if re.search(r"warning|error|singular|failed|no such|unknown|aborted", line, re.I):
            raise SpiceTrouble(line)
    found = dict(re.findall(r"^i\(vl(\d+)\) = (\S+)$", text, re.M))
    if done.returncode or len(found) != len(net.lights):
        raise SpiceTrouble(f"{len(found)} of {len(net.lights)} currents: {text[-500:]}")
    return np.array([float(found[str(i)]) for i in range(len(net.lights))])


def _netlist(net: Network, celsius: float) -> str:
    thermal = thermal_volt(celsius)
    lines = ["card", f".options temp={celsius} tnom={celsius} gmin={LEAK:g} reltol=1e-6"]
    lines.append(".options abstol=1e-12 vntol=1e-9 itl1=1000")
    ground = net.cells[0, 1]

    def name(node: int) -> str:
        return "0" if node == ground else f"n{node}"

    for i, (a, b) in enumerate(net.ends.tolist()):
        lines.append(f"r{i} {name(a)} {name(b)} {1.0 / net.siemens[i, 0]:.17g}")
    for i, (a, b) in enumerate(net.lights.tolist()):
        d = net.diodes
        lines.append(f"vl{i} {name(a)} m{i} 0")
        lines.append(f"rl{i} m{i} k{i} {d.ohm[i, 0]:.17g}")
        lines.append(f"d{i} k{i} {name(b)} md{i}")
        lines.append(
            f".model md{i} d(is={d.saturation[i, 0]:.17g} n={d.slope[i, 0] / thermal:.17g})"
        )
    for i, (a, b) in enumerate(net.cells.tolist()):
        lines.append(f"vc{i} {name(a)} e{i} 0")
        lines.append(f"vs{i} e{i} f{i} {net.volt[i, 0]:.17g}")
        lines.append(f"rc{i} f{i} {name(b)} {net.ohm[i, 0]:.17g}")
    # a resistor far above everything holds each node that hangs in the air
    for node in range(net.nodes):
        if node != ground:
            lines.append(f"rh{node} {name(node)} 0 1e12")
    lines += [".control", "set numdgt=12", "op"]
    lines += [f"print i(vl{i})" for i in range(len(net.lights))]
    return "\n".join([*lines, "quit", ".endc", ".end", ""])
