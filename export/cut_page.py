"""The cut list as a page to hang in the shop: large letters, a box to tick for every piece, both unit systems.

What a saw or a knife needs stands in one row: what it is, of what, how long and wide and thick, which way the grain
runs. The same rows as a table for spreadsheets are in ``cut_list``.
"""

from collections.abc import Iterator, Sequence

from ..model.layup.layup import BareUnit
from ..model.nest.nesting import Nesting
from ..model.plan import Plan
from ..model.report import Report
from ..model.units import Mm
from ..model.wording import in_inches, in_mm
from .cuts import Cut, cuts
from .document.pieces import Cell, Chapter, Column, Document, Piece, Sentences, Table
from .preview import verdict
from .report.checks import remark
from .report.report import PAPERS
from .report.stock import solid_stock, stock_table

COLUMNS = (
    Column(name="Cut", share=11),
    Column(name="No.", share=6),
    Column(name="Part", share=31),
    Column(name="Length", share=21),
    Column(name="Width", share=19),
    Column(name="Thick", share=16),
    Column(name="Grain", share=12),
)
LETTERS = 11.5
"""Size of the letters in points; a row is read from a step away."""
MOST_BOXES = 24
"""Pieces of one row that get a box each; more are counted by hand."""


def cut_page(plan: Plan, report: Report, nestings: Sequence[Nesting]) -> Document:
    """Cut list of a plan as a document, from below upward, and what to take of each stock."""
    status, summary = verdict(report)
    return Document(
        title=plan.layup.title or "Layup",
        kind="Cut list",
        status=status,
        summary=summary,
        chapters=(
            Chapter(
                key="stops",
                title="Do not cut yet",
                pieces=tuple(remark(check) for check in report.checks if check.status == "stop"),
            ),
            Chapter(key="cuts", title="Cut", pieces=tuple(_pieces(plan))),
            Chapter(
                key="stock", title="Take from stock", pieces=(*stock_table(nestings), *solid_stock(plan))
            ),
        ),
        size=PAPERS[plan.layup.drawing.paper],
        letters=LETTERS,
    )


def _pieces(plan: Plan) -> Iterator[Piece]:
    yield Table(
        about="From below upward. The grain runs along the length or the width that stands in the row.",
        columns=COLUMNS,
        rows=tuple(_row(cut, plan.layup.unit) for cut in cuts(plan)),
        head=2,
    )
    yield Sentences(texts=tuple(_notes(plan)))


def _row(cut: Cut, unit: BareUnit) -> tuple[Cell, ...]:
    about = "; ".join(part for part in (cut.material, cut.note) if part)
    return (
        Cell(
            text=f"× {cut.pieces}" if cut.pieces > 1 else "",
            boxes=cut.pieces if cut.pieces <= MOST_BOXES else 1,
        ),
        Cell(text=cut.number),
        Cell(text=cut.part, below=about),
        *(_size(size, unit) for size in (cut.length, cut.width, cut.thickness)),
        Cell(text=cut.grain.removeprefix("along ")),
    )


def _size(size: Mm, unit: BareUnit) -> Cell:
    """One size, that of the shop's own rulers first."""
    metric, inches = in_mm(size), in_inches(size)
    return (
        Cell(text=inches, below=metric, strong=True)
        if unit == "in"
        else Cell(text=metric, below=inches, strong=True)
    )


def _notes(plan: Plan) -> Iterator[str]:
    if plan.layup.is_bent:
        yield "Blanks of a bend are measured flat, at mid-thickness; each has a length of its own."
    if plan.is_undercut:
        yield "The form of this bend is undercut; neither form nor bag is designed, so neither is listed."
    yield "Inches are rounded to the nearest sixteenth; millimetres go before them."
    yield "Knives, saws and routers cut people as well as veneer: follow their makers' rules and local codes."
