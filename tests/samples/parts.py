"""The parts of the sample cards: stick-on light, bare battery, battery in a holder, signs."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from itertools import pairwise

from samples.pen import Point, Sheet, group, num

BODY = "fill:#fffdf6;stroke:#7a7467;stroke-width:{hair}"
METAL = "fill:#d9c48a;stroke:#7a6a35;stroke-width:{hair}"
LENS = "fill:#ffd24a;stroke:#b07d00;stroke-width:{hair}"
SIGN = "fill:none;stroke:#4a3f1d;stroke-width:{line}"
STEEL = "fill:#dfe3e8;stroke:#6b7482;stroke-width:{line}"
FRAME = "fill:#f1f2ee;stroke:#6b7482;stroke-width:{line}"


def light_shapes(s: Sheet) -> list[str]:
    """A light about its lens, plus to the right: 12 x 5 mm, feet 3 x 3 mm at 8 mm."""

    return [
        s.rect((-6, -2.5, 12, 5), BODY, rx=0.8, local=True, underlit__feature="body"),
        s.rect((2.5, -1.5, 3, 3), METAL, local=True, underlit__feature="positive-pad"),
        s.rect((-5.5, -1.5, 3, 3), METAL, local=True, underlit__feature="negative-pad"),
        s.circle(0, 0, 1.5, LENS, local=True, underlit__feature="lens"),
        s.path("M 3.2 0 L 4.8 0 M 4 -0.8 L 4 0.8", SIGN, local=True),
        s.path("M -4.8 0 L -3.2 0", SIGN, local=True),
    ]


def light(s: Sheet, ident: str, transform: str, kind: str = "warm-white") -> str:
    """A light drawn where it lies."""
    attributes = {"id": ident, "underlit:part": "light", "underlit:type": kind}
    return group({**attributes, "transform": transform}, light_shapes(s))


def light_symbol(s: Sheet, ident: str, kind: str = "warm-white") -> str:
    """A light as a symbol: what makes it a light stands on the group inside."""
    inside = group({"underlit:part": "light", "underlit:type": kind}, light_shapes(s), 1)
    head = f'<symbol id="{ident}" style="overflow:visible">'
    return f"{head}\n  <title>Stick-on light</title>\n{inside}\n</symbol>"


def bare_cell(s: Sheet, at: Point, pads: tuple[Point, Point], **more: str) -> str:
    """A coin battery of 20 mm; `pads` are the places of plus and minus contact."""
    attributes = {"id": "battery", "underlit:part": "cell", "underlit:type": "cr2032"}
    attributes |= {f"underlit:{key}": value for key, value in more.items()}
    (px, py), (mx, my) = pads
    contact = "fill:#ffffff;fill-opacity:0.35;stroke:#4d5561;stroke-width:{hair}"
    arm = [f"M {num(x - 1.6)} {num(y)} L {num(x + 1.6)} {num(y)}" for x, y in pads]
    upright = f"M {num(px)} {num(py - 1.6)} L {num(px)} {num(py + 1.6)}"
    steel = "fill:#dfe3e8;fill-opacity:0.72;stroke:#6b7482;stroke-width:{line}"
    rim = "fill:none;stroke:#6b7482;stroke-width:{hair}"
    return group(
        attributes,
        [
            s.circle(*at, 10, steel, underlit__feature="body"),
            s.circle(*at, 8.6, rim),
            s.circle(px, py, 4, contact, underlit__feature="positive-pad"),
            s.circle(mx, my, 4, contact, underlit__feature="negative-pad"),
            s.path(f"{arm[0]} {upright}", "fill:none;stroke:#20242b;stroke-width:{line}"),
            s.path(arm[1], "fill:none;stroke:#20242b;stroke-width:{line}"),
        ],
    )


def holder(s: Sheet, transform: str, **more: str) -> str:
    """A coin battery in a flat holder, about its middle, plus foot to the right."""
    attributes = {"id": "battery", "underlit:part": "cell", "underlit:type": "cr2032"}
    attributes |= {f"underlit:{key}": value for key, value in more.items()}
    dark = "fill:none;stroke:#20242b;stroke-width:{line}"
    foot = "fill:#d9c48a;fill-opacity:0.85;stroke:#7a6a35;stroke-width:{hair}"
    return group(
        {**attributes, "transform": transform},
        [
            s.rect((-14, -10.5, 28, 21), FRAME, rx=3, local=True, underlit__feature="body"),
            s.circle(0, 0, 9.9, STEEL, local=True),
            s.circle(0, 0, 8.4, "fill:none;stroke:#6b7482;stroke-width:{hair}", local=True),
            s.rect((13, -2.5, 4, 5), foot, local=True, underlit__feature="positive-pad"),
            s.rect((-17, -2.5, 4, 5), foot, local=True, underlit__feature="negative-pad"),
            s.path("M -2.4 0 L 2.4 0 M 0 -2.4 L 0 2.4", dark, local=True),
            s.path("M 14 0 L 16 0 M 15 -1 L 15 1 M -16 0 L -14 0", dark, local=True),
        ],
    )


def signs(
    s: Sheet,
    strip: Sequence[Point],
    plus: bool,
    keep_off: Sequence[Point],
    ident: str,
    room: float = 5.5,
) -> str:
    """Plus or minus signs along a strip: near its folds and ends, about every 25 mm between.

    None nearer than `room` mm to the places in `keep_off`.
    """
    spots: list[Point] = []
    for a, b in pairwise(strip):
        length = math.dist(a, b)
        if length < 10:
            continue
        steps = max(1, round((length - 10) / 25)) if length > 20 else 0
        for i in range(steps + 1):
            share = (5 + (length - 10) * i / steps) / length if steps else 0.5
            spots.append((a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share))
    far = [p for p in spots if all(math.dist(p, q) > room for q in keep_off)]
    kept: list[Point] = []
    for p in far:
        if all(math.dist(p, q) > 8 for q in kept):
            kept.append(p)
    return sign_path(s, kept, plus, ident)


def sign_path(s: Sheet, spots: Iterable[Point], plus: bool, ident: str) -> str:
    """Plus or minus signs at places of the card."""
    parts = []
    for x, y in spots:
        parts.append(f"M {num(x - 1.1)} {num(y)} L {num(x + 1.1)} {num(y)}")
        if plus:
            parts.append(f"M {num(x)} {num(y - 1.1)} L {num(x)} {num(y + 1.1)}")
    colour = "#ffffff" if plus else "#3a2800"
    style = f"fill:none;stroke:{colour};stroke-width:{{line}};stroke-linecap:round"
    return s.path(" ".join(parts), style, id=ident)
