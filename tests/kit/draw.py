"""One shape as an SVG element or as path data, in several ways of writing."""

from __future__ import annotations

import itertools

from .shapes import Circle, Line, Point, Poly, Shape

KAPPA = 0.5522847498
"""Handle length of the cubic that follows a quarter circle (radial error 0.03 %)."""


def n(v: float) -> str:
    text = f"{v:.7f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def _pairs(points: tuple[Point, ...]) -> str:
    return " ".join(f"{n(x)},{n(y)}" for x, y in points)


def _upright(points: tuple[Point, ...]) -> bool:
    xs = sorted({round(p[0], 6) for p in points})
    ys = sorted({round(p[1], 6) for p in points})
    return len(points) == 4 and len(xs) == 2 and len(ys) == 2


def element(shape: Shape, way: str) -> tuple[str, dict[str, str]]:
    """Tag and geometry attributes of one shape; `way` as in `Style.paths`."""
    if way != "basic" or (isinstance(shape, Poly) and shape.holes):
        return "path", {"d": path_data(shape, way)}
    match shape:
        case Circle((x, y), r):
            return "circle", {"cx": n(x), "cy": n(y), "r": n(r)}
        case Line(points, _) if len(points) == 2:
            (a, b), (c, d) = points
            return "line", {"x1": n(a), "y1": n(b), "x2": n(c), "y2": n(d)}
        case Line(points, _):
            return "polyline", {"points": _pairs(points)}
        case Poly(points, _) if _upright(points):
            x, y = min(p[0] for p in points), min(p[1] for p in points)
            w, h = max(p[0] for p in points) - x, max(p[1] for p in points) - y
            return "rect", {"x": n(x), "y": n(y), "width": n(w), "height": n(h)}
        case Poly(points, _):
            return "polygon", {"points": _pairs(points)}


def path_data(shape: Shape, way: str) -> str:
    match shape:
        case Circle(centre, r):
            return _circle(centre, r, way)
        case Line(points, _):
            return _run(points, way)
        case Poly(points, holes):
            return " ".join(_run(ring, way) + "z" for ring in (points, *holes))


def _run(points: tuple[Point, ...], way: str) -> str:
    match way:
        case "rel":
            return _relative(points)
        case "hv":
            return _level(points)
        case "compact":
            return _compact(points)
    return "M " + " L ".join(f"{n(x)} {n(y)}" for x, y in points)


def _relative(points: tuple[Point, ...]) -> str:
    """Steps between rounded places, so that rounding does not add up."""
    at = (0.0, 0.0)
    out = []
    for x, y in points:
        dx, dy = round(x - at[0], 7), round(y - at[1], 7)
        out.append(f"{n(dx)},{n(dy)}")
        at = (at[0] + dx, at[1] + dy)
    return f"M{out[0]}l" + " ".join(out[1:])


def _level(points: tuple[Point, ...]) -> str:
    """H and V where a step is level or upright."""
    out = [f"M{n(points[0][0])},{n(points[0][1])}"]
    for (a, b), (c, d) in itertools.pairwise(points):
        if abs(b - d) < 1e-9:
            out.append(f"H{n(c)}")
        elif abs(a - c) < 1e-9:
            out.append(f"v{n(d - b)}")
        else:
            out.append(f"L{n(c)},{n(d)}")
    return "".join(out)


def _short(v: float) -> str:
    text = n(v)
    return text.replace("0.", ".", 1) if text.startswith(("0.", "-0.")) else text


def _compact(points: tuple[Point, ...]) -> str:
    """What minifiers write: no blank where a sign or a point separates."""
    text = "M"
    for x, y in points:
        for v in (x, y):
            s = _short(v)
            text += s if text[-1] in "M" or s.startswith("-") else " " + s
    return text


def _circle(centre: Point, r: float, way: str) -> str:
    x, y = centre
    if way == "compact":
        return f"M{n(x - r)} {n(y)}a{n(r)} {n(r)} 0 01{n(2 * r)} 0a{n(r)} {n(r)} 0 11{n(-2 * r)} 0z"
    if way == "rel":
        return f"M {n(x)},{n(y - r)} " + _quarters(r) + "z"
    return (
        f"M {n(x + r)} {n(y)} A {n(r)} {n(r)} 0 1 0 {n(x - r)} {n(y)} "
        f"A {n(r)} {n(r)} 0 1 0 {n(x + r)} {n(y)} Z"
    )


def _quarters(r: float) -> str:
    k = r * KAPPA
    c = r - k
    steps = [
        (k, 0.0, r, c, r, r),
        (0.0, k, -c, r, -r, r),
        (-k, 0.0, -r, -c, -r, -r),
        (0.0, -k, c, -r, r, -r),
    ]
    return " ".join("c " + " ".join(n(v) for v in step) for step in steps)
