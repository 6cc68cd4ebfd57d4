"""The edge of an outline carried onto a sheet: one curve for every height, so that both neighbours share it.

Along the normal a sheet changes evenly with the height, and so do the control points of such a curve. All heights have
their knots at the same places: the side of a layer, which is square to the sheet, is ruled between the curves of its
lower and its upper face without any error of its own.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from ..model.errors import ExportError
from ..model.shape.profile import Floats, Run
from ..model.shape.sheet import Sheet
from ..model.shape.strokes import Motion
from ..model.units import Mm, PerMm
from .fitted import Fit
from .hermite import between_knots, control_points, joined, looked_at
from .interfaces import Reach, fits
from .panes import NEAR, Part

CLOSE: Mm = 1e-7
"""How near such a curve keeps to the surface that stands for the sheet, and its image on the plane to the outline."""
MOST_PARTS = 1000
"""Most parts of one stretch of an edge."""
AT_BREAK = 1e-9
"""Share of a part at which second derivatives are taken beside a knot, where they may be others on either side."""


@dataclass(frozen=True, slots=True, eq=False)
class Carrier:
    """One piece of a sheet; past the ends of the profile a straight one.

    Parameters
    ----------
    bend
        Turn of its normal per length where that is the same all along: an arc or a straight run.
    fit
        The spline that stands for any other piece.
    """

    sheet: Sheet
    bend: PerMm
    fit: Fit | None

    @property
    def is_straight(self) -> bool:
        """Whether it is not bent at all."""
        return self.fit is None and self.bend == 0.0

    @property
    def knots(self) -> Floats:
        """Places t inside at which the spline that stands for it goes over into another polynomial."""
        return np.zeros(0) if self.fit is None else self.fit.knots[1:-1]

    @property
    def jumps(self) -> Floats:
        """Those of them at which its second derivative jumps."""
        if self.fit is None:
            return np.zeros(0)
        return np.asarray(self.fit.knots[1:-1][np.array(self.fit.counts[1:-1]) >= self.fit.degree - 1])

    def carry(self, places: Floats) -> tuple[Floats, Floats]:
        """Points ``(n, 3)`` of places ``(n, 2)``, t and w, on the profile, and how they move with the height."""
        t, w = places.T
        path = self._path(t)
        return _in_space(path[:, :2], w), _in_space(path[:, 2:], 0.0 * w)

    def move(self, places: Motion, inside: Floats) -> tuple[Motion, Motion]:
        """Motion on the profile of places in motion on the plane, and what a height adds to it for each millimetre.

        Parameters
        ----------
        inside
            Places t beside those at a knot, where the second derivatives are taken.
        """
        spots, first, second = places
        speed, gain = first[:, :1], second[:, :1]
        ahead, turning = self._changes(spots[:, 0], inside)
        one = ahead * speed
        two = turning * speed**2 + ahead * gain
        still = np.zeros(len(spots))
        point, rise = self.carry(spots)
        return (
            (point, _in_space(one[:, :2], first[:, 1]), _in_space(two[:, :2], second[:, 1])),
            (rise, _in_space(one[:, 2:], still), _in_space(two[:, 2:], still)),
        )

    def _path(self, t: Floats) -> Floats:
        """Path and normal ``(n, 4)``."""
        if self.fit is not None:
            return self.fit.motion(t, 0)
        return np.column_stack((self.sheet.profile.points(t), self.sheet.profile.normals(t)))

    def _changes(self, t: Floats, inside: Floats) -> tuple[Floats, Floats]:
        """First and second derivatives of path and normal by t, each ``(n, 4)``."""
        if self.fit is not None:
            return self.fit.motion(t, 1), self.fit.motion(inside, 2)
        normal = self.sheet.profile.normals(t)
        along = np.column_stack((normal[:, 1], -normal[:, 0]))
        # an arc turns evenly: the way against the normal, the normal along the way
        ahead = np.column_stack((along, self.bend * along))
        return ahead, np.column_stack((-self.bend * normal, -(self.bend**2) * normal))


@dataclass(frozen=True, slots=True, eq=False)
class Carried:
    """A part of an outline's edge on its sheet at any height.

    Parameters
    ----------
    knots
        Parameters of its stroke between which it is fitted.
    is_smooth
        For each inner knot whether nothing jumps there.
    level, rise
        Control points ``(parts, 6, 3)`` on the profile, and what a height adds to them for each millimetre.
    plane
        The same on the plane of t and w, ``(parts, 6, 2)``.
    """

    knots: Floats
    is_smooth: tuple[bool, ...]
    level: Floats
    rise: Floats
    plane: Floats

    def at(self, above: Mm, lift: Mm) -> tuple[Floats, list[int]]:
        """Poles ``(n, 3)`` and multiplicities at a height above the profile, all of it lifted."""
        spans = self.level + above * self.rise + np.array([0.0, 0.0, lift])
        return joined(spans, self.knots, self.is_smooth)

    def on_plane(self) -> tuple[Floats, list[int]]:
        """Poles ``(n, 2)``, places t and w, and multiplicities on the plane of the sheet."""
        return joined(self.plane, self.knots, self.is_smooth)


def carriers(sheet: Sheet, reach: Reach) -> list[Carrier]:
    """Pieces of a sheet in order, with what goes on straight before the first and after the last."""
    past = Carrier(sheet, 0.0, None)
    pieces = [
        Carrier(sheet, piece.curvature if isinstance(piece, Run) else 0.0, found)
        for piece, found in zip(sheet.profile.pieces, fits(sheet, reach), strict=True)
    ]
    return [past, *pieces, past]


def carried(part: Part, carrier: Carrier, reach: Sequence[Mm]) -> Carried:
    """Carry a part of an edge onto its piece of a sheet, close enough at the lowest and at the highest height.

    Raises
    ------
    ExportError
        No curve keeps to the sheet.
    """
    marks = [mark for mark in part.stroke.marks if part.first < mark < part.last]
    crossings = sorted({*_crossings(part, carrier.knots), *marks})
    knots = np.array([part.first, *crossings, part.last])
    above = np.array(reach) - carrier.sheet.reference
    while len(knots) <= MOST_PARTS:
        level, rise, plane = _spans(part, carrier, knots)
        far = _deviations(part, carrier, knots, (level, rise, plane), above) > CLOSE
        if not far.any():
            jumps = {*_crossings(part, carrier.jumps), *marks}
            is_smooth = tuple(knot not in jumps for knot in knots[1:-1].tolist())
            return Carried(knots, is_smooth, level, rise, plane)
        knots = np.sort(np.concatenate((knots, 0.5 * (knots[:-1] + knots[1:])[far])))
    raise ExportError(
        "no curve follows the edge of a layer on its bend; use a larger radius or a plainer outline"
    )


def _crossings(part: Part, places: Floats) -> list[float]:
    """Parameters at which a part crosses some places t."""
    low, high = sorted(part.at(np.array([part.first, part.last]))[0][:, 0].tolist())
    inside = [place for place in places.tolist() if low + NEAR < place < high - NEAR]
    return sorted(part.crossed(place) for place in inside)


def _spans(part: Part, carrier: Carrier, knots: Floats) -> tuple[Floats, Floats, Floats]:
    """Control points on the profile, what a height adds to them, and on the plane."""
    inner = AT_BREAK * np.diff(knots)
    first = _one_sided(part, knots[:-1], knots[:-1] + inner)
    last = _one_sided(part, knots[1:], knots[1:] - inner)
    begin, grow = carrier.move(first, part.at(knots[:-1] + inner)[0][:, 0])
    end, grown = carrier.move(last, part.at(knots[1:] - inner)[0][:, 0])
    return (
        control_points(begin, end, knots),
        control_points(grow, grown, knots),
        control_points(first, last, knots),
    )


def _one_sided(part: Part, u: Floats, inside: Floats) -> Motion:
    """Places in motion, their second derivative as it is beside a mark of the stroke."""
    places, first, _ = part.at(u)
    return places, first, part.at(inside)[2]


def _deviations(
    part: Part, carrier: Carrier, knots: Floats, spans: tuple[Floats, Floats, Floats], above: Floats
) -> Floats:
    """How far the curves are off within each stretch, in space at the two heights or on the plane."""
    level, rise, plane = (between_knots(span) for span in spans)
    spots = part.at(looked_at(knots))[0]
    true, normal = (points.reshape(level.shape) for points in carrier.carry(spots))
    off = [level - true + height * (rise - normal) for height in above]
    worst = np.max([np.sqrt((away**2).sum(axis=-1)).max(axis=1) for away in off], axis=0)
    flat = np.sqrt(((plane - spots.reshape(plane.shape)) ** 2).sum(axis=-1)).max(axis=1)
    return np.asarray(np.maximum(worst, flat))


def _in_space(plane: Floats, across: Floats) -> Floats:
    """Vectors ``(n, 3)`` from their part in the plane of the profile and that across."""
    return np.column_stack((plane[:, 0], across, plane[:, 1]))
