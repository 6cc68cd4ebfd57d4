"""Laws of the section sheet's parts: true curves, heights without gaps, whole parts lists, free room.

Lengths and areas are held against the sheet's own law, length at d = length + d · turn, and against shapely.
"""

import math
from itertools import pairwise
from typing import Any

import numpy as np
import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from underbag.export.drawing.boxes import collisions, extent, text_corners
from underbag.export.drawing.curves import Arc, Line, Polyline, end_of, flattened, start_of
from underbag.export.drawing.paper import A3
from underbag.export.drawing.primitives import Hatch, Stroke, Text
from underbag.export.drawing.scale import Scale
from underbag.export.drawing.sheet import View
from underbag.export.sheets.bodies import bodies
from underbag.export.sheets.cut import along, backward, ring
from underbag.export.sheets.edge_bands import ENDS, MANY, bands
from underbag.export.sheets.layout import Arrangement, arranged, sized
from underbag.export.sheets.parts import listed, marks_of, parts_of, row
from underbag.export.sheets.room import room
from underbag.export.sheets.section import section_sheet
from underbag.export.sheets.side import stop_box
from underbag.export.sheets.words import Units
from underbag.model.errors import UnderbagError
from underbag.model.layup.settle import settle
from underbag.model.plan import Plan, plan
from underbag.model.report import report
from underbag.model.shape.profile import Profile, Run, arc_profile
from underbag.model.shape.sheet import Sheet

turns = st.floats(-3.1, 3.1).filter(lambda turn: abs(turn) > 0.01)


def made(asked: dict[str, dict[str, Any]], title: str = "Job") -> Plan:
    return plan(settle(asked, title=title))


# The curves of the section


def length_of(edges: tuple[Any, ...]) -> float:
    return sum(
        edge.radius * abs(edge.sweep) if isinstance(edge, Arc) else math.dist(start_of(edge), end_of(edge))
        for edge in edges
    )


@given(turns, st.floats(0.0, 20.0), st.floats(0.0, 60.0))
def test_a_curve_is_as_long_as_the_sheet_there(turn: float, height: float, past: float) -> None:
    """An arc of 400 mm, with straight ends past it: length + height · turn, to a micrometre."""
    sheet = Sheet(profile=arc_profile(400.0, turn), reference=0.0)
    edges = along(sheet, 30.0, height, -200.0 - past, 200.0 + past)
    assert all(math.dist(end_of(a), start_of(b)) < 1e-6 for a, b in pairwise(edges))
    assert length_of(edges) == pytest.approx(400.0 + 2.0 * past + height * turn, abs=1e-6)
    assert [
        math.dist(start_of(edge), end_of(other))
        for edge, other in zip(edges, backward(edges)[::-1], strict=True)
    ] == (pytest.approx([0.0] * len(edges), abs=1e-9))


@given(turns, st.floats(0.0, 10.0), st.floats(0.2, 10.0))
def test_a_layer_has_its_thickness_times_its_length_as_area(
    turn: float, low: float, thickness: float
) -> None:
    """Exact for arcs; shapely measures the polygon of chords that leave the arcs by up to a micrometre."""
    sheet = Sheet(profile=arc_profile(400.0, turn), reference=0.0)
    edges = ring(sheet, 0.0, low, low + thickness, -230.0, 230.0)
    assert Hatch(boundary=edges, pattern="solid").loops == (edges,)
    polygon = shapely.Polygon(np.concatenate([flattened(edge, 1e-6) for edge in edges]))
    assert polygon.exterior.is_ccw
    middle = sheet.length(low + 0.5 * thickness, -230.0, 230.0)
    assert polygon.area == pytest.approx(thickness * middle, rel=1e-5)


def test_a_curve_of_straight_and_bent_pieces_keeps_them_apart() -> None:
    sheet = Sheet(profile=Profile((Run(100.0, 0.0), Run(200.0, 0.004), Run(100.0, 0.0))), reference=0.0)
    edges = along(sheet, 0.0, 5.0, -200.0, 200.0)
    assert [type(edge) for edge in edges] == [Line, Arc, Line]
    # the turning piece of 200 mm turns through 0.8 rad
    assert [length_of((edge,)) for edge in edges] == pytest.approx([100.0, 200.0 + 5.0 * 0.8, 100.0])


# Heights of the detail


LAMINATED = {"panel": {"length": 400.0, "width": 200.0}}


@pytest.mark.parametrize("laminations", [1, MANY, MANY + 1, 60])
@pytest.mark.parametrize("ratio", [0.5, 2.0, 10.0])
def test_bands_lie_on_each_other_and_can_be_seen(laminations: int, ratio: float) -> None:
    planned = made({**LAMINATED, "substrate": {"laminations": laminations, "thickness": 2.0}})
    found = bands(planned, ratio)
    assert all(below.high == pytest.approx(above.low) for below, above in pairwise(found))
    assert min(band.high - band.low for band in found) >= 0.9 - 1e-9
    assert all(
        band.low < low < high < band.high for band in found if band.breaks for low, high in [band.breaks]
    )
    # every layer, or both ends of the pile and one gap
    sheets = [band for band in found if band.role == "substrate"]
    assert len(sheets) == (laminations if laminations <= MANY else 2 * ENDS)
    assert sum(band.role == "gap" for band in found) == (laminations > MANY)


def test_a_gap_names_the_layers_that_it_stands_for() -> None:
    """Twenty laminations are layers 4 to 42, glue lines between them; two at each end are drawn."""
    planned = made({**LAMINATED, "substrate": {"laminations": 20, "thickness": 1.5}})
    (gap,) = (band for band in bands(planned, 2.0) if band.role == "gap")
    assert gap.key == "7 to 39"
    drawn = {band.key for band in bands(planned, 2.0)}
    marks = marks_of(planned)
    hidden = [int(marks[layer.key]) for layer in planned.stack.layers if layer.key not in drawn]
    assert hidden == list(range(7, 40))


@pytest.mark.parametrize(("ratio", "parted"), [(1.0, True), (0.5, False)])
def test_thin_laminations_are_one_body(ratio: float, parted: bool) -> None:
    """At 1:1 a lamination of 1.5 mm can be hatched, at 1:2 its 0.75 mm cannot."""
    planned = made({**LAMINATED, "substrate": {"laminations": 5, "thickness": 1.5}})
    found = [body for body in bodies(planned, ratio) if body.key.startswith("substrate")]
    assert len(found) == (5 if parted else 1)
    core = [layer for layer in planned.stack.layers if layer.side == "core"]
    assert (found[0].low, found[-1].high) == (core[0].height, core[-1].top)


# The parts list


@given(
    st.integers(1, 12),
    st.sampled_from([{"length": 400.0, "width": 200.0}, {"width": 200.0}]),
    st.sampled_from(["tube", "joined sheets", "taped sheets", "sheet on board"]),
    st.integers(0, 6),
)
@settings(max_examples=20, deadline=None)
def test_the_parts_list_is_whole(laminations: int, panel: dict[str, float], kind: str, papers: int) -> None:
    """Every layer is in one row, and the quantities are those of the stack."""
    bend = {} if "length" in panel else {"bend": {"chord": 600.0, "rise": 60.0}}
    planned = made(
        {
            "panel": panel,
            **bend,
            "substrate": {"laminations": laminations, "thickness": 2.0},
            "bag": {"kind": kind},
            "absorbent": {"sheets": papers},
        }
    )
    parts = parts_of(planned)
    keys = [key for part in parts for key in part.keys]
    assert sorted(keys) == sorted(layer.key for layer in planned.stack.layers)
    marks = marks_of(planned)
    assert {mark for part in parts for mark in part.marks} == {
        *marks.values(),
        "V",
        "B",
        "F" if bend else "P",
    }
    for part in parts:
        layers = [layer for layer in planned.stack.layers if layer.key in part.keys]
        if layers:
            assert part.quantity == sum(layer.blank.quantity for layer in layers)
            assert part.thickness == pytest.approx(layers[0].thickness / layers[0].blank.quantity)
        if part.size is not None and layers:
            for layer in layers:
                assert part.size == pytest.approx((layer.blank.length, layer.blank.width), abs=1e-6)
        assert [len(row(part, units)) for units in (Units.METRIC, Units.INCH, Units.BOTH)] == [7, 7, 8]


@pytest.mark.parametrize(
    ("marks", "said"),
    [
        (("4",), "4"),
        (("3", "5"), "3, 5"),
        (("3", "5", "7"), "3, 5, 7"),
        (("3", "5", "7", "9"), "3, 5 … 9"),
        (("3", "5", "8", "9"), "3, 5, 8, 9"),
    ],
)
def test_numbers_of_a_row(marks: tuple[str, ...], said: str) -> None:
    assert listed(marks) == said


# Free room


boxes = st.tuples(st.floats(-40, 40), st.floats(-40, 40), st.floats(-3.1, 3.1))
ends = st.tuples(st.floats(-60, 60), st.floats(-60, 60))


@given(boxes, boxes, ends, ends)
def test_room_against_shapely(one: Any, other: Any, start: Any, end: Any) -> None:
    """Texts may be added where neither a line nor a text lies within 0.8 mm, but for a touch of 0.05 mm."""
    assume(math.dist(start, end) > 0.1)
    first, second = (Text(text="420 [16]", position=spot[:2], turn=spot[2]) for spot in (one, other))
    line = Stroke(curve=Line(start=start, end=end))
    drawn = room([line, first])
    new = room([second])
    polygon = shapely.Polygon(text_corners(second))
    distance = polygon.distance(
        shapely.union_all([shapely.LineString([start, end]), shapely.Polygon(text_corners(first))])
    )
    if distance > 0.8 * math.sqrt(2.0) + 0.01:
        assert drawn.admits(new)
    if distance < 0.7:
        assert not drawn.admits(new)
    # a line on a text is no better than a text on a line
    if not room([second]).admits(room([line])):
        assert not room([line]).admits(new)


def test_a_line_across_its_own_text_is_tangled() -> None:
    text = Text(text="stack", position=(0.0, 0.0))
    assert room([text, Stroke(curve=Line(start=(-5.0, 1.0), end=(20.0, 1.0)))]).is_tangled
    assert not room([text, Stroke(curve=Line(start=(-5.0, -2.0), end=(20.0, -2.0)))]).is_tangled


def test_lines_cross_only_where_both_end_beyond() -> None:
    across = room([Stroke(curve=Polyline(points=((0.0, -1.0), (0.0, 1.0))))])
    assert room([Stroke(curve=Line(start=(-1.0, 0.0), end=(1.0, 0.0)))]).crosses(across)
    assert not room([Stroke(curve=Line(start=(1.0, 0.0), end=(2.0, 0.0)))]).crosses(across)


# The layout


def block(name: str, width: float, height: float) -> View:
    outline = Polyline(points=((0.0, 0.0), (width, 0.0), (width, height), (0.0, height), (0.0, 0.0)))
    return View(name=name, scale=Scale(1, 1), origin=(0.0, 0.0), items=(Stroke(curve=outline),))


ROWS = (
    Arrangement(rows=(("a",), ("b",))),
    Arrangement(rows=(("a",),), corner=("b",)),
    Arrangement(rows=(("a", "b"),)),
)


@given(*[st.floats(10, 380)] * 2, *[st.floats(10, 260)] * 2, st.floats(20, 250))
def test_placed_views_overlap_nothing(
    wide: float, other: float, tall: float, low: float, column: float
) -> None:
    views = {"a": sized(block("a", wide, tall)), "b": sized(block("b", other, low))}
    placed = arranged(A3, views, (174.0, column), ROWS)
    if placed is None:
        return
    shapes = [
        shapely.box(x, y, x + sized(view).box.width, y + sized(view).box.height)
        for view in placed.views
        for x, y in [view.origin]
    ]
    x, top = placed.corner
    shapes.append(shapely.box(x, top - column, x + 174.0, top))
    space = A3.space
    title = shapely.box(space.high[0] - 180.0, space.low[1], space.high[0], space.low[1] + 38.0)
    whole = shapely.box(*space.low, *space.high)
    assert all(whole.contains(shape) and shape.distance(title) > 3.9 for shape in shapes)
    assert all(a.distance(b) >= 5.99 for i, a in enumerate(shapes) for b in shapes[i + 1 :])


@pytest.mark.parametrize(("height", "fits"), [(115.0, True), (200.0, False)])
def test_what_does_not_fit_is_not_placed(height: float, fits: bool) -> None:
    """Two views of 180 mm width stand above each other left of the column: up to 263 - 6 mm together."""
    views = {"a": sized(block("a", 180.0, height)), "b": sized(block("b", 180.0, height))}
    assert (arranged(A3, views, (174.0, 200.0), ROWS[:1]) is not None) == fits


def test_a_column_taller_than_the_paper_is_not_placed() -> None:
    assert (
        arranged(A3, {"a": sized(block("a", 10.0, 10.0))}, (174.0, 300.0), (Arrangement(rows=(("a",),)),))
        is None
    )


# A stop


@given(st.lists(st.text(min_size=1, max_size=300).filter(str.strip), min_size=1, max_size=4))
def test_a_stop_frames_all_of_its_reasons(reasons: list[str]) -> None:
    items, depth = stop_box(reasons)
    box = extent(items)
    assert (box.width, box.height) == pytest.approx((174.0, depth), abs=0.06)
    assert all(letter.height >= 3.5 for letter in items if isinstance(letter, Text))


# Any layup


def _asked(draw: Any) -> dict[str, dict[str, Any]]:
    def pick(*choices: Any) -> Any:
        return draw(st.sampled_from(choices))

    asked: dict[str, dict[str, Any]] = {"panel": {"width": pick(40.0, 150.0, 612.5, 1499.0)}}
    if draw(st.booleans()):
        asked["panel"]["length"] = pick(55.0, 318.7, 1240.0, 5000.0)
        asked["press"] = {"lay": pick("face up", "face down")}
        asked["platen"] = {"margin": pick(-10.0, 3.0, 40.0, 150.0), "thickness": pick(3.0, 18.0, 60.0)}
    else:
        asked["bend"] = {
            "radius": pick(90.0, 300.0, 1234.5, 9000.0),
            "angle": pick(0.1, 0.7, 1.9, math.pi, 3.6),
            "show_face": pick("inside", "outside"),
        }
        asked["press"] = {"lay": pick("convex", "concave")}
    asked["substrate"] = {
        "thickness": pick(0.6, 3.0, 22.0),
        "laminations": pick(1, 3, 8, 25),
        "trim": pick(0.0, 8.0),
    }
    for side in ("face", "back"):
        asked[side] = {"overhang": pick(0.0, 6.0, 25.0), "grain": pick("along length", "along width")}
    for layer in pick((), ("caul",), ("release", "breather"), ("absorbent", "back")):
        asked[layer] = {"material": "none"}
    asked["bag"] = {"kind": pick("tube", "joined sheets", "taped sheets", "sheet on board")}
    return asked


@given(st.data(), st.sampled_from(["Tea tray", "W" * 80, "Mirror frame " * 12]))
@settings(max_examples=12, deadline=None)
def test_nothing_collides_on_the_sheet_of_any_layup(data: Any, title: str) -> None:
    """What the planner refuses is left out; everything else gets a sheet without overlaps."""
    try:
        planned = made(data.draw(st.composite(_asked)()), title)
    except UnderbagError:
        assume(False)
    assert collisions(section_sheet(planned, report(planned))) == ()
