"""Path data for the sample cards: polylines, offset rails, windows, stars, waves. Card mm."""

from __future__ import annotations

import math
from collections.abc import Sequence

from samples.pen import TOKEN, Point, num


def line(points: Sequence[Point], close: bool = False) -> str:
    """Path data of a polyline."""
    body = " L ".join(f"{num(x)} {num(y)}" for x, y in points)
    return f"M {body}" + (" Z" if close else "")


def placed(d: str, x: float, y: float, angle: float = 0.0, scale: float = 1.0) -> str:
    """Path data (absolute M L C Q Z) turned, scaled and moved."""
    c, s = math.cos(math.radians(angle)) * scale, math.sin(math.radians(angle)) * scale
    out: list[str] = []
    pair: list[float] = []
    for token in TOKEN.findall(d):
        if token.isalpha():
            out.append(token)
            continue
        pair.append(float(token))
        if len(pair) == 2:
            out += [num(x + c * pair[0] - s * pair[1]), num(y + s * pair[0] + c * pair[1])]
            pair.clear()
    return " ".join(out)


def beside(points: Sequence[Point], distance: float) -> list[Point]:
    """The polyline at a distance to the right of the way (left where negative), mitred."""
    result = []
    last = len(points) - 1
    for i, (x, y) in enumerate(points):
        before = _normal(points[max(i - 1, 0)], points[max(i, 1)])
        after = _normal(points[min(i, last - 1)], points[min(i + 1, last)])
        mx, my = before[0] + after[0], before[1] + after[1]
        stretch = distance / (1.0 + before[0] * after[0] + before[1] * after[1])
        result.append((x + mx * stretch, y + my * stretch))
    return result


def _normal(a: Point, b: Point) -> Point:
    length = math.dist(a, b)
    return -(b[1] - a[1]) / length, (b[0] - a[0]) / length


def spot(a: Point, b: Point, share: float) -> tuple[float, float, float]:
    """A place on a segment and the angle of its right-hand side, in degrees."""
    nx, ny = _normal(a, b)
    x, y = a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share
    return x, y, math.degrees(math.atan2(ny, nx))


#: How far the handles of a quarter circle reach, for radius 1.
_K = 0.5523


def disc(r: float, ry: float = 0.0) -> str:
    """A circle or an ellipse about the origin, from cubic curves."""
    b = ry or r
    p, q = num(_K * r), num(_K * b)
    a, c = num(r), num(b)
    return (
        f"M {a} 0 C {a} {q} {p} {c} 0 {c} C -{p} {c} -{a} {q} -{a} 0 "
        f"C -{a} -{q} -{p} -{c} 0 -{c} C {p} -{c} {a} -{q} {a} 0 Z"
    )


def star(points: int, outer: float, inner: float) -> str:
    corners = []
    for i in range(2 * points):
        r = outer if i % 2 == 0 else inner
        a = math.pi * i / points - math.pi / 2
        corners.append((r * math.cos(a), r * math.sin(a)))
    return line(corners, close=True)


def arch(width: float, height: float) -> str:
    """A window with a round top, its middle at the origin."""
    w, h = width / 2, height / 2
    top = -h + w
    k = _K * w
    return (
        f"M {num(-w)} {num(h)} L {num(-w)} {num(top)} C {num(-w)} {num(top - k)} "
        f"{num(-k)} {num(-h)} 0 {num(-h)} C {num(k)} {num(-h)} {num(w)} "
        f"{num(top - k)} {num(w)} {num(top)} L {num(w)} {num(h)} Z"
    )


def box(width: float, height: float) -> str:
    """A rectangle about the origin."""
    w, h = width / 2, height / 2
    return line([(-w, -h), (w, -h), (w, h), (-w, h)], close=True)


def plate(x: float, y: float, w: float, h: float, r: float) -> str:
    """A rectangle with rounded corners."""
    return (
        f"M {num(x + r)} {num(y)} L {num(x + w - r)} {num(y)} A {num(r)} {num(r)} 0 0 1 "
        f"{num(x + w)} {num(y + r)} L {num(x + w)} {num(y + h - r)} A {num(r)} {num(r)} 0 0 1 "
        f"{num(x + w - r)} {num(y + h)} L {num(x + r)} {num(y + h)} A {num(r)} {num(r)} 0 0 1 "
        f"{num(x)} {num(y + h - r)} L {num(x)} {num(y + r)} A {num(r)} {num(r)} 0 0 1 "
        f"{num(x + r)} {num(y)} Z"
    )


def waves(x0: float, x1: float, y: float, length: float, height: float) -> str:
    """A row of soft waves from x0 on, not beyond x1."""
    out = [f"M {num(x0)} {num(y)}"]
    x, up = x0, -1.0
    while x + length / 2 <= x1 + 1e-9:
        quarter = length / 4
        out.append(f"Q {num(x + quarter)} {num(y + up * height)} {num(x + length / 2)} {num(y)}")
        x, up = x + length / 2, -up
    return " ".join(out)
