"""A sheet of a drawing: paper, title block, views at their scales, and what stands on the paper itself."""

from dataclasses import dataclass, replace

from ...model.units import Mm
from .curves import Point, carried
from .paper import Box, Paper, frame
from .primitives import (
    ArcDimension,
    Balloon,
    Hatch,
    Item,
    Leader,
    LinearDimension,
    RadiusDimension,
    Stroke,
    Text,
)
from .scale import FULL_SIZE, Scale
from .title_block import HEIGHT, WIDTH, TitleBlock, title_block


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """A picture of the thing at one scale; its items are in full-size mm.

    Parameters
    ----------
    name
        Stable name, unique on the sheet; kept in the SVG and DXF files.
    scale
        Paper over thing.
    origin
        Where the view's own origin lies on the paper.
    items
        What is drawn, in the view's own full-size space; the sizes of letters, arrows and balloons are on paper.
    """

    name: str
    scale: Scale = FULL_SIZE
    origin: Point
    items: tuple[Item, ...] = ()

    def on_paper(self, point: Point) -> Point:
        """Place on the paper of a point of the view."""
        ratio = self.scale.ratio
        return self.origin[0] + ratio * point[0], self.origin[1] + ratio * point[1]

    def in_view(self, point: Point) -> Point:
        """Point of the view that lies at a place on the paper."""
        ratio = self.scale.ratio
        return (point[0] - self.origin[0]) / ratio, (point[1] - self.origin[1]) / ratio

    def with_items(self, *items: Item) -> "View":
        """Give the view with more items behind those that it has."""
        return replace(self, items=(*self.items, *items))


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """One sheet of paper with its title block, its views and its own items.

    Parameters
    ----------
    name
        Short name of the sheet, such as ``"section"``; names the layout in a DXF file.
    items
        Notes, tables and marks in mm on the paper, from its lower left corner.
    """

    name: str
    paper: Paper
    title: TitleBlock
    views: tuple[View, ...] = ()
    items: tuple[Item, ...] = ()


def title_corner(paper: Paper) -> Point:
    """Lower left corner of the title block: at the right end of the frame's lower edge."""
    return paper.space.high[0] - WIDTH, paper.space.low[1]


def title_box(paper: Paper) -> Box:
    """Place of the title block."""
    x, y = title_corner(paper)
    return Box(low=(x, y), high=(x + WIDTH, y + HEIGHT))


def room_above_title(paper: Paper, gap: Mm = 0.0) -> Box:
    """Drawing space over the whole width, above the title block."""
    space = paper.space
    return Box(low=(space.low[0], space.low[1] + HEIGHT + gap), high=space.high)


def furniture(sheet: Sheet) -> tuple[Item, ...]:
    """Frame and title block of a sheet."""
    block = title_block(sheet.title, sheet.paper.name, title_corner(sheet.paper))
    return (*frame(sheet.paper), *block)


def placed(item: Item, ratio: float, shift: Point) -> Item:
    """Give an item with its points scaled about the origin and then moved; sizes on paper stay."""

    def at(point: Point) -> Point:
        return ratio * point[0] + shift[0], ratio * point[1] + shift[1]

    match item:
        case Stroke():
            return replace(item, curve=carried(item.curve, ratio, shift))
        case Hatch():
            loops = [tuple(carried(edge, ratio, shift) for edge in loop) for loop in item.loops]
            return replace(item, boundary=loops[0], holes=tuple(loops[1:]), origin=at(item.origin))
        case Text():
            return replace(item, position=at(item.position))
        case LinearDimension():
            return replace(item, start=at(item.start), end=at(item.end), through=at(item.through))
        case RadiusDimension():
            elbow = None if item.elbow is None else at(item.elbow)
            return replace(item, centre=at(item.centre), radius=ratio * item.radius, elbow=elbow)
        case ArcDimension():
            return replace(
                item,
                centre=at(item.centre),
                radius=ratio * item.radius,
                line_radius=ratio * item.line_radius,
            )
        case Leader() | Balloon():
            return replace(item, points=tuple(at(point) for point in item.points))


def view_on_paper(view: View) -> tuple[Item, ...]:
    """Items of a view in mm on the paper."""
    return tuple(placed(item, view.scale.ratio, view.origin) for item in view.items)


def on_paper(sheet: Sheet) -> tuple[Item, ...]:
    """Everything on a sheet in mm on the paper: frame, title block, the sheet's own items, then the views."""
    views = [item for view in sheet.views for item in view_on_paper(view)]
    return (*furniture(sheet), *sheet.items, *views)
