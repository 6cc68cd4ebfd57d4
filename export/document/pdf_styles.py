"""Looks of the text of a PDF document, all from the size of its letters."""

from dataclasses import dataclass
from typing import Any

from reportlab.lib.styles import ParagraphStyle

REGULAR, BOLD = "Vera", "Vera-Bold"
QUIET = "#444444"


@dataclass(frozen=True, slots=True, kw_only=True)
class Styles:
    """One look for each kind of text, the size of its letters, and width and height of a page's column, in points."""

    size: float
    width: float
    height: float
    plain: Any
    quiet: Any
    strong: Any
    point: Any
    kind: Any
    title: Any
    chapter: Any
    subtitle: Any


def styles(size: float, width: float, height: float) -> Styles:
    """Looks for letters of a size in points, in a column of a width and a height."""

    def look(name: str, factor: float, font: str = REGULAR, **more: Any) -> Any:
        height = factor * size
        settings = {"leading": 1.32 * height, "splitLongWords": 1, "bulletFontName": REGULAR, **more}
        return ParagraphStyle(name, fontName=font, fontSize=height, **settings)

    return Styles(
        size=size,
        width=width,
        height=height,
        plain=look("plain", 1.0),
        quiet=look("quiet", 0.86, textColor=QUIET),
        strong=look("strong", 1.0, BOLD),
        point=look("point", 1.0, leftIndent=1.6 * size, bulletIndent=0.3 * size, spaceAfter=0.25 * size),
        kind=look("kind", 1.0, textColor=QUIET),
        title=look("title", 1.9, BOLD, spaceAfter=0.4 * size),
        chapter=look("chapter", 1.45, BOLD, spaceBefore=1.6 * size, spaceAfter=0.5 * size),
        subtitle=look("subtitle", 1.1, BOLD, spaceBefore=0.9 * size, spaceAfter=0.25 * size),
    )
