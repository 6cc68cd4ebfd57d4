"""Cutting drawing of the bag's film: size, seams, the fold of the closure, the hole of the valve."""

from collections.abc import Iterator
from dataclasses import replace

from ...model.bag.size import CLOSED_KINDS
from ...model.plan import Plan
from ...model.report import Report
from ..drawing.boxes import boxes_of
from ..drawing.lanes import Wanted, stack_dimensions
from ..drawing.primitives import Align, Item, Side
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
    if bag.kind == "tube":
        yield "A tube has no side seams: its width is that of the tube as it lies flat."
    yield f"Seams {said(bag.seam, units_of(plan))} wide, {film.seaming}; chain lines show their inner edges."
    if bag.kind in CLOSED_KINDS:
        yield "Open end on the right; the dashed line is where the fold of the closure begins."
    yield "The circle is the base of the valve, in the upper film only; punch the hole to suit the valve's stem."
    yield "Keep film, folds and seams free of grit; round every edge that the film is drawn over."
    widest = max(film.stock_widths, default=0.0)
    if widest and not bag.is_owned and min(bag.film_length, bag.film_width) > widest:
        yield f"Wider than the widest roll that is usual ({said(widest, units_of(plan))}): join two widths, the join off the work."


def _view(plan: Plan, scale: Scale) -> View:
    bag, valve, units = plan.bag, plan.valve, units_of(plan)
    spot = (valve.from_closed_end, valve.from_left_seam)
    side = 0.0 if bag.kind == "tube" else bag.seam
    is_closed = bag.kind in CLOSED_KINDS
    end = 0.0 if is_closed else bag.seam
    items: list[Item] = [*bag_lines(plan, (0.0, 0.0)), *valve_lines(spot, valve.radius)]
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
