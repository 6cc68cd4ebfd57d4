"""Balance: the back that keeps a panel flat, and the humidity in which a panel stays flat enough."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from ..errors import ShapeError
from ..units import Celsius, Mm, Percent, Ratio
from .laminate import Layers, assemble, stiffness, turned_stiffness, turned_strain, warp
from .moisture import equilibrium_moisture, humidity_for

Numbers = NDArray[np.float64]
Measure = Callable[[Numbers], Numbers]


def warp_in_mm(curvature: ArrayLike, a: Mm, b: Mm) -> Numbers:
    """Bow, cup and twist ``(..., 3)`` of a panel ``a`` along x and ``b`` along y, from curvatures ``(..., 3)``."""
    return np.asarray(np.asarray(curvature, dtype=np.float64) * np.array([a**2 / 8, b**2 / 8, a * b / 2]))


@dataclass(frozen=True, slots=True, kw_only=True)
class BackVeneer:
    """Thickness of the back veneer that balances a face.

    Parameters
    ----------
    along, across
        Thickness at which the panel does not bow along or cup across it; None where no thickness does that.
    best
        Thickness at which the greatest of bow, cup and twist is least.
    left
        Bow, cup and twist in mm that the best one leaves.
    """

    along: Mm | None
    across: Mm | None
    best: Mm
    left: tuple[Mm, Mm, Mm]


def balancing_back(
    stack: Layers, dM: ArrayLike, back: int, a: Mm, b: Mm, thinnest: Mm, thickest: Mm
) -> BackVeneer:
    """Find the thickness of one layer that keeps a panel flat.

    Parameters
    ----------
    stack
        The layers from below upward; the thickness of the one searched for is not read.
    dM
        ``(n,)`` change of moisture content of each layer, %.
    back
        Number of that layer, from below.
    a, b
        Panel along x and y.
    thinnest, thickest
        Range of the search.

    Raises
    ------
    ShapeError
        The range is empty.

    Source: laminated-plate theory, searched over a grid that closes in on the place.
    """
    if not 0 < thinnest < thickest:
        raise ShapeError(
            f"back veneer: no thickness lies between {thinnest:g} and {thickest:g} mm; widen the range"
        )

    Q = turned_stiffness(stack.E1, stack.E2, stack.G12, stack.nu12, stack.angle)
    free = stack.free_strain(dM)

    def measured(thickness: Numbers) -> Numbers:
        t = np.repeat(stack.t[None, :], len(thickness), axis=0)
        t[:, back] = thickness
        return warp_in_mm(warp(assemble(Q, t), free).curvature, a, b)

    grid = np.linspace(thinnest, thickest, 33)
    coarse = measured(grid)
    best = _least(lambda t: np.abs(measured(t)).max(axis=-1), grid, np.abs(coarse).max(axis=-1))
    bow, cup, twist = (float(item) for item in measured(np.array([best]))[0])
    return BackVeneer(
        along=_zero(lambda t: measured(t)[:, 0], grid, coarse[:, 0]),
        across=_zero(lambda t: measured(t)[:, 1], grid, coarse[:, 1]),
        best=best,
        left=(bow, cup, twist),
    )


def _zero(measure: Measure, grid: Numbers, values: Numbers) -> Mm | None:
    """First place where ``measure`` passes 0; ``values`` are its values on ``grid``.

    Two rounds on a finer grid and a straight line between the last two points leave about 1e-9 of the range.
    """
    for finer in (17, 17, 0):
        passes = np.flatnonzero(np.sign(values[:-1]) * np.sign(values[1:]) <= 0)
        if not len(passes):
            return None
        first = int(passes[0])
        if finer:
            grid = np.linspace(grid[first], grid[first + 1], finer)
            values = measure(grid)
    before, after = values[first], values[first + 1]
    share = before / (before - after) if before != after else 0.0
    return float(grid[first] + share * (grid[first + 1] - grid[first]))


def _least(measure: Measure, grid: Numbers, values: Numbers) -> Mm:
    """Place of the least of ``measure``; ``values`` are its values on ``grid``. Leaves about 1e-6 of the range."""
    for _ in range(5):
        lowest = int(np.argmin(values))
        grid = np.linspace(grid[max(lowest - 1, 0)], grid[min(lowest + 1, len(grid) - 1)], 17)
        values = measure(grid)
    return float(grid[int(np.argmin(values))])


@dataclass(frozen=True, slots=True, kw_only=True)
class HumidityBand:
    """Air in which a panel stays within its limits.

    Parameters
    ----------
    driest, dampest
        Relative humidities; 0 and 1 where no air warps it too far.
    driest_moisture, dampest_moisture
        Equilibrium moisture content of wood in that air, %.
    """

    driest: Ratio
    dampest: Ratio
    driest_moisture: Percent
    dampest_moisture: Percent


def humidity_band(
    stack: Layers,
    flat_at: ArrayLike,
    below_wood: ArrayLike,
    T: Celsius,
    a: Mm,
    b: Mm,
    limit: tuple[Mm, Mm, Mm],
) -> HumidityBand | None:
    """Find the humidities in which bow, cup and twist all stay within their limits; None if there is no such air.

    Parameters
    ----------
    stack
        The layers from below upward.
    flat_at
        ``(n,)`` moisture content of each layer when the glue set, %: there the panel is flat.
    below_wood
        ``(n,)`` how far each layer's equilibrium lies below that of solid wood, % of moisture content.
    T
        Temperature of the air.
    a, b
        Panel along x and y.
    limit
        Greatest bow, cup and twist, mm, all more than 0.

    Source: laminated-plate theory, in which the warp is linear in the moisture content of the air's wood; turned to
    humidity by FPL-GTR-282, Eq 4-5.
    """
    plate = stiffness(stack)
    dry = -(np.asarray(flat_at, dtype=np.float64) + np.asarray(below_wood, dtype=np.float64))
    changes = np.stack([np.broadcast_to(dry, stack.t.shape), np.ones(stack.t.shape)])
    free = turned_strain(stack.C1 * changes, stack.C2 * changes, stack.angle)
    at_nothing, per_percent = warp_in_mm(warp(plate, free).curvature, a, b)
    low, high = 0.0, equilibrium_moisture(T=T, h=1.0)
    for start, rise, most in zip(at_nothing, per_percent, limit, strict=True):
        if abs(rise) * high < 1e-9 * most:
            if abs(start) > most:
                return None
            continue
        ends = sorted(((-most - start) / rise, (most - start) / rise))
        low, high = max(low, ends[0]), min(high, ends[1])
    if low > high:
        return None
    return HumidityBand(
        driest=humidity_for(T=T, M=float(low)),
        dampest=humidity_for(T=T, M=float(high)),
        driest_moisture=float(low),
        dampest_moisture=float(high),
    )
