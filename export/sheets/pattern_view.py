"""The flat pattern of a sheet of a taper, as a view: its edge, its rulings, and how a round cone is struck."""

import math
from collections.abc import Iterator

import numpy as np

from ...model.stack import Layer
from ...model.tapered_blanks import tapered_outline
from ...model.units import Mm
from ...model.wording import decimal
from ..drawing.boxes import extent
from ..drawing.curves import Line, Point
from ..drawing.lanes import Wanted, stack_dimensions
from ..drawing.pens import CENTRE, PHANTOM
from ..drawing.primitives import Align, Item, Side, Stroke, Text
from ..drawing.scale import Scale
from ..drawing.sheet import View, view_on_paper
from .grain_arrow import grain_arrow
from .loop_curves import board_strokes
from .naming import titled
from .words import Units, written

ABOVE: Mm = 2.0
"""Distance on paper of the words on the compass from the view."""
ASIDE = 0.16
"""Share of the length by which the grain arrow stands beside the middle ruling."""


def pattern_view(layer: Layer, name: str, words: tuple[str, str], units: Units, scale: Scale) -> View:
    """Pattern of a layer with the rulings at which its bends begin and end, in the rectangle that it is cut from.

    Parameters
    ----------
    name
        Name of the view.
    words
        What stands above it: its number and name, and what it is cut of.
    """
    unit, edge = 1.0 / scale.ratio, layer.blank.edge
    (x0, y0), (x1, y1) = edge.box
    items: list[Item] = [*board_strokes(edge, (), layer.key)]
    outline = tapered_outline(layer)
    for place in np.union1d(outline.sheet.breaks(), [0.0]).tolist():
        start, end = _ruling(layer, place)
        pen = PHANTOM if place else CENTRE
        items.append(Stroke(curve=Line(start=start, end=end), pen=pen, part="ruling"))
    (_, low), (_, high) = _ruling(layer, 0.0)
    half = 0.5 * (high - low)
    middle = ASIDE * (x1 - x0), 0.5 * (low + high) - 0.3 * half
    items += grain_arrow(layer, middle, (0.5 * (x1 - x0), half), unit)
    view = View(name=name, scale=scale, origin=(0.0, 0.0), items=tuple(items))
    below = [Wanted(start=(x0, y0), end=(x1, y0), text=written(x1 - x0, units))]
    left = [Wanted(start=(x0, y0), end=(x0, y1), text=written(y1 - y0, units))]
    dimensions = (
        *stack_dimensions(view, below, Side.BELOW, y0),
        *stack_dimensions(view, left, Side.LEFT, x0),
    )
    view = view.with_items(*dimensions)
    return titled(view.with_items(*_struck(layer, view, units)), *words)


def _ruling(layer: Layer, place: float) -> tuple[Point, Point]:
    """Ruling of a pattern at a place along it, from its near edge to its far one."""
    outline = tapered_outline(layer)
    u = np.array([place])
    (near,), (far,) = (outline.sheet.unroll(u, w, layer.middle).tolist() for w in outline.bounds(u))
    return (near[0], near[1]), (far[0], far[1])


def _struck(layer: Layer, view: View, units: Units) -> Iterator[Text]:
    """How the blank of a round cone is struck with a beam compass, above its view."""
    sector = layer.blank.sector
    if sector is None:
        return
    radii = f"R {written(sector.outer, units)} and R {written(sector.inner, units)} from one centre"
    box = extent(view_on_paper(view))
    yield Text(
        text=f"{radii}, {decimal(math.degrees(sector.angle), 2)}° between chain lines",
        position=view.in_view((box.centre[0], box.high[1] + ABOVE)),
        height=2.5,
        align=Align.CENTRE,
    )
