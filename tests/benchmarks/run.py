"""How long validating takes, measured against the floor of one and the same run.

    python tests/benchmarks/run.py [--quick] [--json FILE]

Prints a table: the whole process on the five-light sample against importing the libraries, and
the growth from 100 to 1,000 lights. Times are medians of interleaved runs; only ratios and the
growth exponent are comparable between machines.
"""

from __future__ import annotations

import argparse
import json
import math
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).parent.parent.parent
SCRIPT = ROOT / "extension" / "validate_card.py"
SAMPLE = ROOT / "sample_svgs" / "firefly-jar.svg"
FLOOR = [sys.executable, "-c", "import inkex, numpy, shapely"]

sys.path.insert(0, str(ROOT / "tests"))
from benchmarks.tiled import tiled_card  # noqa: E402


def seconds(command: list[str]) -> float:
    """Wall time of one run that must succeed."""
    start = time.perf_counter()
    subprocess.run(command, check=True, capture_output=True, timeout=120)
    return time.perf_counter() - start


def validate(source: Path, folder: Path) -> list[str]:
    """The shell command of one validation."""
    target = folder / "out.svg"
    report = folder / "out.json"
    return [
        sys.executable, str(SCRIPT), str(source), "--output", str(target), "--report", str(report)
    ]  # fmt: skip


def startup(folder: Path, runs: int) -> dict[str, float]:
    """Median time of the floor and of validating the sample, taken in turns."""
    command = validate(SAMPLE, folder)
    seconds(FLOOR), seconds(command)
    pairs = [(seconds(FLOOR), seconds(command)) for _ in range(runs)]
    floor = statistics.median(a for a, _ in pairs)
    whole = statistics.median(b for _, b in pairs)
    ratio = statistics.median(b / a for a, b in pairs)
    return {"floor_s": floor, "whole_s": whole, "ratio": ratio}


def growth(folder: Path, sizes: list[int], runs: int) -> dict[str, object]:
    """Time beyond the floor for each size and the exponent of its growth."""
    floor = statistics.median(seconds(FLOOR) for _ in range(runs + 2))
    rows = []
    for size in sizes:
        source = folder / f"tiled-{size}.svg"
        source.write_text(tiled_card(size), encoding="utf-8")
        whole = statistics.median(seconds(validate(source, folder)) for _ in range(runs))
        report = json.loads((folder / "out.json").read_text(encoding="utf-8"))
        assert report["verdict"] == "ready", report["findings"][:3]
        assert sum(light["lit"] for light in report["lights"]) == size
        rows.append({"lights": size, "whole_s": whole, "beyond_s": whole - floor})
    return {"floor_s": floor, "rows": rows, "exponent": exponent(rows)}


def exponent(rows: list[dict[str, float]]) -> float:
    """Slope of log(time) over log(lights), least squares."""
    x = [math.log(row["lights"]) for row in rows]
    y = [math.log(row["beyond_s"]) for row in rows]
    mean_x, mean_y = statistics.fmean(x), statistics.fmean(y)
    top = sum((a - mean_x) * (b - mean_y) for a, b in zip(x, y, strict=True))
    return top / sum((a - mean_x) ** 2 for a in x)


def main() -> None:
    """Measure and print."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--quick", action="store_true", help="fewer runs and sizes")
    parser.add_argument("--json", type=Path, help="write the figures here too")
    options = parser.parse_args()
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        start = startup(folder, 5 if options.quick else 21)
        sizes = [100, 300] if options.quick else [100, 200, 500, 1000]
        grown = growth(folder, sizes, 1 if options.quick else 3)
    print(f"five-light sample: {start['whole_s']:.3f} s, libraries {start['floor_s']:.3f} s")
    print(f"ratio {start['ratio']:.2f} (aim: at most 1.40)")
    for row in grown["rows"]:
        print(f"{row['lights']:5d} lights: {row['whole_s']:.2f} s, beyond {row['beyond_s']:.2f} s")
    print(f"growth exponent {grown['exponent']:.2f} (aim: at most 1.15)")
    if options.json:
        options.json.write_text(json.dumps({"startup": start, "growth": grown}, indent=2))


if __name__ == "__main__":
    main()
