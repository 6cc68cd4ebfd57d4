"""Fitting a layup into a bag that is owned: by two ways, and at the limit."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import Polygon, affinity, box

from underbag.model.bag.fit import Fit, even_turn, fit
from underbag.model.bag.valve import valve_room
from underbag.model.layup.settle import settle
from underbag.model.plan import Plan, plan

SIZES = st.floats(100.0, 2000.0)


def planned(length: float = 420.0, width: float = 300.0) -> Plan:
    return plan(settle({"panel": {"length": length, "width": width}}))


def held(made: Plan, width: float, length: float) -> Fit:
    return fit(made.layup, made.bag, valve_room(made.layup, made.stack), width, length)


def test_a_bag_of_exactly_the_size_needed_fits_and_a_smaller_one_does_not() -> None:
    made = planned()
    exact = held(made, made.bag.needed_width, made.bag.needed_length)
    assert exact.ways[0].fits
    assert exact.ways[0].shortest == pytest.approx(0.0, abs=1e-9)
    assert not held(made, made.bag.needed_width - 0.1, made.bag.needed_length).ways[0].fits


@given(SIZES, SIZES, st.floats(0.0, 300.0), st.floats(0.0, 300.0))
def test_a_job_may_grow_by_what_is_to_spare_and_no_more(
    length: float, width: float, more: float, wider: float
) -> None:
    made = planned(length, width)
    straight = held(made, made.bag.needed_width + wider, made.bag.needed_length + more).ways[0]
    grown = planned(length + straight.spare_length, width + straight.spare_width)
    again = held(grown, made.bag.needed_width + wider, made.bag.needed_length + more).ways[0]
    assert again.shortest == pytest.approx(0.0, abs=1e-6)


@given(SIZES, SIZES, SIZES, SIZES)
def test_no_angle_is_better_than_the_best_way(a: float, b: float, across: float, along: float) -> None:
    angles = np.linspace(0.0, 0.5 * math.pi, 2001)
    spare = np.minimum(
        across - a * np.sin(angles) - b * np.cos(angles), along - a * np.cos(angles) - b * np.sin(angles)
    )
    slant = even_turn(across, along, a, b)
    ways = [0.0, 0.5 * math.pi] + ([slant] if slant is not None else [])
    best = max(
        min(across - a * math.sin(t) - b * math.cos(t), along - a * math.cos(t) - b * math.sin(t))
        for t in ways
    )
    assert spare.max() <= best + 1e-6


def test_a_long_slim_job_goes_in_on_the_diagonal() -> None:
    made = planned(900.0, 60.0)
    # shapely is the outside referee: the film's rectangle, turned, inside the usable one
    a, b = made.bag.length_terms[0].amount, made.bag.width_terms[0].amount
    found = held(made, 900.0, a + 2 * 90.0 + 200.0 - 20.0 + valve_room(made.layup, made.stack))
    assert [way.fits for way in found.ways] == [False, False, True]
    way = found.ways[2]
    film = affinity.rotate(box(-a / 2, -b / 2, a / 2, b / 2), math.degrees(way.turn))
    along, across = a - 20.0, 900.0 - 180.0
    usable = Polygon(
        [
            (-along / 2, -across / 2),
            (along / 2, -across / 2),
            (along / 2, across / 2),
            (-along / 2, across / 2),
        ]
    )
    assert usable.buffer(1e-6).contains(film)
