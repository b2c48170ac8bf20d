"""Make the picture of each rule for the README: its faulty sample, validated, close to the fault.

    python tests/docs/make_rule_pictures.py

Drawn by the real Inkscape, so that it shows what a maker will see. A fault without a place shows
the whole card.
"""

from __future__ import annotations

import json
import subprocess
import sys
import tempfile
from pathlib import Path

from PIL import Image

ROOT = Path(__file__).parent.parent.parent
sys.path.insert(0, str(ROOT / "tests"))

from docs.make_pictures import export  # noqa: E402

PICTURES = ROOT / "docs" / "rules"

#: What of the card is seen (mm), and how fine (dots per inch).
WIDE, HIGH = 60.0, 40.0
DPI, WHOLE = 130, 45
COLOURS = 64


def picture(sample: Path, folder: Path) -> Image.Image:
    """The marked sample near the first finding of its rule."""
    marked, report, page = folder / "marked.svg", folder / "report.json", folder / "page.png"
    script = ROOT / "extension" / "validate_card.py"
    command = [sys.executable, str(script), str(sample), "--output", str(marked)]
    command += ["--report", str(report)]
    subprocess.run(command, check=True, capture_output=True, timeout=60)
    findings = json.loads(report.read_text(encoding="utf-8"))["findings"]
    place = next(found["at"] for found in findings if found["rule"] == sample.stem)
    if place is None:
        export(marked, page, WHOLE, "page")
        return Image.open(page).convert("RGB")
    export(marked, page, DPI, "page")
    whole, scale = Image.open(page).convert("RGB"), DPI / 25.4
    size = (min(WIDE * scale, whole.width), min(HIGH * scale, whole.height))
    left, top = (
        min(max(v * scale - room / 2.0, 0.0), most - room)
        for v, room, most in zip(place, size, whole.size, strict=True)
    )
    return whole.crop(tuple(map(round, (left, top, left + size[0], top + size[1]))))


def main() -> None:
    """Every sample that is named after a rule."""
    PICTURES.mkdir(parents=True, exist_ok=True)
    for sample in sorted((ROOT / "sample_svgs" / "faulty").glob("*.svg")):
        if sample.stem.endswith("-stop"):
            continue
        with tempfile.TemporaryDirectory() as folder:
            found = picture(sample, Path(folder)).quantize(COLOURS)
        found.save(PICTURES / f"{sample.stem}.png", optimize=True)


if __name__ == "__main__":
    main()
