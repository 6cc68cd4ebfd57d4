"""Rings: the edges of an outline as rows of chords, as fine as asked."""

import numpy as np

from ..units import Mm
from .outline import Outline, Oval
from .profile import Floats


def rings(outline: Outline, tolerance: Mm) -> tuple[Floats, ...]:
    """Corners ``(n, 2)``, t and w, of the edge, anticlockwise, and of every hole, clockwise."""
    if isinstance(outline, Oval):
        # its loop is made of chords that may not be fine enough
        t, half = outline.rim(tolerance)
        return (np.concatenate((np.column_stack((t, -half)), np.column_stack((t, half))[-2:0:-1])),)
    return tuple(
        _wound(loop.flattened(tolerance), 1.0 if number == 0 else -1.0)
        for number, loop in enumerate(outline.loops)
    )


def _wound(ring: Floats, turn: float) -> Floats:
    """Ring that runs anticlockwise (turn 1) or clockwise (−1)."""
    x, y = ring.T
    area = float(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1)))
    return ring if area * turn > 0.0 else ring[::-1]
