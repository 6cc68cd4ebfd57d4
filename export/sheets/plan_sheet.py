"""The plan sheet: every sheet of the layup from above as an outline, in the empty bag as it lies flat.

The valve's two ruler measurements are dimensioned from the closed end and from the left seam, seen from the open end.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

from ...model.bag.size import CLOSED_KINDS
from ...model.plan import Plan
from ...model.report import Report
from ...model.shape.pathed import Pathed
from ...model.shape.tapered_outline import TaperedOutline
from ...model.stack import Layer
from ...model.tapered_blanks import tapered_outline
from ...model.units import Mm
from ..drawing.boxes import boxes_of
from ..drawing.curves import Circle, Curve, Line, Point, Polyline, polar, rectangle
from ..drawing.lanes import FIRST_LANE, Wanted, stack_dimensions
from ..drawing.pens import CENTRE, HIDDEN, NARROW, PHANTOM, WIDE, Pen
from ..drawing.primitives import Align, Ending, Item, Leader, Side, Stroke
from ..drawing.scale import Scale
from ..drawing.sheet import Sheet, View, view_on_paper
from ..drawing.table import Column
from .compose import COLUMN, composed, words
from .corner_view import LETTER, Outline, corner_scale, corner_view, side_at, window
from .cutting_plane import ROOM, cutting_plane
from .loop_curves import closed_edges
from .outlines import form_above, from_above, reach, tapered_above
from .parts import base_mark, listed, marks_of
from .titles import About, papers_of, title
from .words import Units, units_of, written, written_size

PAST_VALVE: Mm = 75.0
"""How far the tail of the breather reaches past the valve; common practice."""
ABOVE_PLANE: Mm = 12.0
"""Least height on paper of the detail's letter above the cutting plane."""
COLUMNS = (
    Column(heading="No.", width=24.0, align=Align.CENTRE),
    Column(heading="Outline from above", width=66.0),
    Column(heading="Size", width=COLUMN - 90.0, align=Align.RIGHT),
)


def plan_sheet(plan: Plan, report: Report) -> Sheet:
    """Plan sheet of a layup whose bag is designed."""
    shown = list(_outlines(plan))
    bag = plan.bag
    about = About(name="plan", subtitle="All sheets in the bag, from above", document="Plan drawing")
    return composed(
        lambda scale: _view(plan, shown, scale),
        (bag.length + 2.0 * bag.seam, bag.width + 2.0 * bag.seam),
        words(list(_notes(plan)), [(COLUMNS, [_row(one, units_of(plan)) for one in shown])]),
        lambda scale: title(plan, report, about, scale),
        about.name,
        papers_of(plan)[1:],
        # of a taper no corner stands for all: how far each sheet reaches past the other is told by the sections
        None
        if plan.taper is not None
        else corner_view(shown, plan.outline, corner_scale(shown, plan.outline)),
    )


def _outlines(plan: Plan) -> Iterator[Outline]:
    """Outlines from below; layers with the same edge share one."""
    marks, sheet = marks_of(plan), plan.stack.sheet
    base = base_mark(plan)
    if base:
        curves: tuple[Curve, ...]
        if plan.form is not None and plan.form.carcase is not None:
            curves = (form_above(plan.form.carcase),)
        elif base == "F":
            left, right = plan.base.foot
            half = 0.5 * plan.base.outline.width
            curves = (rectangle((left, -half), (right, half)),)
        else:
            curves = from_above(plan.base.outline, sheet, 0.0)
        yield Outline(marks=(base,), names=(plan.base.kind,), curves=curves, pen=HIDDEN)
    groups: dict[tuple[int, ...], list[tuple[str, str, tuple[Curve, ...], Pen]]] = {}
    for layer in plan.stack.layers:
        if layer.role == "adhesive":
            continue
        curves = _above(plan, layer)
        low, high = reach(curves)
        # the laminations of a bend differ by a hair from above: they share the outline of the largest
        is_core = layer.role == "substrate" and plan.layup.is_bent
        # a sheet cut straight and one cut to the outline may be of one size
        sizes = (*low, *high, layer.outline.perimeter)
        key = (0,) if is_core else tuple(round(10.0 * number) for number in sizes)
        pen = WIDE if layer.role == "substrate" else NARROW
        groups.setdefault(key, []).append((marks[layer.key], layer.name, curves, pen))
    for group in groups.values():
        pens = [pen for _, _, _, pen in group]
        yield Outline(
            marks=tuple(mark for mark, _, _, _ in group),
            names=tuple(name for _, name, _, _ in group),
            curves=max((curves for _, _, curves, _ in group), key=lambda curves: reach(curves)[1][0]),
            pen=WIDE if WIDE in pens else NARROW,
        )


def _above(plan: Plan, layer: Layer) -> tuple[Curve, ...]:
    """Edge of a layer as it lies, seen from above."""
    if plan.taper is not None:
        return tapered_above(tapered_outline(layer), layer.middle)
    return from_above(layer.outline, plan.stack.sheet, layer.middle)


def _row(one: Outline, units: Units) -> tuple[str, str, str]:
    low, high = reach(one.curves)
    names = one.names if len(one.names) <= 3 else (one.names[0], "…", one.names[-1])
    marks = listed(one.marks) if len(one.marks) <= 4 else f"{one.marks[0]} … {one.marks[-1]}"
    return marks, ", ".join(names), written_size(high[0] - low[0], high[1] - low[1], units)


def _notes(plan: Plan) -> Iterator[str]:
    if plan.taper is None:
        yield "In X every edge has the number of its sheet, and of those above it with the same edge (+)."
    else:
        low, high = ("near", "far") if plan.taper.states.sides["near"] < 0.0 else ("far", "near")
        yield (
            f"The panel tapers: its {low} end is below, its {high} end above. Sizes in the list are those of the rectangle "
            "around each."
        )
    yield "Drawn in the empty bag as it lies flat; left and right as seen from the open end, which is on the right."
    if plan.taper is None:
        yield "Section A–A is on the first sheet."
    else:
        yield "Section A–A is cut at the near end of the panel, section B–B at its far end."
    yield "Under vacuum the film draws in over the work; the ruler measurements hold for the flat bag."
    if plan.layup.is_bent:
        yield "Bent sheets are shown as they lie; sizes in the list are those from above, cut sizes are on the blanks."
    if isinstance(plan.outline, Pathed) and not plan.layup.face_is_up:
        yield "The show face lies down: from above the outline is the mirror image of the finished panel."
    if plan.outline.loops[1:]:
        yield "Chain lines: holes, cut through the finished panel after pressing."
    if plan.valve.over == "tail":
        yield (
            "A tail of breather, as wide as shown, leads to the valve and reaches past it by "
            f"{PAST_VALVE:g} mm where the bag has room (common practice)."
        )
    if plan.bag.kind in CLOSED_KINDS:
        yield "Dashed line across the bag: where the fold of the closure begins."


def _view(plan: Plan, shown: list[Outline], scale: Scale) -> View:
    bag, valve, units = plan.bag, plan.valve, units_of(plan)
    x0, y0 = -valve.work_from_closed_end, -valve.work_from_left_seam
    x1, y1 = x0 + bag.length, y0 + bag.width
    spot = (x0 + valve.from_closed_end, y0 + valve.from_left_seam)
    items: list[Item] = [*bag_lines(plan, (x0, y0))]
    for one in shown:
        items += (Stroke(curve=curve, pen=one.pen, part=one.marks[0]) for curve in one.curves)
    items += (
        Stroke(curve=curve, pen=PHANTOM, part="opening")
        for hole in plan.outline.loops[1:]
        for curve in closed_edges(hole)
    )
    items += _tail(plan, spot, x0)
    items += valve_lines(spot, valve.radius)
    items += _middle(plan, 8.0 / scale.ratio)
    view = View(name="plan", scale=scale, origin=(0.0, 0.0), items=tuple(items))
    seam = bag.seam
    low, left = y0 - seam, x0 - seam
    near, far = _ends(plan)
    below = [
        Wanted(start=(x0, low), end=(spot[0], spot[1]), text=written(valve.from_closed_end, units)),
        Wanted(start=(x0, low), end=(0.0, 0.0), text=written(valve.work_from_closed_end, units)),
        Wanted(start=(x0, low), end=(x1, low), text=written(bag.length, units)),
    ]
    if valve.over == "caul" and abs(valve.from_closed_end - valve.work_from_closed_end) < 0.05:
        below.pop(1)
    beside = [
        Wanted(start=(left, y0), end=(spot[0], spot[1]), text=written(valve.from_left_seam, units)),
        Wanted(start=(left, y0), end=(left, y1), text=written(bag.width, units)),
    ]
    above = [Wanted(start=far[0], end=far[1], text=written(far[1][0] - far[0][0], units))]
    if plan.taper is not None:
        below.insert(0, Wanted(start=near[0], end=near[1], text=written(near[1][0] - near[0][0], units)))
    mark = () if plan.taper is not None else _mark(shown, plan, scale, x1 + seam)
    # of a taper the sections are cut along its ends, not along the middle
    plane = () if plan.taper is not None else tuple(cutting_plane("A", left, x1 + seam, scale, spot[1]))
    left_of = stack_dimensions(view, beside, Side.LEFT, left, first=FIRST_LANE + (ROOM if plane else 0.0))
    taken = boxes_of(view_on_paper(replace(view, items=left_of)))
    dimensions = (
        *left_of,
        *stack_dimensions(view, below, Side.BELOW, low, taken),
        *stack_dimensions(view, above, Side.ABOVE, y1 + seam, taken),
    )
    return view.with_items(*mark, *plane, *dimensions)


def _middle(plan: Plan, half: Mm) -> Iterator[Item]:
    """Cross in the middle of the panel; along it the cutting plane runs, where there is one."""
    yield Stroke(curve=Line(start=(0.0, -half), end=(0.0, half)), pen=CENTRE)
    if plan.taper is not None:
        yield Stroke(curve=Line(start=(-half, 0.0), end=(half, 0.0)), pen=CENTRE)


def _panel(plan: Plan) -> tuple[Curve, ...]:
    """Edge of the finished panel, seen from above."""
    middle = 0.5 * plan.stack.height
    if plan.taper is None:
        return from_above(plan.outline, plan.stack.sheet, middle)
    return tapered_above(TaperedOutline(sheet=plan.taper.states.pressed), middle)


def _ends(plan: Plan) -> tuple[tuple[Point, Point], tuple[Point, Point]]:
    """Corners of the finished panel seen from above, below and above, from left to right."""
    points = [point for curve in _panel(plan) if isinstance(curve, Polyline) for point in curve.points]
    (a, b), (c, d) = reach(_panel(plan))
    if plan.taper is None or not points:
        return ((a, b), (c, b)), ((a, d), (c, d))
    low, high = ([point for point in points if side * point[1] > 0.0] for side in (-1.0, 1.0))
    return (min(low), max(low)), (min(high), max(high))


def _mark(shown: Sequence[Outline], plan: Plan, scale: Scale, edge: Mm) -> tuple[Item, ...]:
    """Circle around what the detail shows, with its letter beside the bag."""
    box = window(shown, plan.outline, corner_scale(shown, plan.outline))
    unit = 1.0 / scale.ratio
    radius = max(0.5 * math.hypot(box.width, box.height), 2.5 * unit)
    # clear of the cutting plane and its letter
    end = edge + 6.0 * unit, max(box.centre[1], ABOVE_PLANE * unit)
    start = polar(box.centre, radius, math.atan2(end[1] - box.centre[1], end[0] - box.centre[0]))
    return (
        Stroke(curve=Circle(centre=box.centre, radius=radius), pen=NARROW, part="detail X"),
        Leader(points=(start, end), text=LETTER, height=5.0, ending=Ending.PLAIN),
    )


def bag_lines(plan: Plan, corner: Point) -> Iterator[Item]:
    """Edge of the flat bag, its seams and the fold of its closure; the corner is inside its closed end."""
    bag, (x0, y0) = plan.bag, corner
    x1, y1, seam = x0 + bag.length, y0 + bag.width, bag.seam
    is_tube, is_closed = bag.kind == "tube", bag.kind in CLOSED_KINDS
    side, end = 0.0 if is_tube else seam, 0.0 if is_closed else seam
    yield Stroke(curve=rectangle((x0 - seam, y0 - side), (x1 + end, y1 + side)), pen=WIDE, part="bag")
    if not is_tube:
        for y in (y0, y1):
            yield Stroke(curve=Line(start=(x0 - seam, y), end=(x1 + end, y)), pen=PHANTOM, part="seam")
    for x in (x0,) if is_closed else (x0, x1):
        yield Stroke(curve=Line(start=(x, y0 - side), end=(x, y1 + side)), pen=PHANTOM, part="seam")
    if is_closed and plan.layup.bag.closure > 0.0:
        x = x1 - plan.layup.bag.closure
        yield Stroke(curve=Line(start=(x, y0 - side), end=(x, y1 + side)), pen=HIDDEN, part="closure")


def valve_lines(spot: Point, radius: Mm) -> Iterator[Item]:
    """Base of the valve with its centre lines."""
    x, y = spot
    yield Stroke(curve=Circle(centre=spot, radius=radius), pen=WIDE, part="valve")
    yield Stroke(curve=Line(start=(x - 1.4 * radius, y), end=(x + 1.4 * radius, y)), pen=CENTRE)
    yield Stroke(curve=Line(start=(x, y - 1.4 * radius), end=(x, y + 1.4 * radius)), pen=CENTRE)


def _tail(plan: Plan, spot: Point, closed_end: Mm) -> Iterator[Item]:
    breather = plan.stack.find("breather")
    if plan.valve.over != "tail" or breather is None:
        return
    curves = _above(plan, breather)
    low, high = reach(curves)
    half = 0.5 * plan.layup.breather.tail
    y = min(max(spot[1], low[1] + half), high[1] - half) if high[1] - low[1] > 2.0 * half else spot[1]
    past = plan.valve.radius + PAST_VALVE
    if spot[0] < low[0]:
        start, end = max(spot[0] - past, closed_end), side_at(curves, y, half, -1.0)
    else:
        start, end = side_at(curves, y, half, 1.0), spot[0] + past
    yield Stroke(curve=rectangle((start, y - half), (end, y + half)), pen=NARROW, part="tail")
