"""The plan sheet: every sheet of the layup from above as an outline, in the empty bag as it lies flat.

The valve's two ruler measurements are dimensioned from the closed end and from the left seam, seen from the open end.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from ...model.bag.size import CLOSED_KINDS
from ...model.plan import Plan
from ...model.report import Report
from ...model.units import Mm
from ..drawing.boxes import boxes_of
from ..drawing.callout import balloon_column
from ..drawing.curves import Circle, Curve, Line, Point, rectangle
from ..drawing.lanes import Wanted, stack_dimensions
from ..drawing.paper import Box
from ..drawing.pens import CENTRE, HIDDEN, NARROW, PHANTOM, WIDE, Pen
from ..drawing.primitives import Align, Balloon, Item, Side, Stroke
from ..drawing.scale import Scale
from ..drawing.sheet import Sheet, View, view_on_paper
from ..drawing.table import Column
from .compose import COLUMN, composed, words
from .outlines import from_above, reach
from .parts import base_mark, listed, marks_of
from .titles import About, papers_of, title
from .words import Units, units_of, written, written_size

PAST_VALVE: Mm = 75.0
"""How far the tail of the breather reaches past the valve; common practice."""
COLUMNS = (
    Column(heading="No.", width=24.0, align=Align.CENTRE),
    Column(heading="Outline from above", width=66.0),
    Column(heading="Size", width=COLUMN - 90.0, align=Align.RIGHT),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Shown:
    """One outline, with the numbers of all that share it."""

    marks: tuple[str, ...]
    names: tuple[str, ...]
    curves: tuple[Curve, ...]
    pen: Pen


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
        papers_of(plan),
    )


def _outlines(plan: Plan) -> Iterator[_Shown]:
    """Outlines from below; layers with the same edge share one."""
    marks, sheet = marks_of(plan), plan.stack.sheet
    base = base_mark(plan)
    if base:
        curves: tuple[Curve, ...]
        if base == "F":
            left, right = plan.base.foot
            half = 0.5 * plan.base.outline.width
            curves = (rectangle((left, -half), (right, half)),)
        else:
            curves = from_above(plan.base.outline, sheet, 0.0)
        yield _Shown(marks=(base,), names=(plan.base.kind,), curves=curves, pen=HIDDEN)
    groups: dict[tuple[int, ...], list[tuple[str, str, tuple[Curve, ...], Pen]]] = {}
    for layer in plan.stack.layers:
        if layer.role == "adhesive":
            continue
        curves = from_above(layer.outline, sheet, layer.middle)
        low, high = reach(curves)
        # the laminations of a bend differ by a hair from above: they share the outline of the largest
        is_core = layer.role == "substrate" and plan.layup.is_bent
        key = (0,) if is_core else tuple(round(10.0 * number) for number in (*low, *high))
        pen = WIDE if layer.role == "substrate" else NARROW
        groups.setdefault(key, []).append((marks[layer.key], layer.name, curves, pen))
    for group in groups.values():
        pens = [pen for _, _, _, pen in group]
        yield _Shown(
            marks=tuple(mark for mark, _, _, _ in group),
            names=tuple(name for _, name, _, _ in group),
            curves=max((curves for _, _, curves, _ in group), key=lambda curves: reach(curves)[1][0]),
            pen=WIDE if WIDE in pens else NARROW,
        )


def _row(one: _Shown, units: Units) -> tuple[str, str, str]:
    low, high = reach(one.curves)
    names = one.names if len(one.names) <= 3 else (one.names[0], "…", one.names[-1])
    marks = listed(one.marks) if len(one.marks) <= 4 else f"{one.marks[0]} … {one.marks[-1]}"
    return marks, ", ".join(names), written_size(high[0] - low[0], high[1] - low[1], units)


def _notes(plan: Plan) -> Iterator[str]:
    yield "Drawn in the empty bag as it lies flat; left and right as seen from the open end, which is on the right."
    yield "Under vacuum the film draws in over the work; the ruler measurements hold for the flat bag."
    if plan.layup.is_bent:
        yield "Bent sheets are shown as they lie; sizes in the list are those from above, cut sizes are on the blanks."
    if plan.valve.over == "tail":
        yield (
            "A tail of breather, as wide as shown, leads to the valve and reaches past it by "
            f"{PAST_VALVE:g} mm where the bag has room (common practice)."
        )
    if plan.bag.kind in CLOSED_KINDS:
        yield "Dashed line across the bag: where the fold of the closure begins."


def _view(plan: Plan, shown: list[_Shown], scale: Scale) -> View:
    bag, valve, units = plan.bag, plan.valve, units_of(plan)
    x0, y0 = -valve.work_from_closed_end, -valve.work_from_left_seam
    x1, y1 = x0 + bag.length, y0 + bag.width
    spot = (x0 + valve.from_closed_end, y0 + valve.from_left_seam)
    items: list[Item] = [*bag_lines(plan, (x0, y0))]
    for one in shown:
        items += (Stroke(curve=curve, pen=one.pen, part=one.marks[0]) for curve in one.curves)
    items += _tail(plan, spot, x0)
    items += valve_lines(spot, valve.radius)
    items += (
        Stroke(curve=Line(start=(-8.0 / scale.ratio, 0.0), end=(8.0 / scale.ratio, 0.0)), pen=CENTRE),
        Stroke(curve=Line(start=(0.0, -8.0 / scale.ratio), end=(0.0, 8.0 / scale.ratio)), pen=CENTRE),
    )
    view = View(name="plan", scale=scale, origin=(0.0, 0.0), items=tuple(items))
    seam = bag.seam
    low, left = y0 - seam, x0 - seam
    panel = plan.outline
    core = from_above(panel, plan.stack.sheet, 0.5 * plan.stack.height)
    (a, _), (c, d) = reach(core)
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
    above = [Wanted(start=(a, d), end=(c, d), text=written(c - a, units))]
    balloons = _balloons(view, shown, x1 + seam, (y0 - seam, y1 + seam))
    taken = [box for balloon in balloons for box in _along(view, balloon.points)]
    left_of = stack_dimensions(view, beside, Side.LEFT, left, taken)
    taken += boxes_of(view_on_paper(replace(view, items=left_of)))
    dimensions = (
        *left_of,
        *stack_dimensions(view, below, Side.BELOW, low, taken),
        *stack_dimensions(view, above, Side.ABOVE, y1 + seam, taken),
    )
    return view.with_items(*balloons, *dimensions)


def _along(view: View, points: tuple[Point, ...]) -> Iterator[Box]:
    """Small boxes along a leader and around its balloon, so that dimensions keep clear of both."""
    (x0, y0), (x1, y1) = view.on_paper(points[0]), view.on_paper(points[-1])
    steps = max(2, round(math.hypot(x1 - x0, y1 - y0)))
    for step in range(steps + 1):
        x, y = x0 + (x1 - x0) * step / steps, y0 + (y1 - y0) * step / steps
        yield Box(low=(x - 0.6, y - 0.6), high=(x + 0.6, y + 0.6))
    yield Box(low=(x1 - 4.5, y1 - 4.5), high=(x1 + 4.5, y1 + 4.5))


def _balloons(view: View, shown: list[_Shown], edge: Mm, span: tuple[Mm, Mm]) -> tuple[Balloon, ...]:
    """Balloons in a column beside the open end, from the lower edge of the bag upward."""
    tips: list[tuple[Point, str]] = []
    ordered = sorted(shown, key=lambda one: -reach(one.curves)[1][0])
    for number, one in enumerate(ordered):
        low, high = reach(one.curves)
        tips.append(((high[0], _edge_height(one, number / max(len(ordered) - 1, 1), low, high)), _label(one)))
    x, foot = view.on_paper((edge, span[0]))
    x += 12.0
    top = max(view.on_paper((edge, span[1]))[1], foot + 10.0 * len(tips))
    return balloon_column(view, tips, x, foot, top, radius=4.0, slope=0.0)


def _edge_height(one: _Shown, share: float, low: Point, high: Point) -> Mm:
    """Height at which a leader touches the right edge of an outline."""
    is_straight = len(one.curves) == 1 and len(getattr(one.curves[0], "points", ())) == 5
    reach_share = 0.8 if is_straight else 0.0
    return 0.5 * (low[1] + high[1]) + (0.5 - share) * reach_share * (high[1] - low[1])


def _label(one: _Shown) -> str:
    return one.marks[0] if len(one.marks) == 1 else f"{one.marks[0]}+"


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
    low, high = reach(from_above(breather.outline, plan.stack.sheet, breather.middle))
    half = 0.5 * plan.layup.breather.tail
    y = min(max(spot[1], low[1] + half), high[1] - half) if high[1] - low[1] > 2.0 * half else spot[1]
    past = plan.valve.radius + PAST_VALVE
    if spot[0] < low[0]:
        start, end = max(spot[0] - past, closed_end), low[0]
    else:
        start, end = high[0], spot[0] + past
    yield Stroke(curve=rectangle((start, y - half), (end, y + half)), pen=NARROW, part="tail")
