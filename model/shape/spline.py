"""A smooth curve through points: a cubic spline with continuous curvature.

The parameter is the length of the chords between the points, so that the curve comes out the same whichever way the
points are moved, turned or entered. The first two spans share one cubic, and so do the last two: ends as flat as a
batten's would be wrong for a template that was cut out of the middle of a curve.

Source: cubic interpolating splines with the not-a-knot condition, as in any text on numerical mathematics (textbook).
"""

from dataclasses import dataclass

import numpy as np

from .profile import Floats


@dataclass(frozen=True, slots=True)
class SplineCourse:
    """A cubic spline with continuous curvature: break points and, for each span, its coefficients.

    Parameters
    ----------
    knots
        Parameters of the break points, rising.
    coefficients
        For each span the coefficients ``(x, z)`` of the powers 3, 2, 1, 0 of the parameter from its start.
    """

    knots: tuple[float, ...]
    coefficients: tuple[tuple[tuple[float, float], ...], ...]

    @property
    def start(self) -> float:
        """Parameter of the first point."""
        return self.knots[0]

    @property
    def end(self) -> float:
        """Parameter of the last point."""
        return self.knots[-1]

    def at(self, u: Floats) -> tuple[Floats, Floats, Floats, Floats]:
        """Points and derivatives by the parameter."""
        knots, powers = np.array(self.knots), np.array(self.coefficients)
        span = np.clip(np.searchsorted(knots, u, side="right") - 1, 0, len(powers) - 1)
        cubic, square, line, constant = (powers[span, power] for power in range(4))
        v = (u - knots[span])[:, None]
        return (
            ((cubic * v + square) * v + line) * v + constant,
            (3.0 * cubic * v + 2.0 * square) * v + line,
            6.0 * cubic * v + 2.0 * square,
            6.0 * cubic,
        )

    def breaks(self) -> Floats:
        """The points that the spline goes through."""
        return np.array(self.knots)


def spline_through(points: Floats) -> SplineCourse:
    """Smooth curve through three or more points ``(n, 2)``, mm, none of them twice in a row."""
    chords = np.hypot(*np.diff(points, axis=0).T)
    knots = np.concatenate(([0.0], np.cumsum(chords)))
    slopes = np.diff(points, axis=0) / chords[:, None]
    second = _second_derivatives(chords, slopes)
    low, high = second[:-1], second[1:]
    powers = (
        (high - low) / (6.0 * chords[:, None]),
        0.5 * low,
        slopes - chords[:, None] * (2.0 * low + high) / 6.0,
        points[:-1],
    )
    spans = np.stack(powers, axis=1).tolist()
    return SplineCourse(
        knots=tuple(knots.tolist()),
        coefficients=tuple(tuple((x, z) for x, z in span) for span in spans),
    )


def _second_derivatives(chords: Floats, slopes: Floats) -> Floats:
    """Second derivatives ``(n, 2)`` at the points, from the chords' lengths ``(n - 1,)`` and slopes ``(n - 1, 2)``."""
    count = len(chords) + 1
    if count == 3:
        # one parabola through three points
        return np.repeat(2.0 * (slopes[1:] - slopes[:1]) / chords.sum(), 3, axis=0)
    matrix, right = np.zeros((count, count)), np.zeros((count, 2))
    inner = np.arange(1, count - 1)
    matrix[inner, inner - 1] = chords[:-1]
    matrix[inner, inner] = 2.0 * (chords[:-1] + chords[1:])
    matrix[inner, inner + 1] = chords[1:]
    right[inner] = 6.0 * np.diff(slopes, axis=0)
    # the third derivative is the same on both sides of the second point, and of the last but one
    matrix[0, :3] = chords[1], -(chords[0] + chords[1]), chords[0]
    matrix[-1, -3:] = chords[-1], -(chords[-1] + chords[-2]), chords[-2]
    return np.asarray(np.linalg.solve(matrix, right), dtype=np.float64)
