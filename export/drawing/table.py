"""Tables built from lines and text.

Source: ISO 7573 (item lists: item number, quantity, name, material; from memory).
"""

from collections.abc import Sequence
from dataclasses import dataclass

from ...model.units import Mm
from .curves import Line, Point, rectangle
from .lettering import LINE, RISE, Face, block_depth, wrapped
from .paper import Box
from .pens import TABLE, WIDE
from .primitives import Align, Plain, Stroke, Text

PAD: Mm = 1.2
"""Free space between text and the rules of a table."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """One column: its heading, its width on paper and how its cells are set."""

    heading: str
    width: Mm
    align: Align = Align.LEFT


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """A drawn table and the place that it takes."""

    items: tuple[Plain, ...]
    box: Box


def table(corner: Point, columns: Sequence[Column], rows: Sequence[Sequence[str]], height: Mm = 2.5) -> Table:
    """Draw a table downward from its upper left corner; the text of a cell wraps within its column.

    Parameters
    ----------
    rows
        One text for each column.
    height
        Lettering height.
    """
    x0, top = corner
    width = sum(column.width for column in columns)
    items: list[Plain] = []
    y = top
    cells = [[column.heading for column in columns], *rows]
    for number, row in enumerate(cells):
        face = Face.BOLD if number == 0 else Face.REGULAR
        lines = [
            wrapped(text, column.width - 2.0 * PAD, height, face)
            for text, column in zip(row, columns, strict=True)
        ]
        depth = max(block_depth(max(1, *(len(cell) for cell in lines), 1), height) + 2.0 * PAD * 0.7, 0.0)
        x = x0
        for column, cell in zip(columns, lines, strict=True):
            items += _cell(cell, column, x, y, height, face)
            x += column.width
        y -= depth
        items.append(
            Stroke(curve=Line(start=(x0, y), end=(x0 + width, y)), pen=WIDE if number == 0 else TABLE)
        )
    x = x0
    for column in columns[:-1]:
        x += column.width
        items.append(Stroke(curve=Line(start=(x, top), end=(x, y)), pen=TABLE))
    box = Box(low=(x0, y), high=(x0 + width, top))
    return Table(items=(*items, Stroke(curve=rectangle(box.low, box.high), pen=WIDE)), box=box)


def _cell(lines: Sequence[str], column: Column, x: Mm, top: Mm, height: Mm, face: Face) -> list[Plain]:
    share = column.align.value
    place = x + PAD + share * (column.width - 2.0 * PAD)
    first = top - 0.7 * PAD - RISE * height
    return [
        Text(
            text=line,
            position=(place, first - i * LINE * height),
            height=height,
            align=column.align,
            face=face,
        )
        for i, line in enumerate(lines)
    ]


def paragraph(
    corner: Point, text: str, width: Mm, height: Mm = 3.5, face: Face = Face.REGULAR
) -> tuple[tuple[Text, ...], Mm]:
    """Text wrapped to a width, downward from its upper left corner, and the height that it takes on paper.

    Line breaks of the text are kept.
    """
    lines = [line for part in text.split("\n") for line in (wrapped(part, width, height, face) or ("",))]
    x, top = corner
    items = tuple(
        Text(text=line, position=(x, top - height * (RISE + i * LINE)), height=height, face=face)
        for i, line in enumerate(lines)
        if line
    )
    return items, block_depth(len(lines), height)
