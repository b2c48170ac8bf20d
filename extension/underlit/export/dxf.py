"""Outlines as DXF 2000 (closed LWPOLYLINE, $INSUNITS mm) and as R12 (closed POLYLINE).

R12 knows neither LWPOLYLINE nor units: its numbers are mm all the same. Source: Autodesk DXF
reference; y points upwards there.
"""

from __future__ import annotations

import io
import logging
from collections.abc import Sequence

import numpy as np

from .cut import Cut

#: ezdxf's name of each version.
VERSIONS = {"dxf": "R2000", "dxf-r12": "R12"}

#: $INSUNITS of millimetres.
MILLIMETRES = 4

#: Colours of the standard palette: 7 is black on white, 5 blue.
CUT_COLOUR, PEN_COLOUR = 7, 5


def to_dxf(cuts: Sequence[Cut], version: str) -> bytes:
    """Sheets of one size as a DXF document, each on a layer; `version` is a key of `VERSIONS`.

    Layers are named after the sheets; MIRRORED stands there for a back side.
    """
    import ezdxf  # late: 0.15 s, and only this action needs it

    logging.getLogger("ezdxf").addHandler(logging.NullHandler())  # else it talks to the maker
    ezdxf.options.write_fixed_meta_data_for_testing = True  # same card, same bytes
    old = version == "dxf-r12"
    document = ezdxf.new(VERSIONS[version], units=0 if old else MILLIMETRES)
    width, height = cuts[0].size
    document.header["$EXTMIN"], document.header["$EXTMAX"] = (0, 0, 0), (width, height, 0)
    space = document.modelspace()
    for cut in cuts:
        layer = cut.name.upper() + ("-MIRRORED" if cut.mirrored else "")
        document.layers.add(layer, color=PEN_COLOUR if cut.pen else CUT_COLOUR)
        for ring in (ring for outline in cut.outlines for ring in outline.rings):
            points = upright(ring, height)
            if old:
                space.add_polyline2d(points, close=True, dxfattribs={"layer": layer})
            else:
                space.add_lwpolyline(points, close=True, dxfattribs={"layer": layer})
    stream = io.StringIO()
    document.write(stream)
    return stream.getvalue().encode(document.output_encoding)


def upright(ring: np.ndarray, height: float) -> list[tuple[float, float]]:
    """Points with y upwards from the sheet's lower edge, rounded to 0.0001 mm."""
    return [(round(x, 4), round(height - y, 4)) for x, y in ring.tolist()]
