"""Outlines as DXF 2000 (closed LWPOLYLINE, $INSUNITS mm) and as R12 (closed POLYLINE).

R12 knows neither LWPOLYLINE nor units: its numbers are mm all the same. Source: Autodesk DXF
reference, ENTITIES section; y points upwards there.

The document is ezdxf's; the lines themselves are put into it as text, because one object of the
library for each corner takes several seconds for a large card. The tests compare both.
"""

from __future__ import annotations

import io
import logging
from collections.abc import Callable, Iterator, Sequence
from typing import TYPE_CHECKING

import numpy as np

from .cut import Cut
from .signing import UNSIGNED

if TYPE_CHECKING:
    from ezdxf.document import Drawing

#: ezdxf's name of each version.
VERSIONS = {"dxf": "R2000", "dxf-r12": "R12"}

#: $INSUNITS of millimetres.
MILLIMETRES = 4

#: Colours of the standard palette: 7 is black on white, 5 blue, 1 red.
CUT_COLOUR, PEN_COLOUR, SCORE_COLOUR = 7, 5, 1

#: The layer of lines that are scored.
SCORE = "SCORE"

#: Where the lines go.
SECTION = "  0\nSECTION\n  2\nENTITIES\n"

Handle = Callable[[], str]


def to_dxf(cuts: Sequence[Cut], version: str) -> bytes:
    """Sheets of one size as a DXF document, each on a layer; `version` is a key of `VERSIONS`.

    Layers are named after the sheets; MIRRORED stands there for a back side. What is scored lies
    open on a layer of its own and comes first.
    """
    import ezdxf  # late: 0.15 s, and only this action needs it

    logging.getLogger("ezdxf").addHandler(logging.NullHandler())  # else it talks to the maker
    ezdxf.options.write_fixed_meta_data_for_testing = True  # same card, same bytes
    old = version == "dxf-r12"
    document = ezdxf.new(VERSIONS[version], units=0 if old else MILLIMETRES)
    document.ezdxf_metadata()["UNDERLIT"] = UNSIGNED
    width, height = cuts[0].size
    document.header["$EXTMIN"], document.header["$EXTMAX"] = (0, 0, 0), (width, height, 0)
    owner = document.modelspace().block_record_handle
    handle = document.entitydb.next_handle
    lines: list[str] = []
    for cut in cuts:
        layer = cut.name.upper() + ("-MIRRORED" if cut.mirrored else "")
        document.layers.add(layer, color=PEN_COLOUR if cut.pen else CUT_COLOUR)
        if cut.scores and SCORE not in document.layers:
            document.layers.add(SCORE, color=SCORE_COLOUR)
        for name, outlines in ((SCORE, cut.scores), (layer, cut.outlines)):
            for ring in (ring for outline in outlines for ring in outline.rings):
                corners, closed = upright(ring, height), int(name is not SCORE)
                if old:
                    lines += _polyline(corners, closed, name, handle)
                else:
                    lines.append(_lwpolyline(corners, closed, name, owner, handle))
    return _with_lines(document, "".join(lines))


def _with_lines(document: Drawing, lines: str) -> bytes:
    """The document with lines in its section of entities."""
    stream = io.StringIO()
    document.write(stream)
    before, section, after = stream.getvalue().partition(SECTION)
    return (before + section + lines + after).encode(document.output_encoding)


def _lwpolyline(corners: Corners, closed: int, layer: str, owner: str, handle: Handle) -> str:
    points = "".join([f" 10\n{x}\n 20\n{y}\n" for x, y in corners])
    return (
        f"  0\nLWPOLYLINE\n  5\n{handle()}\n330\n{owner}\n100\nAcDbEntity\n  8\n{layer}\n"
        f"100\nAcDbPolyline\n 90\n{len(corners)}\n 70\n{closed}\n{points}"
    )


def _polyline(corners: Corners, closed: int, layer: str, handle: Handle) -> Iterator[str]:
    """Each corner of the old kind of polyline is an entity of its own."""
    head, end = handle(), handle()
    yield (
        f"  0\nPOLYLINE\n  5\n{head}\n  8\n{layer}\n 66\n1\n 10\n0.0\n 20\n0.0\n 30\n0.0\n"
        f" 70\n{closed}\n"
    )
    for x, y in corners:
        yield (
            f"  0\nVERTEX\n  5\n{handle()}\n  8\n{layer}\n 10\n{x}\n 20\n{y}\n 30\n0.0\n 70\n0\n"
        )
    yield f"  0\nSEQEND\n  5\n{end}\n  8\n{layer}\n"


Corners = list[tuple[str, str]]


def upright(ring: np.ndarray, height: float) -> Corners:
    """Corners with y upwards from the sheet's lower edge, as numbers with up to four decimals."""
    points = ring.copy()
    points[:, 1] = height - points[:, 1]
    texts = _decimals(points.ravel().tolist())
    return list(zip(texts[::2], texts[1::2], strict=True))


def _decimals(values: list[float]) -> list[str]:
    """Numbers rounded to 0.0001 as `str` writes them (12.0, 0.25), all at once."""
    text = ("%.4f\n" * len(values) % tuple(values)).replace(".0000\n", ".!\n")
    for zeros in ("000\n", "00\n", "0\n"):
        text = text.replace(zeros, "\n")
    return text.replace("!", "0").split("\n")[:-1]
