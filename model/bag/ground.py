"""Where air flows to the valve: the breather unrolled, with its tails, and the places where a valve may sit on it.

Places are measured from the middle of the breather as it lies: s along, w across. A valve sits over the caul, its
base clear of the caul's edge; or beside the work on a tail of breather, toward the closed end; or where it is in a
bag that is owned.
"""

from dataclasses import dataclass
from math import ceil

import numpy as np
from numpy.typing import NDArray

from ..layup.layup import Layup
from ..materials import Breather as Material
from ..mechanics.air_grid import Breather, Disc
from ..stack import Layer, Stack
from ..units import Mm, Mm2, Mm3
from .lay import INSIDE_CAUL, fits_on_caul
from .size import CLOSED_KINDS, BagSize
from .valve import ValvePlace

Spot = tuple[Mm, Mm]


@dataclass(frozen=True, slots=True, kw_only=True)
class Strip:
    """A strip of another breather laid over the first, from edge to edge.

    Parameters
    ----------
    run
        ``"along"`` or ``"across"``.
    at
        Place of its middle line, from the middle of the breather.
    width
        Its width.
    conductance, storage
        Permeability × thickness, and air space under an area of it.
    """

    run: str
    at: Mm
    width: Mm
    conductance: Mm3
    storage: Mm


@dataclass(frozen=True, slots=True, kw_only=True)
class Ground:
    """The unrolled breather.

    Parameters
    ----------
    length, width
        Its extent along and across.
    tail
        Width of a tail to a valve beside it.
    radius
        Radius of the valve's base.
    permeability, thickness
        Of the breather under pressure.
    storage
        Air space under an area of it, mm: its own voids, and those of the paper that empty into it.
    strips
        Strips of another breather over it.
    """

    length: Mm
    width: Mm
    tail: Mm
    radius: Mm
    permeability: Mm2
    thickness: Mm
    storage: Mm
    strips: tuple[Strip, ...] = ()

    def cell(self, most: Mm) -> Mm:
        """Side of cells, no larger than asked, of which the breather is a whole number along and nearly so across."""
        first = ceil(self.length / most)
        sides = [self.length / n for n in range(first, first + max(4, first // 4))]
        # what is left over across, as a part of the width
        return min(sides, key=lambda side: abs(self.width / side - max(round(self.width / side), 1)) * side)

    def reach(self, spot: Spot) -> Mm:
        """Distance from a place to the farthest corner of the breather."""
        return float(np.hypot(0.5 * self.length + abs(spot[0]), 0.5 * self.width + abs(spot[1])))

    def grid(self, cell: Mm, spots: tuple[Spot, ...]) -> "Grid":
        """Lay cells over the breather and over a tail to each place beside it.

        Whole cells are a little more or less than the breather and its tails; what they hold and what they let
        through is made up for it.
        """
        columns, rows = max(round(self.length / cell), 1), max(round(self.width / cell), 1)
        edge = (0.5 * columns * cell, 0.5 * rows * cell)
        half = max(0.5 * self.tail, self.radius)
        s, w = zip(*spots, strict=True)
        first, last = _beside(s, edge[0], half, cell)
        lower, upper = _beside(w, edge[1], half, cell)
        corner = (-edge[0] - first * cell, -edge[1] - lower * cell)
        x = _middles(corner[0], first + columns + last, cell)
        y = _middles(corner[1], lower + rows + upper, cell)
        inside = (np.abs(y) < edge[1])[:, None] & (np.abs(x) < edge[0])[None, :]
        share = np.where(inside, self.length * self.width / (columns * rows * cell**2), 1.0)
        flow = np.ones(inside.shape)
        for spot in spots:
            for strip, wide in _strips(spot, edge, max(half, 0.51 * cell), self.radius, x, y):
                more = strip & ~inside
                share[more] = flow[more] = self.tail / (wide * cell)
                inside |= strip
        conductance, storage = flow * self.permeability * self.thickness, share * self.storage
        for one in self.strips:
            over, wide = _under_strip(one, x, y, cell)
            part = one.width / (wide * cell)
            conductance = conductance + np.where(over, part * one.conductance, 0.0)
            storage = storage + np.where(over, part * one.storage, 0.0)
        return Grid(
            breather=Breather(cell=cell, inside=inside, conductance=conductance, storage=storage),
            corner=corner,
            discs=tuple(
                Disc(x=spot[0] - corner[0], y=spot[1] - corner[1], radius=max(self.radius, cell))
                for spot in spots
            ),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Grid:
    """Cells over a breather, its corner, and the valves on it."""

    breather: Breather
    corner: Spot
    discs: tuple[Disc, ...]


def ground_of(layup: Layup, layer: Layer, material: Material, seep: Mm3) -> Ground:
    """Ground of a layup's breather; ``seep`` is the air of the paper that empties into it."""
    return Ground(
        length=layer.blank.length,
        width=layer.blank.width,
        tail=layup.breather.tail,
        radius=0.5 * layup.valve.diameter,
        permeability=material.permeability,
        thickness=layer.thickness,
        storage=material.void_fraction * layer.thickness + seep / layer.blank.area,
    )


def places(
    layup: Layup, stack: Stack, size: BagSize, valve: ValvePlace, ground: Ground, pitch: Mm
) -> tuple[Spot, ...]:
    """Places where the valve may sit, on a lattice about the middle; in an owned bag with a valve, the one it has.

    On the lattice or not, the place of the plan is there where no other is.
    """
    settled = (valve.from_closed_end - valve.work_from_closed_end, valve.w)
    if layup.valve.from_closed_end is not None and layup.valve.from_left_seam is not None:
        return (settled,)
    across = _lattice(0.5 * ground.width, pitch)
    if fits_on_caul(layup, stack):
        along = _lattice(0.5 * ground.length, pitch)
        spots = np.array([(s, w) for s in along for w in across])
        spots = spots[_on_caul(stack, ground, spots)]
    else:
        room = 0.5 * ground.width - max(0.5 * ground.tail, ground.radius)
        spots = np.array([(settled[0], w) for w in across if abs(w) <= max(room, 0.0)])
    clear = _clear(layup, size, valve, ground, spots)
    return tuple((float(s), float(w)) for s, w in spots[clear]) or (settled,)


def _lattice(half: Mm, pitch: Mm) -> list[Mm]:
    steps = int(half / pitch)
    return [pitch * n for n in range(-steps, steps + 1)]


def _on_caul(stack: Stack, ground: Ground, spots: NDArray[np.float64]) -> NDArray[np.bool_]:
    """Places whose base lies inside the caul, clear of its edge."""
    import shapely

    caul = stack.find("caul")
    breather = stack.find("breather")
    assert caul is not None
    assert breather is not None
    edge = shapely.Polygon(caul.outline.loops[0].flattened(0.1))
    # on a bend the breather is longer or shorter than the caul's outline below it
    points = shapely.points(spots[:, 0] * breather.outline.length / ground.length, spots[:, 1])
    clear = shapely.distance(edge.exterior, points) >= INSIDE_CAUL + ground.radius - 1e-9
    inside: NDArray[np.bool_] = clear & shapely.contains(edge, points)
    return inside


def _clear(
    layup: Layup, size: BagSize, valve: ValvePlace, ground: Ground, spots: NDArray[np.float64]
) -> NDArray[np.bool_]:
    """Places clear of seams and closure on the flat bag."""
    closure = layup.bag.closure if size.kind in CLOSED_KINDS else 0.0
    room = layup.valve.clearance + ground.radius - 1e-9
    u, v = valve.work_from_closed_end + spots[:, 0], valve.work_from_left_seam + spots[:, 1]
    ends: NDArray[np.bool_] = (u >= room) & (u <= size.length - closure - room)
    clear: NDArray[np.bool_] = ends & (v >= room) & (v <= size.width - room)
    return clear


def _middles(first: Mm, count: int, cell: Mm) -> NDArray[np.float64]:
    """Middles of a row of cells from an edge on."""
    return np.linspace(first + 0.5 * cell, first + (count - 0.5) * cell, count)


def _beside(spots: tuple[Mm, ...], edge: Mm, half: Mm, cell: Mm) -> tuple[int, int]:
    """Cells that tails need before the breather and behind it, along one of its sides."""
    before, behind = max(-min(spots), 0.0), max(max(spots), 0.0)
    return max(ceil((before + half - edge) / cell), 0) + 1, max(ceil((behind + half - edge) / cell), 0) + 1


def _strips(
    spot: Spot, edge: Spot, half: Mm, end: Mm, x: NDArray[np.float64], y: NDArray[np.float64]
) -> list[tuple[NDArray[np.bool_], int]]:
    """Cells of the strips that lead from the breather to a place beside it, and how many lie across each."""
    s, w = spot
    near_s, near_w = min(max(s, -edge[0]), edge[0]), min(max(w, -edge[1]), edge[1])
    strips = []
    if s != near_s:
        across = np.abs(y - w) < half
        along = (x > min(near_s, s - end)) & (x < max(near_s, s + end))
        strips.append((across[:, None] & along[None, :], int(across.sum())))
    if w != near_w:
        along = np.abs(x - near_s) < half
        across = (y > min(near_w, w - end)) & (y < max(near_w, w + end))
        strips.append((across[:, None] & along[None, :], int(along.sum())))
    return strips


def _under_strip(
    strip: Strip, x: NDArray[np.float64], y: NDArray[np.float64], cell: Mm
) -> tuple[NDArray[np.bool_], int]:
    """Cells under a strip, one across it at least, and how many lie across it."""
    line = y if strip.run == "along" else x
    half = max(0.5 * strip.width, 0.51 * cell)
    over = np.abs(line - strip.at) < half
    full: NDArray[np.bool_] = np.broadcast_to(
        over[:, None] if strip.run == "along" else over[None, :], (len(y), len(x))
    )
    return full, int(over.sum())
