"""Fitting a layup into a bag that is owned: by two ways, and at the limit."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Point, Polygon, affinity, box

from underbag.model.bag.fit import Fit, Under, even_turn, fit
from underbag.model.bag.lay import GAP, INSIDE_CAUL, bed_of, lay_under
from underbag.model.bag.needs import Bag, job_of
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


def under(made: Plan, valve: tuple[float, float]) -> Under:
    return Under(valve=valve, bed=bed_of(made.layup, made.stack, made.bag))


@settings(max_examples=25, deadline=None)
@given(
    st.floats(0.0, 1.0),
    st.floats(0.0, 1.0),
    st.sampled_from(["MDF", "none"]),
    st.sampled_from([0.0, 0.5 * math.pi, 0.6]),
)
def test_the_work_keeps_its_clearances_and_the_valve_is_over_what_is_told(
    along: float, across: float, caul: str, turn: float
) -> None:
    made = plan(settle({"panel": {"length": 500.0, "width": 300.0}, "caul": {"material": caul}}))
    bed, length, width = bed_of(made.layup, made.stack, made.bag), 1800.0, 1300.0
    valve = (along * length, across * width)
    laid = lay_under(bed, length, width, valve, turn)
    # shapely is the outside referee
    middle = (laid.from_closed_end, laid.from_left_seam)

    def rectangle(half_length: float, half_width: float) -> Polygon:
        one = box(-half_length, -half_width, half_length, half_width)
        return affinity.translate(affinity.rotate(one, math.degrees(turn), origin=(0, 0)), *middle)

    film = rectangle(0.5 * bed.along, 0.5 * bed.across)
    base = Point(valve).buffer(bed.radius)
    room = box(bed.clearance, bed.clearance, length - bed.clearance - bed.closure, width - bed.clearance)
    assert room.buffer(1e-6).contains(film)
    if laid.over == "caul":
        plate = made.stack.find("caul")
        assert plate is not None
        half = 0.5 * plate.outline.length - INSIDE_CAUL, 0.5 * plate.outline.width - INSIDE_CAUL
        assert rectangle(*half).buffer(1.0).contains(base)
    elif laid.over == "tail":
        assert film.distance(Point(valve)) >= bed.radius - 1e-6


def test_the_bag_of_the_file_and_the_same_bag_by_hand_lay_the_work_alike() -> None:
    bag, valve = {"length": 1500.0, "width": 900.0}, {"from_closed_end": 420.0, "from_left_seam": 400.0}
    made = plan(settle({"panel": {"length": 600.0, "width": 300.0}, "bag": bag, "valve": valve}))
    way = fit(made.layup, made.bag, 0.0, 900.0, 1500.0, under(made, (420.0, 400.0))).ways[0]
    assert way.over == made.valve.over == "caul"
    assert way.middle_from_closed_end == pytest.approx(made.valve.work_from_closed_end)
    assert way.middle_from_left_seam == pytest.approx(made.valve.work_from_left_seam)


def test_a_way_whose_valve_would_sit_on_bare_work_is_no_way() -> None:
    # no caul, and a valve in the middle of a bag that leaves no room beside it
    made = plan(settle({"panel": {"length": 700.0, "width": 420.0}, "caul": {"material": "none"}}))
    size = made.bag
    inside = (size.needed_width + 20.0, size.needed_length + 40.0)
    middle = (0.5 * inside[1], 0.5 * inside[0])
    room = valve_room(made.layup, made.stack)
    held = fit(made.layup, size, room, *inside, under(made, middle))
    assert held.ways[0].is_large_enough
    assert held.ways[0].over == "bare work"
    assert held.best is None
    # and no choice of bags lays it there
    bed = bed_of(made.layup, made.stack, size)
    job = job_of("job", size, "film", bed)
    assert Bag(length=inside[1], width=inside[0], valve=middle).way_of(job) is None
    assert Bag(length=inside[1], width=inside[0]).way_of(job) is not None
    # where the valve of a new bag would sit there is a way
    near = (90.0 + room - GAP - bed.radius, middle[1])
    assert fit(made.layup, size, room, *inside, under(made, near)).ways[0].over == "tail"
    assert Bag(length=inside[1], width=inside[0], valve=near).way_of(job) is not None


@given(SIZES, SIZES, st.floats(300.0, 2500.0), st.floats(300.0, 2500.0))
def test_a_job_that_grows_by_what_is_told_just_fits(
    length: float, width: float, bag_width: float, bag_length: float
) -> None:
    made = planned(length, width)
    found = held(made, bag_width, bag_length)
    a, b = made.bag.length_terms[0].amount, made.bag.width_terms[0].amount
    for way in found.ways:
        if way.fits:
            c, s = math.cos(way.turn), math.sin(way.turn)
            for more, wide in ((way.longer, 0.0), (0.0, way.wider)):
                across = way.spare_width + a * s + b * c - (a + more) * s - (b + wide) * c
                along = way.spare_length + a * c + b * s - (a + more) * c - (b + wide) * s
                assert min(across, along) == pytest.approx(0.0, abs=1e-6)
