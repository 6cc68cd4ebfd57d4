"""Tiles: a flat outline larger than a page, spread over pages that overlap."""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from ..model.shape.loop import Loop
from ..model.shape.profile import Floats
from ..model.template import Mark, Template
from ..model.units import Mm

OVERLAP: Mm = 10.0
"""Width of the strip that two neighbours have in common."""

FINE: Mm = 0.01
"""Chordal tolerance of the lines on the pages."""

LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"


@dataclass(frozen=True, slots=True, kw_only=True)
class Tile:
    """One page's part of an outline.

    Parameters
    ----------
    column, row
        Place in the grid, from the left and from below, from 0.
    low
        Lower left corner of its window, in the outline's mm.
    cuts
        Rows of points ``(n, 2)`` of lines within the window, in the outline's mm.
    marks
        The same of the lines that are not cut, each with its name.
    """

    column: int
    row: int
    low: tuple[Mm, Mm]
    cuts: tuple[Floats, ...]
    marks: tuple[tuple[Floats, str], ...]

    @property
    def name(self) -> str:
        """Letter of its column and number of its row, such as B2."""
        return f"{column_letters(self.column)}{self.row + 1}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Tiling:
    """The tiles of an outline.

    Parameters
    ----------
    columns, rows
        Size of the grid.
    window
        Width and height of each window.
    is_turned
        Whether the outline stands turned anticlockwise by a quarter.
    tiles
        Those in which something is cut, row by row from below.
    """

    columns: int
    rows: int
    window: tuple[Mm, Mm]
    is_turned: bool
    tiles: tuple[Tile, ...]


def column_letters(number: int) -> str:
    """Letters of a column: A to Z, then AA and so on."""
    rest, last = divmod(number, len(LETTERS))
    return (column_letters(rest - 1) if rest else "") + LETTERS[last]


def tiling(template: Template, window: tuple[Mm, Mm]) -> Tiling:
    """Spread an outline over windows, upright or turned by a quarter, whichever takes fewer."""
    upright, turned = _spread(template, window, False), _spread(template, window, True)
    return upright if len(upright.tiles) <= len(turned.tiles) else turned


def _spread(template: Template, window: tuple[Mm, Mm], is_turned: bool) -> Tiling:
    cuts = [_ring(loop) for loop in (template.outline, *template.holes)]
    marks = [*(_line(mark) for mark in template.marks), *(_ring(loop) for loop in template.openings)]
    names = [*(mark.name for mark in template.marks), *("" for _ in template.openings)]
    if is_turned:
        cuts, marks = ([_quarter(row) for row in rows] for rows in (cuts, marks))
    low, high = cuts[0].min(axis=0), cuts[0].max(axis=0)
    pitch = np.array(window) - OVERLAP
    counts = [
        max(1, math.ceil((size - OVERLAP) / step - 1e-9))
        for size, step in zip(high - low, pitch, strict=True)
    ]
    # the outline in the middle of the grid
    corner = 0.5 * (low + high) - 0.5 * (np.array(counts) * pitch + OVERLAP)
    tiles = []
    for row in range(counts[1]):
        for column in range(counts[0]):
            start = corner + pitch * np.array([column, row])
            inside = tuple(piece for ring in cuts for piece in clipped(ring, start, start + window))
            if inside:
                drawn = tuple(
                    (piece, name)
                    for line, name in zip(marks, names, strict=True)
                    for piece in clipped(line, start, start + window)
                )
                place = (float(start[0]), float(start[1]))
                tiles.append(Tile(column=column, row=row, low=place, cuts=inside, marks=drawn))
    return Tiling(columns=counts[0], rows=counts[1], window=window, is_turned=is_turned, tiles=tuple(tiles))


def _ring(loop: Loop) -> Floats:
    points = loop.flattened(FINE)
    return np.vstack((points, points[:1]))


def _line(mark: Mark) -> Floats:
    return np.array((mark.start, mark.end))


def _quarter(points: Floats) -> Floats:
    """Turn points anticlockwise by a quarter."""
    return np.column_stack((-points[:, 1], points[:, 0]))


def clipped(points: Floats, low: Floats, high: Floats) -> Iterator[Floats]:
    """Pieces of a row of points within an upright box, each a row of points.

    Source: textbook, Liang and Barsky's way to clip a straight line.
    """
    piece: list[Floats] = []
    for a, b in pairwise(points):
        found = _within(a, b, low, high)
        if found is None:
            continue
        start, end = found
        if piece and np.array_equal(piece[-1], start):
            piece.append(end)
        else:
            if len(piece) > 1:
                yield np.array(piece)
            piece = [start, end]
    if len(piece) > 1:
        yield np.array(piece)


def _within(a: Floats, b: Floats, low: Floats, high: Floats) -> tuple[Floats, Floats] | None:
    """Part of the line from a to b within a box; None where it misses it."""
    enter, leave, run = 0.0, 1.0, b - a
    for axis in (0, 1):
        if run[axis] == 0.0:
            if not low[axis] <= a[axis] <= high[axis]:
                return None
            continue
        first, last = sorted(((low[axis] - a[axis]) / run[axis], (high[axis] - a[axis]) / run[axis]))
        enter, leave = max(enter, first), min(leave, last)
    if enter >= leave:
        return None
    return (a if enter == 0.0 else a + enter * run), (b if leave == 1.0 else a + leave * run)
