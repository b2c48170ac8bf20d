"""Make the pictures of the README from the sample cards, with the real Inkscape.

    python tests/docs/make_pictures.py

Each picture is a sample run through validating and drawn by the editor, so that it shows what a
maker will see. The editor's own window is the one that the tests of the menu leave behind
(`pytest -m editor tests/host`).
"""

from __future__ import annotations

import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

from lxml import etree

ROOT = Path(__file__).parent.parent.parent
sys.path.insert(0, str(ROOT / "tests"))

from samples.from_bare import routed, run  # noqa: E402

PICTURES = ROOT / "docs"
WINDOW = ROOT / "build" / "editor" / "fault.png"

#: picture name -> (drawing, pixels per inch)
WANTED = {
    "firefly-jar-ready": ("firefly-jar.svg", 80),
    "polarities-touch": ("faulty/polarities-touch.svg", 80),
    "gap-too-small": ("faulty/gap-too-small.svg", 80),
}
#: cards shown side by side as they are drawn
CARDS = ("lantern", "lighthouse", "firefly-jar", "street", "night-garden")


#: cards in the dark
AGLOW = ("lighthouse", "firefly-jar", "night-garden", "street")


def export(drawing: Path, picture: Path, dpi: int, area: str) -> None:
    """Draw an SVG file as PNG with Inkscape."""
    subprocess.run(
        [
            "inkscape",
            "--export-type=png",
            f"--export-area-{area}",
            "--export-background=white",
            f"--export-dpi={dpi}",
            f"--export-filename={picture}",
            str(drawing),
        ],
        check=True,
        capture_output=True,
        timeout=120,
    )


def checked(drawing: Path, target: Path) -> None:
    """Validate a drawing into a new file."""
    script = ROOT / "extension" / "validate_card.py"
    subprocess.run(
        [sys.executable, str(script), str(drawing), "--output", str(target)],
        check=True,
        capture_output=True,
        timeout=60,
    )


def aglow(name: str, folder: Path) -> None:
    """A sample in the dark: the picture that the preview saves, smaller."""
    script, picture = ROOT / "extension" / "preview_glow.py", folder / f"{name}.png"
    sample, drawing = ROOT / "sample_svgs" / f"{name}.svg", folder / f"{name}-glow.svg"
    show = [sys.executable, str(script), str(sample), "--output", str(drawing)]
    subprocess.run([*show, "--png", str(picture)], check=True, capture_output=True, timeout=60)
    smaller = ["-resize", "30%", "-strip", str(PICTURES / f"glow-{name}.png")]
    subprocess.run(["convert", str(picture), *smaller], check=True, timeout=60)


def walk(name: str, folder: Path) -> None:
    """A card from its bare outlines to the glow, step by step."""
    routed(name, folder)
    run("preview_glow.py", folder / "5.svg", folder / "6.svg")
    steps = {"bare": "bare", "placed": "3", "taped": "4", "glow": "6"}
    for word, step in steps.items():
        export(folder / f"{step}.svg", PICTURES / f"walk-{word}.png", 50, "page")


def bare_garden(target: Path) -> None:
    """The night garden's die-cut outlines alone, got ready."""
    document = etree.parse(str(ROOT / "sample_svgs" / "night-garden.svg"))
    for layer in document.getroot().findall("{http://www.w3.org/2000/svg}g"):
        if layer.get("{http://www.inkscape.org/namespaces/inkscape}label") != "Die cut":
            layer.getparent().remove(layer)
    document.write(str(target))
    script = ROOT / "extension" / "prepare_card.py"
    subprocess.run(
        [sys.executable, str(script), str(target), "--output", str(target)],
        check=True,
        capture_output=True,
        timeout=60,
    )


def main() -> None:
    """Make every picture anew."""
    PICTURES.mkdir(exist_ok=True)
    if WINDOW.exists():
        shutil.copyfile(WINDOW, PICTURES / "editor.png")
    for name in CARDS:
        export(ROOT / "sample_svgs" / f"{name}.svg", PICTURES / f"{name}.png", 60, "page")
    with tempfile.TemporaryDirectory() as folder:
        prepared = Path(folder) / "prepared.svg"
        walk("street", Path(folder))
        for name in AGLOW:
            aglow(name, Path(folder))
        bare_garden(prepared)
        export(prepared, PICTURES / "prepared.png", 70, "page")
        for name, (drawing, dpi) in WANTED.items():
            marked = Path(folder) / f"{name}.svg"
            checked(ROOT / "sample_svgs" / drawing, marked)
            export(marked, PICTURES / f"{name}.png", dpi, "drawing")


if __name__ == "__main__":
    main()
