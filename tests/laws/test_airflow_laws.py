"""What holds for the flow of air through any breather."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from underbag.model.mechanics.air_grid import Breather, Disc
from underbag.model.mechanics.airflow import (
    air_map,
    far_end_time,
    pump_curve,
    radial_flow,
    strip_flow,
    strip_map,
)

ATMOSPHERE = 0.101325
CELL = 40.0
VALVE = Disc(x=130.0, y=110.0, radius=45.0)
few = settings(max_examples=8, deadline=None)
# Each example follows a whole draw-down, 0.1 s or so.


@st.composite
def breathers(draw):
    """Sheets of uneven breather, some with holes away from the valve."""
    rows, columns = draw(st.integers(6, 9)), draw(st.integers(6, 12))
    seed = np.random.default_rng(draw(st.integers(0, 10_000)))
    inside = seed.random((rows, columns)) < 0.85
    inside[1:5, 1:6] = True
    return Breather(
        cell=CELL,
        inside=inside,
        conductance=6e-4 * 10 ** seed.uniform(-0.5, 0.5, inside.shape),
        storage=seed.uniform(1.0, 2.5, inside.shape),
    )


def follow(breather, *, valves=(VALVE,), pump=lambda t: 0.005, target=0.02, patience=120.0):
    return air_map(breather, valves, pump, ATMOSPHERE, target, patience)


@few
@given(breathers())
def test_no_air_is_lost_and_no_pressure_leaves_its_bounds(breather):
    flow = follow(breather)
    assert flow.imbalance < 2e-3
    assert 0 < flow.drawn < flow.air_before
    assert np.isnan(flow.reached).tolist() == (~breather.inside).tolist()
    inside = flow.pressure[breather.inside]
    assert (inside >= 0.005 * (1 - 1e-3)).all()
    assert (inside <= ATMOSPHERE * (1 + 1e-6)).all()
    way = np.isfinite(flow.reached)
    assert (flow.pressure[way] <= 0.02 * (1 + 1e-6)).all()
    # Air flows downhill: every place but the valve has a neighbour that was reached before it.
    padded = np.pad(np.where(way, flow.reached, np.inf), 1, constant_values=np.inf)
    neighbours = np.min([padded[:-2, 1:-1], padded[2:, 1:-1], padded[1:-1, :-2], padded[1:-1, 2:]], axis=0)
    later = way & (flow.reached > 0)
    assert (neighbours[later] < flow.reached[later]).all()


@few
@given(breathers())
def test_the_same_breather_gives_the_same_map(breather):
    one, other = follow(breather), follow(breather)
    assert np.array_equal(one.reached, other.reached, equal_nan=True)
    assert one.drawn == other.drawn


@few
@given(breathers(), st.floats(1.2, 10))
def test_an_opener_breather_is_quicker_in_proportion(breather, k):
    # The equation knows only k·t: half the time for twice the permeability, exactly; steps are chosen alike.
    one = follow(breather)
    other = follow(replace(breather, conductance=breather.conductance * k))
    way = np.isfinite(one.reached)
    assert other.reached[way] * k == pytest.approx(one.reached[way], rel=2e-3)


@few
@given(breathers(), st.floats(0.012, 0.05), st.floats(0.012, 0.05))
def test_a_deeper_target_is_never_quicker(breather, one, other):
    deep, shallow = follow(breather, target=min(one, other)), follow(breather, target=max(one, other))
    way = np.isfinite(deep.reached)
    assert (deep.reached[way] >= shallow.reached[way] * (1 - 1e-9)).all()


@few
@given(breathers(), st.floats(1e5, 1e6), st.floats(1.5, 10))
def test_a_bigger_pump_is_never_slower(breather, S, k):
    voids = float(breather.storage.sum() * CELL**2)
    slow, fast = (
        follow(breather, pump=pump_curve(V=voids, S=flow, p_0=ATMOSPHERE, p_u=0.005), patience=1e4)
        for flow in (S, S * k)
    )
    way = np.isfinite(slow.reached)
    assert (fast.reached[way] <= slow.reached[way] * (1 + 1e-3)).all()
    assert fast.slowest <= slow.slowest * (1 + 1e-3)


@few
@given(breathers())
def test_a_second_valve_is_never_slower(breather):
    one = follow(breather)
    two = follow(breather, valves=(VALVE, Disc(x=190.0, y=170.0, radius=40.0)))
    way = np.isfinite(one.reached)
    assert (two.reached[way] <= one.reached[way] * (1 + 1e-3) + 1e-9).all()


@few
@given(breathers())
def test_a_mirrored_breather_gives_the_mirrored_map(breather):
    width = breather.inside.shape[1] * CELL
    mirrored = Breather(
        cell=CELL,
        inside=breather.inside[:, ::-1],
        conductance=breather.conductance[:, ::-1],
        storage=breather.storage[:, ::-1],
    )
    one, other = follow(breather), follow(mirrored, valves=(replace(VALVE, x=width - VALVE.x),))
    way = np.isfinite(one.reached)
    assert np.isfinite(other.reached[:, ::-1]).tolist() == way.tolist()
    assert other.reached[:, ::-1][way] == pytest.approx(one.reached[way], rel=2e-3, abs=1e-6)


@few
@given(breathers())
def test_a_turned_breather_gives_the_turned_map(breather):
    turned = Breather(
        cell=CELL, inside=breather.inside.T, conductance=breather.conductance.T, storage=breather.storage.T
    )
    one, other = follow(breather), follow(turned, valves=(Disc(x=VALVE.y, y=VALVE.x, radius=VALVE.radius),))
    way = np.isfinite(one.reached)
    assert other.reached.T[way] == pytest.approx(one.reached[way], rel=2e-3, abs=1e-6)


@few
@given(st.integers(2, 6), st.floats(0.01, 0.06))
def test_a_wide_strip_is_many_narrow_ones(rows, target):
    def strip(count):
        return Breather(
            cell=20.0,
            inside=np.ones((count, 30), dtype=bool),
            conductance=np.full((count, 30), 6e-4),
            storage=np.full((count, 30), 1.6),
        )

    narrow, wide = (strip_map(strip(n), lambda t: 0.005, ATMOSPHERE, target, 60.0) for n in (1, rows))
    assert wide.reached == pytest.approx(np.repeat(narrow.reached, rows, axis=0), rel=1e-3)
    assert wide.drawn == pytest.approx(rows * narrow.drawn, rel=1e-3)


@given(st.floats(100, 3000), st.floats(1e-7, 1e-2), st.floats(0.01, 0.09), st.floats(1, 5))
def test_quick_look_goes_with_the_square_of_the_length(L, k, p, more):
    given_ = {"mu": 1.82e-11, "phi": 0.8, "k": k, "p_0": ATMOSPHERE}
    one = far_end_time(**given_, L=L, p=p)
    assert far_end_time(**given_, L=L * more, p=p) == pytest.approx(one * more**2)
    assert far_end_time(**given_, L=L, p=p / more) >= one


@given(st.floats(0.002, 0.09), st.floats(1.001, 1.01), st.floats(50, 3000))
def test_a_thin_ring_is_a_strip_as_long_as_its_girth(low, ratio, radius):
    far = radius * ratio
    ring = radial_flow(k=1e-3, h=2, p_1=ATMOSPHERE, p_2=low, mu=1.82e-11, R=far, a=radius)
    strip = strip_flow(
        k=1e-3, b=np.pi * (radius + far), h=2, p_1=ATMOSPHERE, p_2=low, mu=1.82e-11, L=far - radius, p_a=1.0
    )
    # log(R/a) and 2·(R − a)/(R + a) agree to the square of the ring's width.
    assert ring == pytest.approx(strip, rel=1e-5)
