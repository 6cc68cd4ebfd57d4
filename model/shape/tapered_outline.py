"""The edge of a tapered panel, and edges moved outward from it, on the flat pattern of the surface that its curves lie on.

The panel is bounded by its two curves and the two end rulings. A margin moves every side straight out: arcs and other
curves keep their distance, sides stay straight, and corners stay sharp, each curve going on along its tangent as the
sheet itself does.
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from ..errors import ShapeError
from ..units import Mm, Mm2
from .arc_chain import arcs_along, reversed_corners
from .clearance import aside
from .loop import Corner, Loop, LoopPoint, closed
from .profile import Floats
from .taper import TaperedSheet

STEPS = 40
"""Steps of Newton's method at the most to where a ruling crosses an edge; four or five are enough where it is smooth."""

CLOSE = 1e-12
"""Places closer than this share of the sheet are one."""

NEAR, FAR = -1.0, 1.0
"""Sides of the middle on which the two curves lie."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TaperedOutline:
    """The edge of a tapered panel, moved outward by a margin.

    Parameters
    ----------
    sheet
        The sheet that it lies on.
    margin
        How far it is moved out, mm; 0 for the panel itself.

    Raises
    ------
    ShapeError
        The margin is below 0, or larger than a radius of the edge that it would have to turn round.
    """

    sheet: TaperedSheet
    margin: Mm = 0.0

    def __post_init__(self) -> None:
        if not self.margin >= 0.0:
            raise ShapeError(
                f"the edge of a tapered panel cannot move inward, by {-self.margin:g} mm; use 0 or more"
            )
        for side in (NEAR, FAR):
            _demand_radius(self.sheet, side, self.margin)

    @property
    def length(self) -> Mm:
        """Extent along the curve half way, margins included."""
        return self.sheet.profile.length + 2.0 * self.margin

    @property
    def width(self) -> Mm:
        """Length of its longest ruling, margins included."""
        return 2.0 * (float(self.sheet.half_width(self.sheet.places()).max()) + self.margin)

    @property
    def area(self) -> Mm2:
        """Area on the flat pattern of the surface that the curves lie on."""
        return self.loops[0].area

    @property
    def perimeter(self) -> Mm:
        """Length of the edge there."""
        return self.loops[0].length

    @property
    def loops(self) -> tuple[Loop, ...]:
        """The edge there, anticlockwise: lines and true arcs, of a round cone the very ones."""
        return (_loop(self.sheet, self.margin),)

    def grown(self, margin: Mm) -> "TaperedOutline":
        """Outline larger by the margin on every side."""
        return TaperedOutline(sheet=self.sheet, margin=self.margin + margin)

    @property
    def ends(self) -> tuple[Mm, Mm]:
        """Places u of both straight sides."""
        half = 0.5 * self.sheet.profile.length
        g = self.sheet.rates(np.array([-half, half])).g
        return -half - self.margin / float(g[0]), half + self.margin / float(g[1])

    def kinks(self, side: float) -> Floats:
        """Places u, rising, of the rulings that cross the near (−1) or the far (1) edge where its way of bending changes."""
        breaks = self.sheet.breaks()
        points = edge_points(self.sheet, side, self.margin, breaks)
        return self.sheet.locate(points[:, 0], points[:, 1], self.sheet.reference)[0]

    def bounds(self, u: Floats) -> tuple[Floats, Floats]:
        """Places w at which its near and its far edge cross the rulings u."""
        return self.bound(NEAR, u), self.bound(FAR, u)

    def bound(self, side: float, u: Floats) -> Floats:
        """Places w at which its near (−1) or its far (1) edge crosses the rulings u."""
        return _crossing(self.sheet, side, self.margin, u)


def edge_points(sheet: TaperedSheet, side: float, margin: Mm, u: Floats) -> Floats:
    """Points ``(n, 2)`` of the flat pattern along the near (−1) or the far (1) curve, moved out by a margin."""
    foot = sheet.unroll(u, side * sheet.half_width(u), sheet.reference)
    x, y = edge_directions(sheet, u).T
    return np.asarray(foot + side * margin * np.column_stack((-y, x)))


def edge_directions(sheet: TaperedSheet, u: Floats) -> Floats:
    """Unit tangents ``(n, 2)`` of both curves at their places on the rulings u, in the flat pattern: they are the same."""
    across, along = sheet.directions(u)
    rates = sheet.rates(u)
    return np.asarray(rates.g[:, None] * across + rates.c[:, None] * along)


def _crossing(sheet: TaperedSheet, side: float, margin: Mm, u: Floats) -> Floats:
    """Places w at which rulings cross a curve moved out by a margin."""
    across, _ = sheet.directions(u)
    middle, along = sheet.flat_rulings(u, sheet.reference)
    foot = u
    for _ in range(STEPS):
        beside = edge_points(sheet, side, margin, foot) - middle
        ahead = _speed(sheet, side, margin, foot) * (edge_directions(sheet, foot) * across).sum(axis=1)
        step = (beside * across).sum(axis=1) / ahead
        foot = foot - step
        if np.abs(step).max() <= CLOSE * sheet.profile.length:
            break
    beside = edge_points(sheet, side, margin, foot) - middle
    return np.asarray((beside * along).sum(axis=1))


def _speed(sheet: TaperedSheet, side: float, margin: Mm, u: Floats) -> Floats:
    """How fast a place on a curve moved out by a margin moves with the ruling that the curve's own place lies on."""
    rates, slopes = sheet.rates(u), sheet.slopes(u)
    own = 1.0 + side * rates.half * rates.phi / rates.g
    turn = rates.g * slopes.c - rates.c * slopes.g - rates.phi
    return np.asarray(own - side * margin * turn)


@lru_cache(maxsize=256)
def _loop(sheet: TaperedSheet, margin: Mm) -> Loop:
    near, far = (_edge(sheet, side, margin) for side in (NEAR, FAR))
    return closed((*near, *reversed_corners(far)))


def _edge(sheet: TaperedSheet, side: float, margin: Mm) -> tuple[Corner, ...]:
    """Corners along one curve from the left side line to the right one."""
    breaks = sheet.breaks()
    inner = arcs_along(lambda u: edge_points(sheet, side, margin, u), breaks)
    if margin == 0.0:
        return inner
    left, right = (_corner(sheet, side, margin, end) for end in breaks[[0, -1]].tolist())
    return ((*left, 0.0), *inner, (*right, 0.0))


def _corner(sheet: TaperedSheet, side: float, margin: Mm, end: Mm) -> LoopPoint:
    """Where a curve moved out, going on along its tangent, meets the end ruling moved out."""
    u = np.array([end])
    way = 1.0 if end > 0.0 else -1.0
    across, _ = sheet.directions(u)
    tangent = edge_directions(sheet, u)[0]
    start = edge_points(sheet, side, margin, u)[0]
    ruling = sheet.unroll(u, np.zeros(1), sheet.reference)[0]
    ahead = (ruling + way * margin * across[0] - start) @ across[0] / (tangent @ across[0])
    x, y = (start + ahead * tangent).tolist()
    return x, y


@lru_cache(maxsize=256)
def _demand_radius(sheet: TaperedSheet, side: float, margin: Mm) -> None:
    """Refuse a margin at which the edge would turn back on itself."""
    u = sheet.places()
    back = _speed(sheet, side, margin, u) <= 0.0
    if back.any():
        place = float(u[int(back.argmax())])
        raise ShapeError(
            f"the {'near' if side < 0.0 else 'far'} edge of the flat pattern is too tight {aside(place)} for a margin of "
            f"{margin:g} mm; make that curve larger, or trim and overhang shorter"
        )
