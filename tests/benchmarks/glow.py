"""How long showing the glow takes beyond start-up: 12 lights, 30 windows of 12 to 24 mm.

    python tests/benchmarks/glow.py

Prints medians of interleaved runs, in wall time and in processor time of the whole process. The
aim is less than 1 s beyond importing the libraries.
"""

from __future__ import annotations

import resource
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).parent.parent.parent
SCRIPT = ROOT / "extension" / "preview_glow.py"
FLOOR = [sys.executable, "-c", "import inkex, numpy, shapely"]
RUNS = 9

sys.path.insert(0, str(ROOT / "tests"))
from benchmarks.tiled import tiled_card  # noqa: E402


def many_windows() -> str:
    """The tiled card of 12 lights, with 18 more windows in a field to its right."""
    panel = '<rect id="field" x="160" y="-10" width="{w}" height="140" style="fill:none"/>'
    across = [(i % 6, i // 6) for i in range(18)]
    extra = [
        f'<circle id="more-{i}" cx="{180 + 30 * x}" cy="{10 + 42 * y}" r="{6 + 6 * (i % 3) / 2}"/>'
        for i, (x, y) in enumerate(across)
    ]
    mark = 'inkscape:label="Die cut">'
    text = tiled_card(12)
    assert text.count(mark) == 1
    return text.replace(mark, mark + panel.format(w=190) + "".join(extra))


def measured(command: list[str]) -> tuple[float, float]:
    """(wall, processor) seconds of one run that must succeed."""
    before, start = resource.getrusage(resource.RUSAGE_CHILDREN), time.perf_counter()
    subprocess.run(command, check=True, capture_output=True, timeout=120)
    wall, after = time.perf_counter() - start, resource.getrusage(resource.RUSAGE_CHILDREN)
    return wall, after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def main() -> None:
    """Measure and print."""
    with tempfile.TemporaryDirectory() as name:
        source, target = Path(name) / "in.svg", Path(name) / "out.svg"
        source.write_text(many_windows(), encoding="utf-8")
        command = [sys.executable, str(SCRIPT), str(source), "--output", str(target)]
        measured(command)
        pairs = [(measured(FLOOR), measured(command)) for _ in range(RUNS)]
    for k, what in enumerate(("wall", "processor")):
        floor = statistics.median(a[k] for a, _ in pairs)
        whole = statistics.median(b[k] for _, b in pairs)
        beyond = statistics.median(b[k] - a[k] for a, b in pairs)
        print(f"{what}: {whole:.2f} s, libraries {floor:.2f} s, beyond {beyond:.2f} s (aim: 1)")


if __name__ == "__main__":
    main()
