"""Other people's SVG files through Prepare and Validate: nothing may break, hang or be lost.

    python tests/hardening/corpus.py FOLDER [FOLDER ...] [--each N]

Takes every SVG file below the folders (every Nth with `--each`). Good ones: the test files of
an SVG renderer (Debian: librsvg2-tests), the editor's own examples, sets of icons.
"""

from __future__ import annotations

import argparse
import collections
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(ROOT / "extension"), str(ROOT / "tests")]

from hardening.deeds import QUICK  # noqa: E402
from hardening.walk import act  # noqa: E402

DEEDS = [deed for deed in QUICK if deed.script in ("prepare_card", "validate_card")]


def main() -> int:
    """Read the command line, try every file, tell."""
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("folders", nargs="+", type=Path)
    parser.add_argument("--each", type=int, default=1)
    asked = parser.parse_args()
    files = sorted(path for folder in asked.folders for path in folder.rglob("*.svg"))
    started, sums = time.monotonic(), collections.Counter()
    for path in files[:: asked.each]:
        drawing: bytes | None = path.read_bytes()
        with tempfile.TemporaryDirectory() as folder:
            for deed in DEEDS:
                began = time.process_time()
                faults, after = act(deed, [], drawing, Path(folder))
                slow = time.process_time() - began > 20.0
                for fault in [*faults, *(["computes for more than 20 s"] if slow else [])]:
                    print(f"{path}: {deed.script}: {fault}", flush=True)
                    sums["faults"] += 1
                sums["refused" if after is None else "done"] += 1
                drawing = after if after is not None else drawing
    spent = time.monotonic() - started
    print(f"{len(files[:: asked.each])} files, {dict(sums)}, {spent:.0f} s")
    return 1 if sums["faults"] else 0


if __name__ == "__main__":
    sys.exit(main())
