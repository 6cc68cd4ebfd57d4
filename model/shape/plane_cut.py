"""Where a plane across the width cuts a tapered sheet: the edge that a rib under it is cut to.

Every ruling meets such a plane once. So the cut of any surface at a height of the sheet is found ruling by ruling,
exactly; on a round cone it is one arc with its tangents.
"""

import math

import numpy as np

from ..units import Mm
from .loop import FINE, Corner
from .profile import Floats
from .taper import TaperedSheet


def plane_cut(sheet: TaperedSheet, y: Mm, height: Mm, u: Floats) -> Floats:
    """Points ``(n, 2)``, x and z, at which the rulings u at a height meet the plane at a place y across the width."""
    frames = sheet.frames(u)
    start = frames.middle + (height - sheet.reference) * frames.normal
    return np.asarray((start + plane_places(sheet, y, height, u)[:, None] * frames.along)[:, [0, 2]])


def plane_places(sheet: TaperedSheet, y: Mm, height: Mm, u: Floats) -> Floats:
    """Places w along the rulings u at a height at which they meet the plane at a place y across the width."""
    frames = sheet.frames(u)
    return np.asarray(
        (y - frames.middle[:, 1] - (height - sheet.reference) * frames.normal[:, 1]) / frames.along[:, 1]
    )


def past_ends(sheet: TaperedSheet, margin: Mm) -> Mm:
    """How much farther than its last ruling a sheet has to reach along its curve, so that it reaches a margin square to it."""
    half = 0.5 * sheet.profile.length
    spread = sheet.rates(np.array([-half, half])).g
    return margin / float(spread.min())


def cut_places(sheet: TaperedSheet, past: Mm, reach: Mm, tolerance: Mm = FINE) -> Floats:
    """Places u in rising order, ``past`` farther than both end rulings, between which every cut keeps to its chords."""
    half = 0.5 * sheet.profile.length
    # at the larger end the chords of equal steps sag more than half way
    least, most = sorted((sheet.near.length, sheet.far.length))
    inside = sheet.profile.stations(reach, tolerance * least / most)
    ends = [half + past] if past > 0.0 else []
    return np.concatenate((-np.array(ends), inside, np.array(ends)))


def cut_corners(sheet: TaperedSheet, y: Mm, height: Mm, past: Mm, lift: Mm) -> tuple[Corner, ...]:
    """Corners of a cut from left to right, z raised by ``lift``; the last one has no edge of its own.

    An arc on a round cone, else a row of chords within ``FINE``.
    """
    cone = sheet.cone
    u = cut_places(sheet, past, abs(height - sheet.reference))
    bulges = np.zeros(len(u))
    if cone is not None:
        half = 0.5 * sheet.profile.length
        u = u[np.abs(u) >= half - 1e-9]
        bulges = np.zeros(len(u))
        # over a crown the edge turns clockwise
        bulges[int(np.flatnonzero(np.isclose(u, -half))[0])] = math.tan(-0.25 * cone.turn)
    points = plane_cut(sheet, y, height, u) + np.array([0.0, lift])
    return tuple((float(x), float(z), float(b)) for (x, z), b in zip(points, bulges, strict=True))
