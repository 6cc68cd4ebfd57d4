"""Nesting sheets of many layups: nothing overlaps, and every format measures and says what was laid.

DXF is read back with ezdxf, SVG with an XML parser, PDF with pypdf.
"""

import io
import re
from collections import Counter
from functools import cache
from typing import Any
from xml.etree import ElementTree

import ezdxf
import pypdf
import pytest

from underbag.app.read.layup_file import read_file
from underbag.export.drawing.boxes import collisions
from underbag.export.drawing.dxf import write_dxf
from underbag.export.drawing.pdf import write_pdf
from underbag.export.drawing.sheet import Sheet
from underbag.export.drawing.svg import write_svg
from underbag.export.sheets.nest_sheet import nest_sheets
from underbag.export.stock import StockSheet, stock_sheets
from underbag.model.layup.layup import Layup
from underbag.model.layup.settle import settle
from underbag.model.nest.nesting import nest
from underbag.model.plan import plan
from underbag.model.report import report

DEMOS = ("shelf", "drawer-front", "apron", "chessboard", "table-top")
LONG = "Sideboard with a title that goes on well past what any field of a title block could ever be asked to hold"
EXTREMES: dict[str, dict[str, dict[str, Any]]] = {
    "strip": {"panel": {"length": 3000.0, "width": 60.0}, "stock": {"leaf_length": 3200.0}},
    "square of twenty": {
        "panel": {"length": 100.0, "width": 100.0},
        "substrate": {"material": "birch plywood", "thickness": 1.5, "laminations": 20},
    },
    "own board": {
        "panel": {"length": 700.0, "width": 400.0},
        "stock": {"board_length": 1200.0, "board_width": 600.0, "kerf": 2.2},
        "drawing": {"units": "inch", "paper": "North American"},
    },
    "too large": {"panel": {"length": 3400.0, "width": 1800.0}, "drawing": {"units": "metric"}},
}


def layup_of(name: str) -> Layup:
    if name in DEMOS:
        return read_file(f"demos/{name}.toml").layup
    return settle(EXTREMES[name], title=LONG)


@cache
def drawn(name: str) -> tuple[tuple[StockSheet, ...], tuple[Sheet, ...]]:
    job = plan(layup_of(name))
    nestings = nest(job)
    return stock_sheets(nestings), nest_sheets(job, report(job), nestings)


NAMES = (*DEMOS, *EXTREMES)


@pytest.mark.parametrize("name", NAMES)
def test_nothing_overlaps(name: str) -> None:
    for sheet in drawn(name)[1]:
        assert collisions(sheet) == ()


@pytest.mark.parametrize("name", NAMES)
def test_every_layout_is_drawn_once(name: str) -> None:
    stock, sheets = drawn(name)
    assert [view.name for sheet in sheets for view in sheet.views] == [one.label for one in stock]
    assert sum(one.count for one in stock) == int(stock[-1].label.rpartition("S")[2])


def rectangles(points: list[tuple[float, float]]) -> tuple[float, ...]:
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return min(xs), min(ys), max(xs), max(ys)


@pytest.mark.parametrize("name", ["apron", "table-top", "own board"])
def test_the_first_view_of_a_dxf_file_measures_what_was_laid(name: str) -> None:
    stock, sheets = drawn(name)
    doc: Any = ezdxf.read(io.StringIO(write_dxf(sheets[0]).decode()))
    found = Counter()
    for line in doc.modelspace().query("LWPOLYLINE"):
        found[tuple(round(one, 2) for one in rectangles(list(line.get_points("xy"))))] += 1
    for place in stock[0].laid.places:
        corner = (place.x + place.piece.length, place.y + place.piece.width)
        assert found[tuple(round(one, 2) for one in (place.x, place.y, *corner))] == 1
    assert found[(0.0, 0.0, stock[0].laid.length, stock[0].laid.width)] == 1


@pytest.mark.parametrize("name", ["apron", "chessboard"])
def test_svg_measures_every_piece_at_the_scale_of_its_view(name: str) -> None:
    stock, sheets = drawn(name)
    by_label = {one.label: one for one in stock}
    for sheet in sheets:
        root = ElementTree.fromstring(write_svg(sheet).decode())
        found = []
        for path in root.iter("{http://www.w3.org/2000/svg}path"):
            if path.get("data-part"):
                numbers = [float(one) for one in re.findall(r"-?\d+\.?\d*", path.get("d", ""))]
                x0, y0, x1, y1 = rectangles(list(zip(numbers[::2], numbers[1::2], strict=True)))
                found.append((x1 - x0, y1 - y0))
        for view in sheet.views:
            for place in by_label[view.name].laid.places:
                size = (view.scale.ratio * place.piece.length, view.scale.ratio * place.piece.width)
                # 0.01 mm of the thing; files are written to 1e-5 mm of paper
                near = [one for one in found if one == pytest.approx(size, abs=0.01 * view.scale.ratio)]
                assert near, place.piece.name
                found.remove(near[0])


@pytest.mark.parametrize("name", NAMES)
def test_pdf_says_what_each_piece_is(name: str) -> None:
    stock, sheets = drawn(name)
    text = " ".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(write_pdf(sheets))).pages)
    for one in stock:
        assert one.label in text
        assert one.need.material in text
        for place in one.laid.places:
            assert place.piece.mark in text
    if name == "apron":
        for words in ("F rib", "4 lamination 1", "2 back veneer", "off the roll", "grain"):
            assert words in text


def test_the_same_layup_gives_the_same_bytes() -> None:
    job = plan(layup_of("apron"))
    again = nest_sheets(job, report(job), nest(job))
    assert write_pdf(again) == write_pdf(drawn("apron")[1])
    assert [write_dxf(one) for one in again] == [write_dxf(one) for one in drawn("apron")[1]]


def test_what_no_stock_takes_is_joined_of_pieces_that_are_drawn() -> None:
    job = plan(layup_of("too large"))
    nestings = nest(job)
    wanted = {"platen", "substrate", "caul", "back veneer", "face veneer"}
    assert {piece.name for one in nestings for piece in one.need.wholes} == wanted
    assert all(one.sheets for one in nestings)


def test_a_form_that_no_stock_takes_is_not_drawn_and_nothing_at_all_gives_no_sheet() -> None:
    stock = {"board_length": 300.0, "board_width": 300.0}
    job = plan(settle({"panel": {"width": 150.0}, "bend": {"chord": 600.0, "rise": 60.0}, "stock": stock}))
    left = tuple(one for one in nest(job) if not one.sheets)
    assert {piece.name for one in left for piece in one.too_large} == {"sheet of the stack"}
    assert nest_sheets(job, report(job), left) == ()
