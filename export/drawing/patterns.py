"""Hatch patterns, one per class of material, told apart in black and white, and their lines clipped to an area.

A pattern is defined once, as families of parallel lines in mm on paper, and used by all three formats: a DXF file
carries the families themselves, SVG and PDF the clipped lines.

Source: ISO 128-50 (hatching of cuts; neighbouring parts in another direction or spacing; thin sections black: from
memory). Which pattern stands for which material is our own choice; a sheet says it in its parts list.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from ...model.errors import ExportError
from ...model.units import Mm, Radian, Ratio
from .curves import Array, Point, flattened
from .primitives import Hatch

CELL: Mm = 1.3
"""Side of the six-sided cells that stand for foam."""

ROW: Ratio = math.sqrt(3.0) / 2.0
"""Height of half a cell over its side."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Family:
    """Parallel lines.

    Parameters
    ----------
    angle
        Direction of the lines.
    spacing
        Distance of one line from the next.
    base
        Distance of the first line from the origin, along the lines and across them.
    shift
        How far the dashes of a line are moved along it against those of the line before.
    dashes
        Dash, gap, dash, gap …; empty for continuous lines.
    """

    angle: Radian
    spacing: Mm
    base: tuple[Mm, Mm] = (0.0, 0.0)
    shift: Mm = 0.0
    dashes: tuple[Mm, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Pattern:
    """A named hatch pattern; without families it is solid black."""

    name: str
    says: str
    families: tuple[Family, ...] = ()

    @property
    def is_solid(self) -> bool:
        """Whether the area is filled."""
        return not self.families


def _degrees(angle: float, **rest: object) -> Family:
    return Family(angle=math.radians(angle), **rest)  # type: ignore[arg-type]


PATTERNS: dict[str, Pattern] = {
    pattern.name: pattern
    for pattern in (
        Pattern(name="solid", says="film, veneer and other sheets too thin to hatch"),
        Pattern(
            name="wood along",
            says="wood cut along its grain",
            families=(_degrees(0, spacing=1.1, shift=6.3, dashes=(9.0, 1.6, 4.0, 1.2)),),
        ),
        Pattern(
            name="wood across",
            says="wood cut across its grain",
            families=(_degrees(45, spacing=1.5),),
        ),
        Pattern(
            name="panel",
            says="panel of particles or fibres",
            families=(
                _degrees(0, spacing=2.0, shift=1.3, dashes=(0.7, 2.5)),
                _degrees(60, spacing=2.2, base=(0.4, 0.9), shift=1.7, dashes=(0.6, 2.9)),
                _degrees(120, spacing=2.4, base=(1.1, 0.5), shift=0.9, dashes=(0.7, 3.1)),
            ),
        ),
        Pattern(
            name="foam",
            says="foam and cushions",
            families=(
                _degrees(0, spacing=CELL * ROW, shift=1.5 * CELL, dashes=(CELL, 2.0 * CELL)),
                _degrees(120, spacing=CELL * ROW, shift=1.5 * CELL, dashes=(CELL, 2.0 * CELL)),
                _degrees(
                    60,
                    spacing=CELL * ROW,
                    base=(2.0 * CELL, 0.0),
                    shift=1.5 * CELL,
                    dashes=(CELL, 2.0 * CELL),
                ),
            ),
        ),
        Pattern(
            name="metal",
            says="metal",
            families=(_degrees(45, spacing=2.4), _degrees(45, spacing=2.4, base=(0.0, 0.6))),
        ),
        Pattern(
            name="form",
            says="form, platen and caul of board or block",
            families=(_degrees(135, spacing=3.0, shift=4.0, dashes=(6.0, 0.8, 0.8, 0.8)),),
        ),
        Pattern(
            name="net",
            says="breather netting",
            families=(_degrees(45, spacing=1.0), _degrees(135, spacing=1.0)),
        ),
        Pattern(
            name="textile",
            says="absorbent sheets and fleece",
            families=(
                _degrees(45, spacing=1.4, shift=1.4, dashes=(1.2, 1.6)),
                _degrees(135, spacing=1.4, base=(0.7, 0.7), shift=1.4, dashes=(1.2, 1.6)),
            ),
        ),
    )
}
"""Every hatch pattern by its name."""


def pattern_of(hatch: Hatch) -> Pattern:
    """Pattern that a hatch names.

    Raises
    ------
    ExportError
        There is no pattern of that name.
    """
    if hatch.pattern not in PATTERNS:
        allowed = ", ".join(PATTERNS)
        raise ExportError(
            f"hatch of {hatch.part or 'an area'}: found pattern {hatch.pattern!r}; allowed: {allowed}"
        )
    return PATTERNS[hatch.pattern]


@dataclass(frozen=True, slots=True, kw_only=True)
class Rows:
    """Lines of one family inside an area, not yet cut into dashes.

    Parameters
    ----------
    origin, angle
        The frame that the rows are given in: its x axis runs along the lines.
    dashes
        Dash, gap, dash, gap …, in the size of the hatch.
    levels, starts, ends
        y of the row, and x where a piece of it enters and leaves the area; (n,) each.
    phases
        x at which a dash of the row begins; (n,).
    """

    origin: Point
    angle: Radian
    dashes: tuple[Mm, ...]
    levels: Array
    starts: Array
    ends: Array
    phases: Array


def hatch_rows(hatch: Hatch) -> Iterator[Rows]:
    """Rows of each family of a hatch on paper, inside its area."""
    loops = [np.concatenate([flattened(edge) for edge in loop]) for loop in hatch.loops]
    for family in pattern_of(hatch).families:
        angle, size = family.angle + hatch.turn, hatch.spread
        x, y = size * family.base[0], size * family.base[1]
        c, s = math.cos(angle), math.sin(angle)
        origin = hatch.origin[0] + c * x - s * y, hatch.origin[1] + s * x + c * y
        turned = [(loop - origin) @ np.array([[c, -s], [s, c]]) for loop in loops]
        numbers, starts, ends = _crossings(turned, size * family.spacing)
        yield Rows(
            origin=origin,
            angle=angle,
            dashes=tuple(size * length for length in family.dashes),
            levels=numbers * size * family.spacing,
            starts=starts,
            ends=ends,
            phases=numbers * size * family.shift,
        )


def hatch_lines(hatch: Hatch) -> Array:
    """Lines of a hatch on paper, cut into dashes and clipped to its area: (n, 4), x and y of both ends."""
    return np.concatenate([np.empty((0, 4)), *(_lines(rows) for rows in hatch_rows(hatch))])


def _lines(rows: Rows) -> Array:
    levels, starts, ends = rows.levels, rows.starts, rows.ends
    if rows.dashes:
        dashed = np.array([*_dashed(rows)]).reshape(-1, 3)
        levels, starts, ends = dashed.T
    c, s = math.cos(rows.angle), math.sin(rows.angle)
    x, y = rows.origin[0] - s * levels, rows.origin[1] + c * levels
    return np.column_stack([x + c * starts, y + s * starts, x + c * ends, y + s * ends])


def _crossings(loops: list[Array], spacing: Mm) -> tuple[Array, Array, Array]:
    """Pieces of the lines y = k·spacing inside closed loops: k, first x, last x (even-odd rule)."""
    first = np.concatenate(loops)
    last = np.concatenate([np.roll(loop, -1, axis=0) for loop in loops])
    low, high = np.minimum(first[:, 1], last[:, 1]), np.maximum(first[:, 1], last[:, 1])
    # Half-open: a line through a corner counts one of the two edges that meet there.
    k0, k1 = np.ceil(low / spacing), np.ceil(high / spacing)
    counts = (k1 - k0).astype(int)
    edge = np.repeat(np.arange(len(counts)), counts)
    k = np.arange(len(edge)) - np.repeat(np.cumsum(counts) - counts, counts) + k0[edge]
    rise = last[edge, 1] - first[edge, 1]
    share = (k * spacing - first[edge, 1]) / rise
    x = first[edge, 0] + share * (last[edge, 0] - first[edge, 0])
    order = np.lexsort((x, k))
    k, x = k[order], x[order]
    return k[::2], x[::2], x[1::2]


def _dashed(rows: Rows) -> Iterator[tuple[float, float, float]]:
    """Level, first x and last x of every dash."""
    dashes, period = rows.dashes, sum(rows.dashes)
    places = [(sum(dashes[:i]), sum(dashes[: i + 1])) for i in range(0, len(dashes), 2)]
    pieces = np.column_stack([rows.levels, rows.starts, rows.ends, rows.phases])
    for level, start, end, phase in pieces.tolist():
        for low, high in places:
            n = math.ceil((start - phase - high) / period)
            while (a := phase + n * period + low) < end:
                b = min(phase + n * period + high, end)
                if b > max(a, start):
                    yield level, max(a, start), b
                n += 1
