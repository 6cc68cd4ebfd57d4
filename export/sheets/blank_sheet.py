"""Blanks: a drawing of every kind of blank, with sizes, grain and register marks.

Register marks are the centre lines of the panel and, on a blank that is bent, the lines at which the bend begins and
ends on that blank: on the outside of a bend they lie further apart than on its inside.
"""

from collections.abc import Iterator
from functools import partial

import numpy as np

from ...model.plan import Plan
from ...model.report import Report
from ...model.stack import Layer
from ...model.units import Mm
from ...model.wording import decimal
from ..drawing.curves import Line, Point
from ..drawing.dimension import arrow
from ..drawing.lanes import Wanted, stack_dimensions
from ..drawing.pens import CENTRE, NARROW, PHANTOM, WIDE
from ..drawing.primitives import Align, Hatch, Item, Level, Side, Stroke, Text
from ..drawing.scale import Scale
from ..drawing.sheet import Sheet, View, placed
from .naming import titled
from .outlines import unrolled
from .parts import Part, listed, parts_of
from .rows_of_views import at_one_scale, sheets_of
from .titles import About, papers_of, title
from .words import units_of, written

ABOUT = About(name="blanks", subtitle="Blanks with grain and register marks", document="Cutting drawing")
ARROW: Mm = 16.0
"""Length on paper of the grain arrow."""
ROOMY: Mm = 11.0
"""Half of the width on paper, and a quarter of the length, from which the arrow's name has room too."""
NARROWEST: Mm = 5.5
"""Half of the width on paper from which a blank has room for the arrow."""


def blank_sheets(plan: Plan, report: Report) -> tuple[Sheet, ...]:
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
    units = units_of(plan)
    sheet, unit = plan.stack.sheet, 1.0 / scale.ratio
    a, b = 0.5 * layer.blank.length, 0.5 * layer.blank.width
    over = 3.0 * unit
    items: list[Item] = [
        Stroke(curve=curve, pen=WIDE, part=layer.key)
        for curve in unrolled(layer.outline, sheet, layer.middle)
    ]
    items += (
        Stroke(curve=Line(start=(-a - over, 0.0), end=(a + over, 0.0)), pen=CENTRE),
        Stroke(curve=Line(start=(0.0, -b - over), end=(0.0, b + over)), pen=CENTRE),
    )
    marks = _tangents(plan, layer)
    items += (Stroke(curve=Line(start=(x, -b), end=(x, b)), pen=PHANTOM, part="bend") for x in marks)
    items += _grain(layer, a, b, unit)
    name = f"blank {part.marks[0]}"
    view = View(name=name, scale=scale, origin=(0.0, 0.0), items=tuple(items))
    dimensions = [
        *stack_dimensions(
            view,
            [Wanted(start=(-a, -b), end=(a, -b), text=written(layer.blank.length, units))],
            Side.BELOW,
            -b,
        ),
        *stack_dimensions(
            view,
            [Wanted(start=(-a, -b), end=(-a, b), text=written(layer.blank.width, units))],
            Side.LEFT,
            -a,
        ),
    ]
    if marks:
        text = f"bend {written(marks[1] - marks[0], units)}"
        wanted = [Wanted(start=(marks[0], b), end=(marks[1], b), text=text)]
        dimensions += stack_dimensions(view, wanted, Side.ABOVE, b)
    return titled(view.with_items(*dimensions), *_names(part))


def _names(part: Part) -> tuple[str, str]:
    thickness = "" if part.thickness is None else f"{decimal(part.thickness, 2)} mm thick, "
    marks = listed(part.marks) if len(part.marks) <= 6 else f"{part.marks[0]} … {part.marks[-1]}"
    pieces = f"{part.quantity} piece{'s' if part.quantity > 1 else ''}"
    return f"No. {marks}  {part.name}", f"{part.material}, {thickness}{pieces}"


def _tangents(plan: Plan, layer: Layer) -> tuple[Mm, ...]:
    """Places on the blank at which the bend begins and ends; none where it reaches to the edges."""
    sheet = plan.stack.sheet
    if sheet.profile.is_flat:
        return ()
    half = 0.5 * sheet.profile.length
    if half >= 0.5 * layer.outline.length - 0.05:
        return ()
    first, last = sheet.developed(layer.middle, np.array([-half, half])).tolist()
    return first, last


def _grain(layer: Layer, a: Mm, b: Mm, unit: Mm) -> Iterator[Item]:
    """Arrow with two heads along the grain, with its name: on the blank, or above one that is too narrow for it."""
    if not layer.grain:
        return
    along = layer.grain == "along length"
    is_narrow = b < NARROWEST * unit
    half = 0.5 * ARROW * unit if along else min(0.5 * ARROW * unit, 3.0 * unit if is_narrow else 0.35 * b)
    x, y = 0.5 * a, (b + (2.0 * unit if along else half + unit)) if is_narrow else -0.5 * b
    low: Point = (x - half, y) if along else (x, y - half)
    high: Point = (x + half, y) if along else (x, y + half)
    yield Stroke(curve=Line(start=low, end=high), pen=NARROW, part="grain")
    yield from _heads(low, high, along, unit)
    if is_narrow or min(0.5 * a, b) > ROOMY * unit:
        above = along and not is_narrow
        yield Text(
            text="grain",
            position=(x, y + 1.6 * unit) if above else (x + (half if along else 0.0) + 2.0 * unit, y),
            height=2.5,
            align=Align.CENTRE if above else Align.LEFT,
            level=Level.BASELINE if above else Level.MIDDLE,
        )


def _heads(low: Point, high: Point, along: bool, unit: Mm) -> Iterator[Hatch]:
    """Arrow heads of 3 mm on paper at both ends, in the view's own millimetres."""
    turn = 0.0 if along else 0.5 * np.pi
    for tip, towards in ((low, turn + np.pi), (high, turn)):
        head = placed(arrow((0.0, 0.0), float(towards)), unit, tip)
        assert isinstance(head, Hatch)
        yield head
