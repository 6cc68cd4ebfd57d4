"""Views in rows on as many sheets as they need: beside each other, above the title block."""

from collections.abc import Callable, Sequence
from dataclasses import replace

from ...model.units import Mm
from ..drawing.boxes import extent
from ..drawing.paper import Box, Paper
from ..drawing.scale import SCALES, Scale
from ..drawing.sheet import Sheet, View, view_on_paper
from ..drawing.title_block import HEIGHT, TitleBlock
from .compose import inner

GAP: Mm = 10.0
CELL: tuple[Mm, Mm] = (118.0, 104.0)
"""Room of a view of ordinary shape; what is long and narrow gets a row of its own."""
LONG: float = 4.0
"""Length over width from which a thing is long and narrow."""

Maker = Callable[[Scale], View]


def room(paper: Paper) -> Box:
    """Room of the rows on a paper."""
    whole = inner(paper)
    return Box(low=(whole.low[0], paper.space.low[1] + HEIGHT + 4.0), high=whole.high)


def scaled(make: Maker, span: tuple[Mm, Mm], paper: Paper) -> View:
    """View at the largest scale, up to full size, at which it fits into its cell."""
    whole = room(paper)
    long = max(span) > LONG * min(span)
    wide, high = (whole.width, CELL[1]) if long else CELL
    shown: View | None = None
    for scale in SCALES:
        if scale.ratio > 1.0 or span[0] * scale.ratio > wide or span[1] * scale.ratio > high:
            continue
        view = make(scale)
        box = extent(view_on_paper(view))
        if box.width <= wide and box.height <= high:
            return view
        shown = shown or view
    # words too long for a cell never fit: then the thing itself decides
    return shown or view


def sheets_of(views: Sequence[View], block: TitleBlock, name: str, paper: Paper) -> tuple[Sheet, ...]:
    """Sheets of a paper with the views in rows, in their order."""
    pages = _pages(views, paper)
    many = len(pages) > 1
    return tuple(
        Sheet(
            name=f"{name} {number}" if many else name,
            paper=paper,
            title=block,
            views=tuple(page),
        )
        for number, page in enumerate(pages, 1)
    )


def _pages(views: Sequence[View], paper: Paper) -> list[list[View]]:
    area = room(paper)
    pages: list[list[View]] = [[]]
    top = area.high[1]
    for row in _rows(views, area.width):
        height = max(box.height for _, box in row)
        if pages[-1] and top - height < area.low[1]:
            pages.append([])
            top = area.high[1]
        space = (area.width - sum(box.width for _, box in row)) / (len(row) + 1)
        x = area.low[0]
        for view, box in row:
            x += space
            shift = (x - box.low[0], top - height - box.low[1] + 0.5 * (height - box.height))
            moved = (view.origin[0] + shift[0], view.origin[1] + shift[1])
            pages[-1].append(replace(view, origin=moved))
            x += box.width
        top -= height + GAP
    return pages


def _rows(views: Sequence[View], width: Mm) -> list[list[tuple[View, Box]]]:
    rows: list[list[tuple[View, Box]]] = [[]]
    taken = 0.0
    for view in views:
        box = extent(view_on_paper(view))
        if rows[-1] and taken + box.width > width:
            rows.append([])
            taken = 0.0
        rows[-1].append((view, box))
        taken += box.width + GAP
    return [row for row in rows if row]
