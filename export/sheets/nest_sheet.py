"""Nesting: every sheet, leaf and length of roll that is taken, with the pieces on it."""

from collections.abc import Sequence

from ...model.nest.nesting import Nesting
from ...model.plan import Plan
from ...model.report import Report
from ..drawing.boxes import extent
from ..drawing.paper import Box
from ..drawing.scale import SCALES
from ..drawing.sheet import Sheet, View, view_on_paper
from ..stock import StockSheet, stock_sheets
from .nest_view import is_told, nest_view
from .rows_of_views import room, sheets_of
from .titles import About, papers_of, title
from .words import Units, units_of

LARGEST = 0.5
"""Largest scale of a sheet of stock."""


def nest_sheets(plan: Plan, report: Report, nestings: Sequence[Nesting]) -> tuple[Sheet, ...]:
    """Sheets with all stock of a layup; none where nothing could be laid."""
    found = stock_sheets(nestings)
    if not found:
        return ()
    paper, units = papers_of(plan)[1], units_of(plan)
    views = [_view(sheet, units, room(paper)) for sheet in found]
    about = About(name="nesting", subtitle="Pieces laid onto stock", document="Cutting drawing")
    return sheets_of(views, title(plan, report, about, "as shown"), about.name, paper)


def _view(sheet: StockSheet, units: Units, room: Box) -> View:
    """View at the smallest scale at which every piece is told in full, else at the largest that fits a page."""
    view: View | None = None
    for scale in reversed([one for one in SCALES if one.ratio <= LARGEST]):
        made = nest_view(sheet, units, scale)
        box = extent(view_on_paper(made))
        if view is not None and (box.width > room.width or box.height > room.height):
            break
        view = made
        if is_told(sheet, units, scale):
            break
    assert view is not None
    return view
