"""Distances between many straight segments at once."""

from __future__ import annotations

import numpy as np

#: An empty list of segments.
NONE = np.zeros((0, 4))


def distances(first: np.ndarray, second: np.ndarray) -> np.ndarray:
    """(k, m) distances of segments (k, 4) to segments (m, 4), rows x1 y1 x2 y2."""
    a, b = first[:, None, :2], first[:, None, 2:]
    c, d = second[None, :, :2], second[None, :, 2:]
    u, v = b - a, d - c
    ac = c - a
    ad, bc = d - a, c - b
    near = np.minimum(_to(ac, u), _to(ad, u))
    near = np.minimum(near, _to(-ac, v))
    near = np.minimum(near, _to(-bc, v))
    s1 = u[..., 0] * ac[..., 1] - u[..., 1] * ac[..., 0]
    s2 = u[..., 0] * ad[..., 1] - u[..., 1] * ad[..., 0]
    t1 = v[..., 1] * ac[..., 0] - v[..., 0] * ac[..., 1]
    t2 = v[..., 1] * bc[..., 0] - v[..., 0] * bc[..., 1]
    result: np.ndarray = np.sqrt(np.where((s1 * s2 < 0) & (t1 * t2 < 0), 0.0, near))
    return result


def _to(p: np.ndarray, way: np.ndarray) -> np.ndarray:
    """Squared distance of points p to the segment from the origin along `way`."""
    px, py, wx, wy = p[..., 0], p[..., 1], way[..., 0], way[..., 1]
    square = wx * wx + wy * wy
    t = (px * wx + py * wy) / np.maximum(square, 1e-18)
    t = np.minimum(np.maximum(t, 0.0), 1.0)
    dx, dy = px - t * wx, py - t * wy
    result: np.ndarray = dx * dx + dy * dy
    return result


def clear(first: np.ndarray, second: np.ndarray, apart: np.ndarray) -> bool:
    """Whether every one of the first segments keeps apart[j] from the second segment j."""
    if not len(second) or not len(first):
        return True
    x1 = min(first[:, 0].min(), first[:, 2].min())
    x2 = max(first[:, 0].max(), first[:, 2].max())
    y1 = min(first[:, 1].min(), first[:, 3].min())
    y2 = max(first[:, 1].max(), first[:, 3].max())
    near = (
        (np.minimum(second[:, 0], second[:, 2]) < x2 + apart)
        & (np.maximum(second[:, 0], second[:, 2]) > x1 - apart)
        & (np.minimum(second[:, 1], second[:, 3]) < y2 + apart)
        & (np.maximum(second[:, 1], second[:, 3]) > y1 - apart)
    )
    if not near.any():
        return True
    return bool((distances(first, second[near]) >= apart[near][None, :] - 1e-9).all())
