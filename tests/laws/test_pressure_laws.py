"""Pressure: two ways to one number, and what may never happen."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from underbag.model.mechanics.pressure import (
    air_pressure,
    air_pressure_from_report,
    bag_pressure,
    contact_pressure,
    deepest_gauge,
    force,
    vapour_pressure,
)

altitude = st.floats(0, 5e6)
pressure = st.floats(0.001, 0.1)


def test_standard_atmosphere_is_air_at_rest() -> None:
    """The pressure falls by the weight of the air: hydrostatics, integrated with gravity falling off with height."""

    def fall(z: float, p: list[float]) -> list[float]:
        earth = 6356766.0
        gravity = 9.80665 * (earth / (earth + z)) ** 2
        temperature = 288.15 - 0.0065 * earth * z / (earth + z)
        return [-p[0] * gravity / (287.05287 * temperature)]

    heights = np.array([200.0, 1000.0, 2500.0, 5000.0])
    path = solve_ivp(fall, (0, 5000), [101325.0], t_eval=heights, rtol=1e-10, atol=1e-6)

    # The printed exponent 5.25588 carries six digits: 1e-6 of the logarithm.
    for z, expected in zip(heights, path.y[0], strict=True):
        assert air_pressure(z=z * 1000) * 1e6 == pytest.approx(expected, rel=1e-6)


@settings(deadline=None)
@given(altitude)
def test_a_standard_report_gives_the_standard_atmosphere(z: float) -> None:
    assert air_pressure_from_report(q=0.101325, z=z) == pytest.approx(air_pressure(z=z), rel=1e-9)


@settings(deadline=None)
@given(altitude, altitude, st.floats(1e3, 1e7))
def test_higher_up_never_gives_more_force(one: float, other: float, area: float) -> None:
    low, high = sorted((one, other))
    below, above = (
        force(p=deepest_gauge(p_air=air_pressure(z=z), p_w=vapour_pressure(T=20), p_u=0.0005), A=area)
        for z in (low, high)
    )

    assert above <= below


@settings(deadline=None)
@given(st.floats(0.09, 0.11), altitude, altitude)
def test_higher_up_a_report_never_means_more_air(q: float, one: float, other: float) -> None:
    low, high = sorted((one, other))

    assert air_pressure_from_report(q=q, z=high) <= air_pressure_from_report(q=q, z=low)


@pytest.mark.parametrize("celsius", [5.0, 20.0, 40.0, 80.0])
def test_vapour_pressure_rises_as_heat_of_vaporisation_demands(celsius: float) -> None:
    """Clausius and Clapeyron: d ln p / dT = L/(R T²), with the steam tables' latent heat per kg."""
    latent = {5.0: 2489.1e3, 20.0: 2453.5e3, 40.0: 2406.0e3, 80.0: 2308.0e3}[celsius]
    step = 0.01
    slope = (math.log(vapour_pressure(T=celsius + step)) - math.log(vapour_pressure(T=celsius - step))) / (
        2 * step
    )

    # Vapour is not quite an ideal gas: 1 % at 80 °C.
    assert slope == pytest.approx(latent / (461.526 * (celsius + 273.15) ** 2), rel=0.012)


@settings(deadline=None)
@given(pressure, st.floats(0.05, 0.11))
def test_gauge_and_bag_pressure_make_up_the_air(p: float, p_air: float) -> None:
    assert p + bag_pressure(p_air=p_air, p=p) == pytest.approx(p_air, rel=1e-12)


@settings(deadline=None)
@given(pressure, st.floats(0.01, 10), st.floats(1e-5, 0.1))
def test_a_hollow_loses_what_a_crown_gains(p: float, T: float, k: float) -> None:
    crown = contact_pressure(p=p, T=T, k=k)
    hollow = contact_pressure(p=p, T=T, k=-k)

    assert crown >= p >= hollow
    assert crown + hollow == pytest.approx(2 * p, rel=1e-9, abs=1e-12)


def test_a_ring_of_stretched_film_is_in_balance() -> None:
    """Contact pressure around a whole cylinder, summed as forces, pulls its two halves together with 2 T."""
    radius, tension = 40.0, 1.5
    angle = np.linspace(0, math.pi, 20001)
    contact = contact_pressure(p=0.0, T=tension, k=1 / radius)
    upward = np.trapezoid(contact * np.sin(angle) * radius, angle)

    assert upward == pytest.approx(2 * tension, rel=1e-7)
