"""Values: numbers that know their unit, how they were computed and on what ground.

A formula is declared once, as a pure function with a symbol, a name, a source and an expression; it is called
like the function that it wraps and can also give the whole record::

    @formula("F", "force on the panel", "p * A", NEWTON)
    def press_force(p: MPa, A: Mm2) -> Newton:
        return p * A

    press_force(p=0.085, A=1000.0)                        # 85.0
    press_force.value("press.force", p=0.085, A=1000.0)   # Value(key="press.force", ... , number=85.0)

Where no expression can say it (an integral, a search), give the name of the method instead, with a leading
``method:``. A test evaluates every expression against its function.
"""

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Generic, ParamSpec, get_type_hints

from .source import Source
from .units import unit_of

P = ParamSpec("P")

METHOD = "method:"
"""What an expression begins with when it names a method instead of a formula."""


@dataclass(frozen=True, slots=True)
class Input:
    """One input of a value: its symbol in the expression, its number and its unit."""

    symbol: str
    number: float
    unit: str


@dataclass(frozen=True, slots=True)
class Value:
    """A number with its name, unit, working and source.

    Parameters
    ----------
    key
        Stable dotted key, such as ``"press.force"``.
    name
        What it is, in words of the trade; says its convention where there is one.
    symbol
        Letter that stands for it in the working.
    number
        The number in internal units.
    unit
        Symbol of the internal unit.
    expression
        Formula of the input symbols, or ``method:`` and the name of a method.
    inputs
        What went in.
    source
        Where the formula comes from.
    """

    key: str
    name: str
    symbol: str
    number: float
    unit: str
    expression: str
    inputs: tuple[Input, ...]
    source: Source

    @property
    def is_method(self) -> bool:
        """Whether the working is a named method and not an expression."""
        return self.expression.startswith(METHOD)


@dataclass(frozen=True, slots=True)
class Formula(Generic[P]):
    """A pure function together with its declaration; call it, or ask it for the whole ``Value``."""

    function: Callable[P, float]
    symbol: str
    name: str
    expression: str
    source: Source

    def __call__(self, *args: P.args, **kwargs: P.kwargs) -> float:
        """Compute the bare number."""
        return self.function(*args, **kwargs)

    def value(self, key: str, *args: P.args, **kwargs: P.kwargs) -> Value:
        """Compute the number and give it with its working; inputs by keyword only."""
        if args:
            raise TypeError(f"{self.name}: give the inputs of a value by keyword")
        units = _units(self.function)
        return Value(
            key=key,
            name=self.name,
            symbol=self.symbol,
            number=float(self.function(**kwargs)),  # type: ignore[call-arg]
            unit=units["return"],
            expression=self.expression,
            inputs=tuple(Input(symbol, float(number), units[symbol]) for symbol, number in kwargs.items()),  # type: ignore[arg-type]
            source=self.source,
        )

    def units(self) -> dict[str, str]:
        """Unit symbol of every input, and of the result under ``"return"``."""
        return dict(_units(self.function))


@cache
def _units(function: Callable[..., float]) -> Mapping[str, str]:
    """Unit symbols that a signature names; read once, as reading type names is slow."""
    hints = get_type_hints(function, include_extras=True)
    return {symbol: unit_of(annotation) for symbol, annotation in hints.items()}


def formula(
    symbol: str, name: str, expression: str, source: Source
) -> Callable[[Callable[P, float]], Formula[P]]:
    """Declare a formula; see the module's text."""

    def declare(function: Callable[P, float]) -> Formula[P]:
        return Formula(function, symbol, name, expression, source)

    return declare


MATHEMATICS = {
    name: getattr(math, name)
    for name in (
        "sqrt",
        "exp",
        "log",
        "sin",
        "cos",
        "tan",
        "asin",
        "acos",
        "atan",
        "atan2",
        "ceil",
        "floor",
        "pi",
    )
} | {"min": min, "max": max, "abs": abs}
"""The names that an expression may use beside its inputs."""


def evaluate(value: Value) -> float:
    """Evaluate the expression of a value with its inputs: the second way to the same number.

    Raises
    ------
    ValueError
        The value's working is a method, not an expression.
    """
    if value.is_method:
        raise ValueError(f"{value.key} is found by {value.expression}; there is no expression to evaluate")
    names = MATHEMATICS | {item.symbol: item.number for item in value.inputs}
    return float(eval(value.expression, {"__builtins__": {}}, names))
