"""Which facet covers which: an order of painting from the farthest to the nearest, and what nobody sees.

The facets are sampled on a grid over the picture. At each sample the facets that lie there are sorted by depth,
which tells pairs that must be painted one after the other. Facets that are hidden at all of their samples
are left out; those too thin for a sample keep their place by the layers' order.
"""

import heapq

import numpy as np
from numpy.typing import NDArray

from ...model.shape.profile import Floats
from .facets import Facet

Whole = NDArray[np.int64]

SAMPLES = 160
"""Samples along the longer side of the picture."""


def painting_order(facets: list[Facet], clear: set[int]) -> list[int]:
    """Numbers of the facets to paint, the farthest first; ``clear`` are the parts that hide nothing."""
    if not facets:
        return []
    corners = np.concatenate([facet.triangles.reshape(-1, 3) for facet in facets])
    low, high = corners.min(axis=0), corners.max(axis=0)
    pitch = float(max(high[0] - low[0], high[1] - low[1])) / SAMPLES or 1.0
    triangles = np.concatenate([facet.triangles for facet in facets])
    spot, depth, triangle = _samples((triangles - [*low[:2], 0.0]) / [pitch, pitch, 1.0])
    owner = np.repeat(np.arange(len(facets)), [len(facet.triangles) for facet in facets])[triangle]
    sorting = np.lexsort((depth, spot))
    spot, depth, owner = spot[sorting], depth[sorting], owner[sorting]
    same = spot[1:] == spot[:-1]
    over = same & (depth[1:] > depth[:-1] + 1e-6) & (owner[1:] != owner[:-1])
    pairs = np.unique(np.column_stack((owner[:-1][over], owner[1:][over])), axis=0)
    shown = _shown(facets, clear, spot, owner)
    return [number for number in _sorted(facets, pairs) if shown[number]]


def _shown(facets: list[Facet], clear: set[int], spot: Whole, owner: Whole) -> NDArray[np.bool_]:
    """Which facets something can be seen of, or half of them where they are clear.

    Samples come sorted by spot, then by depth.
    """
    is_clear = np.array([facet.part in clear for facet in facets])
    _, place = np.unique(spot, return_inverse=True)
    nearest = np.full(place.max(initial=-1) + 1, -1)
    solid = np.flatnonzero(~is_clear[owner])
    # the last solid one of every spot stays
    nearest[place[solid]] = solid
    over = np.arange(owner.size) >= nearest[place]
    seen, sampled = (np.bincount(owner[which], minlength=len(facets)) for which in (over, slice(None)))
    shown: NDArray[np.bool_] = (sampled < 4) | (seen > np.where(is_clear, 0.5 * sampled, 0.0))
    return shown


def _samples(triangles: Floats) -> tuple[Whole, Floats, Whole]:
    """Take samples inside triangles ``(m, 3, 3)`` in steps of the grid: their spots, depths and triangles."""
    v = triangles[:, :, 1]
    triangle, row = _counted(np.ceil(v.min(axis=1)), np.floor(v.max(axis=1)))
    starts, ends = triangles[triangle], np.roll(triangles, -1, axis=1)[triangle]
    rise = ends[:, :, 1] - starts[:, :, 1]
    share = (row[:, None] - starts[:, :, 1]) / np.where(rise == 0.0, 1.0, rise)
    met = starts[:, :, 0] + share * (ends[:, :, 0] - starts[:, :, 0])
    crossed = (rise != 0.0) & (share >= 0.0) & (share <= 1.0)
    left = np.where(crossed, met, np.inf).min(axis=1)
    right = np.where(crossed, met, -np.inf).max(axis=1)
    line, column = _counted(np.ceil(left), np.floor(right))
    triangle, row = triangle[line], row[line]
    slope = _slopes(triangles)[triangle]
    away = np.column_stack((column, row)) - triangles[triangle, 0, :2]
    depth = triangles[triangle, 0, 2] + (slope * away).sum(axis=1)
    return row * (4 * SAMPLES) + column, depth, triangle


def _counted(first: Floats, last: Floats) -> tuple[Whole, Whole]:
    """All whole numbers from ``first`` to ``last`` of each pair: the pair's place and the number."""
    counts = np.where(last >= first, last - first + 1.0, 0.0).astype(np.int64)
    pair = np.repeat(np.arange(counts.size), counts)
    before = np.repeat(np.cumsum(counts) - counts, counts)
    start = np.where(counts > 0, first, 0.0).astype(np.int64)
    return pair, start[pair] + np.arange(pair.size) - before


def _slopes(triangles: Floats) -> Floats:
    """Change of depth per step to the right and up, ``(m, 2)``; zero for a triangle seen edge on."""
    one, other = triangles[:, 1] - triangles[:, 0], triangles[:, 2] - triangles[:, 0]
    area = one[:, 0] * other[:, 1] - one[:, 1] * other[:, 0]
    area = np.where(np.abs(area) < 1e-12, np.inf, area)
    right = (one[:, 2] * other[:, 1] - other[:, 2] * one[:, 1]) / area
    up = (one[:, 0] * other[:, 2] - other[:, 0] * one[:, 2]) / area
    return np.column_stack((right, up))


def _sorted(facets: list[Facet], pairs: Whole) -> list[int]:
    """Order that keeps the pairs; where nothing is said, lower parts and farther facets come first."""
    rank = [
        (facet.part, float(facet.triangles[:, :, 2].mean()), number) for number, facet in enumerate(facets)
    ]
    waits = np.bincount(pairs[:, 1], minlength=len(facets))
    over: dict[int, list[int]] = {}
    under: dict[int, list[int]] = {}
    for below, above in pairs.tolist():
        over.setdefault(below, []).append(above)
        under.setdefault(above, []).append(below)
    ready = [rank[number] for number in range(len(facets)) if waits[number] == 0]
    heapq.heapify(ready)
    left = set(range(len(facets)))
    order = []
    while left:
        # a ring of facets that cover each other has no right order: begin with its lowest
        number = heapq.heappop(ready)[2] if ready else min(_ring(left, under), key=lambda one: rank[one])
        if number not in left:
            continue
        left.remove(number)
        order.append(number)
        for above in over.get(number, ()):
            waits[above] -= 1
            if waits[above] == 0:
                heapq.heappush(ready, rank[above])
    return order


def _ring(left: set[int], under: dict[int, list[int]]) -> list[int]:
    """A ring of facets that cover each other; every one that is left has another left below it."""
    walk = [min(left)]
    while True:
        below = next(one for one in under[walk[-1]] if one in left)
        if below in walk:
            return walk[walk.index(below) :]
        walk.append(below)
