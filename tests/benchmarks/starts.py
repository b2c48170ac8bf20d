"""How long every action takes to start, against importing the libraries in the same run.

    python tests/benchmarks/starts.py [--runs N]

Each action gets a page with nothing but words, so that next to nothing is left of its own work.
Medians of runs in turn; processor time, which a busy machine does not stretch. Only the ratios can
be compared.
"""

from __future__ import annotations

import argparse
import resource
import statistics
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
FLOOR = [sys.executable, "-c", "import inkex, numpy, shapely"]
PAGE = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="90mm" height="90mm" viewBox="0 0 90 90">'
    "<text>nothing to work on</text></svg>"
)

#: What an action needs beside the drawing, and may end with 1 where there is nothing to do.
MORE = {"place_power": ["--at", "40,40"], "export_tape": ["--anyway", "true"]}


def spent(command: list[str]) -> float:
    """Processor seconds of one run."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    subprocess.run(command, check=False, capture_output=True, timeout=120)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def main() -> None:
    """Measure and print."""
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("--runs", type=int, default=7)
    runs = parser.parse_args().runs
    scripts = sorted(path.with_suffix(".py") for path in (ROOT / "extension").glob("*.inx"))
    with tempfile.TemporaryDirectory() as folder:
        page = Path(folder) / "page.svg"
        page.write_text(PAGE, encoding="utf-8")
        print(f"{'action':20} {'floor s':>8} {'start s':>8} {'ratio':>6}")
        for script in scripts:
            command = [sys.executable, str(script), str(page), "--output", f"{folder}/out.svg"]
            command += MORE.get(script.stem, [])
            spent(FLOOR), spent(command)
            pairs = [(spent(FLOOR), spent(command)) for _ in range(runs)]
            floor, whole = (statistics.median(column) for column in zip(*pairs, strict=True))
            print(f"{script.stem:20} {floor:8.3f} {whole:8.3f} {whole / floor:6.2f}")


if __name__ == "__main__":
    main()
