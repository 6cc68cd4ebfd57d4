"""Areas and sizes of outlines against closed forms."""

import math

import pytest
from scipy.special import ellipe

from underbag.model.layup.settle import settle
from underbag.model.shape.figures import filleted, regular_polygon, superellipse
from underbag.model.shape.loop import FINE


@pytest.mark.parametrize("exponent", [2.0, 2.5, 3.0, 4.0, 10.0])
@pytest.mark.parametrize(("length", "width"), [(1200.0, 700.0), (300.0, 900.0), (500.0, 500.0)])
def test_a_superellipse_has_the_area_of_its_closed_form(exponent: float, length: float, width: float) -> None:
    """Textbook (Lamé's curve): A = 4·a·b·Γ(1 + 1/n)² / Γ(1 + 2/n)."""
    edge = superellipse(length, width, exponent)
    area = length * width * math.gamma(1.0 + 1.0 / exponent) ** 2 / math.gamma(1.0 + 2.0 / exponent)
    # its arcs keep within FINE of the curve all along
    assert edge.area == pytest.approx(area, abs=FINE * edge.length)
    (x0, y0), (x1, y1) = edge.box
    assert (x1 - x0, y1 - y0) == pytest.approx((length, width), abs=2.0 * FINE)
    points = edge.flattened(1e-4)
    left = (abs(points[:, 0]) * 2.0 / length) ** exponent + (abs(points[:, 1]) * 2.0 / width) ** exponent
    # a step d across the edge changes the sum by at least n·d over the half length there
    assert abs(left - 1.0).max() < 1.1 * exponent * FINE / (0.5 * min(length, width))


def test_the_superellipse_of_exponent_2_is_the_ellipse() -> None:
    """Textbook: perimeter 4·a·E(e²), by scipy's complete elliptic integral."""
    edge = superellipse(1200.0, 700.0, 2.0)
    assert edge.length == pytest.approx(4.0 * 600.0 * ellipe(1.0 - (350.0 / 600.0) ** 2), rel=1e-6)


@pytest.mark.parametrize("sides", range(3, 25))
def test_a_regular_polygon(sides: int) -> None:
    """Textbook: area n/2·sin(2π/n), side 2·sin(π/n), of a polygon with its corners on a circle of radius 1."""
    edge = regular_polygon(sides)
    assert edge.area == pytest.approx(0.5 * sides * math.sin(2.0 * math.pi / sides), rel=1e-12)
    assert edge.length == pytest.approx(2.0 * sides * math.sin(math.pi / sides), rel=1e-12)
    low = min(y for _, y, _ in edge.corners)
    assert sum(abs(y - low) < 1e-9 for _, y, _ in edge.corners) == 2, "a side is level at the front"


def test_a_hexagon_by_its_width() -> None:
    """Textbook: across flats √3·a, across corners 2·a."""
    panel = settle({"panel": {"sides": 6, "width": 500.0}})
    assert panel.panel.outline == "regular polygon"
    assert panel.panel.length == pytest.approx(500.0 * 2.0 / math.sqrt(3.0), abs=1e-6)
    assert panel.edge.area == pytest.approx(0.5 * math.sqrt(3.0) * 500.0**2, rel=1e-9)


@pytest.mark.parametrize("radius", [0.0, 15.0, 40.0])
def test_a_triangle_is_as_wide_as_asked_with_corners_of_any_radius(radius: float) -> None:
    """Geometry: rounding takes r·(1/sin 30° − 1) = r off the tip of an equilateral triangle, nothing off its foot."""
    layup = settle({"panel": {"sides": 3, "width": 400.0, "fillet": radius}})
    assert layup.edge.width == pytest.approx(400.0, abs=1e-6)
    side = (400.0 + radius) * 2.0 / math.sqrt(3.0)
    corners = radius**2 * (3.0 * math.sqrt(3.0) - math.pi)
    assert layup.edge.area == pytest.approx(0.25 * math.sqrt(3.0) * side**2 - corners, rel=1e-6)


def test_a_square_with_round_corners() -> None:
    """Geometry: a quarter of a circle in place of each corner."""
    edge = filleted([(0.0, 0.0), (400.0, 0.0), (400.0, 400.0), (0.0, 400.0)], 50.0)
    assert edge.area == pytest.approx(400.0**2 - (4.0 - math.pi) * 50.0**2, rel=1e-12)
    assert edge.length == pytest.approx(4.0 * 300.0 + 2.0 * math.pi * 50.0, rel=1e-12)
