"""A spline along a piece of a sheet that is no arc: what stands for it in solids, so close that nobody can tell.

The sheet is known exactly at every place: its point, its direction and how fast that turns. Between places near to
each other runs the one curve of fifth degree that agrees with all three at both ends (Hermite interpolation,
textbook). Places are added until the spline keeps to the sheet.
"""

from collections.abc import Sequence

import numpy as np

from ..model.errors import ExportError
from ..model.shape.profile import Floats, Piece
from ..model.shape.sheet import Sheet
from ..model.units import Mm
from .kernel import Curve
from .shapes import bspline

DEGREE = 5
CLOSE: Mm = 1e-7
"""How near the spline keeps to the sheet. All curves of a stack have their knots at the same places, so that what is
left is alike on both faces of a layer and its volume is closer still."""
MOST_PARTS = 1000
"""Most parts of one piece."""
LOOKED_AT = np.array([0.25, 0.5, 0.75])
"""Shares of each part at which the spline is held against the sheet."""
AT_BREAK = 1e-9
"""Share of a part at which the rate is taken beside a break, where it is another one on either side."""


def knots_along(sheet: Sheet, heights: Sequence[Mm], piece: Piece, start: Mm) -> Floats:
    """Places t between which a piece is fitted, close enough for each of the heights.

    Parameters
    ----------
    piece, start
        The piece of the sheet's profile, and the place t where it begins.

    Raises
    ------
    ExportError
        The layers nearly cross there: no spline keeps to the sheet.
    """
    knots = start + piece.breaks()
    while len(knots) <= MOST_PARTS:
        far = np.max([_deviations(sheet, height, piece, start, knots) for height in heights], axis=0) > CLOSE
        if not far.any():
            return knots
        knots = np.sort(np.concatenate((knots, 0.5 * (knots[:-1] + knots[1:])[far])))
    raise ExportError(
        f"no spline follows layers from {min(heights):g} to {max(heights):g} mm above the form: they nearly cross; "
        "use a larger radius"
    )


def fitted(sheet: Sheet, height: Mm, lift: Mm, piece: Piece, start: Mm, knots: Floats) -> Curve:
    """Spline along a piece at a height, its parameter the place t; ``lift`` turns heights of the sheet into z."""
    spans = _spans(sheet, height, piece, start, knots) + np.array([0.0, lift])
    poles, counts = [spans[0, :2]], [DEGREE + 1]
    smooth = np.abs(knots[1:-1, None] - (start + piece.breaks())).min(axis=1) > 0.0
    for number, is_smooth in enumerate(smooth):
        left, right = spans[number], spans[number + 1]
        before, after = np.diff(knots[number : number + 3])
        # where the curve runs on smoothly one control point stands for two
        joint = (
            [left[3] + (before + after) / before * (left[4] - left[3])] if is_smooth else [left[4], right[1]]
        )
        poles += [left[2:4], np.array(joint)]
        counts.append(DEGREE - 2 if is_smooth else DEGREE - 1)
    poles.append(spans[-1, 2:])
    return bspline(np.concatenate(poles), knots, [*counts, DEGREE + 1], DEGREE)


def _spans(sheet: Sheet, height: Mm, piece: Piece, start: Mm, knots: Floats) -> Floats:
    """Control points ``(parts, 6, 2)`` of each part."""
    width = np.diff(knots)[:, None]
    inner = AT_BREAK * width[:, 0]
    first = _motion(sheet, height, piece, start, knots[:-1], knots[:-1] + inner)
    last = _motion(sheet, height, piece, start, knots[1:], knots[1:] - inner)
    (p, v, a), (q, w, b) = first, last
    step, square = width / 5.0, width**2 / 20.0
    return np.stack(
        (p, p + step * v, p + 2.0 * step * v + square * a, q - 2.0 * step * w + square * b, q - step * w, q),
        axis=1,
    )


def _motion(
    sheet: Sheet, height: Mm, piece: Piece, start: Mm, t: Floats, inside: Floats
) -> tuple[Floats, Floats, Floats]:
    """Points at places t with their first and second derivatives by t, each ``(n, 2)``; the rate is taken ``inside``."""
    above = height - sheet.reference
    bend, rate = piece.bend(t - start)[:, None], piece.rate(inside - start)[:, None]
    normal = sheet.profile.normals(t)
    along = np.column_stack((normal[:, 1], -normal[:, 0]))
    stretch = 1.0 + above * bend
    return _points(sheet, height, t), stretch * along, above * rate * along - stretch * bend * normal


def _points(sheet: Sheet, height: Mm, t: Floats) -> Floats:
    return sheet.place(t, np.zeros_like(t), height)[:, [0, 2]]


def _deviations(sheet: Sheet, height: Mm, piece: Piece, start: Mm, knots: Floats) -> Floats:
    """Largest distance between spline and sheet within each part."""
    spans = _spans(sheet, height, piece, start, knots)
    share = LOOKED_AT[:, None]
    number = np.arange(DEGREE + 1)
    choices = np.array([1.0, 5.0, 10.0, 10.0, 5.0, 1.0])
    weights = choices * share**number * (1.0 - share) ** (DEGREE - number)
    found = np.einsum("qk,nkx->nqx", weights, spans)
    t = knots[:-1, None] + np.diff(knots)[:, None] * LOOKED_AT
    true = _points(sheet, height, t.ravel()).reshape(found.shape)
    return np.asarray(np.hypot(*np.moveaxis(found - true, -1, 0)).max(axis=1))
