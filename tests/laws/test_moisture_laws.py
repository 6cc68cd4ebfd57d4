"""Moisture: two ways to one number, and what may never happen."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from underbag.model.mechanics.moisture import (
    coefficient,
    coefficient_at_rings,
    equilibrium_moisture,
    equilibrium_moisture_2014,
    equilibrium_moistures,
    humidity_2014,
    humidity_for,
    moisture_from_glue,
    movement,
    movement_wide,
)

temperature = st.floats(0, 60)
humidity = st.floats(0.01, 0.95)


@settings(deadline=None)
@given(temperature, humidity)
def test_equilibrium_in_fahrenheit(T: float, h: float) -> None:
    """The same equation as the handbook's older editions print it, with temperatures in °F."""
    F = 1.8 * T + 32
    W = 330 + 0.452 * F + 0.00415 * F**2
    K = 0.791 + 4.63e-4 * F - 8.44e-7 * F**2
    K1 = 6.34 + 7.75e-4 * F - 9.35e-5 * F**2
    K2 = 1.09 + 2.84e-2 * F - 9.04e-5 * F**2
    x = K * h
    older = 1800 / W * (x / (1 - x) + (K1 * x + 2 * K1 * K2 * x**2) / (1 + K1 * x + K1 * K2 * x**2))

    # Both sets of constants are rounded to three digits.
    assert equilibrium_moisture(T=T, h=h) == pytest.approx(older, abs=0.03, rel=0.003)


@settings(deadline=None)
@given(st.floats(15, 60), st.floats(0.2, 0.8))
def test_the_two_equations_agree_within_a_percent(T: float, h: float) -> None:
    assert equilibrium_moisture_2014(T=T, h=h) == pytest.approx(equilibrium_moisture(T=T, h=h), abs=1.0)


@settings(deadline=None)
@given(temperature, humidity, humidity)
def test_damper_air_never_dries_wood(T: float, one: float, other: float) -> None:
    low, high = sorted((one, other))

    assert equilibrium_moisture(T=T, h=low) <= equilibrium_moisture(T=T, h=high)
    assert equilibrium_moisture_2014(T=T, h=low) <= equilibrium_moisture_2014(T=T, h=high)


@settings(deadline=None)
@given(temperature, humidity)
def test_humidity_and_moisture_undo_each_other(T: float, h: float) -> None:
    assert humidity_for(T=T, M=equilibrium_moisture(T=T, h=h)) == pytest.approx(h, abs=1e-10)
    assert humidity_2014(T=T, M=equilibrium_moisture_2014(T=T, h=h)) == pytest.approx(h, abs=1e-10)


@settings(deadline=None)
@given(temperature)
def test_air_that_no_weather_brings(T: float) -> None:
    wettest = equilibrium_moisture(T=T, h=1.0)

    assert humidity_for(T=T, M=0.0) == 0
    assert humidity_for(T=T, M=-3.0) == 0
    assert humidity_for(T=T, M=wettest + 1) == 1
    assert humidity_for(T=T, M=wettest * 0.999) < 1


def test_many_humidities_at_once() -> None:
    h = np.array([[0.2, 0.4], [0.6, 0.8]])

    assert equilibrium_moistures(20.0, h) == pytest.approx(
        np.array([[equilibrium_moisture(T=20.0, h=item) for item in row] for row in h]), rel=1e-12
    )


@settings(deadline=None)
@given(st.floats(10, 2000), st.floats(2, 14), st.floats(0.5, 25), st.floats(-4, 4))
def test_wide_movement_is_shrinkage_in_a_straight_line(L: float, S: float, M: float, dM: float) -> None:
    """Green wood of 1 shrinks in a straight line from 30 % to nothing; both lengths are read off that line."""

    def length(moisture: float) -> float:
        return 1 - S / 100 * (30 - moisture) / 30

    assert movement_wide(L=L, S=S, M=M, dM=dM) == pytest.approx(
        L * (length(M + dM) / length(M) - 1), rel=1e-9, abs=1e-9
    )


@settings(deadline=None)
@given(st.floats(10, 2000), st.floats(2, 14), st.floats(6, 14), st.floats(-4, 4))
def test_the_coefficient_holds_from_six_to_fourteen_percent(L: float, S: float, M: float, dM: float) -> None:
    simple = movement(L=L, C=coefficient(S=S), dM=dM)

    # Four percent of moisture off ten, on a shrinkage of 14 % at most: 4/(3000/14 − 20) = 2 %.
    assert simple == pytest.approx(movement_wide(L=L, S=S, M=M, dM=dM), rel=0.021, abs=1e-12)


@settings(deadline=None)
@given(st.floats(5e-4, 2e-3), st.floats(2e-3, 4e-3), st.floats(0, 1.57))
def test_a_face_moves_between_quarter_and_flat_cut(C_R: float, C_T: float, a: float) -> None:
    assert C_R * (1 - 1e-12) <= coefficient_at_rings(C_R=C_R, C_T=C_T, a=a) <= C_T * (1 + 1e-12)


@settings(deadline=None)
@given(st.floats(5e-5, 4e-4), st.floats(0, 0.6), st.floats(3e-4, 1e-3), st.floats(0.3, 3), st.floats(0, 1))
def test_no_water_is_lost_between_two_layers(g: float, x: float, rho: float, t: float, r: float) -> None:
    """The water of the glue line is found again in the two layers beside it, weighed over 1 m²."""
    veneer = moisture_from_glue(g=g, x=x, r=r, rho_0=rho, t=t)
    core = moisture_from_glue(g=g, x=x, r=1 - r, rho_0=7e-4, t=18)

    found = (veneer / 100 * rho * t + core / 100 * 7e-4 * 18) * 1e6
    assert found == pytest.approx(g * x * 1e6, rel=1e-9, abs=1e-12)
