"""Moisture against the Wood Handbook and the board makers' guides."""

import math

import pytest

from underbag.model.mechanics.moisture import (
    coefficient,
    coefficient_at_rings,
    density,
    equilibrium_moisture,
    equilibrium_moisture_2014,
    humidity_2014,
    humidity_for,
    moisture_from_glue,
    movement,
    movement_wide,
    strength_at_moisture,
)


# FPL-GTR-282, Wood Handbook, Table 4-2 (printed to 0.1 %). The rows at 21.1 °C are those of 70 °F.
@pytest.mark.parametrize(
    ("celsius", "humidity", "percent"),
    [
        (21.1, 0.30, 6.2),
        (21.1, 0.40, 7.7),
        (21.1, 0.50, 9.2),
        (21.1, 0.65, 12.0),
        (21.1, 0.80, 16.0),
        (20.0, 0.35, 7.0),
        (20.0, 0.50, 9.3),
    ],
)
def test_equilibrium_moisture_table(celsius: float, humidity: float, percent: float) -> None:
    assert equilibrium_moisture(T=celsius, h=humidity) == pytest.approx(percent, abs=0.06)


def test_equilibrium_moisture_in_a_kiln() -> None:
    # 140 °F and 55 %: 8.4 %, as an encyclopedia computes by the same equation; an older table printed 8.0.
    assert equilibrium_moisture(T=60, h=0.55) == pytest.approx(8.4, abs=0.05)


def test_newer_equation() -> None:
    # FPL-GTR-282, Eq 4-6 at 21.1 °C and 50 %, worked by hand: 9.41 %.
    assert equilibrium_moisture_2014(T=21.1, h=0.5) == pytest.approx(9.41, abs=0.02)


def test_the_two_equations_differ_most_in_cool_damp_air() -> None:
    # Up to 1.0 % at 10 °C and 80 %.
    gap = equilibrium_moisture_2014(T=10, h=0.8) - equilibrium_moisture(T=10, h=0.8)

    assert abs(gap) == pytest.approx(1.0, abs=0.1)


def test_humidity_from_the_table_backwards() -> None:
    # Table 4-2 at 21.1 °C: 9.2 % stands in the column of 50 %. 0.05 % of moisture is 0.4 % of humidity there.
    assert humidity_for(T=21.1, M=9.2) == pytest.approx(0.50, abs=0.005)
    assert humidity_2014(T=21.1, M=9.41) == pytest.approx(0.50, abs=0.002)


def test_flooring_board() -> None:
    # FPL-GTR-190, example to Eq 13-2: 232 mm, coefficient 0.00245, 8 to 11 %: 1.705 mm, so 233.7 mm.
    change = movement(L=232, C=0.00245, dM=3)

    assert change == pytest.approx(1.705, abs=0.001)
    assert 232 + change == pytest.approx(233.7, abs=0.05)


# FPL-GTR-190: shrinkage of Table 4-3 against coefficients of Table 13-5, both printed; the table has three digits.
@pytest.mark.parametrize(
    ("shrinkage", "printed"),
    [(7.1, 0.00248), (7.8, 0.00274), (11.9, 0.00431), (9.9, 0.00353), (7.3, 0.00256), (5.5, 0.00190)],
)
def test_coefficient_from_shrinkage(shrinkage: float, printed: float) -> None:
    assert coefficient(S=shrinkage) == pytest.approx(printed, abs=6e-6)


def test_wide_equation_at_ten_percent_is_the_coefficient() -> None:
    # FPL-GTR-190, Eq 13-3 with white ash: S_T 7.8 and C_T 0.00274.
    assert movement_wide(L=1000, S=7.8, M=10, dM=1) == pytest.approx(2.74, abs=0.005)


def test_fibreboard_door() -> None:
    # MDF industry guide: a door of 600 mm grows by 1.5 mm when it takes up 5 %, at 0.05 % per percent.
    assert movement(L=600, C=0.0005, dM=5) == pytest.approx(1.5, rel=1e-12)


def test_particleboard_metre() -> None:
    # Panel association booklet: 9 to 12 % moves a metre by 1 mm.
    assert movement(L=1000, C=0.00033, dM=3) == pytest.approx(1, abs=0.02)


def test_strength_of_drier_ash() -> None:
    # FPL-GTR-282, example to Eq 5-3: white ash, MOR 103 at 12 % and 66 green, M_p 24: 119.5 MPa at 8 %.
    assert strength_at_moisture(f_12=103, f_g=66, M=8, M_p=24) == pytest.approx(119.5, abs=0.1)


# FPL-GTR-282, Table 4-6a.
@pytest.mark.parametrize(("gravity", "percent", "kilograms"), [(0.60, 12, 672), (0.40, 100, 800)])
def test_density_table(gravity: float, percent: float, kilograms: float) -> None:
    assert density(G=gravity, M=percent) * 1e6 == pytest.approx(kilograms, abs=0.5)


def test_glue_water_in_a_walnut_veneer() -> None:
    # 150 g/m² of glue, half of it water, all into 0.6 mm of walnut (SG 0.55, so 330 g/m² dry): + 22.7 %.
    gain = moisture_from_glue(g=150e-6, x=0.5, r=1.0, rho_0=density(G=0.55, M=0), t=0.6)

    assert gain == pytest.approx(22.7, abs=0.05)


def test_quarter_and_flat_cut() -> None:
    # Black walnut, FPL-GTR-190, Table 13-5: 0.00190 and 0.00274; halfway between at 45°.
    assert coefficient_at_rings(C_R=0.0019, C_T=0.00274, a=0.0) == 0.0019
    assert coefficient_at_rings(C_R=0.0019, C_T=0.00274, a=math.pi / 2) == pytest.approx(0.00274, rel=1e-12)
    assert coefficient_at_rings(C_R=0.0019, C_T=0.00274, a=math.pi / 4) == pytest.approx(0.00232, rel=1e-12)
