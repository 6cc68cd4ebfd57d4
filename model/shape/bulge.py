"""Where a smooth curve through points does more than its points say: it bulges, or turns back, between them.

The points around a span say how tight it is: each with its two neighbours lies on one circle. A curve that leaves the
range of those circles by as much as the tightest of them bends shows a point that is amiss, or one too few.

Source: circle through three points (textbook); what is held against what is our own choice.
"""

from dataclasses import dataclass

import numpy as np

from ..units import Mm, PerMm, Ratio
from .curve import CurvePiece
from .profile import Floats
from .spline import SplineCourse

LOOKED_AT = np.linspace(0.0, 1.0, 17)
"""Shares of a span at which the curve is looked at."""
QUIET: Ratio = 0.3
"""Share of the tightest circle of all below which a bend is no bulge: nearly straight points say little."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Bulge:
    """The span between two points in which a curve leaves its points most.

    Parameters
    ----------
    span
        Number of the span, from 0.
    at
        Place along the curve, from its start.
    bend
        Turn of the normal per length there.
    told
        The same of the tightest circle through points around, without a sign.
    excess
        How far the bend lies outside what the circles say, as a share of ``told``; 0 where it lies within.
    """

    span: int
    at: Mm
    bend: PerMm
    told: PerMm
    excess: Ratio


def worst_bulge(piece: CurvePiece, course: SplineCourse) -> Bulge:
    """Find the span in which a curve through points leaves them most."""
    knots = np.array(course.knots)
    points, _, _, _ = course.at(knots)
    circles = circles_through(points)
    floor = QUIET * float(np.abs(circles).max())
    ends = piece.breaks()
    found = []
    for span in range(len(knots) - 1):
        # circles of the two points at its ends and of one more on either side
        around = circles[max(0, span - 2) : span + 2]
        told = max(float(np.abs(around).max()), floor)
        s = ends[span] + LOOKED_AT * (ends[span + 1] - ends[span])
        bends = piece.bend(s)
        beyond = np.maximum(bends - around.max(), around.min() - bends)
        most = int(beyond.argmax())
        excess = max(0.0, float(beyond[most]) / told) if told > 0.0 else 0.0
        found.append(Bulge(span=span, at=float(s[most]), bend=float(bends[most]), told=told, excess=excess))
    return max(found, key=lambda bulge: bulge.excess)


def circles_through(points: Floats) -> Floats:
    """Bend ``(n - 2,)`` of the circle through each inner point and its two neighbours, positive over a crown."""
    before, after = points[1:-1] - points[:-2], points[2:] - points[1:-1]
    across = points[2:] - points[:-2]
    twice_area = before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0]
    sides = np.hypot(*before.T) * np.hypot(*after.T) * np.hypot(*across.T)
    return np.asarray(-2.0 * twice_area / sides)
