"""The arrow that tells which way the grain of a blank runs."""

from collections.abc import Iterator, Sequence

import numpy as np

from ...model.shape.loop import Loop
from ...model.shape.pathed import Pathed
from ...model.shape.seat import beside
from ...model.stack import Layer
from ...model.units import Mm
from ..drawing.curves import Line, Point
from ..drawing.dimension import arrow
from ..drawing.lettering import text_width
from ..drawing.pens import NARROW
from ..drawing.primitives import Hatch, Item, Level, Stroke, Text
from ..drawing.sheet import placed

ARROW: Mm = 16.0
"""Length on paper of the grain arrow."""
ROOMY: Mm = 11.0
"""Half of the width on paper, and a quarter of the length, from which the arrow's name has room too."""
NARROWEST: Mm = 5.5
"""Half of the width on paper from which a blank has room for the arrow."""
NAMES: Mm = 2.5
"""Lettering height of its name."""
GRAIN = "grain"


def grain_arrow(
    layer: Layer,
    middle: Point,
    half_size: tuple[Mm, Mm],
    unit: Mm,
    lines: Sequence[Mm] = (),
    holes: Sequence[Loop] = (),
) -> Iterator[Item]:
    """Arrow with two heads along the grain, with its name: on the blank, or above one that is too narrow for it.

    The name is left out where it would stand on one of the lines across the blank.

    Parameters
    ----------
    middle
        Where the middle of the arrow stands on the blank; on one of any outline it is moved to where there is room.
    half_size
        Half of the blank's length and width.
    unit
        A millimetre on paper.
    lines
        Places x of lines across the blank.
    holes
        What is cut out of the panel later.
    """
    if not layer.grain:
        return
    along, (a, b) = layer.grain == "along length", half_size
    is_narrow = b < NARROWEST * unit
    half = 0.5 * ARROW * unit if along else min(0.5 * ARROW * unit, 3.0 * unit if is_narrow else 0.35 * b)
    x, y = middle
    if is_narrow:
        y = b + (2.0 * unit if along else half + unit)
    if isinstance(layer.outline, Pathed):
        x, y = beside((layer.blank.edge, *holes), (x, y), half + unit)
    low: Point = (x - half, y) if along else (x, y - half)
    high: Point = (x + half, y) if along else (x, y + half)
    yield Stroke(curve=Line(start=low, end=high), pen=NARROW, part="grain")
    yield from _heads(low, high, along, unit)
    if is_narrow or min(0.5 * a, b) > ROOMY * unit:
        above = along and not is_narrow
        wide = text_width(GRAIN, NAMES) * unit
        start = x - 0.5 * wide if above else x + (half if along else 0.0) + 2.0 * unit
        if any(start - unit < line < start + wide + unit for line in lines):
            return
        yield Text(
            text=GRAIN,
            position=(start, y + 1.6 * unit if above else y),
            height=NAMES,
            level=Level.BASELINE if above else Level.MIDDLE,
        )


def _heads(low: Point, high: Point, along: bool, unit: Mm) -> Iterator[Hatch]:
    """Arrow heads of 3 mm on paper at both ends, in the view's own millimetres."""
    turn = 0.0 if along else 0.5 * np.pi
    for tip, towards in ((low, turn + np.pi), (high, turn)):
        head = placed(arrow((0.0, 0.0), float(towards)), unit, tip)
        assert isinstance(head, Hatch)
        yield head
