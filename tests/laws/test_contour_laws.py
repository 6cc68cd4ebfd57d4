"""Regions of a map: closed, around the right values, and as large as they should be."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Point, Polygon

from underbag.export.contours import regions


def region(field: np.ndarray, level: float) -> Polygon:
    """Loops taken together: what lies within an odd number of them."""
    found = Polygon()
    for loop in regions(field, level):
        found = found.symmetric_difference(Polygon(loop).buffer(0.0))
    return found


def test_a_hill_of_a_cone_is_a_disc() -> None:
    # textbook: a cone that falls by 1 a cell is above −r within a disc of radius r
    y, x = np.mgrid[0:81, 0:81]
    hill = -np.hypot(x - 40.0, y - 40.0)
    for radius in (5.3, 12.0, 30.7):
        (loop,) = regions(hill, -radius)
        assert Polygon(loop).area == pytest.approx(np.pi * radius**2, rel=0.01)
        assert np.hypot(*(loop - 40.0).T) == pytest.approx(np.full(len(loop), radius), abs=0.05)


def test_a_slope_is_cut_where_it_reaches_the_level() -> None:
    field = np.tile(np.arange(10.0), (6, 1))
    (loop,) = regions(field, 3.25)
    # straight down at 3.25, and a cell past the last middles on the other sides
    assert loop[:, 0].min() == pytest.approx(3.25)
    assert Polygon(loop).covers(Polygon([(3.3, -0.5), (9.5, -0.5), (9.5, 5.5), (3.3, 5.5)]))


@settings(max_examples=25)
@given(st.integers(3, 12), st.integers(3, 12), st.integers(0, 10_000), st.floats(0.1, 0.9))
def test_every_middle_lies_on_the_right_side(rows: int, columns: int, seed: int, level: float) -> None:
    field = np.random.default_rng(seed).random((rows, columns))
    found = region(field, level)
    for row, column in np.ndindex(rows, columns):
        # a value that hardly differs from the level lies next to the line
        if abs(field[row, column] - level) > 1e-6:
            assert found.contains(Point(column, row)) == (field[row, column] > level)


def test_a_map_without_such_values_has_no_region() -> None:
    assert regions(np.zeros((4, 5)), 1.0) == []
