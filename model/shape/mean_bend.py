"""The bend of a sheet averaged over the area inside an outline: how much larger a blank is for each millimetre of height."""

import numpy as np

from ..units import Mm, PerMm
from .loop import NEAR
from .outline import Outline, Rectangle
from .profile import Floats
from .rings import rings
from .sheet import Sheet
from .unrolled import breaks_of

FINER: Mm = 1e-4
"""Chordal tolerance of edges that an area is taken of: a share of 1e-6 of a panel's."""


def mean_bend(outline: Outline, sheet: Sheet) -> PerMm:
    """Turn of the sheet's normal per length, averaged over the area inside an outline.

    For each millimetre of height a sheet is larger by this share. Over an area the bend sums up to the turn along its
    edge (Green's theorem).
    """
    if isinstance(outline, Rectangle):
        turned = sheet.profile.turned(np.array([-0.5, 0.5]) * outline.length)
        return float(turned[1] - turned[0]) / outline.length
    if sheet.profile.is_flat:
        return 0.0
    breaks = np.concatenate(list(breaks_of(sheet, sheet.reference)))
    bent = area = 0.0
    for ring in rings(outline, FINER):
        points = _cut(ring, breaks)
        t, w = points.T
        middle, climb = 0.5 * (t + np.roll(t, -1)), np.roll(w, -1) - w
        turned = sheet.profile.turned(t)
        # Simpson's rule, exact along an arc
        mean = (turned + 4.0 * sheet.profile.turned(middle) + np.roll(turned, -1)) / 6.0
        bent += float(mean @ climb)
        area += float(middle @ climb)
    return bent / area


def _cut(ring: Floats, breaks: Floats) -> Floats:
    """Ring of straight edges with further corners where it crosses places t."""
    rows, last = [], 0
    ends = np.roll(ring, -1, axis=0)
    low, high = np.minimum(ring[:, 0], ends[:, 0]) + NEAR, np.maximum(ring[:, 0], ends[:, 0]) - NEAR
    rising = np.sort(breaks)
    for number in np.flatnonzero(np.searchsorted(rising, high) > np.searchsorted(rising, low)).tolist():
        inside = rising[(rising > low[number]) & (rising < high[number])]
        start, end = ring[number], ends[number]
        share = np.sort((inside - start[0]) / (end[0] - start[0]))[:, None]
        rows += [ring[last : number + 1], start + share * (end - start)]
        last = number + 1
    return np.concatenate([*rows, ring[last:]])
