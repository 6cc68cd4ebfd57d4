"""The form of a bend: boards that fit each other, a face that is the panel's true offset, hollows that stay open."""

import math
from itertools import pairwise, product
from typing import Any

import numpy as np
import pytest
from hypothesis import Phase, assume, example, given, settings
from hypothesis import strategies as st
from shapely import LineString, Point, Polygon

from underbag.model.errors import ShapeError
from underbag.model.form.part import FormPart
from underbag.model.form.ribs import RibForm
from underbag.model.layup.settle import settle
from underbag.model.plan import Plan, plan
from underbag.model.report import report
from underbag.model.shape.loop import Loop
from underbag.model.shape.profile import Run

Asked = dict[str, dict[str, Any]]

CROWN: Asked = {"panel": {"width": 150.0}, "bend": {"chord": 600.0, "rise": 60.0}, "form": {"build": "ribs"}}
HALF_ROUND: Asked = {
    "panel": {"width": 150.0},
    "bend": {"radius": 300.0, "angle": math.pi, "show_face": "inside"},
    "substrate": {"laminations": 6},
    "form": {"build": "ribs"},
}
SHALLOW: Asked = CROWN | {"bend": {"chord": 600.0, "rise": 60.0, "show_face": "inside"}}
JOBS = {"crown": CROWN, "half round": HALF_ROUND, "shallow hollow": SHALLOW}


def planned(asked: Asked) -> Plan:
    return plan(settle(asked))


def ribs_of(found: Plan) -> RibForm:
    assert found.form is not None
    assert found.form.ribs is not None
    return found.form.ribs


def area(part: FormPart) -> Polygon:
    return Polygon(part.outline.flattened(1e-3), [hole.flattened(1e-3) for hole in part.holes])


def reaches(part: FormPart) -> list[tuple[float, float]]:
    return [(place, place + part.thickness) for place in part.places]


@pytest.mark.parametrize("name", JOBS)
def test_every_board_is_a_simple_shape_with_its_holes_inside(name: str) -> None:
    for part in ribs_of(planned(JOBS[name])).parts:
        shape = area(part)
        assert shape.is_valid, part.key
        assert all(Polygon(shape.exterior).contains(Polygon(ring)) for ring in shape.interiors), part.key
        assert shape.area == pytest.approx(part.volume / part.thickness, rel=1e-3), part.key


@pytest.mark.parametrize("name", JOBS)
def test_ribs_and_stretchers_are_halved_into_each_other(name: str) -> None:
    """Where a rib and a stretcher cross, one has all of the wood below and the other all above, and none both."""
    found = planned(JOBS[name])
    ribs = ribs_of(found)
    rib = area(ribs.rib)
    assert ribs.stretchers
    for stretcher in ribs.stretchers:
        cross = area(stretcher)
        _, foot, _, top = cross.bounds
        for (x0, x1), (y0, y1) in product(reaches(stretcher), reaches(ribs.rib)):
            for z in np.linspace(foot + 0.01, top - 0.01, 8):
                in_rib = rib.intersection(LineString([(x0, z), (x1, z)])).length
                in_stretcher = cross.intersection(LineString([(y0, z), (y1, z)])).length
                taken = sorted((in_rib / (x1 - x0), in_stretcher / (y1 - y0)))
                assert taken == pytest.approx([0.0, 1.0], abs=1e-6)


@pytest.mark.parametrize("name", JOBS)
def test_the_edge_is_the_true_offset_of_the_panel(name: str) -> None:
    """From any point of the ribs' edge the panel is as far as all that lies between, skin included."""
    found = planned(JOBS[name])
    ribs, sheet, half = ribs_of(found), found.stack.sheet, 0.5 * found.outline.length
    t = np.linspace(-half, half, 4001)
    lift = np.array([0.0, found.base.lift])
    panel = sheet.place(t, np.zeros_like(t), found.stack.work[0].height)[:, [0, 2]] + lift
    between = report(found).value("form.edge").number
    assert between == pytest.approx(found.stack.work[0].height + 6.0, rel=1e-12)
    edge = Loop(ribs.core.curve).flattened(1e-3)
    under = LineString(edge)
    away = [under.distance(Point(*point)) for point in panel[200:-200:50]]
    assert away == pytest.approx([between] * len(away), abs=0.002)


@pytest.mark.parametrize("name", JOBS)
def test_no_hollow_is_closed(name: str) -> None:
    """Every cell between ribs, stretchers, skin and board has a way out through holes."""
    ribs = ribs_of(planned(JOBS[name]))
    bays = list(pairwise(sorted(ribs.rib.places)))
    assert len(bays) == ribs.bays
    # through each stretcher a hole in every bay, its ends are open; through each rib a hole in every field
    for stretcher in ribs.stretchers:
        for y0, y1 in bays:
            centres = [hole.flattened(0.01).mean(axis=0)[0] for hole in stretcher.holes]
            assert any(y0 + ribs.rib.thickness < y < y1 for y in centres)
    for (_, x0), (x1, _) in pairwise(ribs.crossings):
        assert any(x0 < hole.flattened(0.01).mean(axis=0)[0] < x1 for hole in ribs.rib.holes)
        assert ribs.baseboard is not None
        holes = [hole.flattened(0.01).mean(axis=0) for hole in ribs.baseboard.holes]
        for y0, y1 in bays:
            assert any(x0 < x < x1 and y0 + ribs.rib.thickness < y < y1 for x, y in holes)


def test_no_vents_are_drilled_where_there_are_to_be_none() -> None:
    asked = CROWN | {"form": {"build": "ribs", "vented": "no"}}
    assert all(not part.holes for part in ribs_of(planned(asked)).parts)


def test_the_skin_is_as_long_as_its_middle() -> None:
    # a half round turns through π and the share that it springs: mid-thickness lies 1.5 mm below the face
    found = planned(HALF_ROUND)
    upper = ribs_of(found).skins[-1]
    sheet = found.stack.sheet
    straight = found.base.outline.length - sheet.profile.length
    radius = sheet.profile.length / -sheet.profile.turn + sheet.reference + 1.5
    assert upper.length == pytest.approx(radius * -sheet.profile.turn + straight, rel=1e-12)


@given(width=st.floats(60.0, 900.0), spacing=st.floats(10.0, 400.0))
@settings(max_examples=15)
def test_ribs_stand_flush_and_evenly(width: float, spacing: float) -> None:
    asked = CROWN | {"panel": {"width": width}, "form": {"build": "ribs", "spacing": spacing}}
    found = planned(asked)
    ribs = ribs_of(found)
    steps = np.diff(ribs.rib.places)
    assert ribs.rib.places[0] == pytest.approx(-0.5 * found.base.outline.width)
    assert ribs.rib.places[-1] + ribs.rib.thickness == pytest.approx(0.5 * found.base.outline.width)
    assert np.allclose(steps, ribs.spacing)
    # no wider than asked, and never so close that no vent fits between
    assert ribs.spacing <= max(spacing, 2.0 * (ribs.rib.thickness + 12.0)) + 1e-6
    assert ribs.spacing >= ribs.rib.thickness + 12.0 - 1e-9


def test_a_stack_is_of_whole_sheets() -> None:
    # 150 mm and 2 × (12 + 25) mm are 224 mm: thirteen sheets of 18 mm, 234 mm wide
    found = planned(CROWN | {"form": {"build": "stacked"}})
    assert found.form is not None
    (sheet,) = found.form.parts
    assert sheet.quantity == 13
    assert found.base.outline.width == pytest.approx(234.0)
    assert report(found).value("form.sheets").number == 13.0
    assert abs(sheet.outline.area) == pytest.approx(Polygon(found.base.section).area, rel=2e-4)


def test_the_released_panel_has_the_curve_that_was_asked_for() -> None:
    """Both curves are told: the form's face, and the panel's underside off it."""
    asked = CROWN | {"bend": {"chord": 600.0, "rise": 60.0, "curve": "show face"}}
    found = planned(asked)
    told = report(found)
    assert told.value("form.face.rise").number > 0.0
    sheet, length, height = found.released, found.outline.length, found.stack.work[0].height
    radius = length / sheet.profile.turn + height - sheet.reference
    # textbook: chord = 2R·sin(θ/2), rise = R·(1 − cos(θ/2))
    half = 0.5 * sheet.profile.turn
    assert told.value("form.released.chord").number == pytest.approx(2.0 * radius * math.sin(half), rel=1e-9)
    assert told.value("form.released.rise").number == pytest.approx(radius * (1.0 - math.cos(half)), rel=1e-4)


def test_a_bend_past_the_half_round_has_no_form() -> None:
    found = planned(HALF_ROUND | {"bend": {"radius": 300.0, "angle": 3.6, "show_face": "inside"}})
    assert found.is_undercut
    assert found.form is None


@pytest.mark.parametrize(
    ("asked", "side", "word"), [(CROWN, "inside", "drapes over a crown"), (SHALLOW, "outside", "show face")]
)
def test_the_side_has_its_reasons(asked: Asked, side: str, word: str) -> None:
    design = planned(asked).form
    assert design is not None
    assert design.side.side == side
    assert any(word in reason for reason in design.side.reasons)


def test_flat_work_has_no_form() -> None:
    assert planned({"panel": {"length": 420.0, "width": 300.0}}).form is None


@given(
    chain=st.lists(
        st.tuples(st.floats(30.0, 250.0), st.sampled_from((0.0, 1.0, -1.0)), st.floats(60.0, 500.0)),
        min_size=1,
        max_size=4,
    ),
    show_face=st.sampled_from(("inside", "outside")),
    base=st.floats(8.0, 60.0),
    skin=st.floats(3.0, 9.0),
)
# a single stretcher under the highest place, where the only vent once stood too
@example(
    chain=[(30.0, 0.0, 60.0), (59.0, 0.0, 60.0), (30.0, 1.0, 60.0), (165.0, 0.0, 60.0)],
    show_face="outside",
    base=15.0,
    skin=3.0,
)
@settings(max_examples=15, phases=[Phase.explicit, Phase.generate])
def test_any_chain_has_boards_that_can_be_cut_or_none(
    chain: list[tuple[float, float, float]], show_face: str, base: float, skin: float
) -> None:
    runs = tuple(Run(length, side / radius) for length, side, radius in chain)
    assume(any(run.curvature for run in runs))
    asked: Asked = {
        "panel": {"width": 150.0},
        "bend": {"chain": runs, "show_face": show_face},
        "substrate": {"laminations": 3, "thickness": 1.5},
        "form": {"build": "ribs", "base": base, "skin": skin},
    }
    try:
        found = planned(asked)
    except ShapeError:
        return
    for part in found.form.parts if found.form is not None else ():
        shape = area(part)
        assert shape.is_valid, part.key
        assert all(Polygon(shape.exterior).contains(Polygon(ring)) for ring in shape.interiors), part.key
