"""Break lines: long, narrow, with a zigzag in the middle.

Source: ISO 128-2, line 01.1.19 (long break lines with zigzags, from memory).
"""

import math

from ...model.units import Mm
from ..drawing.curves import Point, Polyline, polar
from ..drawing.pens import NARROW
from ..drawing.primitives import Stroke

ZIGZAG: Mm = 2.4
"""Height of the zigzag on paper; it is half as long."""
OVERRUN: Mm = 2.0
"""How far a break line reaches past what it cuts."""


def break_line(start: Point, end: Point, unit: Mm, overrun: Mm = OVERRUN, part: str = "") -> Stroke:
    """Break line across a part.

    Parameters
    ----------
    unit
        Length in the space of the view of one mm on paper.
    overrun
        How far on paper the line reaches past both points.
    """
    angle = math.atan2(end[1] - start[1], end[0] - start[0])
    middle = 0.5 * (start[0] + end[0]), 0.5 * (start[1] + end[1])
    step = 0.25 * ZIGZAG * unit

    def at(along: float, across: float) -> Point:
        return polar(polar(middle, along * step, angle), across * ZIGZAG * unit, angle + math.pi / 2.0)

    points = (
        polar(start, -overrun * unit, angle),
        at(-1.0, 0.0),
        at(-0.5, 0.5),
        at(0.5, -0.5),
        at(1.0, 0.0),
        polar(end, overrun * unit, angle),
    )
    return Stroke(curve=Polyline(points=points), pen=NARROW, part=part)
