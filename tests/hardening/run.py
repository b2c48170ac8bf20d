"""Thousands of odd drawings through every action, in one process.

    python tests/hardening/run.py --drawings 5000 [--first SEED] [--keep DIR]

What takes more memory than a maker's computer has is a fault too. Prints every fault with the seed
of its drawing, how far it is after each hundred, and the sum at the end. Exit code 1 after faults.
"""

from __future__ import annotations

import argparse
import collections
import random
import resource
import shutil
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(ROOT / "extension"), str(ROOT / "tests")]

from hardening.deeds import MEMORY  # noqa: E402
from hardening.walk import walk  # noqa: E402


def main() -> int:
    """Read the command line, walk, tell."""
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("--drawings", type=int, default=5000)
    parser.add_argument("--first", type=int, default=0, help="seed of the first drawing")
    parser.add_argument("--keep", type=Path, help="folder for drawings at fault")
    asked = parser.parse_args()
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
    started, faults = time.monotonic(), collections.Counter()
    for seed in range(asked.first, asked.first + asked.drawings):
        with tempfile.TemporaryDirectory() as folder:
            found = walk(random.Random(seed), Path(folder))
            for fault in found:
                print(f"{seed}: {fault}", flush=True)
                faults[fault.split(" ")[0]] += 1
            if found and asked.keep:
                asked.keep.mkdir(parents=True, exist_ok=True)
                shutil.copy(Path(folder) / "at-fault.svg", asked.keep / f"{seed}.svg")
        done = seed - asked.first + 1
        if done % 100 == 0:
            print(f"{done} drawings, {sum(faults.values())} faults", file=sys.stderr, flush=True)
    spent = time.monotonic() - started
    print(f"{asked.drawings} drawings, {sum(faults.values())} faults, {spent:.0f} s")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
