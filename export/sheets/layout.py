"""Where views stand on a paper: in rows, beside a column that stands on the title block."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from ...model.units import Mm
from ..drawing.boxes import extent
from ..drawing.curves import Point
from ..drawing.paper import Box, Paper
from ..drawing.sheet import View, title_box, view_on_paper
from ..drawing.title_block import HEIGHT

MARGIN: Mm = 7.0
"""Distance from the frame: the centring marks reach 5 mm inside it."""
GAP: Mm = 6.0
"""Least distance between views, and of views from the column."""
ABOVE_TITLE: Mm = 4.0
"""Distance of the column from the title block."""

Row = tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Arrangement:
    """Names of views in rows from above, and those in the room above the column."""

    rows: tuple[Row, ...]
    corner: Row = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Sized:
    """A view and the box that it takes on paper."""

    view: View
    box: Box


def sized(view: View) -> Sized:
    """Measure a view."""
    return Sized(view=view, box=extent(view_on_paper(view)))


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """Views where they stand on a paper, and the upper left corner of the column."""

    paper: Paper
    views: tuple[View, ...]
    corner: Point


@dataclass(frozen=True, slots=True, kw_only=True)
class _Space:
    """Room on a paper: the whole, what lies left of the column and above it, and the column's upper left corner."""

    whole: Box
    left: Box
    above: Box
    corner: Point

    @property
    def top(self) -> Mm:
        """What stays above this height may take the whole width."""
        return self.above.low[1]


def arranged(
    paper: Paper, views: Mapping[str, Sized], column: tuple[Mm, Mm], choices: Sequence[Arrangement]
) -> Placed | None:
    """Place views on a paper beside a column; None where they do not fit.

    Parameters
    ----------
    views
        By their names.
    column
        Width and height of the column.
    choices
        Arrangements in the order in which they are tried.
    """
    space = _space(paper, *column)
    if space is None:
        return None
    boxes = {name: view.box for name, view in views.items()}
    for choice in choices:
        places = _places(space, _only(choice, boxes), boxes)
        if places is not None:
            moved = [_moved(views[name], place) for name, place in places]
            return Placed(paper=paper, views=tuple(moved), corner=space.corner)
    return None


def _only(choice: Arrangement, boxes: Mapping[str, Box]) -> Arrangement:
    """Arrangement of the views that there are."""
    rows = (tuple(name for name in row if name in boxes) for row in choice.rows)
    corner = tuple(name for name in choice.corner if name in boxes)
    return Arrangement(rows=tuple(row for row in rows if row), corner=corner)


def _space(paper: Paper, width: Mm, height: Mm) -> _Space | None:
    inner, title = paper.space, title_box(paper)
    whole = Box(
        low=(inner.low[0] + MARGIN, inner.low[1] + MARGIN),
        high=(inner.high[0] - MARGIN, inner.high[1] - MARGIN),
    )
    top = inner.low[1] + HEIGHT + ABOVE_TITLE + height
    if top > whole.high[1]:
        return None
    x = min(title.low[0], whole.high[0] - width)
    left = Box(low=whole.low, high=(min(x, title.low[0]) - GAP, whole.high[1]))
    above = Box(low=(x, top + GAP), high=whole.high)
    return _Space(whole=whole, left=left, above=above, corner=(x, top))


def _places(space: _Space, choice: Arrangement, boxes: Mapping[str, Box]) -> list[tuple[str, Point]] | None:
    """Lower left corners of the boxes, row below row; None where a row does not fit."""
    sizes = [_size(row, boxes) for row in choice.rows]
    # what stands above the column narrows every row
    area = space if not choice.corner else replace(space, above=replace(space.above, low=space.above.high))
    rooms = _rooms(area, [height for _, height in sizes])
    found: list[tuple[str, Point]] = []
    for row, (width, _), room in zip(choice.rows, sizes, rooms, strict=True):
        if width > room.width or room.low[1] < space.whole.low[1] - 1e-9:
            return None
        found += _in_row(row, boxes, room)
    if choice.corner:
        width, height = _size(choice.corner, boxes)
        if width > space.above.width or height > space.above.height:
            return None
        found += _in_row(choice.corner, boxes, space.above)
    return found


def _size(row: Sequence[str], boxes: Mapping[str, Box]) -> tuple[Mm, Mm]:
    """Least width and height of a row."""
    shown = [boxes[name] for name in row]
    return sum(box.width for box in shown) + GAP * (len(row) - 1), max(box.height for box in shown)


def _rooms(space: _Space, heights: Sequence[Mm]) -> list[Box]:
    """Room of each row with its share of the spare height.

    A row takes the whole width as long as it stays above the column, else what lies left of it.
    """
    top, packed, feet = space.whole.high[1], space.whole.high[1], []
    for height in heights:
        feet.append(packed - height)
        packed -= height + GAP
    wide = sum(1 for foot in feet if foot >= space.top)
    spare = max(feet[-1] - space.whole.low[1], 0.0)
    upper = min(spare * wide / len(feet), feet[wide - 1] - space.top) if wide else 0.0
    lower = spare - upper if wide < len(feet) else 0.0
    rooms = []
    for number, height in enumerate(heights):
        is_wide = number < wide
        extra = upper / wide if is_wide else lower / (len(feet) - wide)
        area = space.whole if is_wide else space.left
        low = top - height - extra
        rooms.append(Box(low=(area.low[0], low), high=(area.high[0], top)))
        top = low - GAP
    return rooms


def _in_row(row: Sequence[str], boxes: Mapping[str, Box], room: Box) -> Iterator[tuple[str, Point]]:
    """Lower left corners of boxes beside each other, with equal space between and beside them, at half height."""
    spare = room.width - sum(boxes[name].width for name in row)
    between = max(spare / (len(row) + 1), GAP)
    x = room.low[0] + 0.5 * (spare - between * (len(row) - 1))
    for name in row:
        yield name, (x, room.centre[1] - 0.5 * boxes[name].height)
        x += boxes[name].width + between


def _moved(sized: Sized, place: Point) -> View:
    """View moved so that its box stands with its lower left corner at a place."""
    (x, y), (low, foot) = sized.view.origin, sized.box.low
    return replace(sized.view, origin=(x + place[0] - low, y + place[1] - foot))
