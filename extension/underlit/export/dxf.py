"""Outlines as DXF 2000 (closed LWPOLYLINE, $INSUNITS mm) and as R12 (closed POLYLINE).

R12 knows neither LWPOLYLINE nor units: its numbers are mm all the same. Source: Autodesk DXF
reference, ENTITIES section; y points upwards there.

The document is ezdxf's; the lines themselves are put into it as text, because one object of the
library for each corner takes several seconds for a large card. The tests compare both.
"""

from __future__ import annotations

import io
import logging
import os
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, redirect_stdout
from functools import cache
from itertools import chain
from pathlib import Path
from tempfile import TemporaryDirectory
from types import ModuleType
from typing import TYPE_CHECKING

import numpy as np

from ..records import record
from .cut import Cut
from .signing import UNSIGNED

if TYPE_CHECKING:
    from ezdxf.document import Drawing

#: ezdxf's name of each version.
VERSIONS = {"dxf": "R2000", "dxf-r12": "R12"}

#: What tells ezdxf where its settings and its list of fonts are, and where in a home else.
HOMES = {"XDG_CONFIG_HOME": ".config", "XDG_CACHE_HOME": ".cache"}

#: $INSUNITS of millimetres.
MILLIMETRES = 4

#: Colours of the standard palette: 7 is black on white, 5 blue, 1 red.
CUT_COLOUR, PEN_COLOUR, SCORE_COLOUR = 7, 5, 1

#: The layer of lines that are scored.
SCORE = "SCORE"

#: Where the lines go.
SECTION = "  0\nSECTION\n  2\nENTITIES\n"


@record
class _Kind:
    """What the lines of one layer share: `closed` is 0 or 1, `owner` the handle of their space."""

    layer: str
    closed: int
    owner: str
    document: Drawing

    def handles(self, count: int) -> list[str]:
        """So many handles that nothing else in the document has."""
        first = int(self.document.entitydb.next_handle(), 16)
        self.document.entitydb.handles.reset(f"{first + count:X}")
        return [f"{number:X}" for number in range(first, first + count)]


@contextmanager
def _home_open() -> Iterator[None]:
    """ezdxf looks for settings and fonts in the maker's home; where it may not, in an empty folder.

    Some ways of installing the host keep programs out of the home.
    """
    closed = [name for name, usual in HOMES.items() if _closed(name, usual)]
    kept = {name: os.environ[name] for name in closed if name in os.environ}
    with TemporaryDirectory() as folder:
        os.environ.update(dict.fromkeys(closed, folder))
        try:
            with redirect_stdout(io.StringIO()):  # it names the folders that it may not read
                yield
        finally:
            for name in closed:
                del os.environ[name]
            os.environ.update(kept)


def _closed(name: str, usual: str) -> bool:
    try:
        Path(os.environ.get(name) or Path.home() / usual, "ezdxf").expanduser().exists()
    except (OSError, RuntimeError):  # RuntimeError: no home at all
        return True
    return False


@cache
def _library() -> ModuleType:
    with _home_open():
        import ezdxf  # late: 0.15 s, and only this action needs it

    logging.getLogger("ezdxf").addHandler(logging.NullHandler())  # else it talks to the maker
    ezdxf.options.write_fixed_meta_data_for_testing = True  # same card, same bytes
    return ezdxf


def to_dxf(cuts: Sequence[Cut], version: str) -> bytes:
    """Sheets of one size as a DXF document, each on a layer; `version` is a key of `VERSIONS`.

    Layers are named after the sheets; MIRRORED stands there for a back side. What is scored lies
    open on a layer of its own and comes first.
    """
    ezdxf = _library()
    old = version == "dxf-r12"
    document = ezdxf.new(VERSIONS[version], units=0 if old else MILLIMETRES)
    document.ezdxf_metadata()["UNDERLIT"] = UNSIGNED
    width, height = cuts[0].size
    document.header["$EXTMIN"], document.header["$EXTMAX"] = (0, 0, 0), (width, height, 0)
    owner = document.modelspace().block_record_handle
    lines: list[str] = []
    for cut in cuts:
        layer = cut.name.upper() + ("-MIRRORED" if cut.mirrored else "")
        document.layers.add(layer, color=PEN_COLOUR if cut.pen else CUT_COLOUR)
        if cut.scores and SCORE not in document.layers:
            document.layers.add(SCORE, color=SCORE_COLOUR)
        for name, outlines in ((SCORE, cut.scores), (layer, cut.outlines)):
            rings = [ring for outline in outlines for ring in outline.rings]
            if rings:
                kind = _Kind(name, int(name is not SCORE), owner, document)
                write = _polylines if old else _lwpolylines
                lines.append(write([len(ring) for ring in rings], upright(rings, height), kind))
    return _with_lines(document, "".join(lines))


def _with_lines(document: Drawing, lines: str) -> bytes:
    """The document with lines in its section of entities."""
    stream = io.StringIO()
    document.write(stream)
    encoding = document.output_encoding
    before, section, after = stream.getvalue().partition(SECTION)
    return (before + section).encode(encoding) + lines.encode() + after.encode(encoding)


def _lwpolylines(sizes: Sequence[int], numbers: Sequence[str], kind: _Kind) -> str:
    """One entity for each ring; the form of all is filled in at once, which is much quicker."""
    head = (
        f"  0\nLWPOLYLINE\n  5\n%s\n330\n{kind.owner}\n100\nAcDbEntity\n  8\n{kind.layer}\n"
        f"100\nAcDbPolyline\n 90\n%s\n 70\n{kind.closed}\n"
    )
    corner = " 10\n%s\n 20\n%s\n"
    handles = kind.handles(len(sizes))
    forms = [head % own + corner * own[1] for own in zip(handles, sizes, strict=True)]
    return "".join(forms) % tuple(numbers)


def _polylines(sizes: Sequence[int], numbers: Sequence[str], kind: _Kind) -> str:
    """Each corner of the old kind of polyline is an entity of its own."""
    head = (
        f"  0\nPOLYLINE\n  5\n%s\n  8\n{kind.layer}\n 66\n1\n 10\n0.0\n 20\n0.0\n 30\n0.0\n"
        f" 70\n{kind.closed}\n"
    )
    corner = f"  0\nVERTEX\n  5\n%s\n  8\n{kind.layer}\n 10\n%s\n 20\n%s\n 30\n0.0\n 70\n0\n"
    end = f"  0\nSEQEND\n  5\n%s\n  8\n{kind.layer}\n"
    heads, ends = kind.handles(len(sizes)), kind.handles(len(sizes))
    forms = [
        head % first + corner * size + end % last
        for first, size, last in zip(heads, sizes, ends, strict=True)
    ]
    corners = zip(kind.handles(sum(sizes)), numbers[::2], numbers[1::2], strict=True)
    return "".join(forms) % tuple(chain.from_iterable(corners))


def upright(rings: Sequence[np.ndarray], height: float) -> list[str]:
    """x, y, x, y, ... of all corners with y upwards from the sheet's lower edge.

    Rounded to 0.0001 as `str` writes them (12.0, 0.25).
    """
    points = np.concatenate(rings)
    points[:, 1] = height - points[:, 1]
    values = points.ravel().tolist()
    text = ("%.4f\n" * len(values) % tuple(values)).replace(".0000\n", ".!\n")
    for zeros in ("000\n", "00\n", "0\n"):
        text = text.replace(zeros, "\n")
    return text.replace("!", "0").split("\n")[:-1]
