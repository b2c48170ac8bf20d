"""Write the symbols that makers drag into their drawings, from the default profile.

    python tests/symbols/write_symbols.py

All attributes stand on a group inside each symbol: unlinking drops those of the symbol itself.
"""

from __future__ import annotations

import dataclasses
import sys
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).parent.parent.parent
FILE = ROOT / "extension" / "symbols" / "underlit-parts.svg"

sys.path.insert(0, str(ROOT / "extension"))

from lxml import etree  # noqa: E402

from underlit.markup import part_shapes as shapes  # noqa: E402
from underlit.markup.part_shapes import PartDrawing  # noqa: E402
from underlit.profiles import Profile, load_profile  # noqa: E402
from underlit_host.names import INKSCAPE, SVG, UNDERLIT  # noqa: E402
from underlit_host.parts_markup import fill_part  # noqa: E402

SPACES = {None: SVG[1:-1], "inkscape": INKSCAPE[1:-1], "underlit": UNDERLIT[1:-1]}

#: Ohms of the resistors that are offered.
OHMS = (22.0, 47.0, 100.0, 220.0)

#: Length of a pull tab (mm): from the middle of a battery over the edge of a small card.
TAB = 45.0

#: A patch over a crossing reaches this much further than it must (mm): hands stray.
TO_SPARE = 1.0


def parts(profile: Profile) -> Iterator[tuple[str, PartDrawing]]:
    """Every part with the id of its symbol, in the order of the panel."""
    for name, kind in profile.lights.items():
        yield f"light-{name}", shapes.light(name, kind)
    for closes, name in (("press", "plain-20"), ("slide", "slide-20"), ("always", "plain-20")):
        housing = profile.holders[name]
        drawn = shapes.holder(housing, profile.cells[housing.cell], closes=closes)
        yield f"holder-{closes}", drawn
    for name, cell in profile.cells.items():
        yield f"bare-{name}", shapes.bare_cell(name, cell)
        yield f"flap-{name}", shapes.flap_cell(name, cell)
    for closes in ("slide", "press"):
        yield f"switch-{closes}", shapes.switch(closes)
    for ohms in OHMS:
        yield f"resistor-{ohms:g}", shapes.resistor(ohms)
    yield "pull-tab", shapes.pull_tab(TAB)
    side = profile.tape.width + 2.0 * profile.patch.margin + TO_SPARE
    yield "patch", shapes.patch(side, side)
    seen: set[float] = set()
    for name, cell in profile.cells.items():
        if cell.diameter not in seen:  # one ring for all batteries of one diameter
            seen.add(cell.diameter)
            ring = shapes.rim_patch(name, cell, profile.patch.margin)
            title = f"Paper ring for the rim of a {cell.diameter:g} mm battery"
            yield f"rim-{cell.diameter:g}", dataclasses.replace(ring, title=title)


def symbols() -> bytes:
    """The whole file."""
    size = {"width": "210mm", "height": "297mm", "viewBox": "0 0 210 297", "version": "1.1"}
    root = etree.Element(SVG + "svg", size, nsmap=SPACES)
    root.text = "\n"
    title = etree.SubElement(root, SVG + "title")
    title.text, title.tail = "Underlit parts", "\n"
    defs = etree.SubElement(root, SVG + "defs")
    defs.text, defs.tail = "\n", "\n"
    for ident, part in parts(load_profile("hand-laid")):
        _append(defs, f"underlit-{ident}", part)
    return etree.tostring(root, xml_declaration=True, encoding="UTF-8") + b"\n"


def _append(defs: etree._Element, ident: str, part: PartDrawing) -> None:
    symbol = etree.SubElement(defs, SVG + "symbol", {"id": ident, "style": "overflow:visible"})
    symbol.text, symbol.tail = "\n  ", "\n"
    title = etree.SubElement(symbol, SVG + "title")
    title.text = part.title + (", for the Tape layer" if part.kind == "patch" else "")
    title.tail = "\n  "
    group = etree.SubElement(symbol, SVG + "g")
    fill_part(group, part)
    group.tail = "\n"


if __name__ == "__main__":
    FILE.parent.mkdir(exist_ok=True)
    FILE.write_bytes(symbols())
