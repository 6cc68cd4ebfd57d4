"""The panes of a tapered sheet: what lies between two rulings and is of one kind, flat, a round cone or ruled.

In solids a ruled pane is stood for by three splines with the same knots: along its middle, along the direction of its
rulings, and along its normals. Surfaces and edges at every height and every place across follow from them by shares, so
that all layers touch by construction.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from ..model.errors import ExportError
from ..model.shape.cone import Cone
from ..model.shape.profile import Floats
from ..model.shape.strokes import Motion
from ..model.shape.taper import TaperedSheet
from ..model.units import Mm
from .hermite import DEGREE, between_knots, control_points, joined, looked_at

CLOSE: Mm = 1e-6
"""How near a pane keeps to the sheet; both faces of a layer are off alike, so that its volume is closer still."""

MOST_PARTS = 1000
"""Most parts of one pane."""

AT_BREAK = 1e-9
"""Share of a part at which rates are taken beside a knot, where they may be others on either side."""


@dataclass(frozen=True, eq=False)
class Pane:
    """What lies between two rulings.

    Parameters
    ----------
    first, last
        Places u of both rulings.
    is_flat
        Whether the sheet is flat there.
    cone
        The round cone that it belongs to; None for any other surface.
    knots
        Places u between which it is fitted.
    poles, counts
        ``(n, 9)`` control points of the splines of its middle, its rulings' direction and its normal, and how often each
        knot counts.
    """

    first: Mm
    last: Mm
    is_flat: bool
    cone: Cone | None
    knots: Floats
    poles: Floats
    counts: tuple[int, ...]

    def motion(self, u: Floats, order: int) -> Floats:
        """Middle, direction and normal ``(n, 9)`` at places u, or their derivatives of an order."""
        from scipy.interpolate import BSpline

        return np.asarray(BSpline(np.repeat(self.knots, self.counts), self.poles, DEGREE)(u, order))

    def line(self, w: Mm, above: Mm) -> Floats:
        """Control points ``(n, 3)`` of the curve at a constant w and a height above the curves."""
        return np.asarray(self.poles[:, :3] + w * self.poles[:, 3:6] + above * self.poles[:, 6:])


def panes_of(
    sheet: TaperedSheet, ends: tuple[Mm, Mm], sides: Sequence[Mm], heights: Sequence[Mm]
) -> tuple[Pane, ...]:
    """Panes of a sheet from end to end, close enough at each w and each height.

    Parameters
    ----------
    ends
        Places u of the outermost sides of all layers.
    sides
        Least and largest w.
    heights
        Lowest and highest height.
    """
    breaks = sheet.breaks()
    marks = [ends[0], *breaks.tolist(), ends[1]]
    found = []
    for first, last in pairwise(marks):
        if last - first > CLOSE:
            found.append(_pane(sheet, first, last, sides, np.array(heights) - sheet.reference))
    return tuple(found)


def _pane(sheet: TaperedSheet, first: Mm, last: Mm, sides: Sequence[Mm], above: Floats) -> Pane:
    middle = np.array([0.25, 0.5, 0.75]) * (last - first) + first
    is_flat = bool((sheet.rates(middle).theta == 0.0).all())
    cone = None if is_flat else sheet.cone
    knots = np.array([first, last])
    while len(knots) <= MOST_PARTS:
        parts = _parts(sheet, knots)
        far = _deviations(sheet, knots, parts, sides, above) > CLOSE
        if not far.any():
            poles, counts = joined(parts, knots, [True] * (len(knots) - 2))
            return Pane(first, last, is_flat, cone, knots, poles, tuple(counts))
        knots = np.sort(np.concatenate((knots, 0.5 * (knots[:-1] + knots[1:])[far])))
    raise ExportError("no spline follows the layers of the taper: they nearly cross; use larger radii")


def _parts(sheet: TaperedSheet, knots: Floats) -> Floats:
    """Control points ``(parts, 6, 9)``."""
    inner = AT_BREAK * np.diff(knots)
    first = _motion(sheet, knots[:-1], knots[:-1] + inner)
    last = _motion(sheet, knots[1:], knots[1:] - inner)
    return control_points(first, last, knots)


def _motion(sheet: TaperedSheet, u: Floats, inside: Floats) -> Motion:
    """Middle, direction and normal with their derivatives; rates are taken ``inside``."""
    frames, rates, slopes = sheet.frames(u), sheet.rates(inside), sheet.slopes(inside)
    a, e, n = frames.across, frames.along, frames.normal
    g, c, phi, theta = (rate[:, None] for rate in (rates.g, rates.c, rates.phi, rates.theta))
    turned = -phi * e - theta * n
    first = (g * a + c * e, phi * a, theta * a)
    second = (
        slopes.g[:, None] * a + g * turned + slopes.c[:, None] * e + c * phi * a,
        slopes.phi[:, None] * a + phi * turned,
        slopes.theta[:, None] * a + theta * turned,
    )
    return np.hstack((frames.middle, e, n)), np.hstack(first), np.hstack(second)


def _deviations(
    sheet: TaperedSheet, knots: Floats, parts: Floats, sides: Sequence[Mm], above: Floats
) -> Floats:
    """How far each part is off at most, at both sides and both heights."""
    frames = sheet.frames(looked_at(knots))
    true = np.hstack((frames.middle, frames.along, frames.normal))
    off = between_knots(parts) - true.reshape(len(parts), -1, 9)
    worst = [
        np.linalg.norm(off[..., :3] + w * off[..., 3:6] + d * off[..., 6:], axis=-1).max(axis=1)
        for w in sides
        for d in above
    ]
    return np.asarray(np.max(worst, axis=0))
