"""Order of the nodes that keeps the matrix narrow, and its factorisation without pivots."""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from scipy.sparse import coo_array
from scipy.sparse.csgraph import reverse_cuthill_mckee

from noonwater.core.jit import compiled_loop
from noonwater.hydraulics.arrays import Floats, Integers


def band_order(nodes: int, pairs: list[tuple[int, int]]) -> tuple[Integers, int]:
    """Number the unknowns so that joined ones lie close together.

    Parameters
    ----------
    nodes : int
        Number of unknowns.
    pairs : list of (int, int)
        Unknowns that share an equation.

    Returns
    -------
    tuple
        Place of each unknown, and half width of the band.
    """
    return _band_order(nodes, tuple(pairs))


@lru_cache(maxsize=512)
def _band_order(nodes: int, pairs: tuple[tuple[int, int], ...]) -> tuple[Integers, int]:
    # An edit of a length or a slope leaves what is joined to what: the order is found again.
    place = np.zeros(nodes, dtype=np.int64)
    if nodes == 0 or not pairs:
        return np.arange(nodes, dtype=np.int64), 0
    rows, columns = np.array(pairs).T
    both = np.concatenate([rows, columns]), np.concatenate([columns, rows])
    graph = coo_array((np.ones(2 * len(pairs)), both), shape=(nodes, nodes)).tocsr()
    order = reverse_cuthill_mckee(graph, symmetric_mode=True)
    place[order] = np.arange(nodes)
    place.setflags(write=False)
    return place, int(np.max(np.abs(place[rows] - place[columns])))


@compiled_loop
def solve_band(matrix: Floats, right: Floats, width: int) -> None:
    """Solve a banded system in place; the answer takes the place of the right-hand side.

    Parameters
    ----------
    matrix : (n, 2·width + 1) array
        Row i holds columns i - width to i + width; overwritten.
    right : (n,) array
        Right-hand side; overwritten by the solution.
    width : int
        Half width of the band.

    Notes
    -----
    No pivots: the matrix of a network with at least one known head is an M-matrix, and where air
    comes in it stays dominant by columns.
    """
    n = right.shape[0]
    for k in range(n):
        pivot = 1.0 / matrix[k, width]
        last = min(n, k + width + 1)
        # Views, not index sums: the compiler then takes several columns at a time.
        upper = matrix[k, width + 1 : width + last - k]
        for i in range(k + 1, last):
            shift = width - i + k
            share = matrix[i, shift]
            if share != 0.0:
                share *= pivot
                row = matrix[i, shift + 1 : shift + last - k]
                for j in range(upper.shape[0]):
                    row[j] -= share * upper[j]
                right[i] -= share * right[k]
    for k in range(n - 1, -1, -1):
        total = right[k]
        for j in range(1, min(n - k, width + 1)):
            total -= matrix[k, width + j] * right[k + j]
        right[k] = total / matrix[k, width]
