"""Air on its way through the breather to the valve: slow flow of a gas that thins as it goes.

Darcy's law with a gas that keeps its temperature: the flow of air goes with the fall of p², so that

    φ·h ∂p/∂t = div( k·h/(2·μ) · grad p² )

on the unrolled breather, h being its thickness, φ its void part, k its permeability and μ the viscosity of air.
Its edges are closed, and the valve is held at the pump's pressure. ``air_grid`` lays out the cells.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from math import inf, isfinite, log, pi
from typing import TYPE_CHECKING

import numpy as np

from ..errors import LayupError, ShapeError
from ..source import Source
from ..units import Mm, Mm2, Mm3, Mm3PerSecond, MPa, MPaMm3, MPaMm3PerSecond, MPaSecond, Ratio, Second
from ..value import formula
from .air_grid import Breather, Disc, Map, Network, toward_edge, toward_valves
from .evacuation import pressure_after

if TYPE_CHECKING:
    from scipy.sparse import csc_array

PumpCurve = Callable[[Second], MPa]

AIR_VISCOSITY: MPaSecond = 1.82e-11
"""Viscosity of air at 20 °C (textbook); 2 % more at 30 °C, and the same at any pressure that matters here."""

DARCY = Source("textbook", "Darcy's law for a gas at constant temperature")
DRAINAGE = Source("derived", "late fall of a bed that drains at one end", "constant B(2/3, 1/2)²/6 = 1.115")
DISC_DRAINAGE = Source(
    "derived", "late fall of a bed that drains at one end, times disc over strip under a steady draw"
)
PLANE_FLOW = Source("textbook", "slow flow between parallel plates (Poiseuille)")

_SAMPLES = 4
"""Parts of a time step at which pressures are looked at; even, for Simpson's rule."""
_MOST_STEPS = 20_000


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class AirMap:
    """When each place of the breather reaches the target.

    Parameters
    ----------
    target
        Pressure aimed at, absolute.
    reached
        ``(rows, columns)`` time at which a cell reaches it: ``nan`` where there is no breather, ``inf`` where it
        was not reached, be it for want of time or of a way for the air.
    pressure
        ``(rows, columns)`` pressure when the last was reached or patience ended; ``nan`` off the breather.
    end
        That time.
    air_before, air_after
        Air in the cells that have a way to the valve, as pressure × volume, at the beginning and at the end.
    drawn
        Air that went through the rim of the valve meanwhile, added up from the flow itself.
    """

    target: MPa
    reached: Map
    pressure: Map
    end: Second
    air_before: MPaMm3
    air_after: MPaMm3
    drawn: MPaMm3

    @property
    def slowest(self) -> Second:
        """Time until the whole of the breather has reached the target; ``inf`` where a part does not."""
        return float(np.nanmax(self.reached))

    @property
    def last_place(self) -> tuple[int, int]:
        """Row and column of the cell that is reached last, the first of several."""
        row, column = np.unravel_index(int(np.nanargmax(self.reached)), self.reached.shape)
        return int(row), int(column)

    @property
    def imbalance(self) -> Ratio:
        """Air unaccounted for, as part of the air at the beginning: how good the computation is."""
        return abs(self.air_before - self.air_after - self.drawn) / self.air_before


def pump_curve(V: Mm3, S: Mm3PerSecond, p_0: MPa, p_u: MPa) -> PumpCurve:
    """Pressure at the valve over time as a pump of volume flow S draws the voids V down evenly."""

    def pressure(t: Second) -> MPa:
        return pressure_after(t=t, V=V, S=S, p_0=p_0, p_u=p_u)

    return pressure


def air_map(
    breather: Breather,
    valves: tuple[Disc, ...],
    pump: PumpCurve,
    p_0: MPa,
    target: MPa,
    patience: Second,
    mu: MPaSecond = AIR_VISCOSITY,
) -> AirMap:
    """Follow the air out of a breather until every place has reached the target.

    Parameters
    ----------
    breather
        Where the air flows.
    valves
        Where it leaves, one disc or more; each has its middle on the breather and is at least a cell in radius.
    pump
        Pressure at the valve over time, absolute.
    p_0
        Pressure everywhere at the beginning.
    target
        Pressure aimed at, absolute.
    patience
        Time after which the computation ends with what has been reached.
    mu
        Viscosity of air.

    Raises
    ------
    ShapeError
        There is no valve, one is off the breather or smaller than a cell, or no breather lies beside them.
    LayupError
        The target or the patience is out of range.

    Source: Darcy's law for a gas at constant temperature (textbook); implicit time steps of varying order.
    """
    return _drain(breather, toward_valves(breather, valves), pump, p_0, target, patience, mu)


def strip_map(
    breather: Breather,
    pump: PumpCurve,
    p_0: MPa,
    target: MPa,
    patience: Second,
    mu: MPaSecond = AIR_VISCOSITY,
) -> AirMap:
    """Follow the air out of a strip, or any sheet, that is held at the pump's pressure along its first edge, x = 0.

    Parameters and errors as in ``air_map``.
    """
    return _drain(breather, toward_edge(breather), pump, p_0, target, patience, mu)


@formula(
    "q",
    "free air through a strip of breather",
    "k * b * h * (p_1 ** 2 - p_2 ** 2) / (2 * mu * L * p_a)",
    DARCY,
)
def strip_flow(k: Mm2, b: Mm, h: Mm, p_1: MPa, p_2: MPa, mu: MPaSecond, L: Mm, p_a: MPa) -> Mm3PerSecond:
    """Steady flow, as air of pressure p_a, through a strip b wide, h thick and L long from p_1 to p_2."""
    return k * b * h * (p_1**2 - p_2**2) / (2 * mu * L * p_a)


@formula("Q", "air to a round valve", "pi * k * h * (p_1 ** 2 - p_2 ** 2) / (mu * log(R / a))", DARCY)
def radial_flow(k: Mm2, h: Mm, p_1: MPa, p_2: MPa, mu: MPaSecond, R: Mm, a: Mm) -> MPaMm3PerSecond:
    """Steady flow from the pressure p_1 at the radius R to p_2 at the rim, radius a, of a valve."""
    return pi * k * h * (p_1**2 - p_2**2) / (mu * log(R / a))


@formula(
    "t",
    "time until the far end is drawn down",
    "mu * phi * L ** 2 / (1.115 * k * p_0) * (p_0 / p - 1)",
    DRAINAGE,
)
def far_end_time(mu: MPaSecond, phi: Ratio, L: Mm, k: Mm2, p_0: MPa, p: MPa) -> Second:
    """Quick look at a strip of breather L long: time until its closed end falls from p_0 to p.

    The other end is taken as held at nearly nothing at once; about a tenth too short, for the fall has to
    travel to the far end first. ``strip_map`` follows it exactly.
    """
    return mu * phi * L**2 / (1.115 * k * p_0) * (p_0 / p - 1)


@formula(
    "t",
    "quick look at the air's way from the farthest corner to the valve",
    "mu * phi * R ** 2 * (log(R / a) - (1 - (a / R) ** 2) / 2) / (1.115 * k * p_0) * (p_0 / p - 1)",
    DISC_DRAINAGE,
)
def disc_far_time(mu: MPaSecond, phi: Ratio, R: Mm, a: Mm, k: Mm2, p_0: MPa, p: MPa) -> Second:
    """Quick look at a round breather of radius R with a valve of radius a in its middle: time until its rim is at p.

    As for a strip (``far_end_time``), with the longer way that air has into a small disc: as much longer as the fall
    is under a steady draw. About a tenth too short; ``air_map`` follows it exactly.
    """
    way = log(R / a) - (1 - (a / R) ** 2) / 2
    return mu * phi * R**2 * way / (1.115 * k * p_0) * (p_0 / p - 1)


@formula("k", "permeability of an open gap", "g ** 2 / 12", PLANE_FLOW)
def gap_permeability(g: Mm) -> Mm2:
    """Permeability of a gap g high: the most that any breather of that height can have."""
    return g**2 / 12


def _drain(
    breather: Breather,
    net: Network,
    pump: PumpCurve,
    p_0: MPa,
    target: MPa,
    patience: Second,
    mu: MPaSecond,
) -> AirMap:
    if not 0 < target < p_0:
        raise LayupError(
            "", f"a target of {target:.5g} MPa absolute", f"more than 0 and less than {p_0:.5g}, the first"
        )
    if not patience > 0 or not isfinite(patience):
        raise LayupError("", f"a patience of {patience:g} s", "a time greater than 0")
    rim = np.flatnonzero(net.to_valve)
    reached = np.where(breather.inside, inf, np.nan).ravel()
    final = np.where(breather.inside, p_0, np.nan).ravel()
    times = np.full(len(net.cells), inf)
    valve_time, drawn, end = inf, 0.0, 0.0
    before = p = np.full(len(net.cells), p_0)
    valve_before = p_0
    for start, stop, look in _steps(net, pump, p_0, patience, mu):
        moments = np.linspace(start, stop, _SAMPLES + 1)
        outflow = np.empty(_SAMPLES + 1)
        for n, moment in enumerate(moments.tolist()):
            p, p_v = look(moment), pump(moment)
            outflow[n] = net.to_valve[rim] @ (p[rim] ** 2 - p_v**2) / (2 * mu)
            if n:
                since = float(moments[n - 1])
                crossed = np.flatnonzero((p <= target) & np.isinf(times))
                for cell in crossed.tolist():
                    times[cell] = _crossing(since, moment, before[cell], p[cell], target)
                if valve_time == inf and p_v <= target:
                    valve_time = _crossing(since, moment, valve_before, p_v, target)
            before, valve_before = p, p_v
        drawn += float(outflow @ _simpson() * (stop - start))
        end = stop
        if not np.isinf(times).any():
            break
    reached[net.cells], final[net.cells] = times, p
    reached[net.held.ravel()], final[net.held.ravel()] = valve_time, pump(end)
    return AirMap(
        target=target,
        reached=reached.reshape(net.held.shape),
        pressure=final.reshape(net.held.shape),
        end=end,
        air_before=float(net.volume.sum() * p_0),
        air_after=float(net.volume @ p),
        drawn=drawn,
    )


def _crossing(since: Second, until: Second, before: MPa, after: MPa, target: MPa) -> Second:
    """Time at which a pressure that falls evenly between two moments passes the target."""
    return since if before <= target else since + (before - target) / (before - after) * (until - since)


def _simpson() -> Map:
    weights = np.array([1.0, *([4.0, 2.0] * (_SAMPLES // 2))[:-1], 1.0])
    parts: Map = weights / weights.sum()
    return parts


def _steps(
    net: Network, pump: PumpCurve, p_0: MPa, patience: Second, mu: MPaSecond
) -> Iterator[tuple[Second, Second, Callable[[Second], Map]]]:
    """Go through time in implicit steps; give each step's start, end and the pressures at any time within."""
    from scipy.integrate import BDF

    pace = 1 / (2 * mu * net.volume)
    columns = np.repeat(np.arange(len(net.volume)), np.diff(net.exchange.indptr))
    slope = 2 * net.exchange.data * pace[net.exchange.indices]

    def change(t: float, p: Map) -> Map:
        rate: Map = (net.exchange @ p**2 + net.to_valve * pump(t) ** 2) * pace
        return rate

    def jacobian(t: float, p: Map) -> "csc_array":
        matrix = net.exchange.copy()
        matrix.data = slope * p[columns]
        return matrix

    start = np.full(len(net.volume), p_0)
    solver = BDF(change, 0.0, start, patience, rtol=1e-4, atol=1e-6 * p_0, jac=jacobian)
    for _ in range(_MOST_STEPS):
        # the solver's table of differences starts as whatever lay in memory; rows not yet used may not warn
        with np.errstate(invalid="ignore", over="ignore"):
            message = solver.step()
        if solver.status == "failed":
            raise ShapeError(f"air flow: the steps in time broke down at {solver.t:.4g} s: {message}")
        yield float(solver.t_old), float(solver.t), solver.dense_output()
        if solver.status == "finished":
            return
    raise ShapeError(f"air flow: {_MOST_STEPS} steps did not pass {patience:g} s; ask for a shorter time")
