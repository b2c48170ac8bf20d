"""How long a lace die takes, and how that grows with its openings.

    python tests/benchmarks/outlines.py [--quick] [--json FILE]

Prints, for lace dies of 250 to 2,000 openings, the time of reading and interpreting within one
process, of the whole Prepare beyond the libraries' own start, and the growth exponents. Times
are medians of processor time (user and system), so that other work on the machine hardly matters;
only the exponents are comparable between machines. Ends with 1 where a limit is not kept: 3 s for
1,000 openings, exponent 1.2.
"""

from __future__ import annotations

import argparse
import json
import math
import resource
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).parent.parent.parent
FLOOR = [sys.executable, "-c", "import inkex, numpy, shapely"]
SCRIPT = ROOT / "extension" / "prepare_card.py"

sys.path[:0] = [str(ROOT / "extension"), str(ROOT / "tests")]
from lxml import etree  # noqa: E402

from underlit.interpretation.card import read_card  # noqa: E402
from underlit_host.read_drawing import read_drawing  # noqa: E402

#: Openings of the dies, and the one that the limit is about.
SIZES = (250, 500, 1000, 2000)
LIMIT_AT, LIMIT_S, LIMIT_EXPONENT = 1000, 3.0, 1.2


def lace(openings: int, drawn: str) -> str:
    """A lace die: flowers of curves in rows, as one path, as objects, or with double lines."""
    columns = math.ceil(math.sqrt(openings))
    pitch, size = 8.0, 8.0 * columns + 20.0
    petals = [_flower(14 + pitch * (k % columns), 14 + pitch * (k // columns), 2.6)
              for k in range(openings)]  # fmt: skip
    if drawn == "double":
        petals += [_flower(14 + pitch * (k % columns), 14 + pitch * (k // columns), 2.3)
                   for k in range(openings)]  # fmt: skip
    panel = f"M6 6H{size - 6:g}V{size - 6:g}H6Z"
    paths = [panel + "".join(petals)] if drawn == "compound" else [panel, *petals]
    body = "\n".join(f'<path id="p{n}" d="{d}"/>' for n, d in enumerate(paths))
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" xmlns:underlit="urn:underlit:card:1" '
        f'width="{size:g}mm" height="{size:g}mm" viewBox="0 0 {size:g} {size:g}">'
        f'<g id="cut" underlit:role="die-cut">{body}</g></svg>'
    )


def _flower(x: float, y: float, r: float) -> str:
    """A closed outline of six curves."""
    tips = [(x + r * math.cos(k * math.pi / 3), y + r * math.sin(k * math.pi / 3))
            for k in range(6)]  # fmt: skip
    parts = [f"M{tips[0][0]:.3f} {tips[0][1]:.3f}"]
    for k in range(6):
        a = (k + 0.5) * math.pi / 3
        bow = (x + 1.15 * r * math.cos(a), y + 1.15 * r * math.sin(a))
        end = tips[(k + 1) % 6]
        parts.append(f"Q{bow[0]:.3f} {bow[1]:.3f} {end[0]:.3f} {end[1]:.3f}")
    return "".join(parts) + "Z"


def inside(text: str, openings: int, runs: int) -> float:
    """Median seconds of reading and interpreting in this process."""
    times = []
    for _ in range(runs):
        start = time.process_time()
        reading = read_card(read_drawing(etree.fromstring(text.encode()), "lace.svg"), "fold")
        times.append(time.process_time() - start)
        got = (len(reading.card.panels), len(reading.card.openings), len(reading.card.loose))
        if got != (1, openings, 0):
            raise ValueError(f"{openings} openings were read as {got}")
    return statistics.median(times)


def seconds(command: list[str]) -> float:
    """Processor time of one run that must succeed."""
    start = resource.getrusage(resource.RUSAGE_CHILDREN)
    subprocess.run(command, check=True, capture_output=True, timeout=120)
    end = resource.getrusage(resource.RUSAGE_CHILDREN)
    return end.ru_utime - start.ru_utime + end.ru_stime - start.ru_stime


def whole(text: str, folder: Path, runs: int) -> float:
    """Median seconds of Prepare as a process, less those of the libraries' start."""
    source = folder / "lace.svg"
    source.write_text(text, encoding="utf-8")
    command = [sys.executable, str(SCRIPT), str(source), "--output", str(folder / "out.svg")]
    pairs = [(seconds(FLOOR), seconds(command)) for _ in range(runs)]
    return statistics.median(b - a for a, b in pairs)


def exponent(sizes: list[int], times: list[float]) -> float:
    """Slope of log(time) over log(size), least squares."""
    x, y = [math.log(n) for n in sizes], [math.log(t) for t in times]
    mean_x, mean_y = statistics.fmean(x), statistics.fmean(y)
    top = sum((a - mean_x) * (b - mean_y) for a, b in zip(x, y, strict=True))
    return top / sum((a - mean_x) ** 2 for a in x)


def measure(sizes: list[int], runs: int, folder: Path) -> dict[str, dict[str, object]]:
    """All figures, by the way in which the die is drawn."""
    found: dict[str, dict[str, object]] = {}
    for drawn in ("compound", "objects", "double"):
        texts = {n: lace(n, drawn) for n in sizes}
        read = [inside(texts[n], n, runs) for n in sizes]
        full = [whole(texts[n], folder, runs) for n in sizes]
        found[drawn] = {
            "openings": sizes,
            "read_s": read,
            "prepare_s": full,
            "read_exponent": exponent(sizes, read),
            "prepare_exponent": exponent(sizes, full),
        }
    return found


def faults(found: dict[str, dict[str, object]]) -> list[str]:
    """Which limits are not kept."""
    told = []
    for drawn, row in found.items():
        for name in ("read", "prepare"):
            times = dict(zip(row["openings"], row[f"{name}_s"], strict=True))  # type: ignore[call-overload]
            if times.get(LIMIT_AT, 0.0) > LIMIT_S:
                told.append(f"{drawn}, {name}: {times[LIMIT_AT]:.2f} s for {LIMIT_AT} openings")
            if float(row[f"{name}_exponent"]) > LIMIT_EXPONENT:  # type: ignore[arg-type]
                told.append(f"{drawn}, {name}: exponent {row[f'{name}_exponent']:.2f}")
    return told


def main() -> int:
    """Measure and print."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--quick", action="store_true", help="fewer runs and sizes")
    parser.add_argument("--json", type=Path, help="write the figures here too")
    options = parser.parse_args()
    sizes = list(SIZES[:3]) if options.quick else list(SIZES)
    with tempfile.TemporaryDirectory() as name:
        found = measure(sizes, 3 if options.quick else 5, Path(name))
    for drawn, row in found.items():
        for n, read, full in zip(row["openings"], row["read_s"], row["prepare_s"], strict=True):  # type: ignore[call-overload]
            print(
                f"{drawn:9} {n:5d} openings: read {read:.2f} s, Prepare beyond start {full:.2f} s"
            )
        print(
            f"{drawn:9} growth exponent: read {row['read_exponent']:.2f}, "
            f"Prepare {row['prepare_exponent']:.2f} (aim: at most {LIMIT_EXPONENT})"
        )
    if options.json:
        options.json.write_text(json.dumps(found, indent=2), encoding="utf-8")
    told = faults(found)
    for fault in told:
        print(f"NOT KEPT: {fault}")
    return 1 if told else 0


if __name__ == "__main__":
    sys.exit(main())
