"""A sheet with one view and a column of notes and tables, on the smallest paper that carries it well."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from ...model.errors import ExportError
from ...model.units import Mm
from ..drawing.boxes import extent
from ..drawing.curves import Point
from ..drawing.lettering import RISE, Face
from ..drawing.paper import Box, Paper
from ..drawing.primitives import Item, Text
from ..drawing.scale import SCALES, Scale
from ..drawing.sheet import Sheet, View, placed, title_box, view_on_paper
from ..drawing.table import Column, paragraph, table
from ..drawing.title_block import HEIGHT, TitleBlock

MARGIN: Mm = 7.0
"""Distance from the frame: the centring marks reach 5 mm inside it."""
COLUMN: Mm = 164.0
LETTERS: Mm = 2.5
GAP: Mm = 5.0
LEAST: Mm = 75.0
"""Length on paper below which a view is too small to work from, where a larger paper is to be had."""

Rows = Sequence[Sequence[str]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Words:
    """Notes and tables beside a view, downward from a corner at the origin."""

    items: tuple[Item, ...]
    height: Mm


def words(notes: Sequence[str], tables: Sequence[tuple[Sequence[Column], Rows]] = ()) -> Words:
    """Set numbered notes, and tables below them."""
    items: list[Item] = []
    y = 0.0
    if notes:
        items.append(Text(text="Notes", position=(0.0, -RISE * LETTERS), height=LETTERS, face=Face.BOLD))
        y = -5.0
    for number, note in enumerate(notes, 1):
        lines, depth = paragraph((6.0, y), note, COLUMN - 6.0, LETTERS)
        items.append(Text(text=str(number), position=(0.0, lines[0].position[1]), height=LETTERS))
        items += lines
        y -= depth + 1.2
    for columns, rows in tables:
        drawn = table((0.0, y - 2.0), columns, rows, LETTERS)
        items += drawn.items
        y = drawn.box.low[1]
    return Words(items=tuple(items), height=-y)


def composed(
    make: Callable[[Scale], View],
    span: tuple[Mm, Mm],
    beside: Words,
    titled: Callable[[str], TitleBlock],
    name: str,
    papers: Sequence[Paper],
    detail: View | None = None,
) -> Sheet:
    """Put a view and its words on the smallest paper that carries them well.

    Parameters
    ----------
    make
        Draws the view at a scale, with its origin at the origin of the paper.
    span
        Size of the thing that is drawn.
    titled
        Gives the title block for a scale.
    papers
        Papers to choose from, the smallest first.
    detail
        A second view that stands above the words; lying papers only have room for it.

    Raises
    ------
    ExportError
        Not even the largest paper carries it.
    """
    drawn: dict[Scale, tuple[View, Box]] = {}
    poor: Sheet | None = None
    for paper in papers:
        for scale in SCALES:
            if scale.ratio > 1.0 or max(span) * scale.ratio > paper.width:
                continue
            if scale not in drawn:
                view = make(scale)
                drawn[scale] = (view, extent(view_on_paper(view)))
            sheet = _placed(paper, *drawn[scale], beside, titled(str(scale)), name, detail)
            if sheet is not None:
                if max(span) * scale.ratio >= LEAST or scale.ratio >= 1.0:
                    return sheet
                poor = poor or sheet
                break
    if poor is not None:
        return poor
    raise ExportError(
        f"sheet {name}: found no paper up to {papers[-1].name} on which view and notes fit; make the panel smaller or "
        "its layers fewer"
    )


def _placed(
    paper: Paper, view: View, box: Box, beside: Words, block: TitleBlock, name: str, detail: View | None
) -> Sheet | None:
    """Place a view and its words; with a detail above them the view has only what is left of both."""
    rooms = list(_rooms(paper, beside.height))
    details: tuple[View, ...] = ()
    if detail is not None:
        if len(rooms) < 2:
            return None
        above = replace(rooms[0][0], low=(rooms[1][0].high[0] + GAP, rooms[0][0].low[1]))
        moved = _centred(detail, extent(view_on_paper(detail)), above)
        if moved is None:
            return None
        details, rooms = (moved,), rooms[1:]
    for room, corner in rooms:
        moved = _centred(view, box, room)
        if moved is not None:
            items = tuple(placed(item, 1.0, corner) for item in beside.items)
            return Sheet(name=name, paper=paper, title=block, views=(moved, *details), items=items)
    return None


def _centred(view: View, box: Box, room: Box) -> View | None:
    """View moved into the middle of a room; None where it does not fit."""
    if box.width > room.width or box.height > room.height:
        return None
    shift = (room.centre[0] - box.centre[0], room.centre[1] - box.centre[1])
    return replace(view, origin=(view.origin[0] + shift[0], view.origin[1] + shift[1]))


def inner(paper: Paper) -> Box:
    """Room within the frame, clear of the centring marks."""
    space = paper.space
    return Box(
        low=(space.low[0] + MARGIN, space.low[1] + MARGIN),
        high=(space.high[0] - MARGIN, space.high[1] - MARGIN),
    )


def _rooms(paper: Paper, height: Mm) -> Iterator[tuple[Box, Point]]:
    """Rooms for a view, and the upper left corner of the column that goes with each."""
    whole, block = inner(paper), title_box(paper)
    top = block.high[1] + GAP + height
    if top > whole.high[1]:
        return
    x = max(block.low[0], whole.low[0]) + (0.0 if paper.is_upright else 4.0)
    yield Box(low=(whole.low[0], top + GAP), high=whole.high), (x, top)
    if not paper.is_upright:
        yield Box(low=whole.low, high=(block.low[0] - GAP, whole.high[1])), (x, top)


__all__ = ["HEIGHT", "Words", "composed", "inner", "words"]
