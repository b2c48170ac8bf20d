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
        for axis in (0, 1):
            blur = _blur(small.shape[axis], sigma / (mm_per_pixel * step * coarse))
            small = _along(blur, small, axis)
        soft += np.float32(strength) * _enlarged(small, soft.shape, coarse)
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


def _enlarged(small: np.ndarray, shape: tuple[int, ...], step: int) -> np.ndarray:
    """Back to (h, w, 3), linear between the middles of squares."""
    if step == 1:
        return small
    for axis in (0, 1):
        small = _along(_enlarge(small.shape[axis], shape[axis], step), small, axis)
    return small


def _blur(size: int, sigma: float) -> np.ndarray:
    """(size, size) Gaussian weights between pixels; what leaves the picture is lost."""
    gaps = np.arange(size)[:, None] - np.arange(size)
    weights = np.exp(-0.5 * (gaps / sigma) ** 2) * (np.abs(gaps) <= REACH * sigma)
    whole = np.exp(-0.5 * (np.arange(-size, size + 1) / sigma) ** 2).sum()
    found: np.ndarray = (weights / whole).astype(np.float32)
    return found


def _enlarge(small: int, large: int, step: int) -> np.ndarray:
    """(large, small) weights of linear interpolation between centres of squares."""
    at = np.clip((np.arange(large) + 0.5) / step - 0.5, 0.0, small - 1.0)
    below = np.minimum(at.astype(int), max(small - 2, 0))
    weights = np.zeros((large, small), dtype=np.float32)
    rows = np.arange(large)
    weights[rows, below] = 1.0 - (at - below)
    weights[rows, np.minimum(below + 1, small - 1)] += at - below
    return weights


def _along(weights: np.ndarray, picture: np.ndarray, axis: int) -> np.ndarray:
    """A matrix applied along one of the first two axes."""
    return np.moveaxis(np.tensordot(weights, picture, axes=(1, axis)), 0, axis)
