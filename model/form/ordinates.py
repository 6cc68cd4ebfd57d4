"""Ordinates: points of an edge at even distances, from which it is laid out by hand."""

from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from ..shape.loop import Corner, Loop
from ..shape.profile import Floats
from ..units import Mm
from ..wording import INCH

FINE: Mm = 0.001
"""Chordal tolerance of the edge whose points are told."""

MOST = 24
"""Most points that are told of an edge; of one that is the same on both sides, one half is told."""

MM_STEPS: tuple[Mm, ...] = (5.0, 10.0, 20.0, 25.0, 50.0, 100.0, 200.0, 250.0, 500.0, 1000.0)
INCH_STEPS: tuple[Mm, ...] = tuple(
    INCH * step for step in (0.25, 0.5, 1.0, 2.0, 3.0, 4.0, 6.0, 12.0, 24.0, 36.0)
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Ordinates:
    """Points of an edge.

    Parameters
    ----------
    step
        Distance of the points along x where the edge runs rather level, along z where it is rather steep.
    points
        ``(n, 2)`` x from the middle and z above the foot, from left to right; both ends included.
    is_even
        Whether the edge is the same on both sides of its middle.
    """

    step: Mm
    points: Floats
    is_even: bool

    @property
    def listed(self) -> Floats:
        """Points that have to be told: those from the middle to the right where both sides are the same."""
        return self.points[self.points[:, 0] > -1e-6] if self.is_even else self.points


def ordinates(curve: tuple[Corner, ...], foot: Mm, steps: tuple[Mm, ...] = MM_STEPS) -> Ordinates:
    """Points of an edge at the finest of some steps that keeps them few.

    Parameters
    ----------
    curve
        Corners of the edge from left to right; its last corner has no edge.
    foot
        Height that z is measured from.
    """
    points = Loop(curve).flattened(FINE) - np.array([0.0, foot])
    is_even = _is_even(points)
    for step in steps:
        found = Ordinates(step=step, points=_at_steps(points, step), is_even=is_even)
        if len(found.listed) <= MOST:
            break
    return found


def _is_even(points: Floats) -> bool:
    """Whether an edge is the same on both sides of x = 0, as told by where it crosses some heights and places."""
    mirrored = points[::-1] * np.array([-1.0, 1.0])
    share = np.linspace(0.0, 1.0, 101)
    return bool(np.abs(_walked(points, share) - _walked(mirrored, share)).max() < 1e-4)


def _walked(points: Floats, share: Floats) -> Floats:
    """Points at shares of the edge's length."""
    way = np.concatenate(([0.0], np.cumsum(np.hypot(*np.diff(points, axis=0).T))))
    return np.column_stack([np.interp(share * way[-1], way, points[:, axis]) for axis in (0, 1)])


def _at_steps(points: Floats, step: Mm) -> Floats:
    """Both ends, and where the edge crosses multiples of the step: of x where it is level, of z where it is steep."""
    rows = [points[:1]]
    for a, b in pairwise(points):
        run = b - a
        axis = 0 if abs(run[0]) >= abs(run[1]) else 1
        low, high = sorted((a[axis], b[axis]))
        marks = step * np.arange(np.ceil(low / step), np.floor(high / step) + 1.0)
        if run[axis] < 0.0:
            marks = marks[::-1]
        rows.append(a + ((marks - a[axis]) / (run[axis] or 1.0))[:, None] * run)
    rows.append(points[-1:])
    found = np.concatenate(rows)
    apart = np.concatenate(([True], np.hypot(*np.diff(found, axis=0).T) > 0.05 * step))
    kept = found[apart]
    # the last end stands, however near the step before it is
    kept[-1] = points[-1]
    return np.asarray(kept)
