"""Symmetric equations on a mesh, solved layer by layer.

The nodes at one, two, three .. steps from a far end of a mesh touch only their own layer and
the two beside it: small full tables along a diagonal, eliminated from one end to the other. A
strip of tape is long and thin, so its layers are small.
"""

from __future__ import annotations

import numpy as np

from .elimination import Floats, Ints


def solve_layered(nodes: int, ends: Ints, weights: Floats, leak: Floats, loads: Floats) -> Floats:
    """Potentials (n, k) under currents (n, k): branches `ends` (m, 2) of `weights` (m,).

    `leak` (n,) to ground must not be 0 throughout any piece of the mesh.
    """
    layer = _layers(nodes, ends)
    order = np.argsort(layer, kind="stable")
    place = np.empty(nodes, dtype=np.intp)
    first = np.searchsorted(layer[order], np.arange(layer.max() + 2))
    place[order] = np.arange(nodes) - first[layer[order]]
    count, size = len(first) - 1, int(np.diff(first).max())
    own, ahead = _tables(layer, place, (count, size), ends, weights, leak)
    right = np.zeros((count, size, loads.shape[1]))
    right[layer, place] = loads
    sizes = np.diff(first).tolist()
    carried: list[Floats] = []
    for i, n in enumerate(sizes):
        if i:
            back = ahead[i - 1, : sizes[i - 1], :n].T
            own[i, :n, :n] -= back @ carried[-1]
            right[i, :n] -= back @ right[i - 1, : sizes[i - 1]]
        beyond = ahead[i, :n, : sizes[i + 1]] if i + 1 < count else ahead[i, :n, :0]
        both = np.linalg.solve(own[i, :n, :n], np.concatenate([beyond, right[i, :n]], axis=1))
        carried.append(both[:, : beyond.shape[1]])
        right[i, :n] = both[:, beyond.shape[1] :]
    for i in range(count - 2, -1, -1):
        right[i, : sizes[i]] -= carried[i] @ right[i + 1, : sizes[i + 1]]
    return np.asarray(right[layer, place])


def _tables(
    layer: Ints, place: Ints, shape: tuple[int, int], ends: Ints, weights: Floats, leak: Floats
) -> tuple[Floats, Floats]:
    """Tables (layers, size, size) within each layer and from each to the next."""
    count, size = shape
    own, ahead = np.zeros((count, size, size)), np.zeros((count, size, size))
    own[layer, place, place] += leak
    for a, b in ((ends[:, 0], ends[:, 1]), (ends[:, 1], ends[:, 0])):
        np.add.at(own, (layer[a], place[a], place[a]), weights)
        same = layer[a] == layer[b]
        np.add.at(own, (layer[a[same]], place[a[same]], place[b[same]]), -weights[same])
        up = layer[b] == layer[a] + 1
        np.add.at(ahead, (layer[a[up]], place[a[up]], place[b[up]]), -weights[up])
    return own, ahead


def _layers(nodes: int, ends: Ints) -> Ints:
    """Steps (n,) of every node from a far end of its piece."""
    a = np.concatenate([ends[:, 0], ends[:, 1]])
    b = np.concatenate([ends[:, 1], ends[:, 0]])
    order = np.argsort(a, kind="stable")
    near = b[order]
    start = np.searchsorted(a[order], np.arange(nodes + 1))
    layer = np.full(nodes, -1, dtype=np.intp)
    while (layer < 0).any():
        seed = int(np.argmax(layer < 0))
        far = _spread(seed, start, near, np.where(layer < 0, -1, -2))
        steps = _spread(int(np.argmax(far)), start, near, np.where(layer < 0, -1, -2))
        layer = np.where(steps >= 0, steps, layer)
    return layer


def _spread(seed: int, start: Ints, near: Ints, steps: Ints) -> Ints:
    """Steps from a node to all it is joined to; -1 are still to be reached, -2 never."""
    steps = steps.copy()
    front, level = np.array([seed]), 0
    while len(front):
        steps[front] = level
        lengths = start[front + 1] - start[front]
        offsets = np.repeat(start[front] - np.r_[0, np.cumsum(lengths)[:-1]], lengths)
        found = near[offsets + np.arange(lengths.sum())]
        front, level = np.unique(found[steps[found] == -1]), level + 1
    return steps
