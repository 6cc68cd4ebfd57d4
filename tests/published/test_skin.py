"""Skin, plates and ribs against printed beam and plate tables."""

import math

import numpy as np
import pytest

from underbag.model.errors import ShapeError
from underbag.model.mechanics.plate import (
    buckling_factor,
    clamped_plate,
    hollow_box,
    plate_deflection,
    plate_stress,
    supported_plate,
)
from underbag.model.mechanics.skin import (
    bending_sag,
    closing_pressure,
    continuous_strip,
    rib_bearing,
    sag,
    shear_sag,
    skin_coefficients,
    skin_stress,
    spacing_for_sag,
    spacing_for_strength,
)

# Civil Engineering Formulas, Table 2.1 (page 50): continuous beams over equal spans under uniform load. Moments over
# the supports from the end to the middle, reaction of the end support, greatest moment of the end span.
TABLE = {
    1: ((0,), 1 / 2, 0.125),
    2: ((0, 1 / 8), 3 / 8, 0.0703),
    3: ((0, 1 / 10), 4 / 10, 0.080),
    4: ((0, 3 / 28, 2 / 28), 11 / 28, 0.0772),
    5: ((0, 4 / 38, 3 / 38), 15 / 38, 0.0779),
    6: ((0, 11 / 104, 8 / 104, 9 / 104), 41 / 104, 0.0777),
    7: ((0, 15 / 142, 11 / 142, 12 / 142), 56 / 142, 0.0778),
}


@pytest.mark.parametrize("spans", TABLE)
def test_continuous_beam_table(spans: int) -> None:
    moments, reaction, end_span = TABLE[spans]

    strip = continuous_strip(np.ones(spans))

    assert -strip.support_moment[: len(moments)] == pytest.approx(moments, abs=1e-12)
    assert strip.reaction[0] == pytest.approx(reaction, rel=1e-12)
    # Printed to four digits.
    assert strip.span_moment[0] == pytest.approx(end_span, abs=6e-5)


# Deflections of the beam diagrams in the steel construction manual and in a civil engineering reference manual, as
# printed on public pages: 5/384 for one span, 0.00541 for two, 0.0069 for three (printed to that many digits); four
# and five spans recalled.
@pytest.mark.parametrize(
    ("spans", "k", "places"),
    [(1, 5 / 384, 1e-9), (2, 0.00541, 1e-5), (3, 0.0069, 5e-5), (4, 0.0065, 5e-5), (5, 0.0066, 5e-5)],
)
def test_deflection_of_continuous_beams(spans: int, k: float, places: float) -> None:
    assert skin_coefficients(spans).k == pytest.approx(k, abs=places)


def test_deflection_of_the_middle_spans() -> None:
    # 1/1920 in the middle of three spans, 0.00315 of five, 1/384 of very many.
    assert skin_coefficients(3).k_inner == pytest.approx(0.00052, abs=5e-6)
    assert skin_coefficients(5).k_inner == pytest.approx(0.00315, abs=5e-6)
    assert skin_coefficients(25).k_inner == pytest.approx(1 / 384, rel=1e-3)


# Greatest moments 1/8, 1/8, 0.100, 0.107, 0.105 (steel construction manual).
@pytest.mark.parametrize(("spans", "m"), [(1, 0.125), (2, 0.125), (3, 0.1), (4, 0.107), (5, 0.105)])
def test_greatest_moment(spans: int, m: float) -> None:
    assert skin_coefficients(spans).m == pytest.approx(m, abs=5e-4)


def test_load_shares_of_three_spans() -> None:
    assert skin_coefficients(3).shares == pytest.approx((0.4, 1.1, 1.1, 0.4), rel=1e-12)


def test_two_unequal_spans() -> None:
    # Three-moment equation by hand for 1 and 2: M = −(1 + 8)/4 / (2 · 3) = −0.375.
    strip = continuous_strip([1.0, 2.0])

    assert strip.support_moment == pytest.approx([0, -0.375, 0], abs=1e-12)
    assert strip.reaction == pytest.approx([0.125, 2.0625, 0.8125], rel=1e-12)


def test_skin_of_a_form() -> None:
    # 12 mm at 3000 MPa on ribs 100 mm apart under 85 kPa: 0.0512 mm inside, 0.1354 mm in the end span, 3.54 MPa.
    inner = bending_sag(p=0.085, s=100, t=12, E=3000, k=1 / 384)
    end = bending_sag(p=0.085, s=100, t=12, E=3000, k=skin_coefficients(3).k)

    assert inner == pytest.approx(0.0512, abs=1e-4)
    assert end == pytest.approx(0.1354, abs=1e-3)
    assert skin_stress(p=0.085, s=100, t=12, m=0.10) == pytest.approx(3.54, abs=0.005)


def test_shear_of_a_short_span() -> None:
    # q s²/(8 · 5/6 · G t): 0.085 · 10⁴/(8 · 5/6 · 175 · 12) = 0.0607 mm. Over one span it equals the bending part
    # where 5/32 (s/t)² = 0.15 E/G.
    assert shear_sag(p=0.085, s=100, t=12, G=175) == pytest.approx(0.0607, abs=5e-5)
    even = math.sqrt(0.15 * 3000 / 175 * 32 / 5)
    assert bending_sag(p=0.085, s=12 * even, t=12, E=3000, k=5 / 384) == pytest.approx(
        shear_sag(p=0.085, s=12 * even, t=12, G=175), rel=1e-12
    )


def test_spacing_that_meets_a_limit() -> None:
    w = sag(
        w_b=bending_sag(p=0.085, s=100, t=12, E=3000, k=0.0069), w_s=shear_sag(p=0.085, s=100, t=12, G=175)
    )

    assert spacing_for_sag(w=w, p=0.085, t=12, E=3000, G=175, k=0.0069) == pytest.approx(100, rel=1e-12)
    assert spacing_for_strength(f=3.5417, p=0.085, t=12, m=0.10) == pytest.approx(100, rel=1e-4)


def test_bearing_on_a_rib() -> None:
    # 85 kPa · 100 / 18 = 0.4722 MPa
    assert rib_bearing(p=0.085, s=100, b=18, r=1.0) == pytest.approx(0.4722, abs=1e-4)


def test_a_plate_over_a_low_place() -> None:
    # Clamped strip, w L⁴/384EI of any beam table: a 9 mm plate of 3000 MPa over 0.3 mm in 200 mm.
    p = closing_pressure(E=3000, t=9, d=0.3, L=200)

    assert p * 200**4 / (384 * 3000 * 9**3 / 12) == pytest.approx(0.3, rel=1e-12)


def test_supported_square_plate() -> None:
    # Timoshenko (from memory): 0.00406 q b⁴/D and 0.0479 q b²; Roark, Table 11.4 case 1a: 0.0444 q b⁴/(E t³).
    plate = supported_plate(1000, 1000, 0.3)

    assert plate.alpha == pytest.approx(0.004062, abs=2e-6)
    assert plate.beta == pytest.approx(0.0479, abs=5e-5)
    assert plate_deflection(p=1, b=1, t=1, E=1, nu=0.3, alpha=plate.alpha) == pytest.approx(0.0444, abs=5e-5)


# Roark's Formulas, 7th edition, Table 11.4 case 1a, nu = 0.3; the printed values are off by up to 0.5 %.
@pytest.mark.parametrize(
    ("ratio", "alpha", "beta"),
    [
        (1.0, 0.0444, 0.2874),
        (1.2, 0.0616, 0.3762),
        (1.4, 0.0770, 0.4530),
        (1.6, 0.0906, 0.5172),
        (1.8, 0.1017, 0.5688),
        (2.0, 0.1110, 0.6102),
        (3.0, 0.1335, 0.7134),
        (4.0, 0.1400, 0.7410),
        (5.0, 0.1417, 0.7476),
        (50.0, 0.1421, 0.7500),
    ],
)
def test_supported_plates_of_roark(ratio: float, alpha: float, beta: float) -> None:
    plate = supported_plate(500 * ratio, 500, 0.3)

    assert plate_deflection(p=1, b=1, t=1, E=1, nu=0.3, alpha=plate.alpha) == pytest.approx(alpha, rel=0.006)
    assert plate_stress(p=1, b=1, t=1, beta=plate.beta) == pytest.approx(beta, rel=0.006)


# Timoshenko, clamped plates (from memory): deflection 0.00126 and 0.00254, edge moments 0.0513 and 0.0829 q b².
@pytest.mark.parametrize(
    ("ratio", "alpha", "beta"), [(1.0, 0.0012653, 0.0513), (1.5, 0.00220, 0.0757), (2.0, 0.002533, 0.0829)]
)
def test_clamped_plates(ratio: float, alpha: float, beta: float) -> None:
    plate = clamped_plate(300 * ratio, 300)

    assert plate.alpha == pytest.approx(alpha, rel=0.002)
    assert plate.beta == pytest.approx(beta, rel=0.002)


def test_clamping_a_long_plate_takes_four_fifths() -> None:
    # 1/384 against 5/384; the series and Ritz's polynomials are good to 0.1 % at 1 : 8.
    assert clamped_plate(8, 1).alpha / supported_plate(8, 1, 0.3).alpha == pytest.approx(0.2, rel=1e-3)


def test_side_order_does_not_matter() -> None:
    assert supported_plate(300, 700, 0.3) == supported_plate(700, 300, 0.3)
    assert clamped_plate(300, 700) == clamped_plate(700, 300)


def test_buckling_of_square_plates() -> None:
    # Timoshenko and Gere: k = 4 pressed one way, 2 pressed both ways, in units of π²D/b².
    D = 3000 * 10**3 / (12 * (1 - 0.3**2))
    euler = math.pi**2 * D / 500**2

    assert buckling_factor(500, 500, 10, 3000, 0.3, along=euler, across=0.0) == pytest.approx(4, rel=1e-12)
    assert buckling_factor(500, 500, 10, 3000, 0.3, along=euler, across=euler) == pytest.approx(2, rel=1e-12)
    # A plate five times as long buckles in five half waves, at 4 again.
    assert buckling_factor(2500, 500, 10, 3000, 0.3, along=euler, across=0.0) == pytest.approx(4, rel=1e-12)


def test_a_sound_box_and_one_that_implodes() -> None:
    """18 mm walls hold a box of 400 × 300 × 200; 3 mm walls buckle (common practice: a closed hollow form can implode)."""
    sound = hollow_box(400, 300, 200, t=18, E=3000, nu=0.25, p=0.085)
    weak = hollow_box(400, 300, 200, t=3, E=3000, nu=0.25, p=0.085)

    assert [wall.name for wall in sound] == ["top", "side", "end"]
    assert all(wall.reserve > 10 for wall in sound)
    top = supported_plate(400, 300, 0.25)
    alone = plate_deflection(p=0.085, b=300, t=18, E=3000, nu=0.25, alpha=top.alpha)
    assert alone < sound[0].deflection < 1.1 * alone
    assert weak[0].reserve <= 1
    assert weak[0].deflection == weak[0].stress == math.inf


def test_a_strip_without_spans_is_refused() -> None:
    with pytest.raises(ShapeError, match="longer than 0"):
        continuous_strip([])
    with pytest.raises(ShapeError, match="longer than 0"):
        continuous_strip([100.0, 0.0])
    with pytest.raises(ShapeError, match="longer than 0"):
        supported_plate(100.0, 0.0, 0.3)
