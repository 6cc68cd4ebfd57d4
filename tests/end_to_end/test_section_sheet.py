"""The section sheet of many layups: nothing overlaps, and each format says and measures what the plan says.

DXF is read back with ezdxf, SVG with an XML parser, PDF with pypdf and pdfplumber. Run as a program, this file prints
the checksums of the three files of one sheet, for the comparison between processes.
"""

import hashlib
import io
import math
import os
import re
import subprocess
import sys
from collections.abc import Iterator
from functools import cache
from itertools import combinations, pairwise
from typing import Any
from xml.etree import ElementTree

import ezdxf
import numpy as np
import pdfplumber
import pypdf
import pytest

from underbag.export.drawing.boxes import collisions, extent
from underbag.export.drawing.primitives import Balloon, Text
from underbag.export.drawing.sheet import Sheet, view_on_paper
from underbag.export.sheets.section import (
    section_dxf,
    section_pdf,
    section_sheet,
    section_svg,
)
from underbag.model.layup.settle import settle
from underbag.model.plan import Plan, plan
from underbag.model.report import Report, report
from underbag.model.shape.profile import Run

LONG = "Conference table for the reading room of a library, with a title that goes on well past what any field holds"

Asked = dict[str, dict[str, Any]]

LAYUPS: dict[str, tuple[str, Asked]] = {
    "flat": ("Tea tray", {"panel": {"length": 420.0, "width": 300.0}}),
    "rounded": (
        "Tray with rounded corners",
        {"panel": {"length": 500.0, "width": 340.0, "outline": "rounded rectangle", "corner": 40.0}},
    ),
    "oval": ("Oval table", {"panel": {"length": 900.0, "width": 600.0, "outline": "ellipse"}}),
    "arc": ("Drawer front", {"panel": {"width": 150.0}, "bend": {"chord": 600.0, "rise": 60.0}}),
    "half round": (
        "Half-round apron",
        {
            "panel": {"width": 150.0},
            "bend": {"radius": 200.0, "angle": math.pi},
            "form": {"springback": 0.0},
        },
    ),
    "concave": (
        "Hollow front",
        {"panel": {"width": 150.0}, "bend": {"chord": 600.0, "rise": 60.0, "show_face": "inside"}},
    ),
    "trough": (
        "Half-round trough",
        {
            "panel": {"width": 150.0},
            "bend": {"radius": 200.0, "angle": math.pi, "show_face": "inside"},
            "form": {"springback": 0.0},
        },
    ),
    "hidden show face": (
        "Drawer front, pressed in a hollow",
        {
            "panel": {"width": 150.0},
            "bend": {"chord": 600.0, "rise": 60.0},
            "press": {"lay": "concave"},
        },
    ),
    "past the half round": (
        "Ring segment",
        {"panel": {"width": 150.0}, "bend": {"radius": 200.0, "angle": 3.5}},
    ),
    "tight": (
        "Tight corner",
        {"panel": {"width": 300.0}, "bend": {"radius": 60.0, "angle": 1.5}, "form": {"springback": 0.0}},
    ),
    "bent under a caul": (
        "Bench back",
        {
            "panel": {"width": 400.0},
            "bend": {"chord": 900.0, "rise": 40.0},
            "caul": {"material": "birch-plywood", "thickness": 2.0},
        },
    ),
    "serpentine": (
        "Serpentine front",
        {
            "panel": {"width": 150.0},
            "bend": {
                "chain": (
                    Run(40.0, 0.0),
                    Run(160.0, 1 / 180),
                    Run(320.0, -1 / 180),
                    Run(160.0, 1 / 180),
                    Run(40.0, 0.0),
                )
            },
        },
    ),
    "rounded corner": (
        "Rounded corner",
        {
            "panel": {"width": 150.0},
            "bend": {"chain": (Run(200.0, 0.0), Run(120.0, 1 / 80), Run(90.0, 0.0)), "show_face": "inside"},
        },
    ),
    "half ellipse": (
        "Half ellipse",
        {"panel": {"width": 150.0}, "bend": {"shape": "ellipse", "chord": 500.0, "rise": 140.0}},
    ),
    "ordinates": (
        "Panel off a template",
        {
            "panel": {"width": 150.0},
            "bend": {"every": 50.0, "ordinates": (0.0, 12.0, 21.0, 24.0, 20.0, 12.0, 3.0, -4.0, -8.0, -9.0)},
        },
    ),
    "many arcs": (
        "Wave with seven arcs",
        {
            "panel": {"width": 150.0},
            "bend": {
                "chain": tuple(Run(90.0, side / (100 + 9 * i)) for i, side in enumerate((1, -1) * 4))[:7]
            },
        },
    ),
    "tiny": (
        "Coaster",
        {"panel": {"length": 100.0, "width": 100.0}, "substrate": {"laminations": 20, "thickness": 1.5}},
    ),
    "tiny and bent": (
        "Bent coaster",
        {
            "panel": {"width": 100.0},
            "bend": {"chord": 100.0, "rise": 10.0},
            "substrate": {"laminations": 20, "thickness": 1.5},
        },
    ),
    "huge": (LONG, {"panel": {"length": 2400.0, "width": 1200.0}}),
    "strip": ("Edge strip", {"panel": {"length": 3000.0, "width": 60.0}}),
    "on the bench": (
        "Panel on the bench",
        {
            "panel": {"length": 420.0, "width": 300.0},
            "platen": {"material": "none"},
            "caul": {"material": "none"},
        },
    ),
    "on a board": (
        "Panel under one sheet",
        {
            "panel": {"length": 420.0, "width": 300.0},
            "bag": {"kind": "sheet on board"},
            "caul": {"margin": -30.0},
        },
    ),
    "face down and trimmed": (
        "Thick top",
        {
            "panel": {"length": 700.0, "width": 400.0},
            "press": {"lay": "face down"},
            "substrate": {"thickness": 40.0, "trim": 10.0},
            "absorbent": {"sheets": 6},
        },
    ),
    "one face and nothing else": (
        "Bare",
        {
            "panel": {"length": 300.0, "width": 200.0},
            "back": {"material": "none"},
            "release": {"material": "none"},
            "absorbent": {"material": "none"},
            "breather": {"material": "none"},
            "caul": {"material": "none"},
        },
    ),
}
FACTS = {"owner": "Alder Lane Workshop", "number": "AL-0042", "date": "2025-03-14", "drawn_by": "R. Penrose"}


@cache
def job(name: str) -> tuple[Plan, Report]:
    title, asked = LAYUPS[name]
    planned = plan(settle(asked | {"drawing": FACTS}, title=title))
    return planned, report(planned)


@cache
def sheet(name: str) -> Sheet:
    return section_sheet(*job(name))


@cache
def dxf(name: str) -> Any:
    return ezdxf.read(io.StringIO(section_dxf(*job(name)).decode()))


@cache
def pdf(name: str) -> bytes:
    return section_pdf(*job(name))


@cache
def words(name: str) -> str:
    return pypdf.PdfReader(io.BytesIO(pdf(name))).pages[0].extract_text()


def texts(drawing: Sheet) -> Iterator[Text]:
    """Texts that stand on the sheet and in its views, without frame and title block."""
    for item in (*drawing.items, *(item for view in drawing.views for item in view.items)):
        if isinstance(item, Text):
            yield item


# Nothing overlaps


@pytest.mark.parametrize("name", LAYUPS)
def test_nothing_collides(name: str) -> None:
    assert collisions(sheet(name)) == ()


@pytest.mark.parametrize("name", LAYUPS)
def test_views_and_column_keep_apart(name: str) -> None:
    drawing = sheet(name)
    boxes = [extent(view_on_paper(view)) for view in drawing.views] + [extent(drawing.items)]
    assert not [pair for pair in combinations(boxes, 2) if pair[0].meets(pair[1])]


@pytest.mark.parametrize("name", LAYUPS)
def test_lettering_is_large_enough_to_read(name: str) -> None:
    """ISO 3098-1 has 2.5 mm as the least height for drawings of these sizes (from memory)."""
    heights = [text.height for text in texts(sheet(name))]
    heights += [item.height for view in sheet(name).views for item in view.items if hasattr(item, "height")]
    assert min(heights) >= 2.5


@pytest.mark.parametrize("name", ["flat", "arc", "half round", "huge", "strip", "tiny"])
def test_usual_work_fits_on_a3(name: str) -> None:
    assert sheet(name).paper.name == "A3"


# What it says


def test_every_layer_has_a_balloon_and_a_row() -> None:
    """The numbers are the places in the stack from below, as in every other paper."""
    drawing, (planned, _) = sheet("flat"), job("flat")
    (edge,) = (view for view in drawing.views if view.name == "edge")
    balloons = [item.text for item in edge.items if isinstance(item, Balloon)]
    layers = [str(number) for number in range(1, len(planned.stack.layers) + 1)]
    assert sorted(balloons, key=lambda text: (len(text), text)) == [
        *sorted(["B", "B", "P", *layers[:9]]),
        "10",
    ]
    cells = [text.text for text in drawing.items if isinstance(text, Text)]
    for layer in planned.stack.layers:
        assert layer.name in " ".join(cells)
        assert layer.material_name in cells
    # Blanks of veneer and breather: panel and twice the overhang; caul and twice the breather's margin.
    assert {"432 × 312", "17 × 12 5/16", "504 × 384", "19 13/16 × 15 1/8"} <= set(cells)


def test_equal_laminations_share_a_row_and_bent_ones_do_not() -> None:
    flat = [text.text for text in texts(sheet("tiny"))]
    assert flat.count("100 × 100") == 1
    assert "4, 6 … 42" in flat
    bent = [text.text for text in texts(sheet("tiny and bent"))]
    assert [f"lamination {number}" in bent for number in range(1, 21)] == [True] * 20


@pytest.mark.parametrize("name", LAYUPS)
def test_a_stop_is_marked_with_its_reasons(name: str) -> None:
    drawing, (_, reported) = sheet(name), job(name)
    marks = [text for text in texts(drawing) if text.text == "STOP"]
    assert len(marks) == reported.has_stop
    assert drawing.title.status == ("STOP – do not press" if reported.has_stop else "")
    said = re.sub(r"\s+", " ", " ".join(text.text for text in texts(drawing)))
    for check in reported.checks:
        if check.status == "stop":
            assert check.message in said
            assert check.remedy in said


def test_there_is_a_layup_with_a_stop_and_one_without() -> None:
    assert job("past the half round")[1].has_stop
    assert not job("flat")[1].has_stop


def test_neither_form_nor_bag_is_drawn_past_the_half_round() -> None:
    parts = {getattr(item, "part", "") for view in sheet("past the half round").views for item in view.items}
    assert parts.isdisjoint({"film", "valve", "base", "closure"})
    assert "face" in parts
    cells = {text.text for text in texts(sheet("past the half round"))}
    assert cells.isdisjoint({"bag film, a tube", "form"})


def test_the_notes_say_how_it_comes_off_the_form() -> None:
    """In the press the bend is tighter; what was asked for, chord 600 and rise 60, is what comes off the form.

    R = (300² + 60²) / 120 = 780 mm (geometry of the circle).
    """
    said = re.sub(r"\s+", " ", words("arc"))
    assert 'chord 600 mm (23 5/8"), rise 60 mm (2 3/8"), R 780 mm (30 11/16")' in said
    pressed, released = job("arc")[0].stack.sheet.profile, job("arc")[0].released.profile
    assert pressed.turn > released.turn


# PDF


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("flat", ("Tea tray", 'panel 420 [16 9/16"]', 'platen 500 [19 11/16"]', 'overhang 6 [1/4"]')),
        (
            "flat",
            ('release 12 [1/2"]', 'breather 40 [1 9/16"]', "black walnut", "Alder Lane Workshop", "AL-0042"),
        ),
        ("half round", ('chord 400 [15 3/4"]', 'rise 200 [7 7/8"]', 'show face R 200 [7 7/8"]')),
        ("half round", ('show face arc 628.3 [24 3/4"]', 'trim 12 [1/2"]', "birch plywood")),
    ],
)
def test_pdf_says_the_sizes_as_text(name: str, said: tuple[str, ...]) -> None:
    """400 = 2 · 200; 628.3 = 200 · π; inches to the nearest sixteenth by hand."""
    for phrase in said:
        assert phrase in words(name)


def lines_of(name: str) -> list[float]:
    """Lengths of all straight lines of a PDF page, in mm on paper."""
    with pdfplumber.open(io.BytesIO(pdf(name))) as document:
        page = document.pages[0]
        points = [line["pts"] for line in page.lines]
        points += [curve["pts"] for curve in page.curves]
    return [math.dist(a, b) * 25.4 / 72 for run in points for a, b in pairwise(run)]


def test_pdf_lengths_are_true_at_the_scale() -> None:
    """At 1:2: the core, 420 mm long and 18 mm thick, and the platen of 500 mm."""
    (section,) = (view for view in sheet("flat").views if view.name == "section")
    assert str(section.scale) == "1:2"
    lengths = np.array(lines_of("flat")) * 2
    for true, at_least in ((420.0, 2), (18.0, 4), (500.0, 2)):
        assert np.count_nonzero(np.abs(lengths - true) < 0.01) >= at_least


def test_pdf_arcs_lie_on_their_circle() -> None:
    """Some curve of the half round lies on the circle of 200 mm, from end to end: 200 · π long."""
    (section,) = (view for view in sheet("half round").views if view.name == "section")
    planned, _ = job("half round")
    # The circle's centre lies on the chord of the show face, in the middle of the panel.
    centre = np.array(section.on_paper((0.0, planned.base.lift)))
    with pdfplumber.open(io.BytesIO(pdf("half round"))) as document:
        page = document.pages[0]
        paths = [_sampled(curve["path"], float(page.height)) for curve in page.curves]
    ratio = section.scale.ratio
    on_circle = [
        path for path in paths if (np.abs(np.hypot(*(path - centre).T) / ratio - 200.0) < 0.01).all()
    ]
    lengths = [float(np.hypot(*np.diff(path, axis=0).T).sum()) / ratio for path in on_circle]
    assert [length for length in lengths if length == pytest.approx(200.0 * math.pi, abs=0.01)]


def _sampled(path: list[Any], height: float) -> np.ndarray:
    """Points along a path of a PDF page, in mm from its lower left corner; a curve by 200 chords."""
    s, points = np.linspace(0, 1, 200)[:, None], [np.array([path[0][1]])]
    for command, *ends in path[1:]:
        if command == "c":
            a, (b, c, d) = points[-1][-1], (np.array(end) for end in ends)
            points.append((1 - s) ** 3 * a + 3 * (1 - s) ** 2 * s * b + 3 * (1 - s) * s**2 * c + s**3 * d)
        elif command == "l":
            points.append(np.array(ends))
    found = np.concatenate(points)
    return np.column_stack([found[:, 0], height - found[:, 1]]) * 25.4 / 72


# DXF


READ_BACK = ("flat", "arc", "trough", "past the half round", "tiny and bent", "huge", "on a board")
"""Layups whose DXF file is read back: every kind of thing that is drawn."""


@pytest.mark.parametrize("name", READ_BACK)
def test_dxf_is_free_of_errors(name: str) -> None:
    audit = dxf(name).audit()
    assert (audit.errors, audit.fixes) == ([], [])


def measured(name: str) -> dict[str, list[float]]:
    """What the dimensions of a DXF file measure, by the words in their texts; the reader measures by itself."""
    found: dict[str, list[float]] = {}
    for entity in dxf(name).modelspace().query("DIMENSION"):
        label = entity.dxf.text.split("[")[0].replace("<>", "").strip()
        found.setdefault(re.sub(r"[\d.]+$", "", label).strip(), []).append(entity.get_measurement())
    for entity in dxf(name).modelspace().query("ARC_DIMENSION"):
        label = entity.dxf.text.split(" arc ")[0]
        centre, ends = entity.dxf.defpoint4, (entity.dxf.defpoint2, entity.dxf.defpoint3)
        a, b = ((end - centre).angle for end in ends)
        turn = (b - a) % (2 * math.pi)
        found.setdefault(f"{label} arc", []).append(turn * (ends[0] - centre).magnitude)
    return {label: sorted(values) for label, values in found.items()}


def test_dxf_dimensions_of_flat_work_measure_the_plan() -> None:
    """The platen's own length and how far it reaches past the core; both sides' overhangs and releases."""
    expected = {
        "panel": [420.0],
        "platen": [40.0, 500.0],
        "stack": [job("flat")[0].stack.height],
        "overhang": [6.0, 6.0],
        "release": [12.0, 12.0],
        "caul": [2.0],
        "breather": [40.0],
        "Ø": [60.0],
    }
    assert measured("flat") == {label: pytest.approx(values, abs=0.01) for label, values in expected.items()}


@pytest.mark.parametrize("name", ["half round", "trough"])
def test_dxf_dimensions_of_a_bend_measure_the_plan(name: str) -> None:
    """Radius 200 and half a turn were asked for of the show face; the form's face lies the work's depth inside it.

    Over a crown that makes its radius smaller, in a hollow larger.
    """
    planned, _ = job(name)
    work = planned.stack.work
    form = 200.0 - work[-1].top * (1 if name == "half round" else -1)
    expected = {
        "chord": [400.0],
        "rise": [200.0],
        "show face R": [200.0],
        "form face R": [form],
        "show face arc": [200.0 * math.pi],
        "form face arc": [form * math.pi],
        "stack": [planned.stack.height],
        "panel": [work[-1].top - work[0].height],
        "trim": [12.0],
        "overhang": [6.0, 6.0],
        "release": [12.0, 12.0],
        "breather": [40.0],
        "Ø": [60.0],
        "form": [25.0, planned.base.foot[1] - planned.base.foot[0]],
    }
    assert measured(name) == {label: pytest.approx(values, abs=0.01) for label, values in expected.items()}


@pytest.mark.parametrize("name", READ_BACK)
def test_dxf_texts_are_the_measured_numbers(name: str) -> None:
    """A number that is printed as such is what the reader measures there, to half of its last decimal."""
    for entity in dxf(name).modelspace().query("DIMENSION"):
        number = re.search(r"([\d.]+) \[", entity.dxf.text)
        if number:
            places = len(number[1].partition(".")[2])
            assert entity.get_measurement() == pytest.approx(float(number[1]), abs=0.501 * 10.0**-places)
        else:
            assert "<> [" in entity.dxf.text


def _part(entity: Any) -> str:
    return entity.get_xdata("UNDERBAG")[0].value if entity.has_xdata("UNDERBAG") else ""


def test_dxf_model_space_is_full_size() -> None:
    """The faces of the veneer are arcs of the bend, and the core's ends square to it, at full size."""
    planned, _ = job("half round")
    arcs = [entity for entity in dxf("half round").modelspace().query("ARC") if _part(entity) == "face"]
    face = planned.stack.find("face")
    assert face is not None
    inside, outside = 200.0 - face.thickness, 200.0
    radii = sorted({round(arc.dxf.radius, 6) for arc in arcs})
    assert radii == pytest.approx([inside, outside])
    turns = [math.radians((arc.dxf.end_angle - arc.dxf.start_angle) % 360) for arc in arcs]
    assert max(turns) == pytest.approx(math.pi, abs=1e-9)


def test_dxf_layout_holds_a_viewport_for_each_view() -> None:
    layout = dxf("arc").layout("section")
    scales = {
        round(port.dxf.height / port.dxf.view_height, 9)
        for port in layout.query("VIEWPORT")
        if port.dxf.status > 1
    }
    assert scales == {view.scale.ratio for view in sheet("arc").views}


# SVG


@cache
def svg(name: str) -> ElementTree.Element:
    return ElementTree.fromstring(section_svg(*job(name)))


def paths(name: str, view: str, part: str) -> list[str]:
    (group,) = (element for element in svg(name) if element.get("data-view") == view)
    return [path.get("d", "") for path in group.iter() if path.get("data-part") == part and path.get("d")]


def corners(data: str) -> np.ndarray:
    return np.array(
        [[float(x), float(y)] for x, y in re.findall(r"[ML](-?[\d.]+) (-?[\d.]+)", data)], dtype=float
    )


def test_svg_lengths_are_true_at_the_scale() -> None:
    """The core on paper, at 1:2: 420 mm × 18 mm; the stack: from the platen's face to the breather's top."""
    points = np.concatenate([corners(data) for data in paths("flat", "section", "substrate")])
    assert np.ptp(points, axis=0) * 2 == pytest.approx([420.0, 18.0], abs=0.01)
    base = np.concatenate([corners(data) for data in paths("flat", "section", "base")])
    top = np.concatenate([corners(data) for data in paths("flat", "section", "breather")])
    assert np.ptp(base[:, 0]) * 2 == pytest.approx(500.0, abs=0.01)
    # y runs downward in an SVG file
    assert (base[:, 1].min() - top[:, 1].min()) * 2 == pytest.approx(job("flat")[0].stack.height, abs=0.01)


def test_svg_arcs_have_the_radius() -> None:
    scale = next(view.scale for view in sheet("half round").views if view.name == "section")
    radii = {
        float(r) for data in paths("half round", "section", "face") for r in re.findall(r"A(\S+) ", data)
    }
    assert max(radii) / scale.ratio == pytest.approx(200.0, abs=0.01)


def test_svg_edge_detail_is_true_along_the_panel() -> None:
    """Both veneers end 6 mm past the core, both releases 12 mm past the veneers, at 2:1."""
    ends = {
        part: max(corners(data)[:, 0].max() for data in paths("flat", "edge", part))
        for part in ("substrate", "face", "back", "release-above", "release-below", "breather", "base")
    }
    past = {part: (x - ends["substrate"]) / 2 for part, x in ends.items()}
    expected = {"face": 6, "back": 6, "release-above": 18, "release-below": 18, "breather": 42, "base": 40}
    assert past == pytest.approx({"substrate": 0, **expected}, abs=0.01)


def test_thin_sheets_can_be_told_apart_in_the_detail() -> None:
    """Each of them is at least 0.7 mm thick on paper, the least gap that ISO 128 leaves between lines (from memory)."""
    for layer in job("flat")[0].stack.layers:
        points = np.concatenate([corners(data) for data in paths("flat", "edge", layer.key)])
        assert np.ptp(points[:, 1]) >= 0.7


# The same bytes


def checksums() -> str:
    title, asked = LAYUPS["arc"]
    planned = plan(settle(asked | {"drawing": FACTS}, title=title))
    made = (planned, report(planned))
    files = section_dxf(*made), section_svg(*made), section_pdf(*made)
    return " ".join(hashlib.sha256(file).hexdigest() for file in files)


def test_the_same_layup_gives_the_same_bytes() -> None:
    seeded = os.environ | {"PYTHONHASHSEED": "77"}
    other = subprocess.run([sys.executable, __file__], capture_output=True, text=True, check=True, env=seeded)
    assert checksums() == other.stdout.strip()


if __name__ == "__main__":
    sys.stdout.write(checksums() + "\n")
