"""Cutting drawing of the bag's film: size, seams, the fold of the closure, the hole of the valve."""

from collections.abc import Iterator
from dataclasses import replace

from ...model.bag.size import CLOSED_KINDS
from ...model.plan import Plan
from ...model.report import Report
from ...model.units import Mm
from ..drawing.boxes import boxes_of
from ..drawing.curves import Line
from ..drawing.lanes import Wanted, stack_dimensions
from ..drawing.pens import NARROW
from ..drawing.primitives import Align, Item, Side, Stroke
from ..drawing.scale import Scale
from ..drawing.sheet import Sheet, View, view_on_paper
from ..drawing.table import Column
from .compose import COLUMN, composed, words
from .parts import FILM_WORDS
from .plan_sheet import bag_lines, valve_lines
from .titles import About, papers_of, title
from .words import said, said_size, units_of, written

TERMS = (
    Column(heading="Inside size of the bag", width=100.0),
    Column(heading="Takes", width=COLUMN - 100.0, align=Align.RIGHT),
)


def bag_sheet(plan: Plan, report: Report) -> Sheet:
    """Cutting drawing of the film of a layup whose bag is designed."""
    bag, units = plan.bag, units_of(plan)
    about = About(name="bag", subtitle="Film of the bag, to cut and seam", document="Cutting drawing")
    rows = [(f"length: {term.name}", written(term.amount, units)) for term in bag.length_terms]
    rows += [(f"width: {term.name}", written(term.amount, units)) for term in bag.width_terms]
    return composed(
        lambda scale: _view(plan, scale),
        (bag.film_length, bag.film_width),
        words(list(_notes(plan)), [(TERMS, rows)]),
        lambda scale: title(plan, report, about, scale),
        about.name,
        papers_of(plan),
    )


def _notes(plan: Plan) -> Iterator[str]:
    bag, film = plan.bag, plan.chosen.film
    name, pieces = FILM_WORDS[bag.kind]
    size = said_size(bag.film_length, bag.film_width, units_of(plan))
    if bag.is_owned:
        yield f"The bag is there already; its film measures {size}. Use this sheet to check it."
    else:
        yield f"Cut {pieces} piece{'s' if pieces > 1 else ''} of {film.name}, {size}: {name}."
    if bag.is_tube:
        yield "A tube has no side seams: its width is that of the tube as it lies flat."
    yield f"Seams {said(bag.seam, units_of(plan))} wide, {film.seaming}; chain lines show their inner edges."
    if bag.kind in CLOSED_KINDS:
        yield "Open end on the right; the dashed line is where the fold of the closure begins."
    yield "The circle is the base of the valve, in the upper film only; punch the hole to suit the valve's stem."
    yield "Keep film, folds and seams free of grit; round every edge that the film is drawn over."
    cut = plan.film
    if cut is not None and not cut.is_tube:
        yield f"Off a roll {said(cut.roll, units_of(plan))} wide, {said(cut.rows * cut.row, units_of(plan))} of it."
    if cut is not None and cut.count > 1:
        edge = "left edge" if cut.run == "along" else "edge at the closed end"
        places = ", ".join(said(joint, units_of(plan)) for joint in cut.sheets[0].joints)
        yield (
            f"Each sheet is joined of {cut.count} strips, which lap by the width of a seam; thin lines show the laps. "
            f"Their middles, from the {edge}: {places}."
        )


def _view(plan: Plan, scale: Scale) -> View:
    bag, valve, units = plan.bag, plan.valve, units_of(plan)
    spot = (valve.from_closed_end, valve.from_left_seam)
    side = 0.0 if bag.is_tube else bag.seam
    is_closed = bag.kind in CLOSED_KINDS
    end = 0.0 if is_closed else bag.seam
    items: list[Item] = [
        *bag_lines(plan, (0.0, 0.0)),
        *valve_lines(spot, valve.radius),
        *_joints(plan, side),
    ]
    view = View(name="bag", scale=scale, origin=(0.0, 0.0), items=tuple(items))
    left, low, right, high = -bag.seam, -side, bag.length + end, bag.width + side
    fold = bag.length - (plan.layup.bag.closure if is_closed else 0.0)
    below = [
        Wanted(start=(0.0, low), end=spot, text=written(spot[0], units)),
        Wanted(start=(0.0, low), end=(bag.length, low), text=written(bag.length, units)),
        Wanted(start=(left, low), end=(right, low), text=written(bag.film_length, units)),
    ]
    above = [
        Wanted(start=(left, high), end=(0.0, high), text=written(bag.seam, units)),
        Wanted(start=(fold, high), end=(bag.length, high), text=written(bag.length - fold, units)),
    ]
    beside = [
        Wanted(start=(left, 0.0), end=spot, text=written(spot[1], units)),
        Wanted(start=(left, 0.0), end=(left, bag.width), text=written(bag.width, units)),
    ]
    if side:
        beside.append(Wanted(start=(left, low), end=(left, high), text=written(bag.film_width, units)))
    left_of = stack_dimensions(view, beside, Side.LEFT, left)
    taken = boxes_of(view_on_paper(replace(view, items=left_of)))
    return view.with_items(
        *left_of,
        *stack_dimensions(view, below, Side.BELOW, low, taken),
        *stack_dimensions(view, above, Side.ABOVE, high, taken),
    )


def _joints(plan: Plan, side: Mm) -> Iterator[Item]:
    """Edges of the laps between strips of film."""
    cut, bag = plan.film, plan.bag
    if cut is None or cut.count == 1:
        return
    sheet, half = cut.sheets[0], 0.5 * cut.seam
    for joint in sheet.joints:
        for place in (joint - half, joint + half):
            if cut.run == "along":
                start, end = (-bag.seam, place - side), (sheet.length - bag.seam, place - side)
            else:
                start, end = (place - bag.seam, -side), (place - bag.seam, sheet.width - side)
            yield Stroke(curve=Line(start=start, end=end), pen=NARROW, part="lap")
