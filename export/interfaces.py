"""The curves along a sheet: one for each height between two layers, so that both neighbours share it."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from ..model.shape.profile import Run
from ..model.shape.sheet import Sheet
from ..model.units import Mm, PerMm
from .fitted import Fit, fit
from .kernel import Curve
from .shapes import Span, circle, line_through

SHORTEST: Mm = 1e-6
"""Stretches shorter than this are left out."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Stretch:
    """One curve of an interface: what lies between two places t of the sheet.

    Parameters
    ----------
    first, last
        The two places, mm; infinite past the ends of the profile.
    curve
        The kernel's curve.
    origin
        Place t where its parameter is zero.
    speed
        Parameter per t.
    """

    first: Mm
    last: Mm
    curve: Curve
    origin: Mm
    speed: float

    def between(self, start: Mm, end: Mm) -> Span:
        """Span between two places t."""
        return Span(self.curve, (start - self.origin) * self.speed, (end - self.origin) * self.speed)


Interface = tuple[Stretch, ...]
"""The whole curve along a sheet at one height, in the plane y = 0."""


Reach = tuple[Mm, Mm]
"""The lowest and the highest height of everything that follows one sheet."""


def interfaces(sheet: Sheet, heights: Iterable[Mm], lift: Mm, reach: Reach) -> dict[Mm, Interface]:
    """Make the curve along a sheet at each of some heights; past the ends of its profile the sheet goes on straight.

    Parameters
    ----------
    lift
        What turns heights of the sheet into z.
    reach
        For all bodies on the sheet the same, so that a height gives one and the same spline for both of its neighbours.
    """
    joints = [float(joint) for joint in sheet.profile.joints()]
    found = fits(sheet, reach)
    return {height: _interface(sheet, height, lift, joints, found) for height in heights}


@lru_cache(maxsize=8)
def fits(sheet: Sheet, reach: Reach) -> tuple[Fit | None, ...]:
    """Splines that stand for the pieces of a sheet in solids; None for arcs and straight runs, which are exact."""
    starts = sheet.profile.joints()[:-1].tolist()
    return tuple(
        None if isinstance(piece, Run) else fit(sheet, reach, piece, first)
        for piece, first in zip(sheet.profile.pieces, starts, strict=True)
    )


def _interface(
    sheet: Sheet, height: Mm, lift: Mm, joints: Sequence[Mm], fits: Sequence[Fit | None]
) -> Interface:
    before = _stretch(sheet, height, lift, (-np.inf, joints[0]), joints[0], 0.0)
    after = _stretch(sheet, height, lift, (joints[-1], np.inf), joints[-1], 0.0)
    pieces = []
    for piece, first, last, found in zip(sheet.profile.pieces, joints[:-1], joints[1:], fits, strict=True):
        if isinstance(piece, Run):
            pieces.append(_stretch(sheet, height, lift, (first, last), first, piece.curvature))
        elif found is not None:
            curve = found.curve(height - sheet.reference, lift)
            pieces.append(Stretch(first=first, last=last, curve=curve, origin=0.0, speed=1.0))
    return (before, *pieces, after)


def spans(curve: Interface, half: Mm) -> list[Span]:
    """Spans of an interface from −half to half of the sheet's own length."""
    found = []
    for stretch in curve:
        start, end = max(stretch.first, -half), min(stretch.last, half)
        if end - start > SHORTEST:
            found.append(stretch.between(start, end))
    return found


def _stretch(sheet: Sheet, height: Mm, lift: Mm, reach: tuple[Mm, Mm], origin: Mm, bend: PerMm) -> Stretch:
    """Straight or circular stretch that starts at the place ``origin``."""
    t, above = np.array([origin]), height - sheet.reference
    x, z = (float(value) for value in sheet.profile.points(t)[0])
    normal_x, normal_z = (float(value) for value in sheet.profile.normals(t)[0])
    if bend == 0.0:
        start = (x + above * normal_x, 0.0, z + above * normal_z + lift)
        return Stretch(
            first=reach[0],
            last=reach[1],
            curve=line_through(start, (normal_z, 0.0, -normal_x)),
            origin=origin,
            speed=1.0,
        )
    radius = 1.0 / bend
    side = 1.0 if bend > 0.0 else -1.0
    curve = circle(
        centre=(x - radius * normal_x, 0.0, z - radius * normal_z + lift),
        axis=(0.0, side, 0.0),
        start=(side * normal_x, 0.0, side * normal_z),
        radius=side * (radius + above),
    )
    return Stretch(first=reach[0], last=reach[1], curve=curve, origin=origin, speed=side * bend)
