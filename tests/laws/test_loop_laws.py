"""Closed edges with true arcs: area and length against circles, against shapely, and along every kind of profile."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon

from underbag.model.shape.curve import CurvePiece, ParabolaCourse
from underbag.model.shape.loop import FINE, Loop, along, circle, closed, polygon, rectangle
from underbag.model.shape.profile import Profile, Run, arc_profile
from underbag.model.shape.sheet import Sheet


def test_a_circle_has_the_area_and_length_of_a_circle() -> None:
    # textbook: πr² and 2πr
    loop = circle((3.0, -2.0), 20.0)
    assert loop.area == pytest.approx(100.0 * math.pi, rel=1e-14)
    assert loop.length == pytest.approx(20.0 * math.pi, rel=1e-14)
    (x0, y0), (x1, y1) = loop.box
    assert (x0, y0, x1, y1) == pytest.approx((-7.0, -12.0, 13.0, 8.0), abs=0.01)


def test_a_rectangle_with_one_round_end() -> None:
    # 40 × 20 and a half round of radius 10 at its right end; the bulge of a half circle is 1
    loop = Loop(((0.0, 0.0, 0.0), (40.0, 0.0, 1.0), (40.0, 20.0, 0.0), (0.0, 20.0, 0.0)))
    assert loop.area == pytest.approx(800.0 + 50.0 * math.pi, rel=1e-14)
    assert loop.length == pytest.approx(100.0 + 10.0 * math.pi, rel=1e-14)


def test_corners_in_one_place_count_once() -> None:
    assert len(polygon([(0, 0), (1, 0), (1, 0), (1, 1), (0, 0)]).corners) == 3
    assert closed([(0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (1.0, 0.0, 0.5), (0.0, 1.0, 0.0)]).corners[1][2] == 0.5
    assert rectangle((0, 0), (3, 2)).area == 6.0


@given(
    bulges=st.lists(st.floats(-1.0, 1.0).filter(lambda b: b == 0.0 or abs(b) > 1e-3), min_size=5, max_size=5)
)
@settings(max_examples=20)
def test_chords_find_the_area_and_length_of_arcs(bulges: list[float]) -> None:
    """The referee is shapely, on chords within a micrometre."""
    angles = np.linspace(0.0, 2.0 * np.pi, 6)[:-1]
    corners = [(200.0 * math.cos(a), 200.0 * math.sin(a), b) for a, b in zip(angles, bulges, strict=True)]
    loop = Loop(tuple(corners))
    points = loop.flattened(1e-3)
    x, y = points.T
    area = 0.5 * float(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1)))
    length = float(np.hypot(*(np.roll(points, -1, axis=0) - points).T).sum())
    # a chord leaves out two thirds of its sagitta times its length
    assert loop.area == pytest.approx(area, abs=1e-3 * length)
    assert loop.length == pytest.approx(length, rel=1e-5)


@given(turn=st.floats(-3.3, 3.3).filter(lambda t: abs(t) > 0.01), height=st.floats(-20.0, 20.0))
@settings(max_examples=20)
def test_the_curve_along_an_arc_is_one_true_arc(turn: float, height: float) -> None:
    sheet = Sheet(profile=arc_profile(600.0, turn), reference=0.0)
    curve = along(sheet, height, 300.0, 0.0)
    assert len(curve) == 2
    chord = math.dist(curve[0][:2], curve[1][:2])
    # textbook: chord = 2R·sin(θ/2), bulge = tan(θ/4); clockwise over a crown
    radius = 600.0 / abs(turn) + height * math.copysign(1.0, turn)
    assert chord == pytest.approx(2.0 * radius * math.sin(0.5 * abs(turn)), rel=1e-9)
    assert curve[0][2] == pytest.approx(-math.tan(0.25 * turn), rel=1e-12)


def test_the_curve_goes_on_straight_past_the_ends() -> None:
    sheet = Sheet(profile=Profile((Run(100.0, 0.01), Run(50.0, 0.0), Run(80.0, -0.005))), reference=3.0)
    curve = along(sheet, -2.0, 140.0, 7.0)
    assert [bulge == 0.0 for _, _, bulge in curve] == [True, False, True, False, True, True]
    t = np.array([-140.0, 140.0])
    ends = sheet.place(t, np.zeros(2), -2.0)[:, [0, 2]] + [0.0, 7.0]
    assert np.allclose([curve[0][:2], curve[-1][:2]], ends, atol=1e-12)


def test_chords_along_a_parabola_stay_within_the_tolerance() -> None:
    sheet = Sheet(profile=Profile((CurvePiece(ParabolaCourse(600.0, 90.0)),)), reference=0.0)
    half = 0.5 * sheet.profile.length
    curve = np.array([corner[:2] for corner in along(sheet, -6.0, half, 0.0)])
    t = np.linspace(-half, half, 20_001)
    true = Polygon(np.vstack((sheet.place(t, np.zeros_like(t), -6.0)[:, [0, 2]], [[0.0, -900.0]])))
    drawn = Polygon(np.vstack((curve, [[0.0, -900.0]])))
    assert drawn.exterior.hausdorff_distance(true.exterior) <= FINE
