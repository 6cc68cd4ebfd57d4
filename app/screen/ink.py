"""Colour, and signs that a stream can print.

Colour only repeats what the words say.
"""

from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import Literal
from unicodedata import combining, normalize

Style = Literal["stop", "caution", "ok", "heading", "quiet"]

Ink = Callable[[str, Style], str]
"""Colours a text; gives it back as it is where there is no colour."""

CODES: Mapping[Style, str] = MappingProxyType(
    {"stop": "1;31", "caution": "1;33", "ok": "1;32", "heading": "1", "quiet": "2"}
)

_PLAIN = str.maketrans(
    {
        "×": "x",
        "·": "*",
        "–": "-",
        "−": "-",
        "—": "-",
        "…": "~",
        "°": "deg ",
        "′": "'",
        "″": '"',
        "√": "sqrt",
        "∫": "integral of ",
        "θ": "theta",
        "≥": ">=",
        "≤": "<=",
        "█": "#",
        "░": ".",
    }
)
"""Plain signs for those that stand in our texts; NFKD turns ² and µ into plainer ones by itself."""


def no_ink(text: str, style: Style) -> str:
    """Text without colour."""
    return text


def terminal_ink(text: str, style: Style) -> str:
    """Text in the colour of a style, by the codes that terminals share."""
    return f"\x1b[{CODES[style]}m{text}\x1b[0m" if text else text


def printable(text: str, encoding: str) -> str:
    """Text in signs that an encoding has; where it lacks one, all are told by plain letters."""
    try:
        text.encode(encoding)
    except (UnicodeEncodeError, LookupError):
        plain = normalize("NFKD", text.translate(_PLAIN))
        return "".join(sign if sign.isascii() else "?" for sign in plain if not combining(sign))
    return text


def visible(text: str) -> str:
    """Text without anything that would steer a terminal."""
    return "".join(sign if sign.isprintable() else "�" for sign in text)
