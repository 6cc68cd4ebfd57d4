"""The valve that draws the farthest point of the breather down first, and when every place is there.

Places are compared with the valve held at its final pressure from the beginning: that shows the way of the air alone,
whatever the pump. They are compared on coarse cells, every place of the lattice, mirrored ones once. The map is then
followed on fine cells with the pump as it is.
"""

from dataclasses import dataclass
from math import inf, isfinite, log

import numpy as np

from ..mechanics.air_grid import Map
from ..mechanics.airflow import AIR_VISCOSITY, AirMap, PumpCurve, air_map, pump_curve
from ..source import Source
from ..units import Count, Mm, Mm3, Mm3PerSecond, MPa, Ratio, Second
from ..value import formula
from .ground import Grid, Ground, Spot

ENOUGH: Ratio = 0.9
"""Part of the final reading at which a place counts as drawn down."""
SAME: Ratio = 1e-3
"""Part of a time within which two count as equal: what the steps in time leave."""
COARSE: Count = 20
"""Cells along the longer side on which places are compared."""
FINE: Count = 40
"""Cells along the longer side of the map at the least."""
MOST_VALVES: Count = 6

SHARE = Source("derived", "gauge readings", "part of the final reading")


@formula("p", "pressure at which a place is drawn down", "p_0 - e * (p_0 - p_e)", SHARE)
def drawn_down(p_0: MPa, p_e: MPa, e: Ratio) -> MPa:
    """Absolute pressure where the part e of the way from p_0 to the final pressure p_e is done."""
    return p_0 - e * (p_0 - p_e)


@dataclass(frozen=True, slots=True, kw_only=True)
class Pumping:
    """Pump and pressures, absolute.

    Parameters
    ----------
    outside, final, lowest
        Pressure outside, in the bag in the end, and the lowest that the pump reaches.
    flow
        Volume of air that the pump takes in.
    voids
        Air that it draws down.
    """

    outside: MPa
    final: MPa
    lowest: MPa
    flow: Mm3PerSecond
    voids: Mm3

    @property
    def target(self) -> MPa:
        """Pressure at which a place counts as drawn down."""
        return drawn_down(p_0=self.outside, p_e=self.final, e=ENOUGH)

    @property
    def alone(self) -> Second:
        """Time that the pump would need if the air had no way to go."""
        fall = (self.outside - self.lowest) / (self.target - self.lowest)
        return self.voids / self.flow * log(fall)

    def flow_within(self, time: Second) -> Mm3PerSecond:
        """Flow of a pump that alone takes so long."""
        return self.flow * self.alone / time

    def curve(self) -> PumpCurve:
        """Pressure at the valve over time: the pump is stopped at the final pressure."""
        falling = pump_curve(V=self.voids, S=self.flow, p_0=self.outside, p_u=self.lowest)
        return lambda t: max(falling(t), self.final)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Drawn:
    """Valves at some places, and when the air is gone everywhere."""

    spots: tuple[Spot, ...]
    grid: Grid
    map: AirMap

    @property
    def slowest(self) -> Second:
        """Time until every place is drawn down; ``inf`` where one never is."""
        return self.map.slowest

    @property
    def last(self) -> Spot:
        """The place that is drawn down last."""
        row, column = self.map.last_place
        cell, corner = self.grid.breather.cell, self.grid.corner
        return corner[0] + (column + 0.5) * cell, corner[1] + (row + 0.5) * cell


def coarse_cell(ground: Ground) -> Mm:
    """Side of the cells on which places are compared, and step of their lattice."""
    return ground.cell(max(ground.length, ground.width) / COARSE)


def fine_cell(ground: Ground) -> Mm:
    """Side of the cells of the map: small enough for the valve's base and for the tail."""
    return ground.cell(min(ground.radius, 0.25 * ground.tail, max(ground.length, ground.width) / FINE))


def way_time(ground: Ground, spots: tuple[Spot, ...], pumping: Pumping, cell: Mm, patience: Second) -> Second:
    """Time until the farthest place is drawn down, the valves being at the final pressure at once.

    ``inf`` where it takes longer than the patience.
    """
    grid = ground.grid(cell, spots)
    return air_map(
        grid.breather, grid.discs, lambda t: pumping.final, pumping.outside, pumping.target, patience
    ).slowest


def drawn(ground: Ground, spots: tuple[Spot, ...], pumping: Pumping, cell: Mm) -> Drawn:
    """Follow the air to valves at some places, with the pump as it is."""
    grid = ground.grid(cell, spots)
    patience = 5.0 * pumping.alone + long(ground, spots[0], pumping)
    flow = air_map(grid.breather, grid.discs, pumping.curve(), pumping.outside, pumping.target, patience)
    return Drawn(spots=spots, grid=grid, map=flow)


def best_spot(ground: Ground, spots: tuple[Spot, ...], pumping: Pumping, cell: Mm) -> Spot:
    """Of all places the one whose farthest point is drawn down first; of equal ones the most central.

    Parameters
    ----------
    spots
        Places to choose from; the breather is the same on both sides of its middle lines, so mirrored places
        count once.
    cell
        Side of the cells.
    """
    once: dict[tuple[Mm, Mm], Spot] = {}
    for spot in sorted(spots, key=lambda spot: (ground.reach(spot), abs(spot[1]), spot)):
        once.setdefault((round(abs(spot[0]), 6), round(abs(spot[1]), 6)), spot)
    chosen, least = next(iter(once.values())), inf
    for spot in once.values():
        patience = least if isfinite(least) else long(ground, spot, pumping)
        time = way_time(ground, (spot,), pumping, cell, patience)
        if time < least * (1.0 - SAME):
            chosen, least = spot, time
    return chosen


def more_valves(
    ground: Ground, spots: tuple[Spot, ...], pumping: Pumping, cell: Mm, count: Count
) -> tuple[Spot, ...]:
    """Places of several valves: each in the middle of an equal share of the breather, as near as one may sit.

    Of all ways to part the breather into so many rows and columns, the one that is drawn down first.
    """
    patterns = []
    for columns in range(1, count + 1):
        if count % columns == 0:
            found = _shares(ground, spots, columns, count // columns)
            if len(set(found)) == count:
                patterns.append(found)
    times = [way_time(ground, found, pumping, cell, long(ground, found[0], pumping)) for found in patterns]
    return patterns[int(np.argmin(times))] if patterns else ()


def valves_within(
    ground: Ground, spots: tuple[Spot, ...], pumping: Pumping, cell: Mm, first: Drawn, time: Second
) -> Drawn | None:
    """Fewest valves, up to six and in even shares, that draw every place down within a time; None where none do."""
    if first.slowest <= time:
        return first
    if pumping.alone > time:
        return None
    for count in range(2, MOST_VALVES + 1):
        places = more_valves(ground, spots, pumping, cell, count)
        if places:
            found = drawn(ground, places, pumping, first.grid.breather.cell)
            if found.slowest <= time:
                return found
    return None


def long(ground: Ground, spot: Spot, pumping: Pumping) -> Second:
    """Time in which air certainly comes from the farthest place of a breather that is worth its name."""
    pace = ground.storage * AIR_VISCOSITY / (ground.permeability * ground.thickness * pumping.outside)
    return 200.0 * pace * ground.reach(spot) ** 2 * pumping.outside / pumping.target


def _shares(ground: Ground, spots: tuple[Spot, ...], columns: Count, rows: Count) -> tuple[Spot, ...]:
    """Allowed places nearest to the middles of equal shares, in order."""
    every = np.array(spots)
    found = []
    for column in range(columns):
        for row in range(rows):
            middle = (
                ground.length * ((column + 0.5) / columns - 0.5),
                ground.width * ((row + 0.5) / rows - 0.5),
            )
            nearest = spots[int(np.argmin(np.hypot(every[:, 0] - middle[0], every[:, 1] - middle[1])))]
            found.append(nearest)
    return tuple(found)


def block_edges(cells: Count, blocks: Count) -> list[Count]:
    """Edges of so many blocks of cells, even about the middle."""
    few = min(cells, blocks)
    return [
        round(cells * n / few) if 2 * n <= few else cells - round(cells * (few - n) / few)
        for n in range(few + 1)
    ]


def block_times(times: Map, rows: list[Count], columns: list[Count]) -> Map:
    """Latest time in each block of a map between edges of rows and columns; ``nan`` where there is no breather."""
    known = np.where(np.isnan(times), -inf, times)
    latest = np.maximum.reduceat(np.maximum.reduceat(known, rows[:-1], axis=0), columns[:-1], axis=1)
    return np.where(np.isneginf(latest), np.nan, latest)
