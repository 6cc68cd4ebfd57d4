"""Setting out an edge by rule and square: what is read leads back to the edge. The referee is shapely."""

import math

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely import LineString, Polygon

from underbag.model.errors import ShapeError
from underbag.model.setting_out import readings, set_corners, set_holes
from underbag.model.shape.figures import filleted, superellipse
from underbag.model.shape.loop import FINE, circle, rectangle
from underbag.model.shape.outline import RoundedRectangle
from underbag.model.shape.pathed import pathed


@given(
    corners=st.lists(
        st.tuples(st.floats(0.0, 1200.0), st.floats(0.0, 800.0)), min_size=3, max_size=8, unique=True
    ),
    radius=st.sampled_from([0.0, 10.0, 30.0]),
)
@settings(max_examples=60, deadline=None)
def test_a_polygon_is_set_out_by_the_corners_that_it_was_given_by(
    corners: list[tuple[float, float]], radius: float
) -> None:
    try:
        edge = pathed(filleted(corners, radius)).edge
    except ShapeError:
        assume(False)
    found = set_corners(edge)
    if not found:
        # a corner that hardly turns has an arc too short to tell
        assert radius
        return
    assert all(corner.radius == pytest.approx(radius, rel=1e-5) for corner in found)
    again = pathed(filleted([corner.spot for corner in found], radius)).edge
    apart = Polygon(again.flattened(FINE)).boundary.hausdorff_distance(Polygon(edge.flattened(FINE)).boundary)
    assert apart < 0.02
    # numbers stand away from the panel
    shape = Polygon(edge.flattened(FINE))
    (left, low), _ = edge.box
    for corner in found:
        x, y = np.array(corner.spot) + 0.01 * np.array(corner.outward) + (left, low)
        assert radius or not shape.contains(LineString([(x, y), (x, y + 1e-9)]))


def test_rounded_corners_are_told_before_they_are_rounded() -> None:
    found = set_corners(RoundedRectangle(600.0, 400.0, 50.0).loops[0])
    assert [corner.spot for corner in found] == [
        pytest.approx(spot) for spot in ((0.0, 0.0), (600.0, 0.0), (600.0, 400.0), (0.0, 400.0))
    ]
    assert found[0].outward == pytest.approx((-math.sqrt(0.5), -math.sqrt(0.5)))


@pytest.mark.parametrize("exponent", [2.0, 3.0])
def test_readings_of_a_superellipse(exponent: float) -> None:
    """Closed form: y = b·(1 − |x/a|ⁿ)^(1/n) on both sides of the middle."""
    edge = superellipse(1200.0, 700.0, exponent)
    assert set_corners(edge) == ()
    found = readings(edge)
    assert [x for x, _ in found] == [pytest.approx(50.0 * number) for number in range(1, 24)]
    for x, (low, high) in found:
        half = 350.0 * (1.0 - abs((x - 600.0) / 600.0) ** exponent) ** (1.0 / exponent)
        # a hair across the edge is more along a rule that meets it at a slant
        assert (low, high) == pytest.approx((350.0 - half, 350.0 + half), abs=0.05)


def test_a_rule_across_a_bay_meets_the_edge_four_times() -> None:
    u_shape = [(0, 0), (300, 0), (300, 400), (0, 400), (0, 300), (200, 300), (200, 100), (0, 100)]
    assert readings(pathed(filleted(u_shape, 0.0)).edge, (150.0,))[0] == (150.0, (0.0, 100.0, 300.0, 400.0))


def test_holes_are_told_by_their_middle() -> None:
    panel = pathed(
        rectangle((10.0, 20.0), (610.0, 420.0)),
        (rectangle((300.0, 100.0), (400.0, 150.0)), circle((110.0, 120.0), 60.0)),
    )
    round_one, slot = set_holes(panel.edge, panel.holes)
    assert round_one.middle == pytest.approx((100.0, 100.0))
    assert round_one.diameter == pytest.approx(60.0)
    assert (slot.middle, slot.size) == (pytest.approx((340.0, 105.0)), pytest.approx((100.0, 50.0)))
    assert slot.diameter == 0.0
