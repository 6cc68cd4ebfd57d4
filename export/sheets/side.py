"""The column beside the views: a stop where there is one, notes, and the parts list above the title block."""

from collections.abc import Sequence
from dataclasses import dataclass

from ...model.plan import Plan
from ...model.report import Report
from ...model.units import Mm
from ..drawing.curves import Point, rectangle
from ..drawing.lettering import RISE, Face
from ..drawing.pens import FRAME
from ..drawing.primitives import Align, Item, Stroke, Text
from ..drawing.sheet import placed
from ..drawing.table import Column, paragraph, table
from .notes import notes
from .parts import parts_of, row
from .words import Units, units_of

WIDTH: Mm = 174.0


def _columns(units: Units) -> tuple[Column, ...]:
    """Columns of the parts list; what one unit leaves free goes to part and material."""
    sizes = {
        Units.METRIC: (Column(heading="Blank mm", width=28.0, align=Align.RIGHT),),
        Units.INCH: (Column(heading="Blank in", width=36.0, align=Align.RIGHT),),
        Units.BOTH: (
            Column(heading="Blank mm", width=28.0, align=Align.RIGHT),
            Column(heading="Blank in", width=33.0, align=Align.RIGHT),
        ),
    }[units]
    thick = Column(
        heading="Thick in" if units is Units.INCH else "Thick mm",
        width=14.0 if units is Units.INCH else 12.0,
        align=Align.RIGHT,
    )
    room = WIDTH - 50.0 - thick.width + 12.0 - sum(column.width for column in sizes)
    return (
        Column(heading="No.", width=18.0, align=Align.CENTRE),
        Column(heading="Part", width=0.5 * room - 0.5),
        Column(heading="Material", width=0.5 * room + 0.5),
        Column(heading="Grain", width=12.0),
        thick,
        *sizes,
        Column(heading="Qty", width=8.0, align=Align.CENTRE),
    )


LETTERS: Mm = 2.5
GAP: Mm = 4.0
"""Distance between list, notes and stop."""
PAD: Mm = 2.5
"""Distance of the words of a stop from their frame."""
STOP: Mm = 10.0
REASON: Mm = 3.5
"""Lettering heights of the word STOP and of its reasons."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Side:
    """The column, downward from a corner at the origin, and its height."""

    items: tuple[Item, ...]
    height: Mm

    def at(self, corner: Point) -> tuple[Item, ...]:
        """Items of the column with its upper left corner at a place on paper."""
        return tuple(placed(item, 1.0, corner) for item in self.items)


def side(plan: Plan, report: Report, whole: Plan) -> Side:
    """Column of a plan and its report, with the parts of the whole of which it may be one end."""
    items, y = [], 0.0
    if report.has_stop:
        stop, depth = stop_box(reasons(report))
        items += stop
        y -= depth + GAP
    words, depth = _notes(notes(plan), y)
    items += words
    y -= depth + GAP
    units = units_of(plan)
    listing = table((0.0, y), _columns(units), [row(part, units) for part in parts_of(whole)], LETTERS)
    return Side(items=(*items, *listing.items), height=-listing.box.low[1])


def reasons(report: Report) -> tuple[str, ...]:
    """Why the work must not be pressed: what each stop found, and what to do."""
    stops = (check for check in report.checks if check.status == "stop")
    return tuple(dict.fromkeys(f"{check.message} {check.remedy}".strip() for check in stops))


def stop_box(why: Sequence[str]) -> tuple[list[Item], Mm]:
    """Framed mark that forbids to press, with its reasons, and its height."""
    items: list[Item] = []
    y = -PAD
    items.append(Text(text="STOP", position=(PAD, y - RISE * STOP), height=STOP, face=Face.BOLD))
    first = "Do not press this layup as it is."
    items.append(Text(text=first, position=(PAD + 36.0, y - RISE * STOP), height=REASON, face=Face.BOLD))
    y -= RISE * STOP + PAD
    for number, reason in enumerate(why, 1):
        lines, depth = paragraph((PAD + 6.0, y), reason, WIDTH - 2.0 * PAD - 6.0, REASON)
        items.append(Text(text=f"{number}", position=(PAD, y - RISE * REASON), height=REASON))
        items += lines
        y -= depth + 1.5
    y -= PAD - 1.5
    items.append(Stroke(curve=rectangle((0.0, y), (WIDTH, 0.0)), pen=FRAME, part="stop"))
    return items, -y


def _notes(sentences: Sequence[str], top: Mm) -> tuple[list[Item], Mm]:
    """Numbered notes, downward, and their height."""
    items: list[Item] = [
        Text(text="Notes", position=(0.0, top - RISE * LETTERS), height=LETTERS, face=Face.BOLD)
    ]
    y = top - 5.0
    for number, sentence in enumerate(sentences, 1):
        lines, depth = paragraph((6.0, y), sentence, WIDTH - 6.0, LETTERS)
        items.append(Text(text=str(number), position=(0.0, y - RISE * LETTERS), height=LETTERS))
        items += lines
        y -= depth + 1.2
    return items, top - y
