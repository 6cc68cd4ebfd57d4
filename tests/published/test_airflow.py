"""Air through the breather against Darcy's law, similarity solutions and linear series."""

from math import exp, log, pi

import numpy as np
import pytest
from scipy.integrate import quad, solve_ivp
from scipy.optimize import brentq
from scipy.special import beta, j0, j1, y0, y1

from underbag.model.errors import LayupError, ShapeError
from underbag.model.mechanics.air_grid import Breather, Disc
from underbag.model.mechanics.airflow import (
    AIR_VISCOSITY,
    air_map,
    disc_far_time,
    far_end_time,
    gap_permeability,
    pump_curve,
    radial_flow,
    strip_flow,
    strip_map,
)

ATMOSPHERE = 0.101325
SQUARE_METRE = 1e6
"""Also the factor from m² to mm² of permeability."""


def sheet(inside, cell, permeability=1e-3, thickness=1.0, voids=0.8):
    """Breather that is the same everywhere; permeability in mm², 1e-3 is 1e-9 m²."""
    inside = np.asarray(inside, dtype=bool)
    return Breather(
        cell=cell,
        inside=inside,
        conductance=np.full(inside.shape, permeability * thickness),
        storage=np.full(inside.shape, voids * thickness),
    )


def unit_time(length, permeability=1e-3, voids=0.8):
    return AIR_VISCOSITY * voids * length**2 / (permeability * ATMOSPHERE)


def test_unit_of_time_of_a_metre_of_netting():
    # Source: derived; L = 1 m, k = 1e-9 m², voids 0.8, μ = 1.82e-5 Pa·s: 0.1437 s.
    assert unit_time(1000) == pytest.approx(0.1437, abs=1e-4)


@pytest.mark.parametrize(("part", "expected"), [(0.5, 1.009), (0.2, 3.78), (0.1, 8.95)])
def test_far_end_of_a_strip(part, expected):
    # Source: derived; an independent solution (method of lines) of compressible Darcy flow, one end closed, the
    # other at 0.05 of the start: the far end is at 0.5, 0.2, 0.1 after these units of time, within 1 %.
    breather = sheet(np.ones((1, 100)), 10.0)
    flow = strip_map(breather, lambda t: 0.05 * ATMOSPHERE, ATMOSPHERE, part * ATMOSPHERE, 60.0)
    assert flow.slowest / unit_time(1000) == pytest.approx(expected, rel=0.002)
    assert flow.last_place == (0, 99)
    assert flow.imbalance < 3e-4


def test_late_fall_of_a_strip_goes_by_the_drainage_constant():
    # Source: Boussinesq 1904 (from memory): a level bed draining at one end falls as h0/(1 + 1.115·K·h0·t/(S·L²)).
    # The equation is the same; the constant follows from the similarity profile as B(2/3, 1/2)²/6. Between two
    # late moments the time is (p0/p2 − p0/p1)/1.115 units.
    breather = sheet(np.ones((1, 100)), 10.0)
    first, second = (
        strip_map(breather, lambda t: 1e-5 * ATMOSPHERE, ATMOSPHERE, part * ATMOSPHERE, 60.0).slowest
        for part in (0.1, 0.02)
    )
    constant = beta(2 / 3, 1 / 2) ** 2 / 6
    assert constant == pytest.approx(1.115, abs=1e-3)
    assert (second - first) / unit_time(1000) == pytest.approx((50 - 10) / constant, rel=0.005)


@pytest.mark.parametrize("part", [0.5, 0.2, 0.1, 0.05])
def test_quick_look_at_the_far_end_is_a_tenth_too_short(part):
    breather = sheet(np.ones((1, 100)), 10.0)
    exact = strip_map(breather, lambda t: 1e-5 * ATMOSPHERE, ATMOSPHERE, part * ATMOSPHERE, 60.0).slowest
    quick = far_end_time(mu=AIR_VISCOSITY, phi=0.8, L=1000, k=1e-3, p_0=ATMOSPHERE, p=part * ATMOSPHERE)
    assert 0.88 < quick / exact < 1


@pytest.mark.parametrize(("R", "a"), [(410.0, 60.0), (800.0, 60.0), (600.0, 200.0)])
@pytest.mark.parametrize("part", [0.5, 0.15])
def test_quick_look_at_a_disc_is_a_tenth_too_short(R, a, part):
    # Against the same flow followed on a grid; the strip's quick look is as much too short.
    cells = 40
    middle = (np.arange(cells) + 0.5) * 2 * R / cells - R
    round_sheet = sheet(np.hypot(middle[None, :], middle[:, None]) <= R, 2 * R / cells)
    exact = air_map(
        round_sheet,
        (Disc(x=R, y=R, radius=a),),
        lambda t: 1e-4 * ATMOSPHERE,
        ATMOSPHERE,
        part * ATMOSPHERE,
        60.0,
    ).slowest
    quick = disc_far_time(mu=AIR_VISCOSITY, phi=0.8, R=R, a=a, k=1e-3, p_0=ATMOSPHERE, p=part * ATMOSPHERE)
    assert 0.85 < quick / exact < 1


def test_strip_against_the_linear_series():
    # Source: textbook, heat in a bar cooled at one end: (4/π)·Σ (−1)^n/(2n+1)·exp(−((2n+1)·π/2)²·τ) at the closed
    # end, with the diffusivity k·p/(μ·φ) at the mean pressure. For a fall of 4 % the gas is nearly linear: the
    # error is of the order of a tenth of that.
    low = 0.96 * ATMOSPHERE
    flow = strip_map(
        sheet(np.ones((1, 100)), 10.0), lambda t: low, ATMOSPHERE, low + 0.2 * (ATMOSPHERE - low), 10.0
    )
    pace = 1e-3 * 0.98 * ATMOSPHERE / (AIR_VISCOSITY * 0.8 * 1000**2)

    def series(t):
        terms = ((-1) ** n / (2 * n + 1) * exp(-(((2 * n + 1) * pi / 2) ** 2) * pace * t) for n in range(50))
        return 4 / pi * sum(terms)

    assert flow.slowest == pytest.approx(brentq(lambda t: series(t) - 0.2, 0.01, 10), rel=0.015)


def test_disc_against_the_linear_series():
    # Source: textbook, heat in a ring, cooled at the inner radius a, closed at the outer R (Carslaw and Jaeger's
    # Bessel series). The outer rim is of steps on the grid; 41 cells across leave about 2 %.
    R, a, cells = 410.0, 60.0, 41
    middle = (np.arange(cells) + 0.5) * 20 - R
    round_sheet = sheet(np.hypot(middle[None, :], middle[:, None]) <= R, 20.0)
    low = 0.96 * ATMOSPHERE
    flow = air_map(
        round_sheet,
        (Disc(x=R, y=R, radius=a),),
        lambda t: low,
        ATMOSPHERE,
        low + 0.2 * (ATMOSPHERE - low),
        60.0,
    )
    pace = 1e-3 * 0.98 * ATMOSPHERE / (AIR_VISCOSITY * 0.8)

    def shape(x, r):
        return j0(x * r) * y0(x * a) - j0(x * a) * y0(x * r)

    def closed(x):
        return j1(x * R) * y0(x * a) - j0(x * a) * y1(x * R)

    grid = np.linspace(1e-5, 0.2, 4000)
    signs = np.sign(closed(grid))
    roots = [brentq(closed, grid[i], grid[i + 1]) for i in np.flatnonzero(signs[:-1] != signs[1:])[:12]]
    parts = [
        quad(lambda r, x=x: r * shape(x, r), a, R, limit=200)[0]
        / quad(lambda r, x=x: r * shape(x, r) ** 2, a, R, limit=200)[0]
        for x in roots
    ]

    def series(t):
        return sum(c * shape(x, R) * exp(-pace * x**2 * t) for c, x in zip(parts, roots, strict=True))

    expected = brentq(lambda t: series(t) - 0.2, 0.005, 10)
    along_an_axis = flow.reached[cells // 2, -1]
    assert along_an_axis == pytest.approx(expected, rel=0.03)
    assert flow.slowest == pytest.approx(expected, rel=0.05)


def test_round_sheet_against_the_same_flow_on_the_radius():
    # Independent: the full equation on the radius alone, its own grid of rings and its own time steps.
    R, a, rings = 410.0, 60.0, 200
    edges = np.linspace(a, R, rings + 1)
    mid = (edges[:-1] + edges[1:]) / 2
    volume = 0.8 * pi * np.diff(edges**2)
    low = 0.05 * ATMOSPHERE
    ways = np.append(
        2 * pi * 1e-3 / np.log(mid[0] / a), 2 * pi * 1e-3 / np.log(mid[1:] / mid[:-1])
    ) / (2 * AIR_VISCOSITY)  # fmt: skip

    def change(t, p):
        inward = ways * np.diff(np.concatenate([[low**2], p**2]))
        return (np.append(inward[1:], 0) - inward) / volume

    target = 0.15 * ATMOSPHERE

    def reach(t, p):
        return p[-1] - target

    reach.terminal = True
    solved = solve_ivp(change, (0, 60), np.full(rings, ATMOSPHERE), method="LSODA", rtol=1e-6, events=reach,
                       atol=1e-9, lband=1, uband=1)  # fmt: skip
    middle = (np.arange(41) + 0.5) * 20 - R
    round_sheet = sheet(np.hypot(middle[None, :], middle[:, None]) <= R, 20.0)
    flow = air_map(round_sheet, (Disc(x=R, y=R, radius=a),), lambda t: low, ATMOSPHERE, target, 60.0)
    assert flow.reached[20, -1] == pytest.approx(solved.t_events[0][0], rel=0.03)
    assert flow.imbalance < 3e-4


def test_refining_the_grid_moves_the_time_by_less_than_five_percent():
    # A table top's breather, 1.8 m × 0.9 m with a tail, valve base 60 mm across, from cells as large as its radius.
    times = []
    for n in (1, 2):
        inside = np.zeros((36 * n, 60 * n), dtype=bool)
        inside[: 30 * n] = True
        inside[:, 10 * n : 14 * n] = True
        breather = sheet(inside, 30.0 / n, permeability=3e-4, thickness=2.0)
        valve = Disc(x=12 * 30 + 4, y=33 * 30 + 11, radius=30.0)
        flow = air_map(breather, (valve,), lambda t: 0.01, ATMOSPHERE, 0.02, 600.0)
        assert flow.imbalance < 5e-4
        times.append(flow.slowest)
    assert times[1] == pytest.approx(times[0], rel=0.05)


def test_pump_sets_the_time_where_the_breather_is_open():
    # Limit: netting is so open that the whole bag follows the pump: the last place is late by little.
    breather = sheet(np.ones((10, 20)), 50.0, permeability=3e-3, thickness=2.0)
    voids = 10 * 20 * 50.0**2 * 1.6
    pump = pump_curve(V=voids, S=10e6 / 60, p_0=ATMOSPHERE, p_u=0.002)
    flow = air_map(breather, (Disc(x=500, y=250, radius=50),), pump, ATMOSPHERE, 0.02, 600.0)
    by_pump = voids / (10e6 / 60) * log((ATMOSPHERE - 0.002) / (0.02 - 0.002))
    assert by_pump < flow.slowest < by_pump * 1.1 + 0.5
    assert np.nanmin(flow.reached) == pytest.approx(by_pump, rel=0.01)


def test_steady_flow_through_a_metre():
    # Source: textbook, Darcy; k = 1e-9 m², L = 1 m, 101.325 to 20 kPa: 2.675 m³/s of free air per m².
    flow = strip_flow(
        k=1e-9 * SQUARE_METRE,
        b=1000,
        h=1000,
        p_1=ATMOSPHERE,
        p_2=0.02,
        mu=AIR_VISCOSITY,
        L=1000,
        p_a=ATMOSPHERE,
    )
    assert flow / 1e9 == pytest.approx(2.675, abs=0.001)


def test_steady_flows_against_integration_of_darcys_law():
    # Independent: p·dp/dx = μ·Q/(k·A) integrated from the low end until it reaches the high one.
    k, h, low, far = 3e-4, 2.0, 0.02, 600.0
    straight = 1e4
    solved = solve_ivp(
        lambda x, p: AIR_VISCOSITY * straight / (k * h * 150 * p), (0, far), [low], rtol=1e-10, atol=1e-13
    )
    free = strip_flow(k=k, b=150, h=h, p_1=solved.y[0, -1], p_2=low, mu=AIR_VISCOSITY, L=far, p_a=ATMOSPHERE)
    assert free * ATMOSPHERE == pytest.approx(straight, rel=1e-6)
    solved = solve_ivp(
        lambda r, p: AIR_VISCOSITY * straight / (k * h * 2 * pi * r * p),
        (30, far),
        [low],
        rtol=1e-10,
        atol=1e-13,
    )
    gathered = radial_flow(k=k, h=h, p_1=solved.y[0, -1], p_2=low, mu=AIR_VISCOSITY, R=far, a=30)
    assert gathered == pytest.approx(straight, rel=1e-6)


def test_open_gap():
    # Source: textbook, plane Poiseuille flow; 1 mm: 8.3e-8 m². Independent: the parabola of speed added up.
    assert gap_permeability(g=1.0) / SQUARE_METRE == pytest.approx(8.3e-8, rel=0.005)
    assert gap_permeability(g=0.7) == pytest.approx(quad(lambda z: z * (0.7 - z) / 2, 0, 0.7)[0] / 0.7)


def test_paper_alone_is_too_poor_a_breather():
    # Source: common practice, and the permeability of paper, about 1e-13 m² (from memory): half a metre of it
    # alone takes longer than white glue stays open, eight minutes; netting takes less than a second.
    given = {"mu": AIR_VISCOSITY, "L": 500, "p_0": ATMOSPHERE, "p": 0.02}
    assert far_end_time(k=1e-13 * SQUARE_METRE, phi=0.5, **given) > 8 * 60
    assert far_end_time(k=1e-9 * SQUARE_METRE, phi=0.8, **given) < 1


def test_air_behind_a_gap_in_the_breather_never_leaves():
    inside = np.ones((6, 12), dtype=bool)
    inside[:, 8] = False
    flow = air_map(
        sheet(inside, 40.0), (Disc(x=120, y=120, radius=40),), lambda t: 0.01, ATMOSPHERE, 0.02, 60.0
    )
    assert flow.slowest == np.inf
    assert np.isinf(flow.reached[:, 9:]).all()
    assert flow.pressure[:, 9:] == pytest.approx(ATMOSPHERE)
    assert np.isnan(flow.reached[:, 8]).all()
    assert np.isfinite(flow.reached[:, :8]).all()
    assert flow.last_place == (0, 9)
    # Only the air that has a way is counted.
    assert flow.air_before < ATMOSPHERE * 0.8 * 8 * 6 * 1600


def test_patience_ends_the_computation():
    breather = sheet(np.ones((1, 50)), 20.0)
    whole = strip_map(breather, lambda t: 0.005, ATMOSPHERE, 0.02, 60.0)
    short = strip_map(breather, lambda t: 0.005, ATMOSPHERE, 0.02, whole.slowest / 2)
    assert short.end == pytest.approx(whole.slowest / 2)
    assert short.slowest == np.inf
    held = np.isfinite(short.reached)
    # The same steps up to the last one, which is cut short.
    assert short.reached[held] == pytest.approx(whole.reached[held], rel=1e-2)


def test_valves_that_cannot_be():
    breather = sheet(np.ones((10, 10)), 20.0)

    def run(*valves):
        return air_map(breather, valves, lambda t: 0.01, ATMOSPHERE, 0.02, 10.0)

    assert np.isfinite(run(Disc(x=1, y=199, radius=20)).slowest)
    with pytest.raises(ShapeError, match="not on the breather"):
        run(Disc(x=-1, y=100, radius=20))
    with pytest.raises(ShapeError, match="not on the breather"):
        run(Disc(x=100, y=200.1, radius=20))
    with pytest.raises(ShapeError, match="cells no larger"):
        run(Disc(x=100, y=100, radius=19.9))
    with pytest.raises(ShapeError, match="no valve"):
        run()
    with pytest.raises(ShapeError, match="none beside the valve"):
        run(Disc(x=100, y=100, radius=1000))


def test_breathers_and_targets_that_cannot_be():
    good = np.ones((2, 3))
    assert Breather(cell=1.0, inside=good > 0, conductance=good, storage=good).cell == 1
    with pytest.raises(ShapeError, match="shapes"):
        Breather(cell=1.0, inside=good > 0, conductance=np.ones((3, 2)), storage=good)
    with pytest.raises(ShapeError, match="no cell"):
        Breather(cell=1.0, inside=good < 0, conductance=good, storage=good)
    with pytest.raises(ShapeError, match="greater than 0"):
        Breather(cell=0.0, inside=good > 0, conductance=good, storage=good)
    with pytest.raises(ShapeError, match="conductance of 0"):
        Breather(cell=1.0, inside=good > 0, conductance=good * 0, storage=good)
    with pytest.raises(ShapeError, match="storage of nan"):
        Breather(cell=1.0, inside=good > 0, conductance=good, storage=good * np.nan)
    breather = sheet(np.ones((1, 5)), 20.0)
    for target in (0.0, ATMOSPHERE, 0.2):
        with pytest.raises(LayupError, match="a target of"):
            strip_map(breather, lambda t: 0.01, ATMOSPHERE, target, 10.0)
    for patience in (0.0, np.inf, np.nan):
        with pytest.raises(LayupError, match="a patience of"):
            strip_map(breather, lambda t: 0.01, ATMOSPHERE, 0.02, patience)


def test_pump_curve_is_the_drawing_down_of_the_voids():
    pump = pump_curve(V=3e6, S=50e6 / 60, p_0=ATMOSPHERE, p_u=0.0)
    assert pump(0.0) == pytest.approx(ATMOSPHERE)
    # Source: derived; 3 L at 50 L/min reach 15 kPa after 6.88 s.
    assert pump(6.88) == pytest.approx(0.015, rel=1e-3)
