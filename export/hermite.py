"""Splines of fifth degree through points with known direction and curvature.

Between two neighbours runs the one curve that agrees with place, first and second derivative at both ends (Hermite
interpolation, textbook).
"""

from collections.abc import Iterable

import numpy as np

from ..model.shape.profile import Floats
from ..model.shape.strokes import Motion

DEGREE = 5
LOOKED_AT = np.array([0.25, 0.5, 0.75])
"""Shares of each part at which a spline is held against what it stands for."""


def control_points(first: Motion, last: Motion, knots: Floats) -> Floats:
    """Control points ``(parts, 6, k)`` of each part between two knots, from the motion at its start and its end."""
    (p, v, a), (q, w, b) = first, last
    width = np.diff(knots)[:, None]
    step, square = width / 5.0, width**2 / 20.0
    return np.stack(
        (p, p + step * v, p + 2.0 * step * v + square * a, q - 2.0 * step * w + square * b, q - step * w, q),
        axis=1,
    )


def joined(parts: Floats, knots: Floats, smooth: Iterable[bool]) -> tuple[Floats, list[int]]:
    """Poles and multiplicities of the spline of all parts.

    Parameters
    ----------
    smooth
        For each inner knot whether the second derivative is the same on both sides: there one control point stands
        for two.
    """
    poles, counts = [parts[0, :2]], [DEGREE + 1]
    for number, is_smooth in enumerate(smooth):
        left, right = parts[number], parts[number + 1]
        before, after = np.diff(knots[number : number + 3])
        joint = (
            [left[3] + (before + after) / before * (left[4] - left[3])] if is_smooth else [left[4], right[1]]
        )
        poles += [left[2:4], np.array(joint)]
        counts.append(DEGREE - 2 if is_smooth else DEGREE - 1)
    poles.append(parts[-1, 2:])
    return np.concatenate(poles), [*counts, DEGREE + 1]


def between_knots(parts: Floats) -> Floats:
    """Points ``(parts, 3, k)`` of each part at the shares ``LOOKED_AT``."""
    share = LOOKED_AT[:, None]
    number = np.arange(DEGREE + 1)
    choices = np.array([1.0, 5.0, 10.0, 10.0, 5.0, 1.0])
    weights = choices * share**number * (1.0 - share) ** (DEGREE - number)
    return np.asarray(np.einsum("qk,nkx->nqx", weights, parts))


def looked_at(knots: Floats) -> Floats:
    """Parameters ``(3 · parts,)`` at those shares, part by part."""
    return np.asarray((knots[:-1, None] + np.diff(knots)[:, None] * LOOKED_AT).ravel())
