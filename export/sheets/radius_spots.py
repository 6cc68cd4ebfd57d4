"""Where on a bend a radius is dimensioned: on an arc on either side, on a chain at each of its arcs."""

from collections.abc import Iterator, Sequence
from itertools import pairwise

import numpy as np

from ...model.plan import Plan
from ...model.shape.profile import Run
from ...model.units import Mm, Ratio

HALVES: tuple[Ratio, ...] = (0.5, 0.35, 0.65, 0.2, 0.8, 0.05, 0.95)
"""Where along half of an arc the arrow may stand, in the order in which places are tried."""
SHARES: tuple[Ratio, ...] = (0.5, 0.35, 0.65, 0.2, 0.8)
"""Where along a whole piece of a chain."""
MOST = 5
"""Arcs of a chain that all get their radius; of more only the tightest crown and the tightest hollow."""


def half_spots(plan: Plan, side: float) -> Sequence[Mm]:
    """Places on one half of an arc; ``side`` is -1 for the left half, 1 for the right one."""
    return [side * share * 0.5 * plan.outline.length for share in HALVES]


def tightest_spots(plan: Plan) -> Sequence[Mm]:
    """Places on the tightest arc, or the tightest place of another curve."""
    profile = plan.stack.sheet.profile
    place = profile.tightest()
    found = [spots for spots in _arcs(plan) if min(spots) < place < max(spots)]
    return found[0] if found else [place]


def other_spots(plan: Plan) -> Sequence[Sequence[Mm]]:
    """Places on each further arc of a chain; of a long chain on the tightest one that bends the other way."""
    profile = plan.stack.sheet.profile
    first = tightest_spots(plan)[0]
    others = [spots for spots in _arcs(plan) if spots[0] != first]
    if len(others) < MOST:
        return others
    bends = [float(profile.bend(np.array(spots[:1]))[0]) for spots in others]
    sign = float(np.sign(profile.bend(np.array([first]))[0]))
    _, found = min(zip((sign * bend for bend in bends), others, strict=True), key=lambda pair: pair[0])
    return [found]


def _arcs(plan: Plan) -> Iterator[list[Mm]]:
    """Places on every arc of the profile, its middle first."""
    profile = plan.stack.sheet.profile
    for piece, (start, end) in zip(profile.pieces, pairwise(profile.joints().tolist()), strict=True):
        if isinstance(piece, Run) and piece.curvature:
            yield [start + share * (end - start) for share in SHARES]
