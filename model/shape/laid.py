"""Meshes of layers of any outline, laid onto a bent sheet.

The region inside the outline is cut along rulings: at the stations of the bend, and at every corner of its edge. What
lies between two rulings is made of quadrangles, so that faces of layers with one outline meet corner on corner.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from ..units import Mm
from .extrusion import sharp_corners
from .mesh import Indices, Mesh
from .outline import Outline
from .profile import Floats
from .rings import rings
from .sheet import Sheet

SLIVER: Mm = 1e-6
"""Two rulings closer than this are one."""


@dataclass(frozen=True, slots=True, eq=False)
class Region:
    """The region inside an outline on the plane of t and w, cut along rulings.

    Parameters
    ----------
    places
        ``(n, 2)`` corners, t and w.
    triangles
        ``(m, 3)`` corner numbers, anticlockwise.
    edges
        ``(k, 2)`` corner numbers along the outline's edge, the region at the left.
    sharp
        Corner numbers at which the edge turns sharply.
    """

    places: Floats
    triangles: Indices
    edges: Indices
    sharp: Indices


def region(outline: Outline, rulings: Floats, tolerance: Mm) -> Region:
    """Cut the region inside an outline.

    Parameters
    ----------
    rulings
        Places t at which it is cut beside those of its corners.
    tolerance
        Chordal tolerance of its edge.
    """
    row = rings(outline, tolerance)
    levels = _levels(row, rulings)
    places: list[tuple[float, float]] = []
    edges: list[tuple[int, int]] = []
    sharp: list[int] = []
    for ring in row:
        first, corners = len(places), set(sharp_corners(ring).tolist())
        ring = np.column_stack((levels[_nearest(levels, ring[:, 0])], ring[:, 1]))
        for number, (start, end) in enumerate(zip(ring, np.roll(ring, -1, axis=0), strict=True)):
            if number in corners:
                sharp.append(len(places))
            places += _stepped(start, end, levels)
        walked = range(first, len(places))
        edges += zip(walked, (*walked[1:], first), strict=True)
    spots, walk = np.array(places), np.array(edges, dtype=np.int64)
    return Region(spots, _filled(spots, walk, levels), walk, np.array(sharp, dtype=np.int64))


def laid(sheet: Sheet, part: Region, low: Mm, high: Mm, lift: Mm) -> Mesh:
    """Closed mesh of what lies between two heights over a region; ``lift`` turns heights of the sheet into z."""
    t, w = part.places.T
    count = len(t)
    sides = [sheet.place(t, w, height) + np.array([0.0, 0.0, lift]) for height in (low, high)]
    here, ahead = part.edges.T
    return Mesh(
        points=np.concatenate(sides),
        triangles=np.concatenate(
            (
                part.triangles[:, [0, 2, 1]],
                part.triangles + count,
                np.column_stack((here, ahead, ahead + count)),
                np.column_stack((here, ahead + count, here + count)),
            )
        ),
        creases=np.concatenate(
            (part.edges, part.edges + count, np.column_stack((part.sharp, part.sharp + count)))
        ),
    )


def _levels(edges: Sequence[Floats], rulings: Floats) -> Floats:
    """Places t of all cuts in rising order."""
    corners = np.concatenate([ring[:, 0] for ring in edges])
    inside = rulings[(rulings > corners.min()) & (rulings < corners.max())]
    found = np.unique(np.concatenate((corners, inside)))
    return np.asarray(found[np.concatenate(([True], np.diff(found) > SLIVER))])


def _nearest(levels: Floats, t: Floats) -> Indices:
    """Numbers of the cuts that places t lie on: the last one up to them."""
    return np.asarray(np.searchsorted(levels, t, side="right") - 1, dtype=np.int64)


def _stepped(start: Floats, end: Floats, levels: Floats) -> list[tuple[float, float]]:
    """Places along one straight edge at every cut that it meets, its end left out."""
    (t0, w0), (t1, w1) = start.tolist(), end.tolist()
    low, high = np.searchsorted(levels, sorted((t0, t1)))
    t = levels[low + 1 : high]
    if t1 < t0:
        t = t[::-1]
    w = w0 + (t - t0) * ((w1 - w0) / (t1 - t0)) if t.size else t
    return [(t0, w0), *zip(t.tolist(), w.tolist(), strict=True)]


def _filled(places: Floats, edges: Indices, levels: Floats) -> Indices:
    """Triangles ``(m, 3)`` between the edges, strip by strip."""
    at = np.searchsorted(levels, places[:, 0])
    on_level: list[list[int]] = [[] for _ in levels]
    for number in np.lexsort((places[:, 1], at)).tolist():
        on_level[int(at[number])].append(number)
    crossing: list[list[tuple[int, int]]] = [[] for _ in levels]
    for a, b in edges.tolist():
        if at[a] != at[b]:
            left, right = (a, b) if at[a] < at[b] else (b, a)
            crossing[int(at[left])].append((left, right))
    triangles: list[tuple[int, int, int]] = []
    for level, row in enumerate(crossing):
        # the middles of edges that don't cross lie above each other
        row.sort(key=lambda edge: float(places[edge[0], 1] + places[edge[1], 1]))
        for (a, b), (c, d) in zip(row[::2], row[1::2], strict=True):
            left = _between(on_level[level], a, c, places)
            right = _between(on_level[level + 1], b, d, places)
            triangles += _zipped(left, right, places)
    return np.array(triangles, dtype=np.int64)


def _between(row: Sequence[int], low: int, high: int, places: Floats) -> list[int]:
    """Corners on one ruling from a lower to a higher one."""
    if low == high:
        return [low]
    first, last = places[low, 1], places[high, 1]
    return [low, *(number for number in row if first < places[number, 1] < last), high]


def _zipped(left: Sequence[int], right: Sequence[int], places: Floats) -> list[tuple[int, int, int]]:
    """Triangles between two rows of corners that both rise, anticlockwise."""
    found, i, j = [], 0, 0
    while i + 1 < len(left) or j + 1 < len(right):
        goes_left = j + 1 == len(right) or (
            i + 1 < len(left)
            and places[left[i + 1], 1] - places[left[0], 1] <= places[right[j + 1], 1] - places[right[0], 1]
        )
        if goes_left:
            found.append((left[i], right[j], left[i + 1]))
            i += 1
        else:
            found.append((left[i], right[j], right[j + 1]))
            j += 1
    return found
