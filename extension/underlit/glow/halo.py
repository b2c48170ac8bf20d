"""The halo that bright openings have for the eye: blurred light, for the look alone."""

from __future__ import annotations

import numpy as np

#: The sharpest blur is computed on pixels of this size (mm), the softer ones on squares of them.
CELL = 0.3

#: (standard deviation in mm, strength, cells of its grid along each side)
RINGS = ((0.55, 0.26, 1), (3.2, 0.16, 3), (14.0, 0.15, 6))

#: How far a blur reaches, in its own standard deviations.
REACH = 4.0


def halo(light: np.ndarray, mm_per_pixel: float) -> np.ndarray:
    """(h, w, 3) float32: `light` spread softly, on several scales."""
    step = max(1, round(CELL / mm_per_pixel))
    cells = shrunk(light, step)
    soft = np.zeros_like(cells)
    for sigma, strength, coarse in RINGS:
        small = cells if coarse == 1 else shrunk(cells, coarse)
        blurred = _blurred(small, sigma / (mm_per_pixel * step * coarse))
        soft += np.float32(strength) * _enlarged(blurred, soft.shape, coarse)
    return _enlarged(soft, light.shape, step)


def shrunk(light: np.ndarray, step: int) -> np.ndarray:
    """Means over squares of `step` pixels; the last ones may reach beyond the picture (0 there)."""
    height, width, _ = light.shape
    result = np.zeros((-(-height // step), -(-width // step), 3), dtype=np.float32)
    for i in range(step):
        for j in range(step):
            part = light[i::step, j::step]
            result[: part.shape[0], : part.shape[1]] += part
    result /= step * step
    return result


def _blurred(picture: np.ndarray, sigma: float) -> np.ndarray:
    """Convolved with a Gaussian of so many pixels along both axes; what leaves it is lost."""
    reach = int(np.ceil(REACH * sigma))
    weights = np.exp(-0.5 * (np.arange(-reach, reach + 1) / sigma) ** 2)
    weights = (weights / weights.sum()).astype(np.float32)
    for axis in (0, 1):
        source = np.moveaxis(picture, axis, 0)
        result = np.zeros_like(source)
        for shift, weight in enumerate(weights.tolist(), -reach):
            low, high = max(shift, 0), len(source) + min(shift, 0)
            if low < high:
                result[low:high] += np.float32(weight) * source[low - shift : high - shift]
        picture = np.moveaxis(result, 0, axis)
    return picture


def _enlarged(small: np.ndarray, shape: tuple[int, ...], step: int) -> np.ndarray:
    """Back to (h, w, 3), linear between the middles of squares of `step` pixels."""
    if step == 1:
        return small
    for axis in (0, 1):
        last = small.shape[axis] - 1
        at = np.clip((np.arange(shape[axis]) + 0.5) / step - 0.5, 0.0, last)
        below = at.astype(np.int64)
        weight = np.expand_dims((at - below).astype(np.float32), (1, 2) if axis == 0 else (0, 2))
        first = np.take(small, below, axis=axis)
        second = np.take(small, np.minimum(below + 1, last), axis=axis)
        second -= first
        second *= weight
        first += second
        small = first
    return small
