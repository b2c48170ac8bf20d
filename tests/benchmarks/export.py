"""How long exporting takes, measured against the floor of one and the same run.

    python tests/benchmarks/export.py [--runs N] [--json FILE]

Three cards with 1,000 strips of tape are exported: plain strips on a base, strips with folded
corners of twelve shapes, and a whole card with 333 lights and windows, whose panel, cover,
diffuser and guides make 3,300 outlines in all (7,900 lines packed, with the names). Times
are medians of interleaved runs of whole processes; the figures that count are user seconds, which
other programs on the machine disturb least, over those of `import inkex, numpy, shapely`.
"""

from __future__ import annotations

import argparse
import json
import resource
import statistics
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).parent.parent.parent
SCRIPT = ROOT / "extension" / "export_tape.py"
FLOOR = [sys.executable, "-c", "import inkex, numpy, shapely"]
LIGHTS = 333

WAYS = {
    "svg": ["--formats", "svg"],
    "svg, packed": ["--formats", "svg", "--arrange", "packed"],
    "svg, whole": ["--formats", "svg", "--pieces", "whole"],
    "dxf": ["--formats", "dxf"],
    "dxf, packed": ["--formats", "dxf", "--arrange", "packed"],
    "dxf r12": ["--formats", "dxf-r12"],
    "dxf r12, packed": ["--formats", "dxf-r12", "--arrange", "packed"],
    "svg and dxf": ["--formats", "svg,dxf"],
}

sys.path.insert(0, str(ROOT / "tests"))
from benchmarks.tiled import tiled_card  # noqa: E402


def seconds(command: list[str]) -> float:
    """User time of one run that must succeed."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN).ru_utime
    subprocess.run(command, check=True, capture_output=True, timeout=300)
    return resource.getrusage(resource.RUSAGE_CHILDREN).ru_utime - before


def measure(command: list[str], runs: int) -> dict[str, float]:
    """Medians of runs taken in turns with the floor."""
    pairs = [(seconds(FLOOR), seconds(command)) for _ in range(runs)]
    floor, whole = (statistics.median(column) for column in zip(*pairs, strict=True))
    return {"floor_s": floor, "whole_s": whole, "ratio": whole / floor}


def plain_strips(count: int) -> str:
    """SVG text of a base with rows of short strips, twenty in each row."""
    return on_base([f"M {i % 20 * 44 + 5},{i // 20 * 13 + 7.5} h 38" for i in range(count)], 13)


def bent_strips(count: int) -> str:
    """The same with one or two folded corners in each strip."""
    bends = [f"v {down} h {back}" for down in (12, 18, 24, 30) for back in (-20, 0, 0)]
    return on_base(
        [
            f"M {i % 20 * 44 + 5},{i // 20 * 43 + 7.5} h {38 - i % 3} {bends[i % 12]}"
            for i in range(count)
        ],
        43,
    )


def on_base(lines: list[str], pitch: int) -> str:
    """SVG text of a base with strips along these lines, twenty in each row."""
    rows = -(-len(lines) // 20)
    strips = "".join(
        f'<path id="s{i}" d="{line}" style="fill:none;stroke:#000;stroke-width:5"/>'
        for i, line in enumerate(lines)
    )
    height = rows * pitch + 20
    label = 'inkscape:groupmode="layer" inkscape:label'
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" '
        'xmlns:inkscape="http://www.inkscape.org/namespaces/inkscape" '
        f'width="900mm" height="{height}mm" viewBox="0 0 900 {height}">'
        f'<g {label}="Base"><rect id="b" width="890" height="{height - 5}"/></g>'
        f'<g {label}="Tape">{strips}</g></svg>'
    )


def main() -> None:
    """Measure and print."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--runs", type=int, default=5)
    parser.add_argument("--json", type=Path, help="write the figures here too")
    options = parser.parse_args()
    rows = {}
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        cards = {
            "strips": plain_strips(1000),
            "bent": bent_strips(1000),
            "card": tiled_card(LIGHTS),
        }
        for card, text in cards.items():
            source = folder / f"{card}.svg"
            source.write_text(text, encoding="utf-8")
            shared = [sys.executable, str(SCRIPT), str(source), "--output", str(folder / "o.svg")]
            shared += ["--folder", name, "--overwrite", "true", "--anyway", "true"]
            for way, extra in WAYS.items():
                rows[f"{card}: {way}"] = measure([*shared, *extra], options.runs)
    print("1,000 strips of tape (aim: at most 10 times the floor)")
    for way, row in rows.items():
        print(f"{way:24s} {row['whole_s']:.2f} s, floor {row['floor_s']:.2f} s: {row['ratio']:.1f}")
    if options.json:
        options.json.write_text(json.dumps(rows, indent=2))


if __name__ == "__main__":
    main()
