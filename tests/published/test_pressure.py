"""Pressure against printed values."""

import pytest

from underbag.model.mechanics.pressure import (
    air_pressure,
    air_pressure_from_report,
    bag_pressure,
    contact_pressure,
    crush_ratio,
    deepest_gauge,
    force,
    rib_load,
    vapour_pressure,
)

INHG = 3386.389e-6
"""Inch of mercury at 0 °C in MPa, NIST SP 811, appendix B (from memory)."""

FOOT = 304.8
POUND_FORCE = 4.4482216152605


# U.S. Standard Atmosphere 1976 (the same model as ISO 2533), geometric altitude. Three public packages of it agree
# on these values within 0.05 Pa; they use another last digit of the exponent, hence 0.2 Pa.
@pytest.mark.parametrize(
    ("metres", "pascals"),
    [
        (0, 101325.0),
        (500, 95461.3),
        (1000, 89876.3),
        (1500, 84559.7),
        (1609.344, 83431.8),
        (2000, 79501.4),
        (3000, 70121.2),
    ],
)
def test_standard_atmosphere(metres: float, pascals: float) -> None:
    assert air_pressure(z=metres * 1000) * 1e6 == pytest.approx(pascals, abs=0.2)


# Engineering table of the U.S. standard atmosphere, in steps of 1000 ft, as printed on a public page. It was
# converted from rounded psi, so it holds to 0.1 %.
@pytest.mark.parametrize(
    ("feet", "pascals"),
    [(500, 99491.3), (1000, 97733.2), (2000, 94209.9), (5000, 84322.9), (10000, 69692.2)],
)
def test_engineering_table_of_the_atmosphere(feet: float, pascals: float) -> None:
    assert air_pressure(z=feet * FOOT) * 1e6 == pytest.approx(pascals, rel=1e-3)


def test_a_mile_up_no_gauge_reads_25_inches() -> None:
    # 83 431.8 Pa at 1609.344 m over 3386.389 Pa: 24.637 inHg with an ideal pump and no water.
    deepest = deepest_gauge(p_air=air_pressure(z=1609344), p_w=0.0, p_u=0.0)

    assert deepest / INHG == pytest.approx(24.637, abs=0.002)
    assert deepest < 25 * INHG


def test_weather_report_at_sea_level_is_the_barometer() -> None:
    assert air_pressure_from_report(q=0.0987, z=0.0) == pytest.approx(0.0987, rel=1e-12)


def test_altimeter_setting() -> None:
    # Aviation's rule of thumb, 1 hPa per 27 to 30 ft near the ground (common practice): at 1000 ft a report of
    # 1003.25 hPa leaves about 10 hPa less than the standard atmosphere does.
    less = air_pressure(z=1000 * FOOT) - air_pressure_from_report(q=0.100325, z=1000 * FOOT)

    assert less * 1e4 == pytest.approx(10, abs=0.4)


# Saturated steam tables as printed on two public pages; they are rounded to four digits and differ among
# themselves by 0.05 %.
@pytest.mark.parametrize(
    ("celsius", "kilopascals"),
    [(10, 1.228), (20, 2.338), (30, 4.247), (40, 7.384), (50, 12.35), (60, 19.94), (70, 31.2), (80, 47.39)],
)
def test_steam_table(celsius: float, kilopascals: float) -> None:
    assert vapour_pressure(T=celsius) * 1000 == pytest.approx(kilopascals, rel=1e-3)


def test_triple_point_of_water() -> None:
    # 611.657 Pa at 273.16 K, the fixed point of the equation's own release.
    assert vapour_pressure(T=0.01) * 1e6 == pytest.approx(611.657, abs=0.01)


def test_wet_glue_costs_two_kilopascals_of_gauge() -> None:
    dry = deepest_gauge(p_air=0.101325, p_w=0.0, p_u=0.001)
    wet = deepest_gauge(p_air=0.101325, p_w=vapour_pressure(T=20), p_u=0.001)

    # 2.338 kPa at 20 °C, steam tables.
    assert (dry - wet) * 1000 == pytest.approx(2.338, abs=0.005)


def test_force_on_a_panel() -> None:
    # 85 kPa over 1.2 m × 2.4 m: 244.80 kN, exact.
    assert force(p=0.085, A=1200 * 2400) == pytest.approx(244800, rel=1e-12)


def test_one_atmosphere_on_a_square_foot() -> None:
    # 2116.2 lbf, as printed with the U.S. Standard Atmosphere.
    assert force(p=0.101325, A=FOOT**2) / POUND_FORCE == pytest.approx(2116.2, abs=0.1)


def test_bag_pressure_at_25_inches() -> None:
    # 25 inHg is 84 659.7 Pa, so 16 665.3 Pa remain at sea level.
    assert bag_pressure(p_air=0.101325, p=25 * INHG) * 1e6 == pytest.approx(16665.3, abs=1)


def test_boiler_formula_on_a_crown_and_in_a_hollow() -> None:
    # Film of 30 MPa, 0.5 mm, stretched by 10 %: 1.5 N/mm; at 85 kPa it lifts off in hollows under 17.6 mm.
    tension = 30 * 0.5 * 0.10
    radius = tension / 0.085

    assert radius == pytest.approx(17.6, abs=0.05)
    assert contact_pressure(p=0.085, T=tension, k=-1 / radius) == pytest.approx(0, abs=1e-15)
    assert contact_pressure(p=0.085, T=tension, k=1 / radius) == pytest.approx(0.17, rel=1e-12)
    assert contact_pressure(p=0.085, T=tension, k=0.0) == 0.085


def test_lightest_foam_class_against_a_full_vacuum() -> None:
    # Extruded polystyrene of the 104 kPa class (class recalled from the insulation standard) bears 101.325 kPa by
    # 2.6 % and no more.
    assert crush_ratio(p=0.101325, f_c=0.104) == pytest.approx(0.974, abs=0.001)


def test_crush_at_the_limit() -> None:
    assert crush_ratio(p=0.08, f_c=0.08) == 1
    assert crush_ratio(p=0.081, f_c=0.08) > 1
    assert crush_ratio(p=0.079, f_c=0.08) < 1


def test_rib_load() -> None:
    # 85 kPa on ribs 100 mm apart: 8.5 N per mm of rib; 1.1 of that on the second rib of three spans.
    assert rib_load(p=0.085, s=100, r=1.0) == pytest.approx(8.5, rel=1e-12)
    assert rib_load(p=0.085, s=100, r=1.1) == pytest.approx(9.35, rel=1e-12)
