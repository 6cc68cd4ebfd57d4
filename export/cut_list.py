"""The cut list: a table of every sheet to cut, for spreadsheets and for cutting by hand.

A spreadsheet takes a cell that begins with certain signs for a formula and runs it, and a bare 7/16 for the 16th of
July. So a text never begins with such a sign, and inches carry their mark.
"""

import csv
import io
from collections.abc import Iterator

from ..model.plan import Plan
from ..model.report import Report
from ..model.shape.outline import Oval, RoundedRectangle
from ..model.stack import Layer
from ..model.strips import strips
from ..model.units import Mm
from ..model.wording import decimal, in_inches

COLUMNS = (
    "number",
    "part",
    "material",
    "grain",
    "pieces",
    "length mm",
    "width mm",
    "thickness mm",
    "length in",
    "width in",
    "note",
    "job",
)
FORMULA_SIGNS = "=+-@\t\r\n\uff1d\uff0b\uff0d\uff20"
"""Signs that begin a formula, or that a spreadsheet skips to find one; wide ones among them."""

SHEETS_OF_FILM = {"tube": 1, "joined sheets": 2, "taped sheets": 2, "sheet on board": 1}

Row = tuple[str, ...]


def cut_list(plan: Plan, report: Report) -> bytes:
    """Cut list of a plan as comma-separated values in UTF-8, from below upward; a stop is noted on every row."""
    stops = sorted({check.title for check in report.checks if check.status == "stop"})
    warning = f"STOP: {', '.join(stops)}" if stops else ""
    stream = io.StringIO(newline="")
    writer = csv.writer(stream, lineterminator="\r\n")
    writer.writerow(COLUMNS)
    for row in _rows(plan):
        *cells, note = row
        noted = "; ".join(part for part in (warning, note) if part)
        writer.writerow([harmless(cell) for cell in (*cells, noted, plan.layup.title)])
    # the mark of the byte order tells spreadsheets that this is UTF-8
    return stream.getvalue().encode("utf-8-sig")


def harmless(cell: str) -> str:
    """Text that no spreadsheet takes for a formula."""
    return f"'{cell}" if cell.lstrip(" ").startswith(tuple(FORMULA_SIGNS)) else cell


def _rows(plan: Plan) -> Iterator[Row]:
    """Cells of every part without the job, the note last."""
    yield from _base(plan)
    for number, layer in enumerate(plan.stack.layers, 1):
        if layer.role != "adhesive":
            yield _layer(number, layer)
        if layer.lipping:
            yield from _lipping(plan, layer)
    yield from _film(plan)


def _base(plan: Plan) -> Iterator[Row]:
    base = plan.base
    if base.kind == "platen":
        note = _edge(base.outline)
        yield _row(
            "",
            "platen",
            base.material_name,
            "",
            1,
            base.outline.length,
            base.outline.width,
            base.lowest,
            note,
        )
    elif base.kind == "form":
        left, right = base.foot
        note = "block around the form; its face is on the drawing"
        yield _row(
            "", "form", base.material_name, "", 1, right - left, base.outline.width, base.highest, note
        )


def _layer(number: int, layer: Layer) -> Row:
    blank = layer.blank
    thickness = layer.thickness / blank.quantity
    return _row(
        str(number),
        layer.name,
        layer.material_name,
        layer.grain,
        blank.quantity,
        blank.length,
        blank.width,
        thickness,
        _edge(layer.outline),
    )


def _lipping(plan: Plan, core: Layer) -> Iterator[Row]:
    """Strips of the lipping: the long ones go past the ends of the short ones."""
    assert plan.chosen.lipping is not None
    for strip in strips(core):
        name, length = f"lipping along the {strip.side}", strip.length
        note = "grain along the strip; glued on and flushed before veneering"
        wood = plan.chosen.lipping.name
        yield _row("", name, wood, f"along {strip.side}", 2, length, core.lipping, core.thickness, note)


def _film(plan: Plan) -> Iterator[Row]:
    bag = plan.bag
    if bag.is_owned:
        return
    pieces, note = SHEETS_OF_FILM[bag.kind], "tube, lying flat" if bag.kind == "tube" else "seams included"
    film, thickness = plan.chosen.film.name, plan.layup.bag.thickness
    yield _row("", "bag film", film, "", pieces, bag.film_length, bag.film_width, thickness, note)


def _edge(outline: object) -> str:
    """Say how the edge departs from a rectangle of the size that is given."""
    match outline:
        case Oval(margin=0.0):
            return "ellipse within this size"
        case Oval():
            return "oval within this size, at a constant distance from the panel's ellipse"
        case RoundedRectangle(corner=corner):
            return f"corners rounded to {decimal(corner, 1)} mm"
    return ""


def _row(
    number: str,
    part: str,
    material: str,
    grain: str,
    pieces: int,
    length: Mm,
    width: Mm,
    thickness: Mm,
    note: str,
) -> Row:
    metric = (decimal(length, 1), decimal(width, 1), decimal(thickness, 3))
    return (number, part, material, grain, str(pieces), *metric, in_inches(length), in_inches(width), note)
