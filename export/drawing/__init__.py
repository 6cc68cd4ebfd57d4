"""Drawing primitives and sheets, and the three formats they are written in.

A drawing knows no layup: it is made of curves, hatches, text, dimensions, leaders and balloons. ``sheet`` puts them
on paper, ``lanes`` and ``callout`` place dimensions and balloons, ``boxes`` finds what collides, and ``write_dxf``,
``write_pdf`` and ``write_svg`` turn a sheet into bytes.
"""

from .boxes import Collision, boxes_of, collisions, extent
from .callout import balloon_column
from .curves import Arc, Circle, Line, Point, Polyline, Spline
from .dxf import write_dxf
from .lanes import Wanted, stack_dimensions
from .paper import ANSI_PAPERS, ISO_PAPERS, Box, Paper
from .pdf import write_pdf
from .pens import Pen
from .primitives import (
    Align,
    ArcDimension,
    Balloon,
    Ending,
    Hatch,
    Item,
    Leader,
    Level,
    LinearDimension,
    RadiusDimension,
    Reach,
    Side,
    Stroke,
    Text,
    filled,
    outline,
)
from .scale import FULL_SIZE, SCALES, Scale, scale_to_fit
from .sheet import Sheet, View, room_above_title, title_box, view_on_paper
from .svg import write_svg
from .table import Column, Table, paragraph, table
from .title_block import TitleBlock

__all__ = [
    "ANSI_PAPERS",
    "FULL_SIZE",
    "ISO_PAPERS",
    "SCALES",
    "Align",
    "Arc",
    "ArcDimension",
    "Balloon",
    "Box",
    "Circle",
    "Collision",
    "Column",
    "Ending",
    "Hatch",
    "Item",
    "Leader",
    "Level",
    "Line",
    "LinearDimension",
    "Paper",
    "Pen",
    "Point",
    "Polyline",
    "RadiusDimension",
    "Reach",
    "Scale",
    "Sheet",
    "Side",
    "Spline",
    "Stroke",
    "Table",
    "Text",
    "TitleBlock",
    "View",
    "Wanted",
    "balloon_column",
    "boxes_of",
    "collisions",
    "extent",
    "filled",
    "outline",
    "paragraph",
    "room_above_title",
    "scale_to_fit",
    "stack_dimensions",
    "table",
    "title_box",
    "view_on_paper",
    "write_dxf",
    "write_pdf",
    "write_svg",
]
