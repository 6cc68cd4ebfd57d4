"""Quantities in words: what the wording writes, the readers read back to the division that it shows."""

import math
import re

import pint
import pytest
from hypothesis import assume, example, given
from hypothesis import strategies as st

from underbag.app import quantity
from underbag.model import wording

REGISTRY = pint.UnitRegistry()
# The first unit loads the library; here, so that it does not count into the time of one example.
ONE_INCH = quantity.read_length("1 in", "mm")

LENGTHS = st.floats(-1e5, 1e5)


@given(LENGTHS)
@example(0.0)
@example(-0.0)
@example(25.4 / 16)
@example(25.4 / 32)
@example(25.4 * 31 / 32)
@example(math.nextafter(25.4 / 16, 0))
@example(600.0)
def test_a_length_in_words_reads_back_to_its_nearest_division(x):
    inches, metric = wording.in_inches(x), wording.in_mm(x)
    assert abs(quantity.read_position(inches, "mm") - x) <= 25.4 / 32 * (1 + 1e-12)
    assert abs(quantity.read_position(metric, "mm") - x) <= (0.05 if abs(x) >= 10 else 0.005) * (1 + 1e-9)
    assert wording.both(x) == f"{metric} ({inches})"
    if abs(x) < 25.4 / 16:
        assert abs(quantity.read_position(inches, "mm") - x) <= 0.0127 * (1 + 1e-9)
    assert not re.match(r'-0( mm|")$', inches + metric)


@given(st.integers(-10_000, 10_000))
def test_sixteenths_are_written_exactly_and_reduced(sixteenths):
    text = wording.in_inches(sixteenths * 25.4 / 16)
    assert quantity.read_position(text, "mm") == pytest.approx(sixteenths * 25.4 / 16, rel=1e-15, abs=0)
    fraction = re.search(r"([0-9]+)/([0-9]+)", text)
    if fraction:
        up, down = map(int, fraction.groups())
        assert math.gcd(up, down) == 1
        assert down in (2, 4, 8, 16)
        assert up < down


@pytest.mark.parametrize(
    ("length", "text"),
    [
        (600, '600 mm (23 5/8")'),
        (0.6, '0.6 mm (0.024")'),
        (28.575, '28.6 mm (1 1/8")'),
        (-19.05, '-19.1 mm (-3/4")'),
        (0, '0 mm (0")'),
        (0.001, '0 mm (0")'),
        (25.3, '25.3 mm (1")'),
        (1.5875, '1.59 mm (1/16")'),
        (1.58, '1.58 mm (0.062")'),
        (9.999, '10 mm (3/8")'),
    ],
)
def test_lengths_in_both_systems(length, text):
    assert wording.both(length) == text


# Writer of both systems, reader, range in internal units. Three digits count at least: within half of the third.
WRITERS = [
    (wording.pressure, quantity.read_pressure, st.floats(1e-4, 10)),
    (wording.strength, quantity.read_pressure, st.floats(1e-4, 500)),
    (wording.mass, quantity.read_mass, st.floats(0.1, 1e6)),
    (wording.volume, quantity.read_volume, st.floats(1e5, 1e12)),
    (wording.flow, quantity.read_flow, st.floats(1e4, 1e9)),
    (wording.spread, quantity.read_spread, st.floats(1e-6, 1e-2)),
]


@pytest.mark.parametrize(("write", "read", "numbers"), WRITERS, ids=[row[0].__name__ for row in WRITERS])
@given(data=st.data())
def test_both_systems_read_back_within_half_of_the_third_digit(write, read, numbers, data):
    number = data.draw(numbers)
    metric, customary = re.fullmatch(r"(.*) \((.*)\)", write(number)).groups()
    assert read(metric) == pytest.approx(number, rel=0.00501)
    assert read(customary) == pytest.approx(number, rel=0.00501)
    # Nothing before the point is rounded away.
    shown = float(metric.split()[0])
    assert shown < 1000 or shown == int(shown)


@given(st.floats(-273.15, 1000))
def test_a_temperature_reads_back_within_half_of_its_last_digit(T):
    metric, customary = re.fullmatch(r"(.*) \((.*)\)", wording.temperature(T)).groups()
    assume(T > -273.1)
    assert quantity.read_temperature(metric) == pytest.approx(T, abs=0.05 + 1e-9)
    assert quantity.read_temperature(customary) == pytest.approx(T, abs=0.05 / 1.8 + 1e-9)


@given(st.floats(-1e6, 1e7))
def test_an_altitude_reads_back_within_half_a_metre_or_foot(z):
    metric, customary = re.fullmatch(r"(.*) \((.*)\)", wording.altitude(z)).groups()
    assert quantity.read_altitude(metric) == pytest.approx(z, abs=500.001)
    assert quantity.read_altitude(customary) == pytest.approx(z, abs=152.401)


@given(st.floats(0, 1e7))
@example(59.999)
@example(60.0)
@example(3599.0)
@example(5400.0)
def test_a_time_reads_back_within_half_a_minute_and_below_ten_minutes_half_a_second(t):
    back = quantity.read_time(wording.duration(t))
    assert back == pytest.approx(
        t, abs=30.001 if t >= 599.5 else 0.501 if t >= 60 else max(0.051, 0.0051 * t)
    )


@given(st.floats(-10, 10), st.floats(0, 200))
def test_an_angle_and_a_share_read_back_within_a_twentieth(a, share):
    assert quantity.read_angle(wording.angle(a)) == pytest.approx(a, abs=math.radians(0.0501))
    assert quantity.read_percent(wording.percent(share)) == pytest.approx(share, abs=0.0501)


@given(st.floats(1, 1e7))
def test_a_force_in_words_is_within_half_of_the_third_digit(F):
    metric, unit, customary = re.fullmatch(r"(\S+) (k?N) \((\S+) lbf\)", wording.force(F)).groups()
    assert float(metric) * (1000 if unit == "kN" else 1) == pytest.approx(F, rel=0.00501)
    assert REGISTRY.Quantity(float(customary), "lbf").to("N").magnitude == pytest.approx(F, rel=0.00501)


@given(st.floats(1, 1e9))
def test_an_area_in_words_is_within_half_of_the_third_digit(A):
    assume(A > 1e5)
    metric, customary = re.fullmatch(r"(\S+) m² \((\S+) ft²\)", wording.area(A)).groups()
    assert float(metric) * 1e6 == pytest.approx(A, rel=0.00501)
    assert REGISTRY.Quantity(float(customary), "ft**2").to("mm**2").magnitude == pytest.approx(A, rel=0.00501)


def test_a_size_names_each_system_once():
    assert wording.both_size(600, 300) == '600 × 300 mm (23 5/8" × 11 13/16")'
