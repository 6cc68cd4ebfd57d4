"""Plan, blanks, platen, caul, bag and press sheet of many layups: nothing collides, and every format measures right.

DXF is read back with ezdxf, SVG with an XML parser, PDF with pypdf and pdfplumber. The section, the form and the
nesting have tests of their own. Run as a program, this file prints the checksums of one job's files.
"""

import hashlib
import io
import math
import os
import re
import subprocess
import sys
from functools import cache
from itertools import pairwise
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import ezdxf
import numpy as np
import pdfplumber
import pypdf
import pytest

from underbag.app.examine import examine
from underbag.app.exports import EXPORTS, Job
from underbag.app.read.layup_file import read_file
from underbag.export.drawing.boxes import collisions
from underbag.export.drawing.dxf import write_dxf
from underbag.export.drawing.pdf import write_pdf
from underbag.export.drawing.primitives import LinearDimension, Stroke, Text
from underbag.export.drawing.sheet import Sheet, View
from underbag.export.drawing.svg import write_svg
from underbag.export.papers.order import order_rows
from underbag.export.papers.press_sheet import press_sheet
from underbag.export.sheets.bag_sheet import bag_sheet
from underbag.export.sheets.blank_sheet import blank_sheets
from underbag.export.sheets.panel_sheet import panel_sheet
from underbag.export.sheets.plan_sheet import plan_sheet
from underbag.export.sheets.platen_sheet import caul_sheet, platen_sheet
from underbag.export.sheets.section import section_sheet
from underbag.model.layup.settle import settle
from underbag.model.plan import Plan, plan
from underbag.model.report import Report, report

DEMOS = sorted((Path(__file__).parents[2] / "demos").glob("*.toml"))
LONG = "Conference table for the reading room of a library, with a title that goes on well past what any field holds"
TWENTY = {"laminations": 20, "thickness": 1.5}

JOBS: dict[str, dict[str, Any]] = {
    "flat": {"panel": {"length": 420.0, "width": 300.0}},
    "rounded": {"panel": {"length": 500.0, "width": 340.0, "outline": "rounded rectangle", "corner": 40.0}},
    "oval": {"panel": {"length": 900.0, "width": 600.0, "outline": "ellipse"}},
    "on the bench": {"panel": {"length": 420.0, "width": 300.0}, "platen": {"material": "none"}},
    "arc": {"panel": {"width": 150.0}, "bend": {"chord": 600.0, "rise": 60.0}},
    "half-round trough": {
        "panel": {"width": 150.0},
        "bend": {"radius": 200.0, "angle": math.pi, "show_face": "inside"},
        "form": {"springback": 0.0},
    },
    "past the half round": {"panel": {"width": 150.0}, "bend": {"radius": 200.0, "angle": 3.5}},
    "hexagon": {"panel": {"sides": 6, "width": 500.0}},
    "superellipse": {"panel": {"length": 1200.0, "width": 700.0, "exponent": 2.5}},
    "bay": {
        "panel": {
            "corners": (
                (0.0, 0.0),
                (900.0, 0.0),
                (900.0, 300.0),
                (350.0, 300.0),
                (350.0, 700.0),
                (0.0, 700.0),
            ),
            "fillet": 25.0,
        }
    },
    "triangle": {"panel": {"corners": ((0.0, 0.0), (900.0, 150.0), (0.0, 400.0))}},
    "bent superellipse": {
        "panel": {"width": 250.0, "exponent": 3.0},
        "bend": {"chord": 500.0, "rise": 60.0},
        "substrate": {"laminations": 3},
    },
    "strip of 3 m": {"panel": {"length": 3000.0, "width": 60.0}},
    "small square of 20": {"panel": {"length": 100.0, "width": 100.0}, "substrate": TWENTY},
    "small bend of 20": {
        "panel": {"width": 100.0},
        "bend": {"chord": 100.0, "rise": 10.0},
        "substrate": TWENTY,
    },
}
SYSTEMS = (("both", "ISO"), ("metric", "ISO"), ("inch", "North American"))
FACTS = {"owner": "Alder Lane Workshop", "number": "AL-0042", "date": "2025-03-14", "revision": "B"}

Made = tuple[Plan, Report]


@cache
def job(name: str, units: str = "both", paper: str = "ISO") -> Made:
    planned = plan(settle(JOBS[name] | {"drawing": FACTS | {"units": units, "paper": paper}}, title=LONG))
    return planned, report(planned)


def own_sheets(made: Made) -> tuple[Sheet, ...]:
    """Sheets that this file is about."""
    planned, _ = made
    found: list[Sheet | None] = [
        panel_sheet(*made),
        *blank_sheets(*made),
        caul_sheet(*made),
        *press_sheet(*made),
    ]
    if not planned.is_undercut:
        found += [plan_sheet(*made), bag_sheet(*made)]
    if planned.base.kind == "platen":
        found.append(platen_sheet(*made))
    return tuple(sheet for sheet in found if sheet is not None)


def view_of(sheet: Sheet, name: str) -> View:
    (view,) = (view for view in sheet.views if view.name == name)
    return view


# Nothing overlaps


@pytest.mark.parametrize(("units", "paper"), SYSTEMS)
@pytest.mark.parametrize("name", JOBS)
def test_nothing_collides(name: str, units: str, paper: str) -> None:
    for sheet in own_sheets(job(name, units, paper)):
        assert collisions(sheet) == (), sheet.name


@pytest.mark.parametrize("units", ["metric", "inch"])
@pytest.mark.parametrize("path", DEMOS, ids=lambda path: path.stem)
def test_nothing_collides_on_the_sheets_of_any_demo(path: Path, units: str) -> None:
    """The section too; of every demo in both unit systems."""
    text = path.read_text(encoding="utf-8")
    assert "[drawing]" not in text
    planned = plan(with_units(path, units))
    made = planned, report(planned)
    for sheet in (section_sheet(*made), *own_sheets(made)):
        assert collisions(sheet) == (), sheet.name


@pytest.mark.parametrize("name", [name for name in JOBS if name != "past the half round"])
def test_the_plan_shows_where_its_section_is_cut(name: str) -> None:
    """ISO 128-3 (from memory): a narrow chain line with wide ends, two arrows in the direction of sight, two letters."""
    view = view_of(plan_sheet(*job(name)), "plan")
    plane = [item for item in view.items if isinstance(item, Stroke) and item.part == "plane"]
    lines = [(item.pen.name, item.curve.start, item.curve.end) for item in plane]
    (chain,) = ((start, end) for pen, start, end in lines if pen == "centre")
    # along the middle of the panel, past everything that it cuts
    assert chain[0][1] == chain[1][1] == 0.0
    bag = job(name)[0].bag
    assert chain[1][0] - chain[0][0] > bag.length + bag.seam
    wide = sorted((start[0], end[0]) for pen, start, end in lines if pen == "cutting")
    assert len(wide) == 2
    assert max(wide[0]) < chain[0][0] + 1e-6
    assert min(wide[1]) > chain[1][0] - 1e-6
    shafts = [(start, end) for pen, start, end in lines if pen == "narrow"]
    # seen from the left seam, which is below: the arrows point up to the line
    assert len(shafts) == 2
    assert all(start[1] < end[1] == 0.0 for start, end in shafts)
    assert [item.text for item in view.items if isinstance(item, Text)].count("A") == 2


def with_units(path: Path, units: str) -> Any:
    from dataclasses import replace

    layup = read_file(str(path)).layup
    return replace(layup, drawing=replace(layup.drawing, units=units))


@pytest.mark.parametrize("name", JOBS)
def test_lettering_is_large_enough_to_read(name: str) -> None:
    """ISO 3098-1 has 2.5 mm as the least height for drawings of these sizes (from memory)."""
    for sheet in own_sheets(job(name)):
        items = [*sheet.items, *(item for view in sheet.views for item in view.items)]
        assert min(item.height for item in items if hasattr(item, "height")) >= 2.5


@pytest.mark.parametrize("units", ["metric", "inch"])
def test_a_drawing_in_one_system_says_nothing_in_the_other(units: str) -> None:
    paper = "ISO" if units == "metric" else "North American"
    for sheet in own_sheets(job("rounded", units, paper)):
        if sheet.name.startswith("press"):
            continue
        items = [*sheet.items, *(item for view in sheet.views for item in view.items)]
        said = " | ".join(getattr(item, "text", "") for item in items)
        assert ('"' in said) == (units == "inch"), sheet.name
        assert "[" not in said
        assert sheet.paper.name.startswith("A" if units == "metric" else "ANSI")


# DXF


def read_dxf(sheet: Sheet) -> Any:
    return ezdxf.read(io.StringIO(write_dxf(sheet).decode()))


def measured(document: Any) -> list[float]:
    return sorted(entity.get_measurement() for entity in document.modelspace().query("DIMENSION"))


@pytest.mark.parametrize(
    "name", ["flat", "oval", "arc", "half-round trough", "strip of 3 m", "past the half round"]
)
def test_every_dxf_is_free_of_errors_and_its_blanks_measure_the_plan(name: str) -> None:
    """Length and width of every kind of blank, and on a bend what lies between its tangent points.

    A blank is longer than the panel's middle line by the turn times its height: L + h·θ.
    """
    made = job(name)
    planned, _ = made
    found: set[float] = set()
    for sheet in blank_sheets(*made):
        document = read_dxf(sheet)
        audit = document.audit()
        assert (audit.errors, audit.fixes) == ([], [])
        found |= {round(number, 2) for number in measured(document)}
    for layer in planned.stack.layers:
        if layer.role != "adhesive":
            assert round(layer.blank.length, 2) in found
            assert round(layer.blank.width, 2) in found
    sheet = planned.stack.sheet
    if not sheet.profile.is_flat:
        lowest = planned.stack.layers[0]
        between = sheet.profile.length + (lowest.middle - sheet.reference) * sheet.profile.turn
        assert min(abs(number - between) for number in found) < 0.01


@pytest.mark.parametrize("name", ["flat", "arc", "half-round trough", "strip of 3 m"])
def test_the_ruler_measurements_of_the_valve_are_in_the_dxf(name: str) -> None:
    made = job(name)
    valve, bag = made[0].valve, made[0].bag
    for sheet in (plan_sheet(*made), bag_sheet(*made)):
        document = read_dxf(sheet)
        assert not document.audit().errors
        found = np.array(measured(document))
        for wanted in (valve.from_closed_end, valve.from_left_seam, bag.length, bag.width):
            assert np.abs(found - wanted).min() < 0.01
    film = np.array(measured(read_dxf(bag_sheet(*made))))
    assert np.abs(film - bag.film_length).min() < 0.01


def test_the_platen_in_the_dxf_is_that_of_the_plan() -> None:
    made = job("flat")
    document = read_dxf(platen_sheet(*made))
    outline = made[0].base.outline
    assert {outline.length, outline.width} <= {round(number, 6) for number in measured(document)}
    arcs = [arc for arc in document.modelspace().query("ARC")]
    assert {round(arc.dxf.radius, 6) for arc in arcs} == {made[0].layup.platen.corner}


# SVG


def svg_points(sheet: Sheet, view: str, part: str) -> np.ndarray:
    """Corners of the paths of one part of a view, mm on paper."""
    tree = ElementTree.fromstring(write_svg(sheet))
    (group,) = (element for element in tree.iter() if element.get("data-view") == view)
    data = [path.get("d", "") for path in group.iter() if path.get("data-part") == part and path.get("d")]
    found = [pair for one in data for pair in re.findall(r"[ML](-?[\d.]+) (-?[\d.]+)", one)]
    return np.array([[float(x), float(y)] for x, y in found])


@pytest.mark.parametrize("name", ["flat", "arc", "half-round trough", "strip of 3 m"])
def test_svg_outlines_are_true_at_the_scale(name: str) -> None:
    """0.01 mm at full size is 0.0005 mm on paper at 1:20."""
    made = job(name)
    planned, bag = made[0], made[0].bag
    for sheet, view in ((plan_sheet(*made), "plan"), (bag_sheet(*made), "bag")):
        ratio = view_of(sheet, view).scale.ratio
        size = np.ptp(svg_points(sheet, view, "bag"), axis=0) / ratio
        assert size == pytest.approx([bag.film_length, bag.film_width], abs=0.01)
    first = next(layer for layer in planned.stack.layers if layer.role != "adhesive")
    sheet = blank_sheets(*made)[0]
    view = sheet.views[0]
    size = np.ptp(svg_points(sheet, view.name, first.key), axis=0) / view.scale.ratio
    assert size == pytest.approx([first.blank.length, first.blank.width], abs=0.01)


def test_the_corner_detail_shows_the_overhangs() -> None:
    """At the right edge the release stands past the panel by overhang and margin, 6 + 12; the platen by 40."""
    sheet = plan_sheet(*job("flat"))
    view = view_of(sheet, "corner")
    right = {
        part: svg_points(sheet, "corner", part)[:, 0].max() / view.scale.ratio
        for part in ("4", "1", "2", "P")
    }
    assert right["1"] - right["4"] == pytest.approx(6.0 + 12.0, abs=0.01)
    assert right["2"] - right["4"] == pytest.approx(6.0, abs=0.01)
    assert right["P"] - right["4"] == pytest.approx(40.0, abs=0.01)


# PDF


def lines_of(content: bytes) -> np.ndarray:
    """Lengths of all straight lines of the first page, mm on paper."""
    with pdfplumber.open(io.BytesIO(content)) as document:
        page = document.pages[0]
        runs = [line["pts"] for line in page.lines] + [curve["pts"] for curve in page.curves]
        runs += [
            [(box["x0"], box["top"]), (box["x1"], box["top"]), (box["x1"], box["bottom"])]
            for box in page.rects
        ]
    return np.array([math.dist(a, b) * 25.4 / 72 for run in runs for a, b in pairwise(run)])


@pytest.mark.parametrize("name", ["flat", "arc", "strip of 3 m"])
def test_pdf_lengths_are_true_at_the_scale(name: str) -> None:
    made = job(name)
    bag = made[0].bag
    sheet = bag_sheet(*made)
    lengths = lines_of(write_pdf([sheet])) / view_of(sheet, "bag").scale.ratio
    for wanted in (bag.film_length, bag.film_width):
        assert np.abs(lengths - wanted).min() < 0.01
    blanks = blank_sheets(*made)[0]
    lengths = lines_of(write_pdf([blanks])) / blanks.views[0].scale.ratio
    first = next(layer for layer in made[0].stack.layers if layer.role != "adhesive")
    for wanted in (first.blank.length, first.blank.width):
        assert np.abs(lengths - wanted).min() < 0.01


def test_pdf_text_can_be_searched_and_its_fonts_are_embedded() -> None:
    made = job("arc")
    reader = pypdf.PdfReader(io.BytesIO(write_pdf(own_sheets(made))))
    said = [page.extract_text() for page in reader.pages]
    assert "lamination 3" in said[0] + said[1]
    for phrase in ("Alder Lane Workshop", "AL-0042", "2025-03-14"):
        assert all(phrase in page for page in said)
    for page in reader.pages:
        for font in page["/Resources"]["/Font"].values():
            descriptor = font.get_object()["/FontDescriptor"]
            assert "/FontFile2" in descriptor


# The press sheet


@pytest.mark.parametrize("path", DEMOS, ids=lambda path: path.stem)
def test_the_press_sheet_has_two_pages_at_the_most_and_letters_for_an_arm_s_length(path: Path) -> None:
    planned = plan(read_file(str(path)).layup)
    pages = press_sheet(planned, report(planned))
    assert len(pages) <= 2
    texts = [item for page in pages for item in page.items if isinstance(item, Text)]
    rows = {cell for row in order_rows(planned) for cell in row if "×" in cell}
    assert rows <= {text.text for text in texts}
    assert all(text.height >= 3.5 for text in texts if text.text in rows)


def test_the_press_sheet_says_what_the_bench_needs() -> None:
    """Common practice: order, sizes, glue, clock, gauge, leak, valve, temperature, release, afterwards, cautions."""
    made = job("arc")
    planned, reported = made
    pages = press_sheet(*made)
    said = " ".join(item.text for page in pages for item in page.items if isinstance(item, Text))
    for heading in ("Order of laying", "Glue", "Clock", "Press", "Valve", "Afterwards", "Cautions"):
        assert heading in said
    facts, gauge = reported.by_key(), planned.layup.vacuum.gauge
    least = (gauge - facts["leak.fall_30"].number) * 1000.0
    for phrase in (
        f"{gauge * 1000.0:.3g} kPa",
        f"{least:.3g} kPa",
        f"{facts['glue.mass'].number:.3g} g",
        "SHOW FACE",
        "5 min",
        "30 min",
        "suffocate",
    ):
        assert phrase in said


def test_every_sheet_to_lay_stands_in_the_order_once_and_from_below() -> None:
    planned, _ = job("arc")
    marks = [row[1] for row in order_rows(planned) if row[1].isdigit()]
    wanted = [str(n) for n, layer in enumerate(planned.stack.layers, 1) if layer.role != "adhesive"]
    assert marks == wanted


def test_a_stop_stands_first() -> None:
    first = next(item for item in press_sheet(*job("past the half round"))[0].items if isinstance(item, Text))
    assert first.text.startswith("STOP")


# Files


@pytest.fixture(scope="module")
def files() -> dict[str, bytes]:
    """What ``underbag make`` writes of the drawings of one demo."""
    examined = examine(read_file(str(next(path for path in DEMOS if path.stem == "shelf"))).layup)
    assert examined.planned is not None
    made = Job(examined, examined.planned)
    wanted = ("press-sheet", "drawings", "svg", "pdf", "dxf")
    return {name: data for export in EXPORTS if export.name in wanted for name, data in export.files(made)}


def test_every_sheet_is_written_in_three_formats_and_stands_in_the_set(files: dict[str, bytes]) -> None:
    stems = {name.partition(".")[0] for name in files if name.startswith("drawings/")}
    assert {"drawings/section", "drawings/plan", "drawings/platen", "drawings/caul", "drawings/bag"} <= stems
    for stem in stems:
        assert {f"{stem}.svg", f"{stem}.pdf", f"{stem}.dxf"} <= set(files)
    reader = pypdf.PdfReader(io.BytesIO(files["drawings.pdf"]))
    assert len(reader.pages) == len(stems)
    for number, page in enumerate(reader.pages, 1):
        assert f"{number}/{len(stems)}" in page.extract_text()


def test_dimensions_say_what_they_measure() -> None:
    """A number on a sheet is the distance that its own ends have, to half of its last decimal."""
    for sheet in own_sheets(job("half-round trough", "metric")):
        for view in sheet.views:
            for item in view.items:
                if isinstance(item, LinearDimension):
                    number = re.search(r"[\d.]+$", item.text)
                    assert number
                    places = len(number[0].partition(".")[2])
                    assert item.measured == pytest.approx(float(number[0]), abs=0.501 * 10.0**-places)


def checksums() -> str:
    made = job("arc")
    sheets = own_sheets(made)
    data = [write_pdf(sheets), *(write(sheet) for sheet in sheets for write in (write_svg, write_dxf))]
    return hashlib.sha256(b"".join(data)).hexdigest()


def test_the_same_layup_gives_the_same_bytes() -> None:
    seeded = os.environ | {"PYTHONHASHSEED": "77"}
    other = subprocess.run([sys.executable, __file__], capture_output=True, text=True, check=True, env=seeded)
    assert checksums() == other.stdout.strip()


if __name__ == "__main__":
    sys.stdout.write(checksums() + "\n")
