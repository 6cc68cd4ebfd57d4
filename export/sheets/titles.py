"""What the title block of a sheet says: the job, what the layup file tells of its drawings, and the sheet itself."""

from dataclasses import dataclass, replace

from ...model.plan import Plan
from ...model.report import Report
from ..drawing.paper import ANSI_PAPERS, ISO_PAPERS, Paper
from ..drawing.sheet import Sheet
from ..drawing.title_block import TitleBlock
from .words import units_of

STOP_STATUS = "STOP – do not press"


@dataclass(frozen=True, slots=True, kw_only=True)
class About:
    """What the title block of a sheet says beside the job's own particulars.

    Parameters
    ----------
    name
        Short name of the sheet, and of its file.
    """

    name: str
    subtitle: str
    document: str = "Drawing"


def title(plan: Plan, report: Report, about: About, scale: str, units: str = "") -> TitleBlock:
    """Title block of a sheet of a job; units are those of the drawings where none are said."""
    drawing = plan.layup.drawing
    return TitleBlock(
        title=plan.layup.title or "Layup",
        subtitle=about.subtitle,
        owner=drawing.owner or "",
        number=drawing.number or "",
        date=drawing.date or "",
        creator=drawing.drawn_by or "",
        approval=drawing.approved_by or "",
        revision=drawing.revision or "",
        document=about.document,
        status=STOP_STATUS if report.has_stop else "",
        scale=scale,
        units=units or units_of(plan).words,
    )


def papers_of(plan: Plan) -> tuple[Paper, ...]:
    """Papers that the drawings of a layup may be on, the smallest, which stands upright, first."""
    return {"ISO": ISO_PAPERS, "North American": ANSI_PAPERS}[plan.layup.drawing.paper]


def counted(sheets: tuple[Sheet, ...]) -> tuple[Sheet, ...]:
    """Sheets with their numbers in the set that they make."""
    return tuple(
        replace(sheet, title=replace(sheet.title, sheet=number, sheets=len(sheets)))
        for number, sheet in enumerate(sheets, 1)
    )
