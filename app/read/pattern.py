"""Regular expressions for quantities written as text, so that an editor can check them by the schema.

They are made of the same rows that the reader looks units up in. The reader is a little kinder: it also takes odd
blanks within a unit. What a pattern matches is written correctly; its number may still be beyond a limit.
"""

import re

from ..dimension import Dimension

_FRACTIONS = "½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅐⅛⅜⅝⅞⅑⅒"
_OVER = r"\s*[/\u2044]\s*"
NUMBER = (
    rf"(?:[0-9]+(?:\s+|\s*-\s*)[0-9]+{_OVER}[0-9]+|[0-9]+{_OVER}[0-9]+|[0-9]*\s*-?\s*[{_FRACTIONS}]"
    r"|[0-9]+(?:\.[0-9]+)?|\.[0-9]+)"
)
"""A number as a woodworker writes it; JSON Schema has the same syntax for it."""

_ALIKE = {
    '"': '["\u2033\u201d\u201c\u02ba]',
    "'": "['\u2032\u2019\u2018\u02b9]",
    "°": "[°\u00ba\u02da]",
}
"""Marks that look alike on paper."""


def pattern_of(dimension: Dimension, bare_unit: str) -> str:
    """Pattern of the texts that say a quantity; ``bare_unit`` is empty where the unit must be written."""
    unit = _one_of(
        {spelling for one in dimension.units for spelling in (one.name, *one.spellings) if spelling}
    )
    sign = "" if dimension.least == "0" else r"[-−]?\s*"
    one = rf"{NUMBER}\s*{unit}\.?"
    more = rf"(?:\s*-?\s*{one}){{0,{len(dimension.chain) - 1}}}" if dimension.chain else ""
    forms = rf"{one}{more}|{NUMBER}" if bare_unit else rf"{one}{more}"
    return rf"^\s*{sign}(?:{forms})\s*$"


def _one_of(spellings: set[str]) -> str:
    """Any of the spellings, the longest first, with capitals or without."""
    return f"(?:{'|'.join(_spelling(one) for one in sorted(spellings, key=lambda one: (-len(one), one)))})"


def _spelling(text: str) -> str:
    return "".join(_sign(sign) for sign in text)


def _sign(sign: str) -> str:
    if sign in _ALIKE:
        return _ALIKE[sign]
    if sign == " ":
        return r"\s*"
    if sign.isalpha() and len(sign.upper()) == 1 and sign.upper() != sign.lower():
        return f"[{sign.upper()}{sign.lower()}]"
    return {"2": "[2²]", "3": "[3³]"}.get(sign, re.escape(sign) if sign in r"\.^$*+?()[]{}|/" else sign)
