"""Every declared formula: its expression says what its function computes, and a report can print it whole."""

import importlib
import inspect
import math
import pkgutil
import zlib
from collections.abc import Iterable, Iterator
from types import ModuleType
from typing import get_args, get_type_hints

import numpy as np
import pytest

import underbag.model
from underbag.model.source import BASES
from underbag.model.value import Formula, evaluate

SAMPLES = 200
ENOUGH = 20
"""Samples that have to lie within a formula's range of use, of all that are drawn."""

RANGES = {
    "mm": (0.3, 2000.0),
    "mm²": (1e2, 1e7),
    "mm³": (1e3, 1e9),
    "1/mm": (1e-6, 1e-2),
    "N": (1.0, 1e6),
    "N/mm": (0.01, 100.0),
    "MPa": (0.005, 2e4),
    "s": (1.0, 1e5),
    "°C": (5.0, 60.0),
    "g": (0.1, 1e4),
    "g/mm²": (5e-5, 5e-4),
    "g/mm³": (2e-4, 1.2e-3),
    "mm³/s": (1e2, 1e7),
    "MPa·mm³/s": (1e-3, 1e4),
    "MPa·s": (1e-12, 1e-9),
    "rad": (0.0, math.pi / 2),
    "%": (0.5, 25.0),
    "1/%": (5e-5, 5e-3),
    "1": (0.01, 0.95),
}
"""Where inputs are drawn from, by unit."""

ELSEWHERE = (1e-3, 1e3)
"""The same for a unit that is not listed."""

COUNTS = (1, 12)

NARROWER = {
    ("air_pressure", "z"): (0.0, 5e6),
    ("air_pressure_from_report", "z"): (0.0, 5e6),
    ("air_pressure_from_report", "q"): (0.09, 0.11),
}
"""Inputs whose range of use is not that of their unit, by formula and symbol."""


def modules() -> tuple[list[ModuleType], list[str]]:
    """Every module of the model, and the names of those that can't be imported."""
    names = [module.name for module in pkgutil.walk_packages(underbag.model.__path__, "underbag.model.")]
    found: list[ModuleType] = []
    broken: list[str] = []
    for name in names:
        try:
            found.append(importlib.import_module(name))
        except ImportError as error:
            broken.append(f"{name}: {error}")
    return found, broken


def declared(where: Iterable[ModuleType]) -> Iterator[tuple[str, Formula]]:
    """Every formula of the modules with its dotted name, each once."""
    seen: set[int] = set()
    for module in where:
        for name, item in sorted(vars(module).items()):
            if isinstance(item, Formula) and id(item) not in seen:
                seen.add(id(item))
                yield f"{item.function.__module__}.{name}", item


MODULES, BROKEN = modules()
FORMULAS = dict(declared(MODULES))
EXPRESSIONS = {name: item for name, item in FORMULAS.items() if not item.expression.startswith("method:")}


def draw(formula: Formula, chance: np.random.Generator) -> dict[str, float]:
    """One sample of the inputs: angles, temperatures and shares evenly, everything else by its logarithm."""
    sample: dict[str, float] = {}
    hints = get_type_hints(formula.function, include_extras=True)
    units = formula.units()
    for symbol, annotation in hints.items():
        if symbol == "return":
            continue
        if get_args(annotation)[0] is int:
            sample[symbol] = int(chance.integers(*COUNTS))
            continue
        low, high = NARROWER.get((formula.function.__name__, symbol), RANGES.get(units[symbol], ELSEWHERE))
        if low <= 0 or high / low < 20:
            sample[symbol] = float(chance.uniform(low, high))
        else:
            sample[symbol] = float(math.exp(chance.uniform(math.log(low), math.log(high))))
    return sample


def test_every_module_of_the_model_was_looked_at() -> None:
    assert BROKEN == []


def test_the_walk_finds_formulas_of_every_subject() -> None:
    subjects = {name.rpartition(".")[0].rpartition(".")[2] for name in FORMULAS}

    assert {
        "pressure",
        "overhang",
        "bending",
        "springback",
        "moisture",
        "laminate",
        "skin",
        "plate",
    } <= subjects


@pytest.mark.parametrize("name", EXPRESSIONS)
def test_expression_gives_what_the_function_gives(name: str) -> None:
    formula = EXPRESSIONS[name]
    chance = np.random.default_rng(zlib.crc32(name.encode()))
    compared = 0
    for _ in range(SAMPLES):
        sample = draw(formula, chance)
        try:
            number = formula(**sample)
        except (ArithmeticError, ValueError):
            continue
        if isinstance(number, complex) or not math.isfinite(number):
            continue
        value = formula.value("any.key", **sample)
        # Both sides are the same arithmetic in another order: rounding only, of sums that may nearly cancel.
        assert evaluate(value) == pytest.approx(number, rel=1e-9, abs=1e-15), sample
        compared += 1

    assert compared >= ENOUGH, (
        f"{name}: only {compared} samples in its range of use; give it ranges in NARROWER"
    )


@pytest.mark.parametrize("name", FORMULAS)
def test_every_formula_can_be_printed_whole(name: str) -> None:
    formula = FORMULAS[name]
    inputs = inspect.signature(formula.function).parameters

    assert formula.symbol
    assert formula.name
    assert formula.expression
    assert formula.source.basis in BASES
    assert set(formula.units()) == {*inputs, "return"}
    assert not [symbol for symbol, item in inputs.items() if item.default is not inspect.Parameter.empty], (
        "an input left to a default would be missing from the report"
    )


@pytest.mark.parametrize("name", EXPRESSIONS)
def test_every_input_stands_in_the_expression(name: str) -> None:
    formula = EXPRESSIONS[name]
    names = set(compile(formula.expression, name, "eval").co_names)

    assert set(formula.units()) - {"return"} <= names


def test_a_wrong_expression_would_be_caught() -> None:
    right = FORMULAS["underbag.model.mechanics.pressure.force"]
    wrong = Formula(right.function, right.symbol, right.name, "p * A * 1.000001", right.source)

    assert evaluate(wrong.value("any.key", p=0.08, A=1e6)) != pytest.approx(
        wrong(p=0.08, A=1e6), rel=1e-9, abs=1e-12
    )
