"""The set of drawings of a layup: every sheet in its order, each with its number in the set."""

from collections.abc import Iterator, Sequence

from ...model.nest.nesting import Nesting
from ...model.plan import Plan
from ...model.report import Report
from ..drawing.sheet import Sheet
from .bag_sheet import bag_sheet
from .blank_sheet import blank_sheets
from .form_sheet import form_sheets
from .nest_sheet import nest_sheets
from .panel_sheet import panel_sheet
from .plan_sheet import plan_sheet
from .platen_sheet import caul_sheet, platen_sheet
from .section import section_sheets
from .titles import counted


def drawings(plan: Plan, report: Report, nestings: Sequence[Nesting]) -> tuple[Sheet, ...]:
    """Sheets of a layup; what is not designed, as past the half round, has none.

    Parameters
    ----------
    nestings
        The pieces laid onto stock.
    """
    return counted(tuple(_sheets(plan, report, nestings)))


def _sheets(plan: Plan, report: Report, nestings: Sequence[Nesting]) -> Iterator[Sheet]:
    yield from section_sheets(plan, report)
    if not plan.is_undercut:
        yield plan_sheet(plan, report)
    panel = panel_sheet(plan, report)
    if panel is not None:
        yield panel
    yield from blank_sheets(plan, report)
    if plan.base.kind == "platen":
        yield platen_sheet(plan, report)
    caul = caul_sheet(plan, report)
    if caul is not None:
        yield caul
    yield from form_sheets(plan, report)
    if not plan.is_undercut:
        yield bag_sheet(plan, report)
    yield from nest_sheets(plan, report, nestings)
