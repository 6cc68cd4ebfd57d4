"""The working of a value as people write it: symbol = expression = numbers, and its inputs with their units."""

import re

from .value import METHOD, Value

LONGEST = 240
"""Signs of an expression with its numbers above which it is told without them; the inputs stand below anyway."""
NAME = re.compile(r"(?<![\w.])[^\W\d]\w*")


def with_numbers(value: Value) -> str:
    """Expression of a value with the numbers of its inputs in the symbols' places; it still can be evaluated."""
    numbers = {item.symbol: number_text(item.number) for item in value.inputs}
    return NAME.sub(
        lambda name: _bracketed(numbers[name[0]]) if name[0] in numbers else name[0], value.expression
    )


def number_text(number: float) -> str:
    """Number to six digits that count."""
    return f"{number:.6g}"


def _bracketed(number: str) -> str:
    return f"({number})" if number.startswith("-") else number


def readable(expression: str) -> str:
    """Expression with the signs of print: a dot for times, a raised hand for powers, π."""
    plain = expression.replace(" ** ", "^").replace("**", "^").replace(" * ", " · ").replace("*", "·")
    return re.sub(r"\bpi\b", "π", plain)


def working_lines(value: Value) -> tuple[str, ...]:
    """Lines of a value's working: the formula with its numbers and result, then the inputs with their units."""
    unit = "" if value.unit == "1" else f" {value.unit}"
    result = f"{number_text(value.number)}{unit}"
    inputs = ", ".join(
        f"{item.symbol} = {number_text(item.number)}{'' if item.unit == '1' else f' {item.unit}'}"
        for item in value.inputs
    )
    if value.is_method:
        method = value.expression.removeprefix(METHOD).strip()
        first = f"{value.symbol} = {result}, by the method: {method}"
    else:
        numbers = readable(with_numbers(value))
        parts = (
            value.symbol,
            readable(value.expression),
            *((numbers,) if len(numbers) <= LONGEST else ()),
            result,
        )
        first = " = ".join(parts)
    return (first, f"with {inputs}") if inputs else (first,)
