"""Drawn lines through many points as few straight and parabolic pieces, within a small distance of each point."""

from itertools import pairwise

import numpy as np

from ...model.scene import Points
from ...model.shape.profile import Floats

CORNER_TURN = 0.7
"""A line that turns more than this (rad) at one point has a corner there."""
LONGER = 4.0
"""Where neighbouring steps differ by more than this ratio, a straight line runs into a curve."""
Piece = tuple[Floats | None, Floats]
"""Control point of a parabola, or nothing for a straight piece, and the piece's end."""


def pieces(points: Points, slack: float, *, closed: bool) -> list[Piece]:
    """Pieces that follow points ``(n, 2)`` from the first to the last, and back to the first where closed."""
    run = np.vstack((points, points[:1])) if closed else points
    steps = np.diff(run, axis=0)
    run = run[np.concatenate(([True], np.hypot(steps[:, 0], steps[:, 1]) > 1e-9))]
    if len(run) < 2:
        return []
    steps = np.diff(run, axis=0)
    turns = np.diff(np.unwrap(np.arctan2(steps[:, 1], steps[:, 0])))
    lengths = np.hypot(steps[:, 0], steps[:, 1])
    apart = np.maximum(lengths[1:], lengths[:-1]) > LONGER * np.minimum(lengths[1:], lengths[:-1])
    corners = np.flatnonzero((np.abs(turns) > CORNER_TURN) | apart)
    ends = [0, *(int(corner) + 1 for corner in corners), len(run) - 1]
    tangents = _tangents(run)
    found: list[Piece] = []
    for first, last in pairwise(ends):
        part = run[first : last + 1]
        own = _tangents(part) if len(part) > 2 else tangents[first : last + 1]
        found += _fitted(part, own, slack)
    return found


def _tangents(run: Points) -> Points:
    """Directions of the curve at its points, of the parabola through each point and its neighbours."""
    if len(run) < 3:
        return np.repeat(run[-1:] - run[:1], len(run), axis=0)
    steps = np.diff(run, axis=0)
    lengths = np.hypot(steps[:, 0], steps[:, 1])[:, None]
    slopes = steps / lengths
    inner = (slopes[:-1] * lengths[1:] + slopes[1:] * lengths[:-1]) / (lengths[1:] + lengths[:-1])
    tangents: Points = np.vstack((2 * slopes[:1] - inner[:1], inner, 2 * slopes[-1:] - inner[-1:]))
    return tangents


def _fitted(run: Points, tangents: Points, slack: float) -> list[Piece]:
    """Straight piece, parabola, or both halves fitted alone."""
    whole = run[-1] - run[0]
    length = float(np.hypot(*whole))
    inner = run[1:-1] - run[0]
    if len(run) == 2 or (length > 0.0 and np.abs(_cross(whole, inner)).max() <= slack * length):
        return [(None, run[-1])]
    middle = len(run) // 2
    crossing = float(_cross(tangents[0], tangents[-1]))
    if length > 0.0 and abs(crossing) > 1e-9:
        control = run[0] + tangents[0] * float(_cross(whole, tangents[-1])) / crossing
        share = np.linspace(0.0, 1.0, 2 * len(run))[:, None]
        drawn = run[0] * (1 - share) ** 2 + 2 * control * share * (1 - share) + run[-1] * share**2
        # halfway between its points too, so that no long straight step is taken for a part of the curve
        if _apart(np.concatenate((run[1:-1], 0.5 * (run[1:] + run[:-1]))), drawn) <= slack:
            return [(control, run[-1])]
    return [
        *_fitted(run[: middle + 1], tangents[: middle + 1], slack),
        *_fitted(run[middle:], tangents[middle:], slack),
    ]


def _apart(points: Points, line: Points) -> float:
    """Largest distance of points from a line through many points."""
    starts, steps = line[:-1], np.diff(line, axis=0)
    to = points[:, None, :] - starts
    share = np.clip((to * steps).sum(axis=2) / np.maximum((steps**2).sum(axis=1), 1e-18), 0.0, 1.0)
    off = to - share[:, :, None] * steps
    return float(np.sqrt((off**2).sum(axis=2).min(axis=1)).max())


def _cross(a: Floats, b: Floats) -> Floats:
    """Signed area spanned by directions in the plane."""
    area: Floats = np.asarray(a[..., 0] * b[..., 1] - a[..., 1] * b[..., 0])
    return area
