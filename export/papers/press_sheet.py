"""The press sheet: one or two pages for the wall by the bench, in large letters, with boxes to tick and to fill in.

What it shows, and in which order, is common practice: the section with the face's direction, the order of laying with
the cut sizes, glue, times, leak test, gauge, valve, temperature, release, what comes afterwards, and cautions.
"""

from collections.abc import Iterator
from dataclasses import replace

from ...model.plan import Plan
from ...model.report import Report
from ...model.units import Mm
from ..drawing.lettering import Face
from ..drawing.pdf import write_pdf
from ..drawing.primitives import Align
from ..drawing.sheet import Sheet
from ..drawing.table import Column
from ..safety import cautions
from ..sheets.side import reasons
from ..sheets.titles import About, counted, papers_of, title
from .bench import afterwards, clock_fields, glue_words, handling_words, leak_rows, press_fields, valve_fields
from .flow import Block, blanks, fewest_pages, fields, heading, numbered, rows, ticked, words
from .order import order_rows
from .sketch import sketch

ABOUT = About(name="press sheet", subtitle="Press sheet for the bench", document="Press sheet")
LETTERS: tuple[tuple[Mm, Mm], ...] = ((3.5, 3.5), (3.5, 2.5), (2.5, 2.5))
"""Heights that are tried, of the whole and of the cautions; 3.5 mm is read at arm's length."""
MOST_PAGES = 2

ORDER = (
    Column(heading="", width=7.0, align=Align.CENTRE),
    Column(heading="No.", width=11.0, align=Align.CENTRE),
    Column(heading="Lay, from below", width=60.0),
    Column(heading="Cut mm", width=33.0, align=Align.RIGHT),
    Column(heading="Cut in", width=44.0, align=Align.RIGHT),
    Column(heading="Qty", width=11.0, align=Align.CENTRE),
)
DRY = "Dry first, no glue: laid up, bag closed, gauge reached, leak test held as below."
LEAK = (
    Column(heading="Pump shut off for", width=52.0),
    Column(heading="Gauge not below", width=60.0),
    Column(heading="Read", width=54.0),
)


def press_sheet(plan: Plan, report: Report) -> tuple[Sheet, ...]:
    """Pages of the press sheet."""
    paper = papers_of(plan)[0]
    handled = handling_words(plan, report)
    found = fewest_pages(
        lambda main, fine: list(_blocks(plan, report, main, fine, handled)), LETTERS[:2], MOST_PAGES, paper
    )
    if len(found) > MOST_PAGES:
        # large letters go before advice that the check gives too
        load = handled[:1]
        found = fewest_pages(
            lambda main, fine: list(_blocks(plan, report, main, fine, load)), LETTERS[1:], MOST_PAGES, paper
        )
    block = title(plan, report, ABOUT, "none", "mm and inches")
    sheets = (
        Sheet(name=f"press sheet {number}", paper=paper, title=block, items=tuple(items))
        for number, items in enumerate(found, 1)
    )
    return counted(tuple(sheets))


def press_pdf(plan: Plan, report: Report) -> bytes:
    """Press sheet as PDF."""
    return write_pdf(press_sheet(plan, report))


def _blocks(plan: Plan, report: Report, letters: Mm, fine: Mm, handled: tuple[str, ...]) -> Iterator[Block]:
    if report.has_stop:
        yield words("STOP: do not press this layup as it is.", 7.0, face=Face.BOLD)
        yield from numbered(reasons(report), letters)
    yield sketch(plan)
    if not plan.stack.sheet.profile.is_even:
        yield words("The sketch makes an arc of the bend.", 2.5)
    yield heading("Order of laying")
    yield rows(ORDER, order_rows(plan), letters, boxes=True)
    yield heading("Glue")
    yield from (replace(block, stays=True) for block in ticked((DRY,), letters))
    yield fields(glue_words(plan, report), letters)
    yield heading("Clock, from the first glue spread")
    yield fields(clock_fields(report), letters)
    yield blanks(("First glue at (time)", "Bag closed at (time)", "Gauge reached at (time)"), letters)
    yield heading("Press")
    yield fields(press_fields(plan, report), letters)
    yield rows(LEAK, leak_rows(plan, report), letters, boxes=False)
    if not plan.is_undercut:
        yield heading("Valve and work in the flat bag")
        yield fields(valve_fields(plan), letters)
        yield words(" ".join(handled), fine)
    yield heading("Afterwards")
    yield from ticked(afterwards(plan), fine)
    yield heading("Cautions")
    yield from numbered(cautions(plan, report), fine)
