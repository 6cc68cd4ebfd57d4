"""The unrolled breather as a network: cells that hold air, and ways for it between them and to the valve.

A grid of square cells, each with one pressure at its middle; what leaves one cell enters the next, so no air is
lost. Its edges are closed. The valve is a disc (at a mathematical point the flow would never settle as the grid
is refined); where its rim cuts the line between two cell middles, the way is counted to the rim.
"""

from dataclasses import dataclass
from math import isfinite
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from ..errors import ShapeError
from ..units import Mm

if TYPE_CHECKING:
    from scipy.sparse import csc_array

Map = NDArray[np.float64]
Mask = NDArray[np.bool_]

_CLOSEST = 0.05
"""Least distance from a cell's middle to the rim of the valve, in cells; nearer ones would only slow the steps."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Breather:
    """The unrolled breather on a grid of square cells; rows run along y, columns along x, from the corner 0, 0.

    Parameters
    ----------
    cell
        Side of a cell.
    inside
        ``(rows, columns)`` bool, true where there is breather.
    conductance
        ``(rows, columns)`` permeability × thickness, mm³; strips laid on top add theirs.
    storage
        ``(rows, columns)`` void part × thickness, mm; pores of paper and veneer that empty into it add theirs.

    Raises
    ------
    ShapeError
        The grids differ in shape, there is no breather, or a number is not positive.
    """

    cell: Mm
    inside: NDArray[np.bool_]
    conductance: Map
    storage: Map

    def __post_init__(self) -> None:
        shapes = {self.inside.shape, self.conductance.shape, self.storage.shape}
        if len(shapes) > 1 or self.inside.ndim != 2:
            raise ShapeError(f"breather: grids of shapes {sorted(shapes)}; give three of one (rows, columns)")
        if not self.inside.any():
            raise ShapeError("breather: no cell of the grid holds any")
        if not self.cell > 0 or not isfinite(self.cell):
            raise ShapeError(f"breather: cells of {self.cell:g} mm; they must be greater than 0")
        for name, grid in (("conductance", self.conductance), ("storage", self.storage)):
            held = grid[self.inside]
            if not (np.isfinite(held) & (held > 0)).all():
                raise ShapeError(
                    f"breather: {name} of {held.min():g}; it must be greater than 0 in every cell"
                )


@dataclass(frozen=True, slots=True, kw_only=True)
class Disc:
    """The valve's base: the place of its middle on the grid and its radius."""

    x: Mm
    y: Mm
    radius: Mm


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Network:
    """The cells whose pressure is sought, and how air passes between them and to the valve.

    Parameters
    ----------
    held
        ``(rows, columns)`` bool, the cells of breather that the valve covers.
    cells
        ``(n,)`` places, in the grid laid out row by row, of the free cells that have a way to the valve.
    exchange
        ``(n, n)`` sparse, mm³: conductance between cells, and on the diagonal less all that leave the cell.
    to_valve
        ``(n,)`` conductance to the valve, mm³.
    volume
        ``(n,)`` air space of the cells, mm³.
    """

    held: Mask
    cells: NDArray[np.int64]
    exchange: "csc_array"
    to_valve: Map
    volume: Map


def toward_valves(breather: Breather, valves: tuple[Disc, ...]) -> Network:
    """Join the breather to valves whose middles lie on it and whose radii are at least one cell.

    Raises
    ------
    ShapeError
        There is no valve, or one is off the breather or smaller than a cell, or no breather lies beside them.
    """
    if not valves:
        raise ShapeError("breather: no valve; give one at least")
    held_by = [_held_by(breather, valve) for valve in valves]
    held: Mask = np.logical_or.reduce(held_by)
    to_rim = sum(_rim_ways(breather, valve, mine) for valve, mine in zip(valves, held_by, strict=True))
    return _network(breather, held, np.where(breather.inside & ~held, to_rim, 0.0))


def toward_edge(breather: Breather) -> Network:
    """Join the breather to a pump along its first edge, x = 0.

    Raises
    ------
    ShapeError
        No breather lies along that edge.
    """
    edge = np.zeros(breather.inside.shape)
    # From a cell's middle to the edge is half a cell.
    edge[:, 0] = np.where(breather.inside[:, 0], 2.0, 0.0)
    return _network(breather, np.zeros_like(breather.inside), edge)


def _held_by(breather: Breather, valve: Disc) -> Mask:
    """Cells of breather whose middles the valve covers."""
    rows, columns = breather.inside.shape
    row, column = int(np.floor(valve.y / breather.cell)), int(np.floor(valve.x / breather.cell))
    if not (0 <= row < rows and 0 <= column < columns) or not breather.inside[row, column]:
        raise ShapeError(f"valve at x = {valve.x:g}, y = {valve.y:g} mm: not on the breather")
    if valve.radius < breather.cell:
        raise ShapeError(
            f"valve of radius {valve.radius:g} mm on cells of {breather.cell:g} mm: use cells no larger than it"
        )
    x = (np.arange(columns) + 0.5) * breather.cell - valve.x
    y = (np.arange(rows) + 0.5) * breather.cell - valve.y
    covered: Mask = np.hypot(x[None, :], y[:, None]) <= valve.radius
    return covered & breather.inside


def _rim_ways(breather: Breather, valve: Disc, held: Mask) -> Map:
    """Sum, for each cell, of cell side over distance to the rim, toward those neighbours that the valve holds."""
    rows, columns = held.shape
    x = np.broadcast_to((np.arange(columns) + 0.5) * breather.cell - valve.x, held.shape)
    y = np.broadcast_to(((np.arange(rows) + 0.5) * breather.cell - valve.y)[:, None], held.shape)
    total = np.zeros(held.shape)
    for along, across, axis in ((x, y, 1), (y, x, 0)):
        half_chord = np.sqrt(np.maximum(valve.radius**2 - across**2, 0.0))
        distance = np.maximum((np.abs(along) - half_chord) / breather.cell, _CLOSEST)
        for step in (1, -1):
            total += np.where(_shifted(held, axis, step), 1 / distance, 0.0)
    return total


def _shifted(grid: Mask, axis: int, step: int) -> Mask:
    """Give each cell its neighbour's entry, false past the edge."""
    moved = np.zeros_like(grid)
    to, come = (np.s_[:-1], np.s_[1:])[::step]
    if axis == 0:
        moved[to, :] = grid[come, :]
    else:
        moved[:, to] = grid[:, come]
    return moved


def _network(breather: Breather, held: Mask, to_rim: Map) -> Network:
    """Conductances between the free cells that have a way to the valve."""
    from scipy.sparse import coo_array
    from scipy.sparse.csgraph import connected_components

    free = breather.inside & ~held
    number = np.full(free.shape, -1)
    number[free] = np.arange(int(free.sum()))
    pairs: list[NDArray[np.int64]] = []
    flows: list[Map] = []
    k = np.where(breather.inside, breather.conductance, 1.0)
    for first, second in ((np.s_[:, :-1], np.s_[:, 1:]), (np.s_[:-1, :], np.s_[1:, :])):
        both = free[first] & free[second]
        mean = 2 * k[first] * k[second] / (k[first] + k[second])
        pairs.append(np.stack([number[first][both], number[second][both]]))
        flows.append(mean[both])
    (i, j), flow = np.concatenate(pairs, axis=1), np.concatenate(flows)
    count = int(free.sum())
    graph = coo_array((flow, (i, j)), shape=(count, count))
    to_valve = (to_rim * k)[free]
    _, part = connected_components(graph, directed=False)
    has_way = np.isin(part, np.unique(part[to_valve > 0]))
    if not has_way.any():
        raise ShapeError("breather: there is none beside the valve that could bring air to it")
    around = (graph + graph.T).tocsr()[has_way][:, has_way]
    diagonal = np.arange(int(has_way.sum()))
    losses = np.asarray(around.sum(axis=1)).ravel() + to_valve[has_way]
    exchange = (around - coo_array((losses, (diagonal, diagonal)), shape=around.shape)).tocsc()
    exchange.sort_indices()
    return Network(
        held=held,
        cells=np.flatnonzero(free)[has_way],
        exchange=exchange,
        to_valve=to_valve[has_way],
        volume=(breather.storage[free] * breather.cell**2)[has_way],
    )
