"""Numbers as a woodworker writes them: ``12.7``, ``12 3/4``, ``1-1/8``, ``7/16``, ``12¾``; read exactly.

Only the digits 0 to 9 count, a decimal is marked by a point, and thousands are not marked.
"""

import re
import unicodedata
from fractions import Fraction

from ..model.errors import LayupError

ALLOWED = "a number such as 12, 12.7, 12 3/4, 1-1/8 or 7/16"

LONGEST = 60
"""Characters that one quantity may take; more is no quantity but a slip."""

LARGEST = 10**12
"""What is larger than this in any unit is a slip, and would only overflow later."""

# Unicode takes ½ apart into 1 and 2 with a fraction bar of its own between them.
_FRACTIONS = {
    sign: unicodedata.normalize("NFKC", sign).replace("\u2044", "/") for sign in "½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅐⅛⅜⅝⅞⅑⅒"
}
_FRACTION = re.compile(f"[{''.join(_FRACTIONS)}]")
# Marks that look alike on paper, by the plain one: inch, foot, minus and hyphen, fraction bar, degree.
_MARKS = {
    '"': "\u2033\u201d\u201c\u02ba",
    "'": "\u2032\u2019\u2018\u02b9",
    "-": "\u2212\u2013\u2010\u2011",
    "/": "\u2044\u2215",
    "°": "\u00ba\u02da",
}
_ALIKE = str.maketrans({mark: plain for plain, marks in _MARKS.items() for mark in marks})
_NUMBER = re.compile(
    r"(?P<whole>[0-9]+)(?:\s+|-)(?P<up>[0-9]+)\s*/\s*(?P<down>[0-9]+)"
    r"|(?P<over>[0-9]+)\s*/\s*(?P<under>[0-9]+)"
    r"|(?P<decimal>[0-9]+(?:\.[0-9]+)?|\.[0-9]+)"
)


def tidy(text: str) -> str:
    """Put the marks that look alike, and fractions of one sign, into plain characters.

    Raises
    ------
    LayupError
        The text is empty, too long, or has a comma, an underscore or digits other than 0 to 9.
    """
    if len(text) > LONGEST:
        raise LayupError("", quoted(text), ALLOWED, f"Use at most {LONGEST} characters.")
    if any(unicodedata.category(sign) == "Nd" and not sign.isascii() for sign in text):
        raise LayupError("", quoted(text), ALLOWED, "Use the digits 0 to 9.")
    if "," in text:
        raise LayupError("", quoted(text), ALLOWED, "Use a point for decimals, and leave thousands unmarked.")
    if "_" in text:
        raise LayupError("", quoted(text), ALLOWED, "Leave out the underscore.")
    # Blanks around keep a fraction sign from joining the digits beside it; a hyphen before it stays beside it.
    spread = _FRACTION.sub(lambda sign: f" {_FRACTIONS[sign.group()]} ", text.translate(_ALIKE))
    plain = " ".join(re.sub(r"-\s+(?=[0-9]+/)", "-", spread).replace("''", '"').split())
    if not plain:
        raise LayupError("", quoted(text), ALLOWED)
    return plain


def take_number(text: str) -> tuple[Fraction, str]:
    """Take the number without sign that a tidy text begins with; give it and the text behind it.

    Raises
    ------
    LayupError
        The text begins with no number, or with a fraction that is none.
    """
    match = _NUMBER.match(text)
    if match is None:
        raise LayupError("", quoted(text), ALLOWED)
    rest = text[match.end() :].strip()
    if match["decimal"]:
        return Fraction(match["decimal"]), rest
    up, down = int(match["up"] or match["over"]), int(match["down"] or match["under"])
    if down == 0:
        raise LayupError("", quoted(text), ALLOWED, "The lower number of a fraction is not zero.")
    if match["whole"] and up >= down:
        hint = f"Behind a whole number the fraction is less than 1, unlike {up}/{down}."
        raise LayupError("", quoted(text), ALLOWED, hint)
    return int(match["whole"] or 0) + Fraction(up, down), rest


def plain_number(value: float) -> Fraction:
    """Take a number of the file exactly as its shortest decimal, so that 0.1 and "0.1" are the same.

    Raises
    ------
    LayupError
        The number is not finite or is too large.
    """
    if not abs(value) <= LARGEST:
        raise LayupError("", told(value), f"a number up to {LARGEST:.0e}", "Check the number and its unit.")
    return Fraction(value) if isinstance(value, int) else Fraction(repr(float(value)))


def quoted(text: str) -> str:
    """Quote a text for a message: in one line, and cut where it is too long."""
    line = "".join(sign if sign.isprintable() else "�" for sign in text[:LONGEST])
    return f"'{line}{'…' if len(text) > LONGEST else ''}'"


def told(value: object) -> str:
    """Tell a value of the file in a message, as it is written there or by its kind."""
    match value:
        case bool():
            return "true" if value else "false"
        case str():
            return quoted(value)
        case int() | float():
            # Not even to be printed: Python refuses to write out whole numbers of some thousand digits.
            return f"a number beyond {LARGEST:.0e}" if abs(value) > LARGEST else str(value)
        case dict():
            return "a table"
        case list() | tuple():
            return "a list"
    return quoted(str(value))
