"""Writes the first lantern anew: the built-in card, and the same made light with sheets to print.

PYTHONPATH=tests python -m samples.write_first_lantern [FOLDER]
"""

from __future__ import annotations

import shutil
import sys
import tempfile
from pathlib import Path

from lxml import etree

from samples.draw_first_lantern import draw
from samples.from_bare import ROLE, ROOT, SVG, run

BUILT_IN = ROOT / "extension" / "cards" / "first-lantern.svg"
FOLDER = ROOT / "sample_svgs" / "first-lantern"
NAME = "first-lantern"
PAPERS = ("a4", "letter")
PAGE = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="125mm" height="168mm" viewBox="0 0 125 168"/>'
)


def write(folder: Path) -> None:
    """The card made light, its making sheet on both papers, its front to cut."""
    with tempfile.TemporaryDirectory() as place:
        own = Path(place)
        empty = own / "empty.svg"
        empty.write_text(PAGE, encoding="utf-8")
        card, _ = run("make_it_light.py", empty, own / f"{NAME}.svg")
        unmarked(card)
        shutil.copyfile(card, folder / card.name)
        for paper in PAPERS:
            made = own / paper
            made.mkdir()
            options = ("--folder", str(made), "--paper", paper, "--pages", "all")
            run("make_build_sheet.py", card, own / "drawing.svg", *options)
            sheet = made / f"{NAME}-build-sheet.pdf"
            shutil.copyfile(sheet, folder / f"{NAME}-{paper}.pdf")
        options = ("--folder", str(own), "--formats", "svg")
        run("export_tape.py", card, own / "drawing.svg", *options)
        shutil.copyfile(own / f"{NAME}-panel.svg", folder / f"{NAME}-panel.svg")


def unmarked(card: Path) -> None:
    """Take the Findings layer out: a sample comes as it is before it is validated."""
    document = etree.parse(str(card))
    for layer in document.getroot().findall(f"{SVG}g"):
        if layer.get(ROLE) == "findings":
            layer.getparent().remove(layer)
    document.write(str(card), encoding="UTF-8", xml_declaration=True)


if __name__ == "__main__":
    BUILT_IN.write_text(draw(), encoding="utf-8", newline="\n")
    target = Path(sys.argv[1]) if len(sys.argv) > 1 else FOLDER
    target.mkdir(exist_ok=True)
    write(target)
