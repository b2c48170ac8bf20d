"""Makes the corpus of outlines anew: `PYTHONPATH=tests python -m outlines.make [PART ...]`.

Needs pillow, numpy, scipy, scikit-image, potracer, fonttools and shapely, and the real inkscape
on the path; none of them is needed to run the tests, which read the frozen files. Parts: scans,
sheets, icons, forms, lace; without any, all are made. Expected numbers never come from the tool.
"""

from __future__ import annotations

import importlib
import json
import sys
from pathlib import Path

from outlines.writing import Entry

HERE = Path(__file__).parent
CORPUS = HERE / "corpus"
PARTS = ("scans", "sheets", "icons", "forms", "lace")
PREFIX = {"scans": "scan-", "sheets": "sheet-", "icons": "icon-", "forms": "form-", "lace": "lace-"}


def main(parts: list[str]) -> None:
    """Write files and expected.json."""
    CORPUS.mkdir(exist_ok=True)
    target = HERE / "expected.json"
    known = json.loads(target.read_text(encoding="utf-8")) if target.exists() else {}
    for part in parts or PARTS:
        prefix = PREFIX[part]
        known = {name: row for name, row in known.items() if not name.startswith(prefix)}
        for old in CORPUS.glob(f"{prefix}*.svg"):
            old.unlink()
        for entry in importlib.import_module(f"outlines.{part}").entries():
            if not entry.name.startswith(prefix) or f"{entry.name}.svg" in known:
                raise ValueError(entry.name)
            _write(entry)
            known[f"{entry.name}.svg"] = _row(entry)
    text = json.dumps(dict(sorted(known.items())), indent=1, ensure_ascii=False)
    target.write_text(text + "\n", encoding="utf-8", newline="\n")


def _write(entry: Entry) -> None:
    (CORPUS / f"{entry.name}.svg").write_text(entry.svg, encoding="utf-8", newline="\n")


def _row(entry: Entry) -> dict[str, object]:
    row: dict[str, object] = {**entry.expected, "how": entry.how, "told": list(entry.told)}
    if entry.doubtful:
        row["doubtful"] = True
    return row


if __name__ == "__main__":
    main(sys.argv[1:])
