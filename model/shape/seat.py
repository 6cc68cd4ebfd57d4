"""A place for something round inside an outline: the nearest to the middle that is clear of the edge."""

from collections.abc import Sequence
from functools import lru_cache

import numpy as np

from ..units import Mm
from .loop import Loop, LoopPoint
from .outline import Outline
from .pathed import Pathed
from .profile import Floats

PITCH: Mm = 10.0
"""Distance of the places that are tried, where the outline is not very large."""
MOST = 80
"""Places that are tried along each side at most."""
CHORD: Mm = 0.1
"""Chordal tolerance of the edge."""


@lru_cache(maxsize=64)
def seat(outline: Outline, room: Mm) -> LoopPoint | None:
    """Place nearest to the middle that is as far from the edge as the room; None where there is none.

    Outlines that are alike on both sides of their centre lines are asked only about their middle.
    """
    if not isinstance(outline, Pathed):
        return (0.0, 0.0) if min(outline.length, outline.width) >= 2.0 * room else None
    starts = outline.edge.flattened(CHORD)
    if clearance(starts, np.zeros((1, 2)))[0] >= room:
        return 0.0, 0.0
    spots = _lattice(outline.edge)
    fitting = spots[clearance(starts, spots) >= room]
    if len(fitting) == 0:
        return None
    best = fitting[int(np.hypot(*fitting.T).argmin())]
    return float(best[0]), float(best[1])


def beside(loops: Sequence[Loop], wanted: LoopPoint, room: Mm) -> LoopPoint:
    """Place as near to the wanted one as the edge, the holes and both centre lines leave room; that itself where none does."""
    edge, *holes = loops

    def clear(spots: Floats) -> Floats:
        rows = [clearance(edge.flattened(CHORD), spots)]
        rows += [-clearance(hole.flattened(CHORD), spots) for hole in holes]
        return np.asarray(np.min(rows, axis=0))

    if clear(np.array([wanted]))[0] >= room:
        return wanted
    spots = _lattice(edge)
    spots = spots[np.abs(spots).min(axis=1) >= room]
    fitting = spots[clear(spots) >= room]
    if len(fitting) == 0:
        return wanted
    best = fitting[int(np.hypot(*(fitting - wanted).T).argmin())]
    return float(best[0]), float(best[1])


def _lattice(edge: Loop) -> Floats:
    """Places all over the box around an edge, the middle among them."""
    (x0, y0), (x1, y1) = edge.box
    pitch = max(PITCH, max(x1 - x0, y1 - y0) / MOST)
    x, y = (
        pitch * np.arange(np.ceil(low / pitch), np.floor(high / pitch) + 1)
        for low, high in ((x0, x1), (y0, y1))
    )
    return np.column_stack([places.ravel() for places in np.meshgrid(x, y)])


def clearance(ring: Floats, spots: Floats) -> Floats:
    """Distance ``(n,)`` of places from a closed row of points; below 0 outside."""
    step = np.roll(ring, -1, axis=0) - ring
    square = (step**2).sum(axis=1)
    nearest = np.full(len(spots), np.inf)
    crossed = np.zeros(len(spots), dtype=np.int64)
    for start, way, size in zip(ring, step, square, strict=True):
        away = spots - start
        share = np.clip(away @ way / size, 0.0, 1.0)
        nearest = np.minimum(nearest, np.hypot(*(away - share[:, None] * way).T))
        spans = (start[1] > spots[:, 1]) != (start[1] + way[1] > spots[:, 1])
        if way[1]:
            crossed += spans & (start[0] + (spots[:, 1] - start[1]) / way[1] * way[0] > spots[:, 0])
    return np.where(crossed % 2 == 1, nearest, -nearest)
