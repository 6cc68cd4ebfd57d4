"""Drawings of a form: general arrangement, the edge with its ordinates, the other boards, and both curves."""

from collections.abc import Iterator, Sequence

from ...model.plan import Plan
from ...model.report import Report
from ...model.wording import both, decimal
from ..drawing.sheet import Sheet
from ..drawing.table import Column
from .compose import About, Rows, composed, title, words
from .form_boards import board_views
from .form_curves import OPENING, curves_span, curves_view, opening_rows
from .form_general import general_span, general_view
from .form_rib import (
    CUTS,
    PIECES,
    POINTS,
    board_of,
    cut_rows,
    piece_rows,
    point_rows,
    points_of,
    rib_span,
    rib_view,
)
from .form_rows import COLUMNS, cells, form_rows
from .particulars import NOTHING_SAID, Particulars
from .rows_of_views import sheets_of
from .system import Units


def form_sheets(
    plan: Plan, report: Report, facts: Particulars = NOTHING_SAID, units: Units = Units.BOTH
) -> tuple[Sheet, ...]:
    """Every drawing of the form of a bent layup; none for flat work, nor where the bend is undercut."""
    if plan.form is None:
        return ()
    return (
        _general(plan, report, facts, units),
        *_edge(plan, report, facts, units),
        *_boards(plan, report, facts, units),
        _curves(plan, report, facts, units),
    )


def _general(plan: Plan, report: Report, facts: Particulars, units: Units) -> Sheet:
    about = About(name="form", subtitle="Form, general arrangement", document="Assembly drawing")
    rows = [cells(row) for row in form_rows(plan)]
    return composed(
        lambda scale: general_view(plan, units, scale),
        general_span(plan),
        words(tuple(_notes(plan)), [(COLUMNS, rows)] if rows else []),
        lambda scale: title(plan, report, facts, about, units, scale),
        about.name,
    )


def _notes(plan: Plan) -> Iterator[str]:
    assert plan.form is not None
    layup, side = plan.layup, plan.form.side
    yield f"The form lies on the {side.side} of the bend: {'; '.join(side.reasons)}." + (
        f" Its price: {side.price}." if side.price else ""
    )
    between = plan.stack.work[0].height
    yield (
        f"Its face is the true offset of the panel through the {both(between)} that lie between, and reaches "
        f"{both(layup.form.margin + layup.substrate.trim)} or more past the finished panel on all sides (chain line)."
    )
    yield f"Ease every edge that the film touches to R {both(layup.form.easing)}; seal the face and wax it."
    if plan.form.ribs is not None:
        yield from _rib_notes(plan)
    elif plan.form.built is not None:
        yield "Cut one sheet to the line, rout the others to it flush, glue the stack, then fair and seal the face."
    else:
        yield "Built as a box: its walls are as the report says; they are not drawn."


def _rib_notes(plan: Plan) -> Iterator[str]:
    assert plan.form is not None
    ribs = plan.form.ribs
    assert ribs is not None
    yield (
        f"Ribs {both(ribs.spacing)} apart, middle to middle. Rib edges lie {both(ribs.load.skin)} below the face: the skin "
        "is taken off already. Notches are as wide as the board at hand."
    )
    yield (
        "Drop the ribs over the stretchers, screw them to the baseboard, then glue and pin the skin to every rib from the "
        "middle outward."
    )
    if ribs.baseboard is None:
        yield "Without a baseboard the lower film is drawn up between the ribs and bursts: add one."
    if any(part.holes for part in ribs.parts):
        yield "Vents open every cell to its neighbours and to the outside. Lead breather over those in the outer ribs."


def _edge(plan: Plan, report: Report, facts: Particulars, units: Units) -> Iterator[Sheet]:
    part = board_of(plan)
    if part is None:
        return
    about = About(
        name="form edge",
        subtitle=f"{part.name.capitalize()}, {part.quantity} pieces",
        document="Part drawing",
    )
    found = points_of(plan, units)
    pieces = f"{part.material_name}, {both(part.thickness)} thick, {part.quantity} pieces, all equal."
    way = "along the foot where the edge runs rather level, in height where it is rather steep."
    notes = (
        f"{pieces} Draw a base line and a middle line, set off the points, and join them along a bent batten.",
        f"Points are {both(found.step)} apart: {way}{' Both sides are the same.' if found.is_even else ''}",
    )
    tables: list[tuple[Sequence[Column], Rows]] = []
    for columns, rows in (
        (PIECES, piece_rows(plan)),
        (CUTS, cut_rows(plan)),
        (POINTS, point_rows(plan, units)),
    ):
        if rows:
            tables.append((columns, rows))
    yield composed(
        lambda scale: rib_view(plan, part, units, scale),
        rib_span(part),
        words(notes, tables),
        lambda scale: title(plan, report, facts, about, units, scale),
        about.name,
    )


def _boards(plan: Plan, report: Report, facts: Particulars, units: Units) -> tuple[Sheet, ...]:
    views = board_views(plan, units)
    if not views:
        return ()
    about = About(name="form boards", subtitle="Stretchers, baseboard and skin", document="Part drawing")
    return sheets_of(views, lambda _, __: title(plan, report, facts, about, units, "as shown"), about.name)


def _curves(plan: Plan, report: Report, facts: Particulars, units: Units) -> Sheet:
    about = About(name="form curves", subtitle="Form and released panel", document="Drawing")
    share = 0.0 if plan.spring is None else 100.0 * plan.spring.used
    lines = (
        "Full line: the panel's underside as it lies on the form. Chain line: the same when it is released."
    )
    notes = (
        f"{lines} They are laid on each other in the middle.",
        f"The work loses {decimal(share, 1)} % of its turn off the form; every length stays."
        if share
        else "No springback is allowed for.",
        "The table tells how far the released panel stands off, measured straight, at places along its underside's curve.",
    )
    return composed(
        lambda scale: curves_view(plan, report, units, scale),
        curves_span(plan),
        words(notes, [(OPENING, opening_rows(plan))]),
        lambda scale: title(plan, report, facts, about, units, scale),
        about.name,
    )
