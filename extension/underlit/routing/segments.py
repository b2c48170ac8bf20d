"""Distances between many straight segments at once."""

from __future__ import annotations

import numpy as np

#: An empty list of segments.
NONE = np.zeros((0, 4))


def distances(first: np.ndarray, second: np.ndarray) -> np.ndarray:
    """(k, m) distances of segments (k, 4) to segments (m, 4), rows x1 y1 x2 y2."""
    ax, ay, bx, by = first.T[:, :, None]
    cx, cy, dx, dy = second.T[:, None, :]
    # the four ends and the ways of the other segments, all at once: most calls are of few segments
    px, py, wx, wy = np.empty((4, 4, len(first), len(second)))
    px[0], px[1], px[2], px[3] = cx - ax, dx - ax, ax - cx, bx - cx
    py[0], py[1], py[2], py[3] = cy - ay, dy - ay, ay - cy, by - cy
    wx[:2], wx[2:], wy[:2], wy[2:] = bx - ax, dx - cx, by - ay, dy - cy
    t = (px * wx + py * wy) / np.maximum(wx * wx + wy * wy, 1e-18)
    t = np.minimum(np.maximum(t, 0.0), 1.0)
    off_x, off_y = px - t * wx, py - t * wy
    near = (off_x * off_x + off_y * off_y).min(axis=0)
    side = wx * py - wy * px
    crossing = (side[0] * side[1] < 0) & (side[2] * side[3] < 0)
    result: np.ndarray = np.sqrt(np.where(crossing, 0.0, near))
    return result


def clear(first: np.ndarray, second: np.ndarray, apart: np.ndarray) -> bool:
    """Whether every one of the first segments keeps apart[j] from the second segment j."""
    if not len(second) or not len(first):
        return True
    ends, reach = first.reshape(-1, 2), apart[:, None]
    low, high = np.minimum(second[:, :2], second[:, 2:]), np.maximum(second[:, :2], second[:, 2:])
    near = ((low < ends.max(axis=0) + reach) & (high > ends.min(axis=0) - reach)).all(axis=1)
    if not near.any():
        return True
    return bool((distances(first, second[near]) >= apart[near][None, :] - 1e-9).all())
