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

from samples.from_bare import LABEL, routed, run  # noqa: E402
from share.browser import Browser, Tab  # noqa: E402

PICTURES = ROOT / "docs"
WINDOW = ROOT / "build" / "editor" / "fault.png"

#: picture name -> (drawing, pixels per inch)
WANTED = {
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


def shared(name: str, folder: Path) -> None:
    """The page to share on a phone: dark, lit, and a step of its making."""
    script, sample = (
        ROOT / "extension" / "make_build_sheet.py",
        ROOT / "sample_svgs" / f"{name}.svg",
    )
    make = [sys.executable, str(script), str(sample), "--output", str(folder / "made.svg")]
    make += ["--pages", "share", "--folder", str(folder)]
    subprocess.run(make, check=True, capture_output=True, timeout=60)
    browser = Browser(folder / "browser")
    try:
        pictures = phone_pictures(browser, folder / f"{name}-share.html")
    finally:
        browser.close()
    files = []
    for number, data in enumerate(pictures):
        files.append(str(folder / f"shot-{number}.png"))
        Path(files[-1]).write_bytes(data)
    side_by_side = ["-bordercolor", "white", "-border", "6", "+append", "-strip", "-colors", "200"]
    command = ["convert", *files, *side_by_side, str(PICTURES / "share-page.png")]
    subprocess.run(command, check=True, timeout=60)


def phone_pictures(browser: Browser, page: Path) -> list[bytes]:
    """Three windows of a phone."""
    tab = Tab(browser, (330, 640))
    tab.send("Emulation.setScrollbarsHidden", hidden=True)
    tab.open(page)
    shots = [tab.picture()]
    tab.ask("document.querySelector('#keep').click()")
    tab.until("Number(getComputedStyle(document.querySelector('.glow')).opacity) === 1")
    shots.append(tab.picture())
    tab.ask("walk(7); document.querySelector('#making').scrollIntoView({behavior: 'instant'})")
    tab.until("document.getAnimations().every((a) => a.playState !== 'running')")
    return [*shots, tab.picture()]


def printed(name: str, title: str, picture: str, folder: Path, *options: str) -> None:
    """A page of the making sheet, by its title."""
    script, sample = (
        ROOT / "extension" / "make_build_sheet.py",
        ROOT / "sample_svgs" / f"{name}.svg",
    )
    make = [sys.executable, str(script), str(sample), "--output", str(folder / "printed.svg")]
    make += ["--folder", str(folder), "--overwrite", "true", *options]
    subprocess.run(make, check=True, capture_output=True, timeout=60)
    sheet = folder / f"{name}-build-sheet.svg"
    label = "{http://www.inkscape.org/namespaces/inkscape}label"
    pages = etree.parse(str(sheet)).getroot().findall("{http://www.w3.org/2000/svg}g")
    page = next(p.get("id") for p in pages if p.get(label, "").endswith(f": {title}"))
    whole = folder / f"{picture}.png"
    command = ["inkscape", f"--export-id={page}", "--export-id-only", "--export-dpi=80"]
    command += ["--export-background=white", f"--export-filename={whole}", str(sheet)]
    subprocess.run(command, check=True, capture_output=True, timeout=120)
    small = ["-trim", "-bordercolor", "white", "-border", "16", "-strip", "-colors", "120"]
    target = f"PNG8:{PICTURES / picture}.png"
    subprocess.run(["convert", str(whole), *small, target], check=True, timeout=60)


def walk(name: str, folder: Path) -> None:
    """A card from its bare outlines to the glow, step by step."""
    routed(name, folder)
    run("preview_glow.py", folder / "5.svg", folder / "6.svg")
    steps = {"bare": "bare", "placed": "3", "taped": "4", "glow": "6"}
    for word, step in steps.items():
        export(folder / f"{step}.svg", PICTURES / f"walk-{word}.png", 50, "page")


def empty_page(folder: Path) -> None:
    """What Make it light puts on an empty page: in the dark, and the tape under the glow."""
    page, lit, tape = folder / "page.svg", folder / "lit.svg", folder / "tape.svg"
    page.write_text(
        '<svg xmlns="http://www.w3.org/2000/svg" width="210mm" height="297mm" '
        'viewBox="0 0 210 297"/>',
        encoding="utf-8",
    )
    run("make_it_light.py", page, lit)
    document = etree.parse(str(lit))
    root = document.getroot()
    root.remove(next(layer for layer in root if layer.get(LABEL) == "Glow"))
    document.write(str(tape))
    for drawing in (lit, tape):
        export(drawing, drawing.with_suffix(".png"), 80, "page")
    halves = [str(folder / "lit.png"), str(folder / "tape.png")]
    cut = ["-crop", "396x556+132+202", "+repage", "+append", "-strip"]
    picture = str(PICTURES / "make-it-light.png")
    subprocess.run(["convert", *halves, *cut, picture], check=True, timeout=60)


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
        shared("street", Path(folder))
        printed("firefly-jar", "Steps", "making-sheet", Path(folder))
        colours = ("--pages", "none", "--colours", "red, kraft, cream, navy")
        printed("night-garden", "Colour plan", "colour-plan", Path(folder), *colours)
        for name in AGLOW:
            aglow(name, Path(folder))
        empty_page(Path(folder))
        bare_garden(prepared)
        export(prepared, PICTURES / "prepared.png", 70, "page")
        for name, (drawing, dpi) in WANTED.items():
            marked = Path(folder) / f"{name}.svg"
            checked(ROOT / "sample_svgs" / drawing, marked)
            export(marked, PICTURES / f"{name}.png", dpi, "drawing")


if __name__ == "__main__":
    main()
