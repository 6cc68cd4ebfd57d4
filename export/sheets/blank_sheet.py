"""Blanks: a drawing of every kind of blank, with sizes, grain and register marks.

Register marks are the centre lines of the panel and, on a blank that is bent, the lines at which each bend begins and
ends on that blank: on the outside of a bend they lie further apart than on its inside. Several bends are numbered.
"""

from collections.abc import Iterator
from functools import partial

import numpy as np

from ...model.bend_lines import stretches
from ...model.plan import Plan
from ...model.report import Report
from ...model.shape.sheet import Sheet
from ...model.stack import Layer
from ...model.template import bend_lines_on, openings
from ...model.units import Mm
from ..drawing.curves import Line
from ..drawing.lanes import Wanted, stack_dimensions
from ..drawing.lettering import text_width
from ..drawing.pens import CENTRE, PHANTOM, WIDE
from ..drawing.primitives import Align, Item, Side, Stroke, Text
from ..drawing.scale import Scale
from ..drawing.sheet import Sheet as Drawing
from ..drawing.sheet import View
from .grain_arrow import grain_arrow
from .loop_curves import closed_edges
from .naming import titled
from .parts import Part, listed, parts_of
from .pattern_view import pattern_view
from .rows_of_views import at_one_scale, sheets_of
from .running import running
from .titles import About, papers_of, title
from .words import Units, thin, units_of, written

ABOUT = About(name="blanks", subtitle="Blanks with grain and register marks", document="Cutting drawing")
NAMES: Mm = 2.5
"""Lettering height of the names of bends."""
UNEVEN: Mm = 0.05
"""A blank whose ends lie nearer to equally far from the middle line is alike on both sides."""


def blank_sheets(plan: Plan, report: Report) -> tuple[Drawing, ...]:
    """Sheets with every kind of blank of a layup, from below."""
    paper, kinds = papers_of(plan)[1], list(_kinds(plan))
    makers = [partial(_view, plan, part, layer) for part, layer in kinds]
    span = max(layer.blank.length for _, layer in kinds), max(layer.blank.width for _, layer in kinds)
    views, scale = at_one_scale(makers, span, paper)
    return sheets_of(views, title(plan, report, ABOUT, str(scale)), ABOUT.name, paper)


def _kinds(plan: Plan) -> Iterator[tuple[Part, Layer]]:
    """Kinds of blanks from below, each with a layer that is cut so."""
    for part in reversed(parts_of(plan)):
        layer = plan.stack.find(part.keys[0]) if part.keys and part.size else None
        if layer is not None:
            yield part, layer


def _view(plan: Plan, part: Part, layer: Layer, scale: Scale) -> View:
    if plan.taper is not None:
        return pattern_view(
            layer, f"blank {part.marks[0]}", _names(part, units_of(plan)), units_of(plan), scale
        )
    units = units_of(plan)
    sheet, unit = plan.stack.sheet, 1.0 / scale.ratio
    # on a bend that is not alike on both sides of its middle, the blank is not either
    (left, low), (right, high) = layer.blank.edge.box
    over = 3.0 * unit
    items: list[Item] = [
        Stroke(curve=curve, pen=WIDE, part=layer.key)
        for loop in (layer.blank.edge, *layer.blank.holes)
        for curve in closed_edges(loop)
    ]
    items += (
        Stroke(curve=curve, pen=PHANTOM, part="opening")
        for hole in openings(plan, layer)
        for curve in closed_edges(hole)
    )
    items += (
        Stroke(curve=Line(start=(left - over, 0.0), end=(right + over, 0.0)), pen=CENTRE),
        Stroke(curve=Line(start=(0.0, low - over), end=(0.0, high + over)), pen=CENTRE),
    )
    lines = [x for x, _ in bend_lines_on(sheet, layer)]
    items += (Stroke(curve=Line(start=(x, low), end=(x, high)), pen=PHANTOM, part="bend") for x in lines)
    is_even = abs(left + right) < UNEVEN
    is_simple = is_even and len(lines) == 2
    if lines and not is_simple:
        # read from the left end, with the middle line among them where it is not in the middle
        told = sorted(lines if is_even else [*lines, 0.0])
        places = [(x, f"{written(x - left, units)}{' middle' * (x == 0.0)}") for x in told]
        items += running((left, high), places, scale.ratio)
        items += _bend_names(sheet, layer, high, unit)
    a, b = 0.5 * (right - left), min(-low, high)
    items += grain_arrow(layer, (0.5 * a, -0.5 * b), (a, b), unit, lines, openings(plan, layer))
    view = View(name=f"blank {part.marks[0]}", scale=scale, origin=(0.0, 0.0), items=tuple(items))
    along = [Wanted(start=(left, low), end=(right, low), text=written(layer.blank.length, units))]
    across = [Wanted(start=(left, low), end=(left, high), text=written(layer.blank.width, units))]
    dimensions = [
        *stack_dimensions(view, along, Side.BELOW, low),
        *stack_dimensions(view, across, Side.LEFT, left),
    ]
    if is_simple:
        text = f"bend {written(lines[1] - lines[0], units)}"
        wanted = [Wanted(start=(lines[0], high), end=(lines[1], high), text=text)]
        dimensions += stack_dimensions(view, wanted, Side.ABOVE, high)
    return titled(view.with_items(*dimensions), *_names(part, units))


def _bend_names(sheet: Sheet, layer: Layer, level: Mm, unit: Mm) -> Iterator[Item]:
    """Names of the bends between their lines and beside the middle line, where there is room for them."""
    for part in stretches(sheet.profile):
        first, last = sheet.developed(layer.middle, np.array([part.first, part.last])).tolist()
        if not part.name or first < layer.blank.edge.box[0][0] or last > layer.blank.edge.box[1][0]:
            continue
        rooms = [(first, 0.0), (0.0, last)] if first < 0.0 < last else [(first, last)]
        low, high = max(rooms, key=lambda room: room[1] - room[0])
        if text_width(part.name, NAMES) + 2.0 < (high - low) / unit:
            yield Text(
                text=part.name,
                position=(0.5 * (low + high), level - (NAMES + 1.0) * unit),
                height=NAMES,
                align=Align.CENTRE,
            )


def _names(part: Part, units: Units) -> tuple[str, str]:
    thickness = "" if part.thickness is None else f"{thin(part.thickness, units)} thick, "
    marks = listed(part.marks) if len(part.marks) <= 6 else f"{part.marks[0]} … {part.marks[-1]}"
    pieces = f"{part.quantity} piece{'s' if part.quantity > 1 else ''}"
    return f"No. {marks}  {part.name}", f"{part.material}, {thickness}{pieces}"
