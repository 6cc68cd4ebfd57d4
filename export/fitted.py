"""Splines along a piece of a sheet that is no arc: what stands for it in solids, so close that nobody can tell.

The curve at any height is the sheet's own path and so many times its normal. So both are fitted once, by one spline
each with the same knots, and every height takes their sum: all interfaces of a stack are alike, layers keep their
thickness, and what is left of an error is the same on both faces of a layer.

Fitted by least squares along the length (textbook), with ends and directions held, so that pieces join as they do on
the sheet. Its error is on both sides of the curve in equal parts: areas are far closer than places. Knots are added
where the spline is too far off. It is of third or fifth degree, whichever takes fewer control points: the fifth follows
what is smooth, the third a curve through many points, which bends at another rate after each.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..model.errors import ExportError
from ..model.shape.profile import Floats, Piece
from ..model.shape.sheet import Sheet
from ..model.units import Mm
from .kernel import Curve
from .shapes import bspline

DEGREES = (3, 5)
CLOSE: Mm = 1e-5
"""How near a spline keeps to the sheet at every height."""
MOST_PARTS = 2000
"""Most parts of one piece."""
FINEST = 4
"""A part is cut into no more than so many at once."""

NODES, WEIGHTS = np.polynomial.legendre.leggauss(8)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Fit:
    """A piece of a sheet as splines over the place t.

    Parameters
    ----------
    degree
        Degree of both splines.
    knots
        Places t at which their parts meet, rising, ends included.
    counts
        How often each knot counts.
    path
        ``(n, 2)`` control points of the sheet's own path, mm.
    normal
        ``(n, 2)`` control points of its normal.
    """

    degree: int
    knots: Floats
    counts: tuple[int, ...]
    path: Floats
    normal: Floats

    def curve(self, above: Mm, lift: Mm) -> Curve:
        """Spline at a height above the sheet's path; ``lift`` turns heights of the sheet into z."""
        poles = self.path + above * self.normal + np.array([0.0, lift])
        return bspline(np.insert(poles, 1, 0.0, axis=1), self.knots, self.counts, self.degree)

    def motion(self, t: Floats, order: int) -> Floats:
        """Path and normal ``(n, 4)`` at places t, or their derivatives of an order."""
        from scipy.interpolate import BSpline

        poles = np.column_stack((self.path, self.normal))
        return np.asarray(BSpline(np.repeat(self.knots, self.counts), poles, self.degree)(t, order))


def fit(sheet: Sheet, heights: Sequence[Mm], piece: Piece, start: Mm) -> Fit:
    """Fit a piece of the sheet's profile that begins at the place ``start``, close enough for each of the heights.

    Raises
    ------
    ExportError
        No spline keeps to the sheet.
    """
    reach = max(abs(height - sheet.reference) for height in heights)
    found = [one for degree in DEGREES if (one := _close(sheet, reach, piece, start, degree)) is not None]
    if not found:
        raise ExportError(
            f"no spline of {MOST_PARTS} parts follows the bend from {start:.4g} to {start + piece.length:.4g} mm beside "
            "its middle: it turns too sharply there; use a larger radius"
        )
    return min(found, key=lambda one: len(one.path))


def _close(sheet: Sheet, reach: Mm, piece: Piece, start: Mm, degree: int) -> Fit | None:
    """Fit of a degree with so many knots that it keeps to the sheet; None where that takes too many."""
    breaks = start + piece.breaks()
    knots = breaks
    while len(knots) <= MOST_PARTS:
        # the bend may change its rate at a break: the curves beside the sheet's path run on in direction only
        counts = np.where(np.isin(knots, breaks), degree - 1, 1)
        counts[[0, -1]] = degree + 1
        found, off = _least_squares(sheet, reach, piece, knots, counts, degree)
        parts = np.ceil((off / CLOSE) ** (1.0 / (degree + 1)))
        if parts.max() <= 1.0:
            return found
        parts = np.minimum(parts, FINEST).astype(int)
        inner = [
            np.linspace(low, high, count + 1)[1:-1]
            for low, high, count in zip(knots[:-1], knots[1:], parts, strict=True)
        ]
        knots = np.sort(np.concatenate((knots, *inner)))
    return None


def _least_squares(
    sheet: Sheet, reach: Mm, piece: Piece, knots: Floats, counts: NDArray[np.int64], degree: int
) -> tuple[Fit, Floats]:
    """Fit over given knots, and how far it is off within each part at the distance ``reach`` from the path."""
    from scipy.interpolate import BSpline
    from scipy.sparse.linalg import splu

    row = np.repeat(knots, counts)
    middle, half = 0.5 * (knots[1:] + knots[:-1]), 0.5 * np.diff(knots)
    t = (middle[:, None] + half[:, None] * NODES).ravel()
    true = _path_and_normal(sheet, t)
    basis = BSpline.design_matrix(t, row, degree)
    poles = np.zeros((basis.shape[1], 4))
    # the first and the last two control points give the ends and the directions there
    ends = _path_and_normal(sheet, knots[[0, -1]])
    bend = piece.bend(np.array([0.0, piece.length]))[:, None]
    along = np.column_stack((ends[:, 3], -ends[:, 2]))
    step = np.array([[row[degree + 1] - row[1]], [row[-2] - row[-degree - 2]]]) / degree
    motion = step * np.column_stack((along, bend * along))
    poles[[0, -1]] = ends
    poles[1], poles[-2] = ends[0] + motion[0], ends[1] - motion[1]
    weighed = basis.multiply((half[:, None] * WEIGHTS).ravel()[:, None]).T.tocsr()
    free = slice(2, -2)
    poles[free] = splu((weighed @ basis)[free, free].tocsc()).solve((weighed @ (true - basis @ poles))[free])
    off = np.abs(basis @ poles - true)
    apart = np.hypot(off[:, 0], off[:, 1]) + reach * np.hypot(off[:, 2], off[:, 3])
    found = Fit(
        degree=degree,
        knots=knots,
        counts=tuple(int(count) for count in counts),
        path=poles[:, :2],
        normal=poles[:, 2:],
    )
    return found, apart.reshape(len(knots) - 1, len(NODES)).max(axis=1)


def _path_and_normal(sheet: Sheet, t: Floats) -> Floats:
    """Points of the sheet's path at places t, and its normals there: ``(n, 4)``."""
    return np.column_stack((sheet.profile.points(t), sheet.profile.normals(t)))
