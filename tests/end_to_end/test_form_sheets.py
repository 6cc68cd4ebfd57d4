"""The form's drawings: nothing collides, and what ezdxf reads of them is the form that the model has."""

import io
import math
import re
from itertools import pairwise
from typing import Any

import numpy as np
import pytest
from ezdxf.filemanagement import read as read_dxf
from shapely import LineString, Point, Polygon

from underbag.export.drawing import Hatch, Sheet, collisions, write_dxf
from underbag.export.drawing.curves import flattened
from underbag.export.drawing.primitives import Stroke
from underbag.export.drawing.scale import Scale
from underbag.export.sheets.form_curves import curves_view
from underbag.export.sheets.form_rib import CutBoard, cut_boards, point_rows
from underbag.export.sheets.form_rows import form_rows
from underbag.export.sheets.form_sheet import form_sheets
from underbag.export.sheets.section import section_sheet
from underbag.export.sheets.words import Units
from underbag.model.layup.settle import settle
from underbag.model.plan import Plan, plan
from underbag.model.report import report
from underbag.model.shape.loop import Loop
from underbag.model.shape.profile import Run

ARC = {"chord": 600.0, "rise": 60.0}
JOBS: dict[str, Any] = {
    "stack": {"panel": {"width": 150.0}, "bend": ARC},
    "crown of ribs": {"panel": {"width": 150.0}, "bend": ARC, "form": {"build": "ribs"}},
    "half round hollow": {
        "panel": {"width": 95.0},
        "bend": {"radius": 340.0, "angle": math.pi, "show_face": "inside"},
        "form": {"build": "ribs", "skins": 3},
    },
    "serpentine": {
        "panel": {"width": 300.0},
        "bend": {"chain": (Run(160.0, 1 / 300.0), Run(80.0, 0.0), Run(180.0, -1 / 250.0))},
        "form": {"build": "ribs"},
    },
    "points": {
        "panel": {"width": 200.0},
        "bend": {"ordinates": (0.0, 30.0, 48.0, 52.0, 40.0, 12.0), "every": 90.0},
        "form": {"build": "ribs"},
    },
    "long and narrow": {
        "panel": {"width": 60.0},
        "bend": {"chord": 2400.0, "rise": 200.0},
        "form": {"build": "ribs"},
    },
    "wide": {"panel": {"width": 900.0}, "bend": {"radius": 150.0, "angle": 2.0}, "form": {"build": "ribs"}},
    "small": {"panel": {"width": 100.0}, "bend": {"chord": 98.0, "rise": 12.0}, "form": {"rib": 6.0}},
    "box": {"panel": {"width": 150.0}, "bend": ARC, "form": {"build": "box", "skin": 30.0}},
}
LONG = "A bow front of seven laminations for the hall table by the window, second of two"


def planned(name: str, units: Units = Units.BOTH, paper: str = "ISO") -> Plan:
    drawing = {"units": units.value, "paper": paper}
    return plan(settle(JOBS[name] | {"drawing": drawing}, title=LONG))


def board_of(found: Plan) -> CutBoard:
    (board,) = cut_boards(found)
    return board


def sheets(name: str, units: Units = Units.BOTH, paper: str = "ISO") -> tuple[Sheet, ...]:
    found = planned(name, units, paper)
    return form_sheets(found, report(found))


@pytest.mark.parametrize(
    ("units", "paper"), [(Units.METRIC, "ISO"), (Units.BOTH, "ISO"), (Units.INCH, "North American")]
)
@pytest.mark.parametrize("name", JOBS)
def test_nothing_lies_over_anything_else(name: str, units: Units, paper: str) -> None:
    for sheet in sheets(name, units, paper):
        assert not collisions(sheet), (sheet.name, collisions(sheet)[:3])


@pytest.mark.parametrize("name", ["stack", "crown of ribs", "half round hollow", "serpentine"])
def test_the_edge_in_the_dxf_file_is_that_of_the_form(name: str) -> None:
    """Arcs and lines of the board's layer, as ezdxf reads them: radii and lengths of the model's edge."""
    edge = next(sheet for sheet in sheets(name) if sheet.name == "form edge")
    doc = read_dxf(io.StringIO(write_dxf(edge).decode()))
    arcs = [entity for entity in doc.modelspace() if entity.dxftype() == "ARC"]
    curve = board_of(planned(name)).curve
    wanted = []
    for (x0, y0, bulge), (x1, y1, _) in pairwise(curve):
        if bulge:
            # textbook: R = chord/2 · (1 + b²)/(2·|b|)
            radius = 0.25 * math.hypot(x1 - x0, y1 - y0) * (1.0 + bulge**2) / abs(bulge)
            wanted.append((radius, math.degrees(4.0 * math.atan(abs(bulge)))))
    read = [
        (float(arc.dxf.radius), (float(arc.dxf.end_angle) - float(arc.dxf.start_angle)) % 360.0)
        for arc in arcs
    ]
    assert wanted
    for radius, sweep in wanted:
        assert any(
            r == pytest.approx(radius, abs=1e-6) and a == pytest.approx(sweep, abs=1e-6) for r, a in read
        )


@pytest.mark.parametrize("name", ["stack", "half round hollow", "serpentine", "points"])
def test_every_point_of_the_table_lies_on_the_edge(name: str) -> None:
    found = planned(name, Units.METRIC)
    board = board_of(found)
    edge = LineString(Loop(board.curve).flattened(1e-3))
    rows = point_rows(board, Units.METRIC)
    assert 6 <= len(rows) <= 24
    for _, x, z in rows:
        point = Point(float(x.removeprefix("± ")), float(z) + board.foot)
        # both coordinates are rounded to 0.1 mm
        assert edge.distance(point) < 0.075


def test_points_of_a_drawing_in_inches_are_set_at_parts_of_an_inch() -> None:
    rows = point_rows(board_of(planned("stack", Units.INCH)), Units.INCH)
    places = [x.removeprefix("± ") for _, x, _ in rows[1:-1]]
    assert places
    # whole, half or quarter inches: none of the sixteenths and eighths between
    assert all(re.fullmatch(r'(\d+)?( ?[13]/[24])?"', place) for place in places)


def test_the_parts_list_counts_every_board() -> None:
    rows = {row.name: row for row in form_rows(planned("crown of ribs"))}
    found = planned("crown of ribs")
    assert found.form is not None
    assert found.form.ribs is not None
    assert rows["rib"].quantity == found.form.ribs.bays + 1
    assert rows["skin 1"].size[1] == pytest.approx(150.0 + 2.0 * (12.0 + 25.0))
    assert [row.mark for row in rows.values()] == [f"F{number}" for number in range(1, len(rows) + 1)]


def test_no_form_is_drawn_of_flat_work_nor_past_the_half_round() -> None:
    for asked in (
        {"panel": {"length": 420.0, "width": 300.0}},
        {"panel": {"width": 95.0}, "bend": {"radius": 340.0, "angle": 3.6}},
    ):
        found = plan(settle(asked))
        assert form_sheets(found, report(found)) == ()


def test_a_ribbed_form_is_cut_through_a_bay_in_the_section() -> None:
    """Hatched are skin, stretchers and baseboard, and nothing of the rib."""
    found = planned("crown of ribs")
    ribs = found.form.ribs if found.form is not None else None
    assert ribs is not None
    sheet = section_sheet(found, report(found))
    assert not collisions(sheet)
    view = next(view for view in sheet.views if view.name == "section")
    hatched = [item for item in view.items if isinstance(item, Hatch) and item.part in ("base", "skin")]
    areas = sorted(
        Polygon(np.concatenate([flattened(edge, 0.001) for edge in hatch.boundary])).area for hatch in hatched
    )
    assert ribs.baseboard is not None
    length, _ = ribs.baseboard.size
    wanted = [part.thickness * part.size[1] for part in ribs.stretchers for _ in part.places]
    # length at mid-thickness times thickness is the area of a bent sheet
    skin = sum(one.length * one.thickness for one in ribs.skins)
    assert areas == pytest.approx(sorted([*wanted, length * ribs.baseboard.thickness, skin]), rel=1e-4)


def test_the_form_stands_on_its_foot_and_the_panel_lies_in_line_with_it() -> None:
    """A bend at one side of the panel: the form is not tilted, and both curves touch in the middle."""
    chain = (Run(260.0, 0.0), Run(188.5, 1.0 / 180.0), Run(60.0, 0.0))
    found = plan(settle({"panel": {"width": 140.0}, "bend": {"chain": chain, "curve": "form face"}}))
    view = curves_view(found, Scale(1, 5))
    form, panel = (
        np.concatenate(
            [flattened(item.curve) for item in view.items if isinstance(item, Stroke) and item.part == part]
        )
        for part in ("form", "panel")
    )
    lean = math.atan2(form[-1, 1] - form[0, 1], form[-1, 0] - form[0, 0])
    # the face's chord is level; the panel's underside lies 0.04 mm of release paper above it
    assert abs(lean) < 1e-3
    for curve in (form, panel):
        near = np.hypot(*curve.T).argmin()
        assert np.hypot(*curve[near]) < 1e-9
    directions = [
        np.subtract(curve[n + 1], curve[n - 1])
        for curve in (form, panel)
        for n in (int(np.hypot(*curve.T).argmin()),)
    ]
    (a, b), (c, d) = directions
    assert abs(a * d - b * c) < 1e-6 * float(np.hypot(a, b) * np.hypot(c, d))
