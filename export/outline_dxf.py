"""A blank or board as DXF for cutting machines: one layer for what is cut, one for marks, one for text.

Millimetres; outlines are closed polylines whose arcs are true arcs. What follows a curve that is no arc is a row of
chords within ``FINE``, as the file's own properties say.
"""

import math
from io import StringIO
from typing import Any

import numpy as np

from ..model.shape.loop import FINE, Loop
from ..model.template import Template
from ..model.units import Mm
from ..model.wording import decimal

CUT, MARK, TEXT = "CUT", "MARK", "TEXT"
COLOURS = {CUT: 1, MARK: 5, TEXT: 3}
"""Layers and their colour numbers: red, blue, green."""

LETTERS: Mm = 5.0
"""Height of the letters, smaller on a narrow part."""


def outline_dxf(template: Template) -> bytes:
    """Write one kind of blank as DXF (release 2010); the same blank gives the same bytes."""
    import ezdxf

    # the only way that the library offers to leave clock and random identifiers out of a file
    options = ezdxf.options  # type: ignore[attr-defined]
    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        out = StringIO()
        _document(template).write(out)
    finally:
        options.write_fixed_meta_data_for_testing = before
    return out.getvalue().encode("utf-8")


def _document(template: Template) -> Any:
    from ezdxf.filemanagement import new

    doc: Any = new("R2010", units=4)
    doc.header["$MEASUREMENT"] = 1
    doc.header.custom_vars.append("Unit", "mm")
    doc.header.custom_vars.append("Chordal tolerance of curves", f"{FINE} mm")
    for name, colour in COLOURS.items():
        doc.layers.add(name, color=colour)
    space = doc.modelspace()
    for loop in (template.outline, *template.holes):
        _closed(space, loop, CUT)
    for loop in template.openings:
        _closed(space, loop, MARK)
    for mark in template.marks:
        space.add_line(mark.start, mark.end, dxfattribs={"layer": MARK})
    _words(space, template)
    # the library would add them in the order of a set, which changes from run to run
    for name in sorted(doc.entitydb.dxf_types_in_use()):
        doc.classes.add_class(name)
    return doc


def _closed(space: Any, loop: Loop, layer: str) -> None:
    space.add_lwpolyline(loop.corners, format="xyb", close=True, dxfattribs={"layer": layer})


def words_of(template: Template) -> tuple[str, ...]:
    """What is written on a blank."""
    length, width = template.size
    pieces = f"{template.quantity} piece{'s' if template.quantity > 1 else ''}"
    return (
        template.name,
        f"{template.material_name}, {decimal(template.thickness, 2)} mm, {pieces}",
        f"{decimal(length, 1)} × {decimal(width, 1)} mm",
    )


def _words(space: Any, template: Template) -> None:
    """Text below the outline, where it is on nobody's way; the names of lines past their ends."""
    (x0, y0), _ = template.outline.box
    height = min(LETTERS, max(2.5, 0.05 * template.size[0]))
    for number, line in enumerate(words_of(template), 1):
        space.add_text(
            line,
            height=height,
            dxfattribs={"layer": TEXT, "insert": (x0, y0 - 1.8 * height * number - height)},
        )
    # names of lines stand past their ends, above the outline or on its right
    for mark in template.marks:
        if mark.name:
            (x, y), (across, up) = mark.end, np.subtract(mark.end, mark.start)
            length = math.hypot(across, up)
            space.add_text(
                mark.name,
                height=height,
                rotation=math.degrees(math.atan2(up, across)),
                dxfattribs={
                    "layer": TEXT,
                    "insert": (
                        x + height * (across + 0.5 * up) / length,
                        y + height * (up - 0.5 * across) / length,
                    ),
                },
            )
