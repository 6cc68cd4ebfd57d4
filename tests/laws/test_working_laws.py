"""The working that is printed of a value leads to its number: a reader with a calculator gets the same."""

import pytest

from underbag.app.read.layup_file import read_file
from underbag.model.plan import plan
from underbag.model.report import report
from underbag.model.source import GEOMETRY
from underbag.model.units import Mm
from underbag.model.value import MATHEMATICS, Value, formula
from underbag.model.working import readable, with_numbers, working_lines

DEMOS = ("shelf", "drawer-front", "apron", "chessboard", "table-top")


@pytest.fixture(scope="module", params=DEMOS)
def values(request: pytest.FixtureRequest) -> tuple[Value, ...]:
    return report(plan(read_file(f"demos/{request.param}.toml").layup)).values


def test_the_numbers_that_are_printed_give_the_value(values: tuple[Value, ...]) -> None:
    for value in values:
        if not value.is_method:
            got = eval(with_numbers(value), {"__builtins__": {}}, MATHEMATICS)
            # inputs are printed to six digits; a difference of two nearly equal ones loses two of them
            assert got == pytest.approx(value.number, rel=3e-4, abs=1e-9), value.key


def test_every_input_stands_in_the_working_with_its_unit(values: tuple[Value, ...]) -> None:
    for value in values:
        text = " ".join(working_lines(value))
        assert text.startswith(f"{value.symbol} = "), value.key
        for item in value.inputs:
            unit = "" if item.unit == "1" else f" {item.unit}"
            assert f"{item.symbol} = {item.number:.6g}{unit}" in text, value.key


@formula("d", "distance", "sqrt(e ** 2 + 1e-9) - a * min(e, 2)", GEOMETRY)
def distance(e: Mm, a: Mm) -> Mm:
    return float((e**2 + 1e-9) ** 0.5 - a * min(e, 2))


def test_numbers_take_the_places_of_whole_symbols_only() -> None:
    value = distance.value("d", e=3.0, a=-2.5)
    assert with_numbers(value) == "sqrt(3 ** 2 + 1e-9) - (-2.5) * min(3, 2)"
    assert readable("2 * pi * r ** 2") == "2 · π · r^2"
    first, second = working_lines(value)
    assert first == "d = sqrt(e^2 + 1e-9) - a · min(e, 2) = sqrt(3^2 + 1e-9) - (-2.5) · min(3, 2) = 8 mm"
    assert second == "with e = 3 mm, a = -2.5 mm"
