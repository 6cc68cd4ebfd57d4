"""Lengths, areas and arcs against closed forms and printed values (textbook plane geometry)."""

import math

import pytest
from scipy.special import ellipe

from underbag.model.shape.arc import arc_from
from underbag.model.shape.outline import Oval, Rectangle, RoundedRectangle
from underbag.model.shape.profile import arc_profile
from underbag.model.shape.sheet import Sheet


def test_ellipse_perimeter_is_four_a_times_the_complete_elliptic_integral() -> None:
    # textbook: 4·a·E(e); semi-axes 3 and 2 give 15.865439589
    assert Oval(6.0, 4.0).perimeter == pytest.approx(15.865439589, abs=1e-8)
    assert Oval(1000.0, 600.0).perimeter == pytest.approx(2552.6999, abs=1e-3)
    for width in (999.0, 500.0, 40.0, 1.0):
        # scipy's elliptic integral is an independent implementation; both are good to double precision
        assert Oval(1000.0, width).perimeter == pytest.approx(
            2000.0 * ellipe(1.0 - (width / 1000.0) ** 2), rel=1e-12
        )


def test_offset_of_a_circle_is_a_circle() -> None:
    grown = Oval(200.0, 200.0).grown(10.0)
    assert grown.area == pytest.approx(math.pi * 110.0**2, rel=1e-14)
    assert grown.perimeter == pytest.approx(2.0 * math.pi * 110.0, rel=1e-14)


def test_arc_from_chord_and_rise() -> None:
    # textbook: R = s/2 + c²/(8s); chord 1000 and rise 100 give R 1300, arc 1026.457, angle 45.2397°
    arc = arc_from({"chord": 1000.0, "rise": 100.0})
    assert arc.radius == pytest.approx(1300.0, rel=1e-12)
    assert arc.length == pytest.approx(1026.457, abs=5e-4)
    assert math.degrees(arc.angle) == pytest.approx(45.2397, abs=5e-5)


def test_layers_of_a_half_round_are_half_circles_of_their_own_radius() -> None:
    # textbook: a half circle of radius r is π·r long
    sheet = Sheet(profile=arc_profile(math.pi * 200.0, math.pi), reference=12.0)
    for height in (0.0, 6.0, 12.0, 20.0):
        half = 0.5 * sheet.profile.length
        assert sheet.length(height, -half, half) == pytest.approx(math.pi * (188.0 + height), rel=1e-14)


def test_areas_of_simple_outlines() -> None:
    assert Rectangle(420.0, 300.0).area == 126_000.0
    # textbook: four quarter circles replace four squares
    assert RoundedRectangle(420.0, 300.0, 50.0).area == pytest.approx(
        126_000.0 - 4 * 2500.0 + math.pi * 2500.0, rel=1e-14
    )
    assert RoundedRectangle(420.0, 300.0, 50.0).perimeter == pytest.approx(
        2 * 320.0 + 2 * 200.0 + 2 * math.pi * 50.0
    )
