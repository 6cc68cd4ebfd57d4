"""Drawings of a form: general arrangement, the edge with its ordinates, the other boards, and both curves."""

from collections.abc import Callable, Iterator, Sequence

from ...model.plan import Plan
from ...model.report import Report
from ...model.units import Mm
from ...model.wording import decimal
from ..drawing.scale import Scale
from ..drawing.sheet import Sheet, View
from ..drawing.table import Column
from .compose import Rows, composed, words
from .form_boards import board_views
from .form_curves import OPENING, curves_span, curves_view, opening_rows
from .form_general import front_items, general_span, general_view
from .form_rib import (
    CUTS,
    PIECES,
    POINTS,
    CutBoard,
    cut_boards,
    cut_rows,
    piece_rows,
    point_rows,
    rib_span,
    rib_view,
)
from .form_rows import COLUMNS, cells, form_rows
from .form_taper import taper_span, taper_view
from .rows_of_views import sheets_of
from .titles import About, papers_of, title
from .words import said, units_of


def form_sheets(plan: Plan, report: Report) -> tuple[Sheet, ...]:
    """Every drawing of the form of a bent layup; none for flat work, nor where the bend is undercut."""
    if plan.form is None:
        return ()
    return (
        _general(plan, report),
        *_edges(plan, report),
        *_boards(plan, report),
        *_curves(plan, report),
    )


def _general(plan: Plan, report: Report) -> Sheet:
    about = About(name="form", subtitle="Form, general arrangement", document="Assembly drawing")
    rows = [cells(row, units_of(plan)) for row in form_rows(plan)]
    make, span = _arrangement(plan)
    return composed(
        make,
        span,
        words(tuple(_notes(plan)), [(COLUMNS, rows)] if rows else []),
        lambda scale: title(plan, report, about, scale),
        about.name,
        papers_of(plan),
    )


def _arrangement(plan: Plan) -> tuple[Callable[[Scale], View], tuple[Mm, Mm]]:
    """What draws the general arrangement at a scale, and how large the thing is."""
    taper, carcase = plan.taper, None if plan.form is None else plan.form.carcase
    if taper is not None and carcase is not None:
        return lambda scale: taper_view(plan, taper, scale), taper_span(carcase)
    front = tuple(front_items(plan))
    return lambda scale: general_view(plan, front, scale), general_span(plan)


def _notes(plan: Plan) -> Iterator[str]:
    assert plan.form is not None
    layup, side, units = plan.layup, plan.form.side, units_of(plan)
    yield f"The form lies on the {side.side} of the bend: {'; '.join(side.reasons)}." + (
        f" Its price: {side.price}." if side.price else ""
    )
    between = plan.stack.work[0].height
    yield (
        f"Its face is the true offset of the panel through the {said(between, units)} that lie between, and reaches "
        f"{said(layup.form.margin + layup.substrate.trim, units)} or more past the finished panel on all sides (chain line)."
    )
    yield f"Ease every edge that the film touches to R {said(layup.form.easing, units)}; seal the face and wax it."
    if plan.taper is not None:
        yield _taper_note(plan)
    if plan.form.ribbed is not None:
        yield from _rib_notes(plan)
    elif plan.form.taper is not None:
        yield "Glue the sheets to a stack in their order, then plane the steps off until a batten lies flat on every ruling, and seal the face."
    elif plan.form.built is not None:
        yield "Cut one sheet to the line, rout the others to it flush, glue the stack, then fair and seal the face."
    else:
        yield "Built as a box: its walls are as the report says; they are not drawn."


def _taper_note(plan: Plan) -> str:
    assert plan.form is not None
    name = "sheet" if plan.layup.form.build == "stacked" else "rib"
    if plan.form.taper is None:
        return "The form tapers: it is drawn at both of its ends, and its face is straight along every ruling between them."
    return (
        f"The form tapers, so that every {name} has an edge of its own: {name} 1 stands at the near end of the panel. Each "
        "is cut to its larger side and bevelled to its smaller one."
    )


def _rib_notes(plan: Plan) -> Iterator[str]:
    assert plan.form is not None
    ribs, units = plan.form.ribbed, units_of(plan)
    assert ribs is not None
    yield (
        f"Ribs {said(ribs.spacing, units)} apart, middle to middle. Rib edges lie {said(ribs.load.skin, units)} below the face: the skin "
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


def _edges(plan: Plan, report: Report) -> Iterator[Sheet]:
    """A sheet for every kind of board that is cut to the face."""
    boards = cut_boards(plan)
    for board in boards:
        yield _edge(plan, report, board, f" {board.part.key.rpartition('-')[2]}" if len(boards) > 1 else "")


def _edge(plan: Plan, report: Report, board: CutBoard, number: str) -> Sheet:
    part, units = board.part, units_of(plan)
    many = f", {part.quantity} pieces" if part.quantity > 1 else ""
    about = About(
        name=f"form edge{number}", subtitle=f"{part.name.capitalize()}{many}", document="Part drawing"
    )
    found = board.points(units)
    equal = f", {part.quantity} pieces, all equal" if part.quantity > 1 else ""
    pieces = f"{part.material_name}, {said(part.thickness, units)} thick{equal}."
    way = "along the foot where the edge runs rather level, in height where it is rather steep."
    notes = [
        f"{pieces} Draw a base line and a middle line, set off the points, and join them along a bent batten.",
        f"Points are {said(found.step, units)} apart: {way}{' Both sides are the same.' if found.is_even else ''}",
    ]
    if board.behind:
        notes.append(
            "Dashed: its edge on the side toward the smaller end. Cut to the full line, then bevel that side down to the dashed "
            "one."
        )
    tables: list[tuple[Sequence[Column], Rows]] = []
    for columns, rows in (
        (PIECES, piece_rows(board, units)),
        (CUTS, cut_rows(board, units)),
        (POINTS, point_rows(board, units)),
    ):
        if rows:
            tables.append((columns, rows))
    return composed(
        lambda scale: rib_view(board, units, scale),
        rib_span(part),
        words(tuple(notes), tables),
        lambda scale: title(plan, report, about, scale),
        about.name,
        papers_of(plan),
    )


def _boards(plan: Plan, report: Report) -> tuple[Sheet, ...]:
    paper = papers_of(plan)[1]
    views = board_views(plan, paper)
    if not views:
        return ()
    about = About(name="form boards", subtitle="Stretchers, baseboard and skin", document="Part drawing")
    return sheets_of(views, title(plan, report, about, "as shown"), about.name, paper)


def _curves(plan: Plan, report: Report) -> Iterator[Sheet]:
    """Both curves of a bend; of a taper at each of its ends."""
    if plan.taper is None:
        yield _curve(plan, report, "")
        return
    for name, end in plan.taper.ends:
        yield _curve(end, report, name)


def _curve(plan: Plan, report: Report, end: str) -> Sheet:
    name = f"form curves {end}".strip()
    about = About(name=name, subtitle=f"Form and released panel{f', {end} end' if end else ''}")
    share = 0.0 if plan.spring is None else 100.0 * plan.spring.used
    lines = (
        "Full line: the panel's underside as it lies on the form. Chain line: the same when it is released."
    )
    notes = (
        f"{lines} The form stands on its foot; the panel lies on its middle.",
        f"The work loses {decimal(share, 1)} % of its turn off the form; every length stays."
        if share
        else "No springback is allowed for.",
        "The table tells how far the released panel stands off, measured straight, at places along its underside's curve.",
    )
    return composed(
        lambda scale: curves_view(plan, scale),
        curves_span(plan),
        words(notes, [(OPENING, opening_rows(plan))]),
        lambda scale: title(plan, report, about, scale),
        about.name,
        papers_of(plan),
    )
