"""Line kinds: width and dashes of every line on a drawing.

Source: ISO 128-2 (line types and the width series; the numbers in brackets are its line type numbers) and ISO 5457
(frame); the series was read on a public page, dash lengths from memory. One group of widths is used on every sheet:
wide 0.5 mm, narrow 0.25 mm.
"""

from dataclasses import dataclass

from ...model.units import Mm

WIDTHS: tuple[Mm, ...] = (0.13, 0.18, 0.25, 0.35, 0.5, 0.7, 1.0, 1.4, 2.0)
"""The width series; each is √2 times the one before, rounded."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Pen:
    """One kind of line.

    Parameters
    ----------
    name
        Stable name; also the layer of a DXF file and the class in an SVG file.
    width
        Line width on paper.
    dashes
        Dash, gap, dash, gap … on paper; empty for a continuous line.
    says
        What lines of this kind mean.
    """

    name: str
    width: Mm
    dashes: tuple[Mm, ...] = ()
    says: str


def _dashes(width: Mm, *counts: float) -> tuple[Mm, ...]:
    """Dashes and gaps given in line widths, as the standard gives them."""
    return tuple(count * width for count in counts)


WIDE = Pen(name="visible", width=0.5, says="visible outlines (01.2)")
NARROW = Pen(
    name="narrow", width=0.25, says="thin sheets, dimension and leader lines, imaginary edges (01.1)"
)
HIDDEN = Pen(name="hidden", width=0.25, dashes=_dashes(0.25, 12, 3), says="hidden outlines (02.1)")
CENTRE = Pen(
    name="centre", width=0.25, dashes=_dashes(0.25, 24, 3, 0.5, 3), says="centre lines, symmetry (04.1)"
)
CUTTING = Pen(name="cutting", width=0.5, dashes=_dashes(0.5, 24, 3, 0.5, 3), says="cutting planes (04.2)")
PHANTOM = Pen(
    name="phantom",
    width=0.25,
    dashes=_dashes(0.25, 24, 3, 0.5, 3, 0.5, 3),
    says="neighbouring parts, other positions, schematic outlines (05.1)",
)
DIMENSION = Pen(name="dimension", width=0.25, says="dimension, extension and leader lines (01.1)")
HATCHING = Pen(
    name="hatching", width=0.18, says="hatching (01.1, one step narrower so that outlines stand out)"
)
TABLE = Pen(name="table", width=0.25, says="rules of tables and of the title block")
GRID = Pen(name="grid", width=0.35, says="reference grid of the sheet")
FRAME = Pen(name="frame", width=0.7, says="frame and centring marks of the sheet")

PENS: tuple[Pen, ...] = (
    WIDE,
    NARROW,
    HIDDEN,
    CENTRE,
    CUTTING,
    PHANTOM,
    DIMENSION,
    HATCHING,
    TABLE,
    GRID,
    FRAME,
)
