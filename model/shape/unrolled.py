"""Edges on a sheet, laid flat: what is cut for a layer at its height.

Across the sheet nothing changes; along it a place lies where the sheet's developed length says. Lines that run along
or across stay lines; all others are rows of chords within ``FINE``, except on a flat sheet, where every edge stays as
it is.
"""

from collections.abc import Iterator
from functools import lru_cache
from itertools import pairwise

import numpy as np

from ..units import Mm
from .arc_chain import arcs_along, points_on
from .loop import FINE, NEAR, Corner, Loop, closed
from .profile import Floats, Run
from .sheet import Sheet
from .taper import TaperedSheet


def unrolled(loop: Loop, sheet: Sheet | TaperedSheet, height: Mm) -> Loop:
    """Edge of the plane of t and w at a height of the sheet, laid flat; the middle stays the middle.

    Of a tapered sheet the edge lies on its flat pattern at the height ``reference``.
    """
    if isinstance(sheet, TaperedSheet):
        return _unrolled_taper(loop, sheet, height)
    if sheet.profile.is_flat:
        return loop
    points = followed(loop, sheet, height)
    x = sheet.developed(height, points[:, 0])
    return closed((float(a), float(b), 0.0) for a, b in zip(x, points[:, 1], strict=True))


def _unrolled_taper(loop: Loop, sheet: TaperedSheet, height: Mm) -> Loop:
    """Edge of the flat pattern of a tapered sheet at another height: lines and arcs, of a round cone the very ones."""
    if height == sheet.reference:
        return loop

    def moved(place: Floats) -> Floats:
        u, w = _located(loop, sheet, place.tobytes())
        return sheet.unroll(u, w, height)

    return closed(arcs_along(moved, np.arange(len(loop.corners) + 1.0))[:-1])


@lru_cache(maxsize=256)
def _located(loop: Loop, sheet: TaperedSheet, place: bytes) -> tuple[Floats, Floats]:
    """Rulings and places along them of an edge: layers of one size are asked for the same ones at every height."""
    points = points_on(loop, np.frombuffer(place))
    return sheet.locate(points[:, 0], points[:, 1], sheet.reference)


def followed(loop: Loop, sheet: Sheet, height: Mm) -> Floats:
    """Places ``(n, 2)``, t and w, along an edge, whose chords follow it on the sheet at a height within ``FINE``."""
    ahead = (*loop.corners[1:], loop.corners[0])
    return np.concatenate(
        [_chords(corner, after, sheet, height) for corner, after in zip(loop.corners, ahead, strict=True)]
    )


def _chords(corner: Corner, after: Corner, sheet: Sheet, height: Mm) -> Floats:
    """Points along one edge, its end left out, between which it stays straight when it is laid flat."""
    (x0, y0, bulge), (x1, y1, _) = corner, after
    if bulge == 0.0 and min(abs(x1 - x0), abs(y1 - y0)) <= NEAR:
        return np.array([[x0, y0]])
    # the first edge of a loop of two is the arc itself
    arc = Loop((corner, (x1, y1, 0.0))).flattened(FINE) if bulge else np.array([[x0, y0], [x1, y1]])
    breaks = np.concatenate(list(breaks_of(sheet, height)))
    rows = []
    for start, end in pairwise(arc):
        inside = breaks[(breaks > min(start[0], end[0]) + NEAR) & (breaks < max(start[0], end[0]) - NEAR)]
        share = (inside - start[0]) / (end[0] - start[0] or 1.0)
        places = np.concatenate(([0.0], np.sort(share)))[:, None]
        rows.append(start + places * (end - start))
    return np.concatenate(rows)


def breaks_of(sheet: Sheet, height: Mm) -> Iterator[Floats]:
    """Places t between which the sheet is unrolled evenly: where pieces meet, and steps of those that are no arc."""
    yield sheet.profile.joints()
    for piece, start in zip(sheet.profile.pieces, sheet.profile.joints(), strict=False):
        if not isinstance(piece, Run):
            yield start + piece.steps(abs(height - sheet.reference), FINE)
