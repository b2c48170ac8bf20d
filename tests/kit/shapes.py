"""Plane shapes in millimetres (y down) and affine maps, without any geometry library."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

Point = tuple[float, float]
Affine = tuple[float, float, float, float, float, float]
"""SVG's matrix(a b c d e f): x' = a x + c y + e, y' = b x + d y + f."""

IDENTITY: Affine = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)


def compose(outer: Affine, inner: Affine) -> Affine:
    """The map that does `inner` first and `outer` second."""
    a, b, c, d, e, f = outer
    p, q, r, s, t, u = inner
    return (
        a * p + c * q,
        b * p + d * q,
        a * r + c * s,
        b * r + d * s,
        a * t + c * u + e,
        b * t + d * u + f,
    )


def inverse(m: Affine) -> Affine:
    a, b, c, d, e, f = m
    det = a * d - b * c
    p, q, r, s = d / det, -b / det, -c / det, a / det
    return (p, q, r, s, -(p * e + r * f), -(q * e + s * f))


def shift(dx: float, dy: float) -> Affine:
    return (1.0, 0.0, 0.0, 1.0, dx, dy)


def turn(angle_deg: float) -> Affine:
    """Clockwise on screen."""
    c, s = math.cos(math.radians(angle_deg)), math.sin(math.radians(angle_deg))
    return (c, s, -s, c, 0.0, 0.0)


def stretch(sx: float, sy: float) -> Affine:
    return (sx, 0.0, 0.0, sy, 0.0, 0.0)


def apply(m: Affine, p: Point) -> Point:
    return (m[0] * p[0] + m[2] * p[1] + m[4], m[1] * p[0] + m[3] * p[1] + m[5])


def scale_of(m: Affine) -> float:
    """Linear factor of a similarity."""
    return math.sqrt(abs(m[0] * m[3] - m[1] * m[2]))


@dataclass(frozen=True)
class Poly:
    """A filled polygon; `holes` are cut out."""

    points: tuple[Point, ...]
    holes: tuple[tuple[Point, ...], ...] = ()


@dataclass(frozen=True)
class Circle:
    """A filled disc."""

    centre: Point
    radius: float


@dataclass(frozen=True)
class Line:
    """A stroked polyline with mitred corners (limit 4) and butt or round ends."""

    points: tuple[Point, ...]
    width: float
    cap: str = "butt"


Shape = Poly | Circle | Line


def rect(cx: float, cy: float, w: float, h: float) -> Poly:
    """An upright rectangle about its middle."""
    x, y = w / 2, h / 2
    return Poly(((cx - x, cy - y), (cx + x, cy - y), (cx + x, cy + y), (cx - x, cy + y)))


def box(x0: float, y0: float, x1: float, y1: float) -> Poly:
    return rect((x0 + x1) / 2, (y0 + y1) / 2, abs(x1 - x0), abs(y1 - y0))


def moved(shape: Shape, m: Affine) -> Shape:
    """The shape under a similarity."""
    match shape:
        case Poly(points, holes):
            return Poly(
                tuple(apply(m, p) for p in points),
                tuple(tuple(apply(m, p) for p in ring) for ring in holes),
            )
        case Circle(centre, radius):
            return Circle(apply(m, centre), radius * scale_of(m))
        case Line(points, width):
            return replace(
                shape, points=tuple(apply(m, p) for p in points), width=width * scale_of(m)
            )


def _unit(p: Point, q: Point) -> Point:
    d = math.dist(p, q)
    return ((q[0] - p[0]) / d, (q[1] - p[1]) / d)


def stroke_pieces(line: Line) -> list[Shape]:
    """Convex pieces whose union the stroke paints: a rectangle per segment, a kite per corner."""
    h = line.width / 2
    pieces: list[Shape] = []
    for p, q in zip(line.points, line.points[1:], strict=False):
        (ux, uy) = _unit(p, q)
        nx, ny = -uy * h, ux * h
        pieces.append(
            Poly(
                (
                    (p[0] + nx, p[1] + ny),
                    (q[0] + nx, q[1] + ny),
                    (q[0] - nx, q[1] - ny),
                    (p[0] - nx, p[1] - ny),
                )
            )
        )
    for p, q, r in zip(line.points, line.points[1:], line.points[2:], strict=False):
        pieces.extend(_corner(p, q, r, h))
    if line.cap == "round":
        pieces += [Circle(line.points[0], h), Circle(line.points[-1], h)]
    return pieces


def _corner(p: Point, q: Point, r: Point, h: float) -> list[Shape]:
    u, v = _unit(p, q), _unit(q, r)
    cross = u[0] * v[1] - u[1] * v[0]
    dot = u[0] * v[0] + u[1] * v[1]
    if abs(cross) < 1e-12:
        return []
    side = -1.0 if cross > 0 else 1.0  # the outer side of the corner
    a = (q[0] - side * u[1] * h, q[1] + side * u[0] * h)
    b = (q[0] - side * v[1] * h, q[1] + side * v[0] * h)
    half = math.sqrt(max(0.0, (1 - dot) / 2))  # sine of half the turning angle
    cos_half = math.sqrt(max(0.0, (1 + dot) / 2))
    if cos_half * 4.0 < 1.0:  # mitre length over width is 1 / cos_half
        return [Poly((q, a, b))]
    reach = h * half / cos_half
    tip = (a[0] + u[0] * reach, a[1] + u[1] * reach)
    return [Poly((q, a, tip, b))]


def gentle(line: Line) -> bool:
    """Whether no corner turns by more than 100 degrees: then `stroke_outline` is the stroke."""
    corners = zip(line.points, line.points[1:], line.points[2:], strict=False)
    for p, q, r in corners:
        u, v = _unit(p, q), _unit(q, r)
        if u[0] * v[0] + u[1] * v[1] < math.cos(math.radians(100.0)):
            return False
    return True


def stroke_outline(line: Line) -> tuple[Point, ...]:
    """The stroke's outline as one ring: left side there, right side back (mitred, butt)."""
    h = line.width / 2
    pts = line.points
    left: list[Point] = []
    right: list[Point] = []
    for i, q in enumerate(pts):
        u = _unit(pts[i - 1], q) if i else _unit(q, pts[1])
        v = _unit(q, pts[i + 1]) if i + 1 < len(pts) else u
        bx, by = -(u[1] + v[1]), u[0] + v[0]
        k = 2 * h / (bx * bx + by * by)
        left.append((q[0] + bx * k, q[1] + by * k))
        right.append((q[0] - bx * k, q[1] - by * k))
    return tuple(left + right[::-1])


def convex_pieces(shape: Shape) -> list[Shape]:
    """What the shape paints, as simple shapes to be united."""
    return stroke_pieces(shape) if isinstance(shape, Line) else [shape]
