"""Lettering: heights, widths, and which letters there are.

Text is set in Bitstream Vera Sans, the font that reportlab carries, condensed to 0.8 of its width: a digit then
advances 0.70 and a capital about 0.8 of the lettering height, as in ISO 3098 type B. Height means the height of a
capital. All three formats print the same letters, those of ``shown``: what the font lacks is replaced by a fixed
table, then by the letter without its accent, then by a question mark.

Source: ISO 3098-1 (series of heights, from memory); widths are read from the font.
"""

import unicodedata
from collections.abc import Sequence
from enum import Enum
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from ...model.units import Mm, Ratio

if TYPE_CHECKING:
    from reportlab.pdfbase.ttfonts import TTFontFace

HEIGHTS: tuple[Mm, ...] = (1.8, 2.5, 3.5, 5.0, 7.0, 10.0, 14.0, 20.0)
"""The series of lettering heights."""

CAPITAL: Ratio = 1493 / 2048
"""Height of a capital of the font over its size."""

CONDENSED: Ratio = 0.8
"""Width of the letters over their width in the font."""

DEPTH: Ratio = 0.29
"""How far letters such as g and p reach below the line, over the lettering height."""

FOOT: Ratio = 0.03
"""How far round letters and digits reach below the line, over the lettering height."""

RISE: Ratio = 1.05
"""How far the tallest letters (brackets) reach above the line, over the lettering height."""

ACCENTED_RISE: Ratio = 1.3
"""How far a capital with an accent reaches above the line, over the lettering height."""

SITTING = frozenset(
    "ABCDEFGHIKLMNOPRSTUVWXYZabcdefhiklmnorstuvwxz0123456789 .:-+−–—=×·°²³'\"/½¼¾∆≈~<>≤≥…?!*#%&"
)
"""Letters that stay above the line."""

LINE: Ratio = 1.7
"""Distance of the lines of a paragraph over the lettering height."""

SUBSTITUTES = {
    "⌀": "Ø",
    "∅": "Ø",
    "⌒": "arc",
    "″": '"',
    "ʺ": '"',
    "′": "'",
    "\u02b9": "'",
    "\u2010": "-",
    "\u2011": "-",
    "\u2009": " ",
    "\u202f": " ",
    "\u00a0": " ",
    "\u00ad": "",
    "\u2044": "/",
    "⅛": " 1/8",
    "⅜": " 3/8",
    "⅝": " 5/8",
    "⅞": " 7/8",
    "→": "->",
    "←": "<-",
    "⋅": "·",
    "∥": "||",
    "\u03b1": "alpha",
    "\u03b2": "beta",
    "\u03b3": "gamma",
    "\u03b4": "delta",
    "\u0394": "∆",
    "\u03b5": "epsilon",
    "\u03b7": "eta",
    "\u03b8": "theta",
    "\u03ba": "kappa",
    "\u03bb": "lambda",
    "\u03bc": "µ",
    "\u03bd": "nu",
    "\u03c1": "rho",
    "\u03c3": "sigma",
    "\u03c4": "tau",
    "\u03c6": "phi",
    "\u03c8": "psi",
    "\u03c9": "omega",
}
"""What is printed for a letter that the font lacks."""


class Face(Enum):
    """Weight of the letters; the value is the file of the font."""

    REGULAR = "Vera.ttf"
    BOLD = "VeraBd.ttf"

    @property
    def font(self) -> str:
        """Name of the font inside a PDF file."""
        return {"Vera.ttf": "Vera", "VeraBd.ttf": "Vera-Bold"}[self.value]


def font_file(face: Face) -> Path:
    """Path of the font's file, inside the installed reportlab."""
    import reportlab

    return Path(reportlab.__file__).parent / "fonts" / face.value


@cache
def _metrics(face: Face) -> "TTFontFace":
    from reportlab.pdfbase.ttfonts import TTFontFace

    return TTFontFace(str(font_file(face)))


@cache
def _printed(letter: str) -> str:
    if letter in SUBSTITUTES:
        return SUBSTITUTES[letter]
    if ord(letter) in _metrics(Face.REGULAR).charToGlyph:
        return letter
    if unicodedata.category(letter)[0] in "CZ":
        return " "
    plain = "".join(part for part in unicodedata.normalize("NFKD", letter) if not unicodedata.combining(part))
    known = _metrics(Face.REGULAR).charToGlyph
    return plain if plain and plain != letter and all(ord(part) in known for part in plain) else "?"


def shown(text: str) -> str:
    """Text as it is printed: on one line, with the letters that the font has."""
    return "".join(_printed(letter) for letter in unicodedata.normalize("NFC", text)).strip()


def text_width(text: str, height: Mm, face: Face = Face.REGULAR) -> Mm:
    """Width of a line of text on paper."""
    metrics = _metrics(face)
    units = sum(metrics.charWidths.get(ord(letter), metrics.defaultWidth) for letter in shown(text))
    return float(units) / 1000.0 * height / CAPITAL * CONDENSED


def text_depth(text: str, height: Mm) -> Mm:
    """How far a line of text reaches below its line."""
    return (FOOT if SITTING.issuperset(shown(text)) else DEPTH) * height


def text_rise(text: str, height: Mm) -> Mm:
    """How far a line of text reaches above its line."""
    accented = any(letter.isupper() and unicodedata.decomposition(letter) for letter in shown(text))
    return (ACCENTED_RISE if accented else RISE) * height


def cut_to(text: str, width: Mm, height: Mm, face: Face = Face.REGULAR) -> str:
    """Text, or as much of its beginning as fits into the width with … behind it."""
    if text_width(text, height, face) <= width:
        return text
    count = len(text)
    while count and text_width(text[:count].rstrip() + "…", height, face) > width:
        count -= 1
    return text[:count].rstrip() + "…"


def wrapped(text: str, width: Mm, height: Mm, face: Face = Face.REGULAR) -> tuple[str, ...]:
    """Lines of text no wider than the width; a single word that is too long is broken."""
    lines: list[str] = []
    current = ""
    for word in shown(text).split():
        joined = f"{current} {word}" if current else word
        if text_width(joined, height, face) <= width:
            current = joined
            continue
        if current:
            lines.append(current)
        while text_width(word, height, face) > width and len(word) > 1:
            count = len(word) - 1
            while count > 1 and text_width(word[:count], height, face) > width:
                count -= 1
            lines.append(word[:count])
            word = word[count:]
        current = word
    return (*lines, current) if current else tuple(lines)


def fitted(
    text: str, width: Mm, depth: Mm, heights: Sequence[Mm], face: Face = Face.REGULAR
) -> tuple[Mm, tuple[str, ...]]:
    """Largest of the heights at which the text, wrapped, fits into a field, and its lines.

    Where even the last height is too large, the text is cut and ends with ….
    """
    for height in heights:
        lines = wrapped(text, width, height, face)
        if block_depth(len(lines), height) <= depth:
            return height, lines
    height = heights[-1]
    lines = wrapped(text, width, height, face)
    count = max(1, int((depth - height * (RISE + DEPTH)) / (LINE * height) + 1e-9) + 1)
    last = cut_to(lines[count - 1] + " " + " ".join(lines[count:]), width, height, face)
    return height, (*lines[: count - 1], last)


def block_depth(lines: int, height: Mm) -> Mm:
    """Height on paper of so many lines of text, from the tallest letter to the deepest."""
    return height * (RISE + DEPTH + (lines - 1) * LINE) if lines else 0.0
