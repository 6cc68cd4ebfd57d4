"""The cut list: a table of every sheet to cut, for spreadsheets.

A spreadsheet takes a cell that begins with certain signs for a formula and runs it, and a bare 7/16 for the 16th of
July. So a text never begins with such a sign, and inches carry their mark.
"""

import csv
import io

from ..model.plan import Plan
from ..model.report import Report
from ..model.wording import decimal, in_inches
from .cuts import Cut, cuts

COLUMNS = (
    "number",
    "part",
    "material",
    "grain",
    "pieces",
    "length mm",
    "width mm",
    "thickness mm",
    "length in",
    "width in",
    "note",
    "job",
)
FORMULA_SIGNS = "=+-@\t\r\n\uff1d\uff0b\uff0d\uff20"
"""Signs that begin a formula, or that a spreadsheet skips to find one; wide ones among them."""


def cut_list(plan: Plan, report: Report) -> bytes:
    """Cut list of a plan as comma-separated values in UTF-8, from below upward; a stop is noted on every row."""
    stops = sorted({check.title for check in report.checks if check.status == "stop"})
    warning = f"STOP: {', '.join(stops)}" if stops else ""
    stream = io.StringIO(newline="")
    writer = csv.writer(stream, lineterminator="\r\n")
    writer.writerow(COLUMNS)
    for cut in cuts(plan):
        noted = "; ".join(part for part in (warning, cut.note) if part)
        writer.writerow([harmless(cell) for cell in (*_cells(cut), noted, plan.layup.title)])
    # the mark of the byte order tells spreadsheets that this is UTF-8
    return stream.getvalue().encode("utf-8-sig")


def harmless(cell: str) -> str:
    """Text that no spreadsheet takes for a formula."""
    return f"'{cell}" if cell.lstrip(" ").startswith(tuple(FORMULA_SIGNS)) else cell


def _cells(cut: Cut) -> tuple[str, ...]:
    """Cells of a row up to its note."""
    return (
        cut.number,
        cut.part,
        cut.material,
        cut.grain,
        str(cut.pieces),
        decimal(cut.length, 1),
        decimal(cut.width, 1),
        decimal(cut.thickness, 3),
        in_inches(cut.length),
        in_inches(cut.width),
    )
