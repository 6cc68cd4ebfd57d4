"""Factors between units, against print and against scipy's own table.

NIST Special Publication 811 (2008), appendix B.8, prints factors to seven digits; those it sets in bold are exact.
The lines for lengths, masses, pressures, forces, times and gallons were read second-hand in a transcription of the
table; those marked "from memory" were not. "±1 in the last digit" of seven is 2e-7 of a value between 5 and 10.
"""

import math

import pytest
import scipy.constants

from underbag.app import quantity
from underbag.model import wording

# Text, reader, printed number in internal units, digits that are printed (0: exact).
PRINTED = [
    ("1 in", quantity.read_position, 25.4, 0),
    ("1 ft", quantity.read_position, 304.8, 0),
    ("1 mil", quantity.read_position, 0.0254, 0),
    ("1 inHg", quantity.read_pressure, 3.386389e-3, 7),
    ("1 mmHg", quantity.read_pressure, 1.333224e-4, 7),
    ("1 psi", quantity.read_pressure, 6.894757e-3, 7),
    ("1 mbar", quantity.read_pressure, 1e-4, 0),
    ("1 bar", quantity.read_pressure, 0.1, 0),
    ("1 oz", quantity.read_mass, 28.34952, 7),
    ("1 lb", quantity.read_mass, 453.5924, 7),
    ("1 gal", quantity.read_volume, 3.785412e6, 7),
    ("1 L", quantity.read_volume, 1e6, 0),
    ("1 min", quantity.read_time, 60.0, 0),
    ("1 h", quantity.read_time, 3600.0, 0),
    ("1 d", quantity.read_time, 86400.0, 0),
    # From memory, in the same table: degree, cubic foot, cubic foot per minute, ounce per square foot.
    ("1 deg", quantity.read_angle, 1.745329e-2, 7),
    ("1 ft³", quantity.read_volume, 2.831685e7, 7),
    ("1 cfm", quantity.read_flow, 4.719474e5, 7),
    ("1 oz/ft²", quantity.read_spread, 3.051517e-4, 7),
]


@pytest.mark.parametrize(("text", "reader", "printed", "digits"), PRINTED, ids=[row[0] for row in PRINTED])
def test_the_factors_of_nist_sp_811(text, reader, printed, digits):
    number = reader(text, "mm") if reader is quantity.read_position else reader(text)
    if digits:
        last = 10.0 ** (math.floor(math.log10(printed)) - digits + 1)
        assert abs(number - printed) <= 0.5000001 * last
    else:
        assert number == printed


# scipy.constants is in SI; its floats are products, so they may be off in their last bit or two.
SCIPY = [
    ("1 in", "inch", 1e3),
    ("1 ft", "foot", 1e3),
    ("1 mil", "mil", 1e3),
    ("1 psi", "psi", 1e-6),
    ("1 bar", "bar", 1e-6),
    ("1 lb", "pound", 1e3),
    ("1 oz", "ounce", 1e3),
    ("1 gal", "gallon", 1e9),
    ("1 L", "liter", 1e9),
    ("1 deg", "degree", 1.0),
    ("1 h", "hour", 1.0),
    ("1 d", "day", 1.0),
]


@pytest.mark.parametrize(("text", "name", "internal"), SCIPY, ids=[row[1] for row in SCIPY])
def test_the_factors_of_scipy(text, name, internal):
    readers = (
        lambda value: quantity.read_length(value, "mm"),
        quantity.read_pressure,
        quantity.read_mass,
        quantity.read_volume,
        quantity.read_angle,
        quantity.read_time,
    )
    numbers = []
    for reader in readers:
        try:
            numbers.append(reader(text))
        except ValueError:
            continue
    assert numbers == pytest.approx([getattr(scipy.constants, name) * internal], rel=1e-15)


def test_mercury_follows_from_its_conventional_density_and_standard_gravity():
    # 13 595.1 kg/m³ at 0 °C (ISO 80000-4, from memory) × 9.80665 m/s² × 1 mm or 1 in.
    column = 13595.1 * scipy.constants.g * 1e-6
    assert quantity.read_pressure("1 mmHg") == pytest.approx(column * 1e-3, rel=1e-15)
    assert quantity.read_pressure("1 inHg") == pytest.approx(column * 25.4e-3, rel=1e-15)
    # scipy's mmHg is the torr, 101325/760 Pa: not the same unit, but equal to 1.5e-7.
    assert quantity.read_pressure("1 mmHg") * 1e6 == pytest.approx(scipy.constants.mmHg, rel=2e-7)


@pytest.mark.parametrize(
    ("text", "printed"), [("29.9213 inHg", 0.0005), ("14.69595 psi", 0.00001), ("1013.25 mbar", 0.0)]
)
def test_one_atmosphere_in_three_units(text, printed):
    # 101 325 Pa exactly (10th CGPM, 1954); the printed equivalents are good to their last digit.
    unit = quantity.read_pressure("1 " + text.split()[1])
    assert quantity.read_pressure(text) == pytest.approx(0.101325, abs=max(printed * unit, 1e-16))


def test_twenty_five_inches_of_mercury():
    # 25 × 3386.389 Pa = 84 659.7 Pa = 12.2789 psi.
    assert quantity.read_pressure("25 inHg") == pytest.approx(0.0846597, abs=1e-6)
    assert quantity.read_pressure("25 inHg") == pytest.approx(quantity.read_pressure("12.2789 psi"), rel=5e-6)


# Fixed points: water freezes and boils at normal pressure, and -40 is the same on both scales (definition).
@pytest.mark.parametrize(
    ("fahrenheit", "celsius"), [("32 °F", 0.0), ("212 °F", 100.0), ("-40 °F", -40.0), ("68 °F", 20.0)]
)
def test_the_fixed_points_of_the_two_scales(fahrenheit, celsius):
    assert quantity.read_temperature(fahrenheit) == celsius
    assert wording.in_fahrenheit(celsius) == fahrenheit


def test_absolute_zero_is_the_coldest():
    assert quantity.read_temperature("-273.15 °C") == -scipy.constants.zero_Celsius
    assert quantity.read_temperature("-459.67 °F") == pytest.approx(-scipy.constants.zero_Celsius, abs=1e-12)
    with pytest.raises(ValueError, match=r"not below -273\.15 °C"):
        quantity.read_temperature("-459.68 °F")


# The constants that texts are written with stand in the model, which may not know the unit library.
WORDING = [
    (wording.INCH, quantity.read_length("1 in", "mm"), 0.0),
    (wording.FOOT, quantity.read_length("1 ft", "mm"), 0.0),
    (wording.CUBIC_FOOT, quantity.read_volume("1 ft³"), 0.0),
    (wording.SQUARE_FOOT, 1 / quantity.read_spread("1 g/ft²"), 4e-16),
    (wording.POUND, quantity.read_mass("1 lb"), 0.0),
    (wording.OUNCE, quantity.read_mass("1 oz"), 4e-16),
    (wording.POUND_FORCE, scipy.constants.lbf, 0.0),
    # Printed to seven digits.
    (wording.INCH_OF_MERCURY, quantity.read_pressure("1 inHg"), 1.5e-7),
]


@pytest.mark.parametrize(("constant", "library", "relative"), WORDING)
def test_the_constants_for_writing_are_those_for_reading(constant, library, relative):
    assert abs(constant - library) <= relative * library


def test_the_pressure_on_one_square_foot_at_one_atmosphere():
    # 2116.2 lbf (±0.1), printed in tables of the standard atmosphere.
    assert wording.force(0.101325 * wording.SQUARE_FOOT).endswith("(2116 lbf)")
    assert 0.101325 * wording.SQUARE_FOOT / wording.POUND_FORCE == pytest.approx(2116.2, abs=0.1)
