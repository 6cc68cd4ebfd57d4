"""Views in rows on as many sheets as they need: beside each other, above the title block, all at one scale."""

import math
from collections.abc import Callable, Sequence
from dataclasses import replace

from ...model.units import Mm
from ..drawing.boxes import extent
from ..drawing.paper import Box, Paper
from ..drawing.scale import SCALES, Scale
from ..drawing.sheet import Sheet, View, view_on_paper
from ..drawing.title_block import HEIGHT, TitleBlock
from .compose import inner

GAP: Mm = 8.0
"""Least distance of views from each other."""
ON_A_SHEET = 4
"""Views on a sheet for which a larger scale is worth another sheet."""

CELL: tuple[Mm, Mm] = (118.0, 104.0)
"""Room of a view of ordinary shape; what is long and narrow gets a row of its own."""
LONG: float = 4.0
"""Length over width from which a thing is long and narrow."""

Maker = Callable[[Scale], View]
Sized = tuple[View, Box]


def at_one_scale(makers: Sequence[Maker], span: tuple[Mm, Mm], paper: Paper) -> tuple[list[View], Scale]:
    """Views at the largest scale for which they need not too many sheets, and that scale.

    Parameters
    ----------
    makers
        Each draws one view at a scale, its origin at the origin of the paper.
    span
        Length and width of the largest of the things that are drawn.
    """
    area = room(paper)
    fitting = [
        scale
        for scale in SCALES
        if scale.ratio <= 1.0 and span[0] * scale.ratio <= area.width and span[1] * scale.ratio <= area.height
    ]
    views: list[Sized] = []
    for scale in fitting or SCALES[-1:]:
        views = [_sized(make(scale)) for make in makers]
        if any(box.width > area.width or box.height > area.height for _, box in views):
            continue
        if len(_pages(views, area)) <= math.ceil(len(views) / ON_A_SHEET):
            break
    return [view for view, _ in views], scale


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
    pages = _pages([_sized(view) for view in views], room(paper))
    many = len(pages) > 1
    return tuple(
        Sheet(name=f"{name} {number}" if many else name, paper=paper, title=block, views=tuple(page))
        for number, page in enumerate(pages, 1)
    )


def _sized(view: View) -> Sized:
    return view, extent(view_on_paper(view))


def _pages(views: Sequence[Sized], area: Box) -> list[list[View]]:
    """Rows on as many sheets as they need; what is left of a sheet's height stands between its rows."""
    sheets: list[list[list[Sized]]] = [[]]
    taken = 0.0
    for row in _rows(views, area.width):
        height = _height(row)
        if sheets[-1] and taken + height > area.height:
            sheets.append([])
            taken = 0.0
        sheets[-1].append(row)
        taken += height + GAP
    return [_placed(rows, area) for rows in sheets]


def _placed(rows: Sequence[Sequence[Sized]], area: Box) -> list[View]:
    spare = area.height - sum(_height(row) for row in rows)
    between = min(max(spare / (len(rows) + 1), GAP), 2.5 * GAP)
    top = area.high[1]
    found = []
    for row in rows:
        height = _height(row)
        space = (area.width - sum(box.width for _, box in row)) / (len(row) + 1)
        x = area.low[0]
        for view, box in row:
            x += space
            # drawn on one level: the lower edges of a row stand on a line
            shift = (x - box.low[0], top - height - box.low[1])
            found.append(replace(view, origin=(view.origin[0] + shift[0], view.origin[1] + shift[1])))
            x += box.width
        top -= height + between
    return found


def _height(row: Sequence[Sized]) -> Mm:
    return max(box.height for _, box in row)


def _rows(views: Sequence[Sized], width: Mm) -> list[list[Sized]]:
    """Rows as full as they can be, and then as even as they can be."""
    full = _filled(views, width)
    each = math.ceil(len(views) / max(len(full), 1))
    even = [list(views[start : start + each]) for start in range(0, len(views), each)]
    fits = all(sum(box.width + GAP for _, box in row) - GAP <= width for row in even)
    return even if fits and len(even) == len(full) else full


def _filled(views: Sequence[Sized], width: Mm) -> list[list[Sized]]:
    rows: list[list[Sized]] = []
    taken = math.inf
    for view, box in views:
        if taken + box.width > width:
            rows.append([])
            taken = 0.0
        rows[-1].append((view, box))
        taken += box.width + GAP
    return rows
