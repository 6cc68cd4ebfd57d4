"""Meshes of the layers of a tapered stack: what lies between two heights of the sheet within each layer's edge.

Every layer is cut along the same rulings and along the ends of the others that lie within it, so that neighbours share
their edges exactly.
"""

from collections.abc import Sequence

import numpy as np

from ..units import Mm
from .mesh import Mesh
from .profile import Floats
from .slab import between, raised
from .slabs import SLIVER
from .taper import TaperedSheet
from .tapered_outline import TaperedOutline


def tapered_slabs(
    sheet: TaperedSheet,
    outlines: Sequence[TaperedOutline],
    bounds: Sequence[tuple[Mm, Mm]],
    tolerance: Mm,
    lift: Mm,
) -> list[Mesh]:
    """Make the closed mesh of each layer.

    Parameters
    ----------
    sheet
        What the layers follow.
    outlines
        Edge of each layer.
    bounds
        Height of its lower and its upper side.
    tolerance
        Chordal tolerance.
    lift
        What turns heights of the sheet into z.
    """
    ends = [outline.ends for outline in outlines]
    u = _places(sheet, outlines, bounds, tolerance)
    found = []
    for outline, (first, last), (low, high) in zip(outlines, ends, bounds, strict=True):
        here = u[(u >= first - SLIVER) & (u <= last + SLIVER)]
        sides = outline.bounds(here)
        rows = [sheet.place(here, w, height) for height in (low, high) for w in sides]
        found.append(raised(between(rows, np.zeros(here.size, dtype=np.bool_)), lift))
    return found


def _places(
    sheet: TaperedSheet,
    outlines: Sequence[TaperedOutline],
    bounds: Sequence[tuple[Mm, Mm]],
    tolerance: Mm,
) -> Floats:
    """Places u where the layers are cut: the steps of the bend and both ends of every layer, each once."""
    reach = float(np.abs(np.array(bounds) - sheet.reference).max())
    margin = max(outline.margin for outline in outlines)
    # at the wider end a step is as much longer, and so is what its chord is off
    u = sheet.places()
    rates = sheet.rates(u)
    wider = 1.0 + float(((rates.half + margin) * np.abs(rates.phi) / rates.g).max())
    bends = np.union1d(sheet.profile.stations(reach, tolerance / wider), sheet.breaks())
    ends = np.array([outline.ends for outline in outlines])
    inside = bends[(bends > ends[:, 0].min()) & (bends < ends[:, 1].max())]
    places = np.sort(np.concatenate((ends.ravel(), inside)))
    kept: Floats = places[np.concatenate(([True], np.diff(places) > SLIVER))]
    return kept
