"""The place of a section on another view: a cutting plane with its ends, arrows and letters.

Source: ISO 128-3 (long-dashed dotted narrow line, its ends wide; arrows in the direction of sight that meet the ends;
capital letters beside them, upright whichever way the plane runs; from memory).
"""

import math
from collections.abc import Iterator

from ...model.units import Mm
from ..drawing.curves import Line, Point
from ..drawing.dimension import arrow
from ..drawing.pens import CENTRE, CUTTING, NARROW
from ..drawing.primitives import Align, Item, Level, Stroke, Text
from ..drawing.scale import Scale
from ..drawing.sheet import placed

LETTERS: Mm = 5.0
"""Lettering height."""
OUT: Mm = 2.0
"""From the outline to the wide end."""
WIDE_END: Mm = 6.0
"""Length of the wide end."""
SHAFT: Mm = 6.0
"""Length of an arrow."""
ASIDE: Mm = 0.8
"""From the arrow to its letter."""
ROOM: Mm = OUT + WIDE_END + ASIDE + LETTERS
"""What it takes beside the outline."""


def cutting_plane(letter: str, left: Mm, right: Mm, scale: Scale, passing: Mm) -> Iterator[Item]:
    """Cutting plane along y = 0 of a view, seen from below, past the edges of what it cuts; in the view's own mm.

    A level line at y = ``passing`` goes on past its ends.
    """
    unit = 1.0 / scale.ratio
    level = _level(passing * scale.ratio) * unit
    yield Stroke(
        curve=Line(start=(left - OUT * unit, 0.0), end=(right + OUT * unit, 0.0)), pen=CENTRE, part="plane"
    )
    for edge, side in ((left, -1.0), (right, 1.0)):
        inner, outer = edge + side * OUT * unit, edge + side * (OUT + WIDE_END) * unit
        yield Stroke(curve=Line(start=(inner, 0.0), end=(outer, 0.0)), pen=CUTTING, part="plane")
        tip: Point = (outer - side * 0.5 * CUTTING.width * unit, 0.0)
        yield Stroke(curve=Line(start=(tip[0], -SHAFT * unit), end=tip), pen=NARROW, part="plane")
        yield placed(arrow((0.0, 0.0), 0.5 * math.pi), unit, tip)
        yield Text(
            text=letter,
            position=(tip[0] + side * ASIDE * unit, level),
            height=LETTERS,
            align=Align.RIGHT if side < 0.0 else Align.LEFT,
            level=Level.MIDDLE,
        )


def _level(passing: Mm) -> Mm:
    """Middle of the letters on paper: beside the arrows, or above the plane where a line would go through them."""
    beside = -0.5 * SHAFT
    half = 0.5 * LETTERS + ASIDE
    # a line in the plane itself is no other line
    is_crossed = beside - half < passing < min(beside + half, -0.5 * CUTTING.width)
    return -beside if is_crossed else beside
