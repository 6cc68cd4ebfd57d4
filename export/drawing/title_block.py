"""The title block: 180 mm wide, at the lower right of the frame.

Source: ISO 7200 (width, fields and which of them are mandatory, read on a public page). Scale, units, projection and
paper size are no fields of that standard; they stand in a strip above its fields, as is usual.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from ...model.units import Mm
from .curves import Circle, Line, Point, polygon, rectangle
from .lettering import DEPTH, LINE, RISE, Face, block_depth, fitted
from .paper import Box
from .pens import CENTRE, NARROW, TABLE, WIDE
from .primitives import Plain, Stroke, Text

WIDTH: Mm = 180.0
HEIGHT: Mm = 38.0
LABEL: Mm = 1.8
"""Lettering height of the names of the fields."""
PAD: Mm = 1.2
"""Distance of text from the rules of a field."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TitleBlock:
    """What the title block says; an empty text leaves its field empty, to be filled in by hand.

    Parameters
    ----------
    owner
        Legal owner of the drawing.
    number
        Identification number.
    sheet, sheets
        Number of this sheet, and of all.
    date
        Date of issue, as the user gave it.
    status
        State of the document; bold, so that it can warn (``"STOP: see checks"``).
    """

    title: str
    subtitle: str = ""
    owner: str = ""
    number: str = ""
    sheet: int = 1
    sheets: int = 1
    revision: str = ""
    date: str = ""
    creator: str = ""
    approval: str = ""
    document: str = "Drawing"
    status: str = ""
    scale: str = ""
    units: str = "mm"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Field:
    """One field: its name, its text, its place in the block and the heights to try for the text."""

    name: str
    text: str
    low: Point
    high: Point
    heights: tuple[Mm, ...] = (3.5, 2.5, 1.8)
    face: Face = Face.REGULAR


def _fields(block: TitleBlock, paper: str) -> tuple[_Field, ...]:
    """Fields of the block, in mm from its lower left corner."""
    sheet = f"{block.sheet}/{block.sheets}"
    return (
        _Field(name="Scale", text=block.scale, low=(0, 30), high=(52, 38)),
        _Field(name="Dimensions in", text=block.units, low=(52, 30), high=(104, 38)),
        _Field(name="Projection", text="", low=(104, 30), high=(130, 38)),
        _Field(name="Paper", text=paper, low=(130, 30), high=(150, 38)),
        _Field(name="Sheet", text=sheet, low=(150, 30), high=(180, 38)),
        _Field(name="Created by", text=block.creator, low=(0, 20), high=(45, 30)),
        _Field(name="Approved by", text=block.approval, low=(45, 20), high=(90, 30)),
        _Field(name="Document type", text=block.document, low=(90, 20), high=(130, 30)),
        _Field(name="Document status", text=block.status, low=(130, 20), high=(180, 30), face=Face.BOLD),
        _Field(name="Legal owner", text=block.owner, low=(0, 0), high=(52, 20)),
        _Field(name="Number", text=block.number, low=(130, 10), high=(180, 20)),
        _Field(name="Revision", text=block.revision, low=(130, 0), high=(150, 10)),
        _Field(name="Date of issue", text=block.date, low=(150, 0), high=(180, 10)),
    )


TITLE_FIELD = Box(low=(52, 0), high=(130, 20))


def title_block(block: TitleBlock, paper: str, corner: Point) -> tuple[Plain, ...]:
    """Draw the title block with its lower left corner at a point of the paper."""
    items: list[Plain] = []
    for field in _fields(block, paper):
        box = _moved(Box(low=field.low, high=field.high), corner)
        items.append(Stroke(curve=rectangle(box.low, box.high), pen=TABLE))
        items += _label(field.name, box)
        items += _paragraph(field.text, _below_label(box), field.heights, field.face)
    items += _title(block, _moved(TITLE_FIELD, corner))
    items += first_angle((corner[0] + 119.0, corner[1] + 32.8))
    whole = _moved(Box(low=(0, 0), high=(WIDTH, HEIGHT)), corner)
    return (*items, Stroke(curve=rectangle(whole.low, whole.high), pen=WIDE))


def _moved(box: Box, by: Point) -> Box:
    (x0, y0), (x1, y1) = box.low, box.high
    return Box(low=(x0 + by[0], y0 + by[1]), high=(x1 + by[0], y1 + by[1]))


def _label(name: str, box: Box) -> Iterator[Plain]:
    yield Text(text=name, position=(box.low[0] + PAD, box.high[1] - 0.6 - LABEL), height=LABEL)


def _below_label(box: Box) -> Box:
    top = box.high[1] - 0.6 - LABEL * (1.0 + DEPTH)
    return Box(low=(box.low[0] + PAD, box.low[1] + 0.5), high=(box.high[0] - PAD, top - 0.3))


def _paragraph(text: str, box: Box, heights: tuple[Mm, ...], face: Face) -> Iterator[Plain]:
    """Text in the middle of the height of a box, at the left."""
    height, lines = fitted(text, box.width, box.height, heights, face)
    top = box.centre[1] + block_depth(len(lines), height) / 2.0
    for i, line in enumerate(lines):
        y = top - height * (RISE + i * LINE)
        yield Text(text=line, position=(box.low[0], y), height=height, face=face)


def _title(block: TitleBlock, box: Box) -> Iterator[Plain]:
    """Title above, supplementary title below it, each at the largest height at which it fits."""
    yield from _label("Title", box)
    field = _below_label(box)
    share = 0.62 if block.subtitle else 1.0
    split = field.high[1] - share * field.height
    upper = Box(low=(field.low[0], split), high=field.high)
    yield from _paragraph(block.title, upper, (5.0, 3.5, 2.5, 1.8), Face.BOLD)
    if block.subtitle:
        lower = Box(low=field.low, high=(field.high[0], split))
        yield from _paragraph(block.subtitle, lower, (3.5, 2.5, 1.8), Face.REGULAR)


def first_angle(middle: Point, size: Mm = 3.6) -> tuple[Plain, ...]:
    """Symbol of first angle projection: a truncated cone from the side, and left end view on its right.

    Source: ISO 5456-2 (from memory): the side view stands on the left with its small end outward, the two circles
    on the right.
    """
    x, y = middle
    large, small, gap = size / 2.0, size / 4.0, size * 0.35
    right = x - gap / 2.0
    left = right - size
    eye = (x + gap / 2.0 + large, y)
    return (
        Stroke(
            curve=polygon([(left, y - small), (right, y - large), (right, y + large), (left, y + small)]),
            pen=WIDE,
        ),
        Stroke(curve=Circle(centre=eye, radius=large), pen=WIDE),
        Stroke(curve=Circle(centre=eye, radius=small), pen=WIDE),
        Stroke(curve=Line(start=(left - 0.8, y), end=(right + 0.4, y)), pen=CENTRE),
        Stroke(curve=Line(start=(eye[0] - large - 0.4, y), end=(eye[0] + large + 0.8, y)), pen=CENTRE),
        Stroke(curve=Line(start=(eye[0], y - large - 0.8), end=(eye[0], y + large + 0.8)), pen=NARROW),
    )
