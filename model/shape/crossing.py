"""Where closed edges cross or touch themselves or each other."""

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from ..units import Mm
from .loop import FINE, Loop, LoopPoint
from .mesh import Indices
from .profile import Floats

CHORD: Mm = 0.02
"""Chordal tolerance at which edges are looked at."""
TOUCHING: Mm = 1e-6
"""Edges closer than this touch."""
BLOCK = 256
"""Chords that are held against all others at a time."""


def crossing(loops: Sequence[Loop]) -> LoopPoint | None:
    """One place at which loops cross or touch themselves or each other; None where they are clear."""
    rings = [loop.flattened(CHORD) for loop in loops]
    starts = np.concatenate(rings)
    ends = np.concatenate([np.roll(ring, -1, axis=0) for ring in rings])
    first = np.repeat(np.cumsum([0, *map(len, rings)])[:-1], list(map(len, rings)))
    count = np.repeat(list(map(len, rings)), list(map(len, rings)))
    number = np.arange(len(starts))
    after = first + (number - first + 1) % count
    return _folded(starts, ends, after) or _crossed(starts, ends, number, after)


def is_inside(loop: Loop, spots: Floats) -> npt.NDArray[np.bool_]:
    """Whether each of the places ``(n, 2)`` lies inside an edge, by the crossings of a ray from it."""
    starts = loop.flattened(CHORD)
    ends = np.roll(starts, -1, axis=0)
    inside = np.zeros(len(spots), dtype=bool)
    for (x0, y0), (x1, y1) in zip(starts.tolist(), ends.tolist(), strict=True):
        spans = (y0 > spots[:, 1]) != (y1 > spots[:, 1])
        across = x0 + (spots[spans, 1] - y0) / (y1 - y0 if y1 != y0 else 1.0) * (x1 - x0)
        inside[spans] ^= across > spots[spans, 0]
    return inside


def touching(one: Loop, other: Loop, within: Mm) -> LoopPoint | None:
    """One place at which two edges that do not cross come closer than ``within``; None where they stay clear."""
    rings = one.flattened(FINE), other.flattened(FINE)
    for spots, starts in (rings, rings[::-1]):
        ends = np.roll(starts, -1, axis=0)
        near = (np.minimum(starts, ends) <= spots.max(axis=0) + within) & (
            np.maximum(starts, ends) >= spots.min(axis=0) - within
        )
        for start, step in zip(starts[near.all(axis=1)], (ends - starts)[near.all(axis=1)], strict=True):
            share = np.clip((spots - start) @ step / (step @ step), 0.0, 1.0)
            apart = np.hypot(*(spots - start - share[:, None] * step).T)
            if apart.min() <= within:
                return _spot(spots[int(apart.argmin())])
    return None


def _folded(starts: Floats, ends: Floats, after: Indices) -> LoopPoint | None:
    """A corner at which the edge runs back on itself."""
    step = ends - starts
    ahead = step[after]
    cross = step[:, 0] * ahead[:, 1] - step[:, 1] * ahead[:, 0]
    dot = (step * ahead).sum(axis=1)
    back = np.flatnonzero((dot < 0.0) & (np.abs(cross) <= TOUCHING * np.abs(dot) ** 0.5))
    return None if back.size == 0 else _spot(ends[back[0]])


def _crossed(
    starts: Floats,
    ends: Floats,
    number: Indices,
    after: Indices,
) -> LoopPoint | None:
    """A place at which two chords that are no neighbours meet."""
    for low in range(0, len(starts), BLOCK):
        here = number[low : low + BLOCK]
        a, b = starts[here, None], ends[here, None]
        apart = (
            (number[None] > here[:, None])
            & (after[here, None] != number[None])
            & (after[None] != here[:, None])
        )
        left, right = np.minimum(a, b), np.maximum(a, b)
        near = (
            (np.minimum(starts, ends)[None] <= right + TOUCHING)
            & (np.maximum(starts, ends)[None] >= left - TOUCHING)
        ).all(axis=2)
        for one, other in zip(*np.nonzero(apart & near), strict=True):
            found = _meeting(starts[here[one]], ends[here[one]], starts[other], ends[other])
            if found is not None:
                return found
    return None


def _meeting(a: Floats, b: Floats, c: Floats, d: Floats) -> LoopPoint | None:
    """Where two straight lines cross, or one ends on the other."""
    one, other = b - a, d - c
    cross = float(one[0] * other[1] - one[1] * other[0])
    if abs(cross) > 1e-12 * float(np.hypot(*one) * np.hypot(*other)):
        away = c - a
        u = float(away[0] * other[1] - away[1] * other[0]) / cross
        v = float(away[0] * one[1] - away[1] * one[0]) / cross
        slack_u, slack_v = TOUCHING / float(np.hypot(*one)), TOUCHING / float(np.hypot(*other))
        is_met = -slack_u <= u <= 1.0 + slack_u and -slack_v <= v <= 1.0 + slack_v
        return _spot(a + u * one) if is_met else None
    for spot, start, step in ((a, c, other), (b, c, other), (c, a, one), (d, a, one)):
        share = min(max(float((spot - start) @ step / (step @ step)), 0.0), 1.0)
        if float(np.hypot(*(spot - start - share * step))) <= TOUCHING:
            return _spot(spot)
    return None


def _spot(point: Floats) -> LoopPoint:
    return float(point[0]), float(point[1])
