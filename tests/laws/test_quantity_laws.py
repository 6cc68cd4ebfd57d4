"""Reading quantities: numbers are exact, units are true, and nothing but a LayupError stops a reader.

Fractions from the standard library are the referee for numbers, a unit library asked the other way round for units.
"""

import math
import subprocess
import sys
from fractions import Fraction

import pint
import pytest
from hypothesis import assume, example, given
from hypothesis import strategies as st

from underbag.app import dimension as dim
from underbag.app import quantity
from underbag.app.number import LARGEST, LONGEST
from underbag.model.errors import LayupError

INCH = Fraction(254, 10)
REGISTRY = pint.UnitRegistry()
# The first unit loads the library; here, so that it does not count into the time of one example.
ONE_INCH = quantity.read_length("1 in", "mm")
UNITS = [
    (dimension, unit) for dimension in (*dim.DIMENSIONS, dim.POSITION, dim.RATIO) for unit in dimension.units
]
NAMES = [f"{dimension.name} in {unit.name}" for dimension, unit in UNITS]

PARTS = {
    sign: Fraction(text)
    for sign, text in zip(
        "½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞",
        [
            "1/2",
            "1/3",
            "2/3",
            "1/4",
            "3/4",
            "1/5",
            "2/5",
            "3/5",
            "4/5",
            "1/6",
            "5/6",
            "1/8",
            "3/8",
            "5/8",
            "7/8",
        ],
        strict=True,
    )
}


def read_mm(text):
    return quantity.read_length(text, "mm")


def outcome(reader, *values):
    """The number that a reader gives, or the error; any other exception goes through."""
    try:
        return reader(*values)
    except LayupError as error:
        return error


# ---- numbers ----


@given(
    st.integers(0, 9999),
    st.integers(0, 999),
    st.integers(1, 1000),
    st.sampled_from([" ", "-", "  ", "\u2013", "\u00a0", "\u2011"]),
    st.sampled_from(["/", " / ", "\u2044", "\u2215"]),
    st.sampled_from(["in", " in", '"', ' "', "\u2033", "\u201d", "''", " inches", " IN.", " Inch"]),
)
@example(12, 3, 4, " ", "/", " in")  # pint reads 9 in
@example(1, 1, 8, " ", "/", " in")  # pint reads 0.125 in
@example(1, 1, 8, "-", "/", " in")
@example(12, 3, 4, " ", "/", '"')  # pint reads a bare 9
def test_a_mixed_number_is_its_whole_and_its_fraction(whole, up, down, between, bar, unit):
    assume(up < down)
    exact = whole + Fraction(up, down)
    assert read_mm(f"{whole}{between}{up}{bar}{down}{unit}") == float(exact * INCH)


@given(st.integers(0, 9999), st.sampled_from(sorted(PARTS)), st.sampled_from(["", " ", "-"]))
def test_a_fraction_of_one_sign_is_that_fraction(whole, sign, between):
    assert read_mm(f"{whole}{between}{sign} in") == float((whole + PARTS[sign]) * INCH)
    assert read_mm(f"{sign}\u2033") == float(PARTS[sign] * INCH)


@given(st.integers(0, 999), st.integers(1, 999))
def test_a_fraction_alone_may_be_more_than_one(up, down):
    assert read_mm(f"{up}/{down} in") == float(Fraction(up, down) * INCH)


@given(st.decimals(0, 10**6, allow_nan=False, allow_infinity=False, places=4))
def test_a_decimal_is_exact_and_a_bare_number_the_same(number):
    text = f"{number:f}"
    assert read_mm(f"{text} in") == float(Fraction(text) * INCH)
    assert quantity.read_length(text, "in") == read_mm(f"{text} in")
    assert quantity.read_length(float(text), "in") == read_mm(f"{text} in")


@given(
    st.integers(0, 200),
    st.integers(0, 200),
    st.integers(0, 15),
    st.sampled_from(["ft ", "' ", "'", "'-", "\u2019 "]),
)
def test_feet_and_inches_add_up(feet, inches, sixteenths, between):
    text = f"{feet}{between}{inches} {sixteenths}/16"
    exact = (12 * feet + inches + Fraction(sixteenths, 16)) * INCH
    assert read_mm(f'{text}"') == read_mm(f"{text} in") == float(exact)
    assert quantity.read_position(f"-{text} in", "mm") == -float(exact)
    assert isinstance(outcome(read_mm, text), LayupError)


@given(st.integers(0, 10**9), st.sampled_from(["mm", "in"]))
def test_a_sign_mirrors_a_position_and_is_refused_for_a_length(number, unit):
    assert quantity.read_position(f"-{number} {unit}", "mm") == -read_mm(f"{number} {unit}")
    assert quantity.read_position(-number, unit) == -quantity.read_length(number, unit)
    assert isinstance(outcome(read_mm, f"-{number} {unit}"), LayupError) == (number > 0)


# ---- what is refused ----

REFUSED = [
    ("12,5 mm", "point"),
    ("1,000 mm", "point"),
    ("1_000 mm", "underscore"),
    ("\u0663 mm", "digits 0 to 9"),
    ("\uff13 mm", "digits 0 to 9"),
    ("3/0 in", "not zero"),
    ("1 3/0 in", "not zero"),
    ("1 4/4 in", "less than 1"),
    ("1 9/8 in", "less than 1"),
    ("1 2 mm", "one number and one unit"),
    ("1/2/3 in", "one number and one unit"),
    ("12.5 3/4 in", "one number and one unit"),
    ("12 - 3/4 in", "one number and one unit"),
    ("\u00bd\u00bd in", "one number and one unit"),
    ("\u00bd3 in", "one number and one unit"),
    ("1/\u00bd in", "one number and one unit"),
    ("5' 3", "unit of the last number"),
    ("5' 3'", "smaller unit"),
    ("3\" 5'", "smaller unit"),
    ("5 mm 3 in", "no unit"),
    ("25 kPa", "unit of pressure"),
    ("20 °C", "unit of temperature"),
    ("5 inchs", "did you mean in"),
    ("5 milimeter", "did you mean mm"),
    ("1e3 mm", "no unit"),
    ("0x10 mm", "no unit"),
    ("1" * 13 + " mm", "too large"),
    ("1 ft " + "1" * 13 + " in", "smaller unit"),
    ("1" * (LONGEST + 1), "characters"),
    ("nan", ""),
    ("inf mm", ""),
    ("-inf", ""),
    ("", ""),
    (" ", ""),
    ("mm", ""),
    ("--5 mm", ""),
    ("+5 mm", ""),
    ("5 + 5 mm", "no unit"),
    ("5 1", "one number and one unit"),
    ("(5) mm", ""),
    ("__import__('os')", "underscore"),
    (True, "number or a text"),
    (False, "number or a text"),
    (None, "number or a text"),
    ([600], "number or a text"),
    ({"mm": 600}, "number or a text"),
    (math.nan, "Check"),
    (math.inf, "Check"),
    (-math.inf, "Check"),
    (LARGEST + 1, "Check"),
    (10**5000, "Check"),
    (-1, "sign"),
]


@pytest.mark.parametrize(("value", "word"), REFUSED, ids=range(len(REFUSED)))
def test_what_is_no_length_is_refused_with_what_is_allowed_and_a_hint(value, word):
    with pytest.raises(LayupError) as caught:
        read_mm(value)
    error = caught.value
    assert error.key == ""
    assert word in error.hint
    assert '"23 5/8 in"' in error.allowed
    assert "a bare number is in mm" in error.allowed
    assert len(str(error)) < 400
    assert str(error).isprintable()


def test_the_limits_themselves_are_allowed():
    assert read_mm(LARGEST) == read_mm(f"{LARGEST} mm") == 1e12
    assert read_mm("0" * (LONGEST - 4) + "5 mm") == 5.0
    assert read_mm(0) == read_mm("-0 mm") == 0.0
    assert read_mm("0 1/2 in") == 12.7


@pytest.mark.parametrize("value", [25, "25", 25.0, "25 1/2"])
@pytest.mark.parametrize(
    "reader",
    [
        quantity.read_altitude,
        quantity.read_pressure,
        quantity.read_temperature,
        quantity.read_spread,
        quantity.read_time,
        quantity.read_volume,
        quantity.read_flow,
        quantity.read_mass,
    ],
)
def test_a_bare_number_is_refused_where_nothing_says_its_unit(reader, value):
    with pytest.raises(LayupError, match="with its unit as a text, such as"):
        reader(value)


@pytest.mark.parametrize(
    ("reader", "value", "internal"),
    [
        (quantity.read_angle, 90, math.radians(90)),
        (quantity.read_angle, "-22 1/2", math.radians(-22.5)),
        (quantity.read_percent, 8, 8.0),
        (quantity.read_percent, "8 1/2 %", 8.5),
        (quantity.read_ratio, 0.25, 0.25),
        (quantity.read_ratio, "25 %", 0.25),
        (quantity.read_ratio, "1/4", 0.25),
    ],
)
def test_a_bare_number_is_degrees_percent_or_the_ratio_itself(reader, value, internal):
    assert reader(value) == internal


def test_a_bare_number_may_be_given_a_unit():
    assert quantity.read_pressure(25, "inHg") == quantity.read_pressure("25 inHg")
    assert quantity.read_temperature("68", "°F") == 20.0


def test_a_gauge_reading_is_written_without_a_minus():
    with pytest.raises(LayupError, match="without the minus sign"):
        quantity.read_pressure("-25 inHg")


WORDS = [
    "1",
    "0",
    "3/4",
    " ",
    "-",
    "'",
    '"',
    "in",
    "mm",
    "ft",
    "h",
    "min",
    "lb",
    "oz",
    "½",
    ".",
    "/",
    "°C",
    "²",
    "Hg",
    "1000",
]
ANYTHING = st.one_of(
    st.text(max_size=80),
    st.lists(st.sampled_from(WORDS), max_size=9).map("".join),
    st.integers(),
    st.floats(),
    st.booleans(),
    st.none(),
    st.datetimes(),
    st.lists(st.integers(), max_size=2),
)


@given(ANYTHING, st.sampled_from((*dim.DIMENSIONS, dim.POSITION, dim.RATIO)))
def test_anything_is_a_finite_number_or_a_plain_error(value, dimension):
    result = outcome(quantity.read, value, dimension, dimension.units[0].name)
    if isinstance(result, LayupError):
        assert result.key == ""
        assert str(result).isprintable()
    else:
        assert type(result) is float
        assert math.isfinite(result)
        assert not dimension.least or result >= float(dimension.least)


# ---- units ----


@given(st.sampled_from(UNITS), st.decimals(0, 10**6, places=3))
def test_reading_is_the_inverse_of_the_unit_library(row, number):
    dimension, unit = row
    internal = quantity.read(f"{number:f} {unit.name}", dimension)
    back = REGISTRY.Quantity(internal, dimension.internal).to(unit.library).magnitude * unit.per
    # Six operations on floats; a temperature goes by way of kelvins.
    assert back == pytest.approx(float(number), rel=1e-14, abs=1e-12)


@pytest.mark.parametrize(("dimension", "unit"), UNITS, ids=NAMES)
def test_every_spelling_of_a_unit_is_that_unit_and_no_other(dimension, unit):
    for spelling in (unit.name, *unit.spellings):
        assert dimension.find(spelling) is unit
        assert dimension.find(f" {spelling} ".replace("/", " / ")) is unit
        assert spelling == unit.name or dimension.find(spelling.upper()) in (unit, None)
        assert [other.name for other in dimension.units if spelling in other.spellings] in ([unit.name], [])
        assert len(f"0 {spelling}") < LONGEST


def test_only_megapascals_depend_on_capitals():
    assert quantity.read_pressure("0.085 MPa") == 0.085
    assert isinstance(outcome(quantity.read_pressure, "0.085 mPa"), LayupError)
    assert quantity.read_pressure("85 KPA") == quantity.read_pressure("85 kpa") == 0.085
    assert (
        quantity.read_pressure('25 "Hg')
        == quantity.read_pressure("25 in. Hg")
        == quantity.read_pressure("25 INHG")
    )


@given(st.integers(0, 10**6), st.integers(0, 999))
def test_the_units_of_one_system_agree_to_the_last_bit(whole, part):
    text = f"{whole}.{part:03d}"
    mm = Fraction(text)
    assert read_mm(f"{text} mm") == read_mm(f"{float(mm / 10)!r} cm") == float(text)
    assert quantity.read_altitude(f"{text} m") == read_mm(f"{text} m")
    assert (
        quantity.read_pressure(f"{whole * 10} mbar") == quantity.read_pressure(f"{whole} kPa") == whole / 1000
    )


# ---- start ----


def test_the_unit_library_is_loaded_only_for_a_unit_that_is_not_the_internal_one():
    code = (
        "import sys; from underbag.app import quantity as q\n"
        "q.read_length(600, 'mm'), q.read_length('12 3/4', 'mm'), q.read_temperature('20 °C'), q.read_percent(8)\n"
        "assert 'pint' not in sys.modules\n"
        "q.read_length('23 5/8 in', 'mm')\n"
        "assert 'pint' in sys.modules\n"
    )
    subprocess.run([sys.executable, "-c", code], check=True)
