"""The tail of breather that leads to a valve beside the work: a strip from the breather's end, down and over the bench.

It goes on from the end of the breather, with both its faces, to the far rim of the valve. The film rises over it,
which is not drawn.
"""

from dataclasses import dataclass

import numpy as np

from ..base import Base
from ..shape.mesh import Mesh
from ..shape.prism import prism
from ..shape.profile import Floats
from ..stack import Layer, Stack
from ..units import Mm
from .drape import CHORD, SHORTEST, ValveDisc, hung_sheets
from .skin import below_cut, cut_at, descent, ground, margins, skin
from .terraces import Terrace, terraces_under


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Tail:
    """A strip of breather.

    Parameters
    ----------
    section
        ``(n, 2)`` corners of its section along its way, anticlockwise, none of them twice: x, or y where it goes across,
        and z, mm.
    is_across
        Whether it leads to a valve in front of the work or behind it.
    middle
        Where its middle line lies: y, or x where it goes across, mm.
    width
        Its width, mm.
    """

    section: Floats
    is_across: bool
    middle: Mm
    width: Mm


def breather_tail(stack: Stack, base: Base, disc: ValveDisc, width: Mm) -> Tail | None:
    """Tail to a valve that lies flat beside the work; None where none can lead straight to it.

    Parameters
    ----------
    disc
        The valve on the draped film.
    width
        Width of the tail.
    """
    breather = stack.find("breather")
    if breather is None:
        return None
    lower, upper = _faces(stack, base, breather)
    spot = disc.base[:2]
    low, high = upper[0, :, :2].min(axis=0), upper[0, :, :2].max(axis=0)
    beside = (spot < low) | (spot > high)
    if beside.sum() != 1:
        return None
    axis = int(np.flatnonzero(beside)[0])
    side, middle = (1.0 if spot[axis] > high[axis] else -1.0), float(spot[1 - axis])
    ways = [_way(rows, axis, side, middle) for rows in (lower, upper)]
    end = float(spot[axis]) + side * disc.radius
    ring = np.concatenate(([[end, 0.0]], ways[0], ways[1][::-1], [[end, breather.thickness]]))
    apart = np.abs(ring - np.roll(ring, 1, axis=0)).max(axis=1) > SHORTEST
    section = ring[apart] if side < 0.0 else ring[apart][::-1]
    return Tail(section=section, is_across=axis == 1, middle=middle, width=width)


def _faces(stack: Stack, base: Base, breather: Layer) -> tuple[Floats, Floats]:
    """Rows of both faces of the breather, gone on from its end down to the bench."""
    under = ground(stack.sheet, base, terraces_under(stack, base, breather), stack.height, CHORD)
    hung = [one.layer for one in hung_sheets(stack, base)]
    below = sum(layer.thickness for layer in hung if layer.top <= breather.height + SHORTEST)
    thick = breather.thickness
    lower = skin(under, below, breather.height, 0.0)
    upper = skin(under, below + thick, breather.top, thick)
    if not any(layer is breather for layer in hung):
        return lower, upper
    cut = cut_at(descent(under), margins(under, _edge(breather)), 0.0)
    return below_cut(lower, cut), below_cut(upper, cut)


def _edge(layer: Layer) -> Terrace:
    return Terrace(outlines=(layer.outline,), low=layer.height, high=layer.top)


def _way(rows: Floats, axis: int, side: float, middle: Mm) -> Floats:
    """Points ``(rows, 2)`` at which rows cross the middle line on one side of the work, from the bench up."""
    return np.array([_crossing(row, axis, side, middle) for row in rows])


def _crossing(row: Floats, axis: int, side: float, middle: Mm) -> Floats:
    """Outermost point of a closed row on the middle line, or its outermost corner where it does not reach it."""
    ahead = np.roll(row, -1, axis=0)
    away, next_away = row[:, 1 - axis] - middle, ahead[:, 1 - axis] - middle
    step = next_away - away
    crossed = (away * next_away <= 0.0) & (np.abs(step) > SHORTEST)
    share = np.where(crossed, -away / np.where(crossed, step, 1.0), 0.0)[:, None]
    points = (row + share * (ahead - row))[:, [axis, 2]]
    found = points[crossed] if crossed.any() else row[:, [axis, 2]]
    outermost: Floats = found[np.argmax(side * found[:, 0])]
    return outermost


def tail_mesh(tail: Tail) -> Mesh:
    """Make the closed mesh of a tail."""
    mesh = prism(tail.section, tail.width)
    x, y, z = mesh.points.T
    points = (tail.middle - y, x, z) if tail.is_across else (x, tail.middle + y, z)
    return Mesh(points=np.column_stack(points), triangles=mesh.triangles, creases=mesh.creases)
