"""How long the making sheet and the page to share take beyond the libraries' own start.

    python tests/benchmarks/sheet.py [--runs N]

Prints medians of interleaved runs over the sample cards. Ends with 1 where the card of twelve
lights (the street) takes more than 3 s beyond the start.
"""

from __future__ import annotations

import argparse
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).parent.parent.parent
SCRIPT = ROOT / "extension" / "make_build_sheet.py"
FLOOR = [sys.executable, "-c", "import inkex, numpy, shapely"]

#: The limit (s), and the card that it is about.
LIMIT_S, LIMIT_AT = 3.0, "street"


def seconds(command: list[str]) -> float:
    """Wall time of one run that must succeed."""
    start = time.perf_counter()
    subprocess.run(command, check=True, capture_output=True, timeout=120)
    return time.perf_counter() - start


def beyond(card: Path, folder: Path, runs: int) -> float:
    """Median time of a card's sheet less the floor, taken in turns."""
    command = [sys.executable, str(SCRIPT), str(card), "--folder", str(folder),
               "--overwrite", "true", "--output", str(folder / "out.svg")]  # fmt: skip
    return statistics.median(seconds(command) - seconds(FLOOR) for _ in range(runs))


def main() -> int:
    """Print one row per card."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--runs", type=int, default=3)
    runs = parser.parse_args().runs
    spent = {}
    with tempfile.TemporaryDirectory() as folder:
        for card in sorted((ROOT / "sample_svgs").glob("*.svg")):
            spent[card.stem] = beyond(card, Path(folder), runs)
            print(f"{card.stem:14s} {spent[card.stem]:.2f} s beyond the start")
    return int(spent[LIMIT_AT] > LIMIT_S)


if __name__ == "__main__":
    sys.exit(main())
