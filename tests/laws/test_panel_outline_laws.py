"""Panels of every outline: a valid stack of valid meshes, or a clear refusal that names the place."""

import math
from collections.abc import Mapping
from typing import Any

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from shapely import Polygon

from underbag.app.examine import examine
from underbag.app.page.blanks import blanks_list
from underbag.model.errors import LayupError
from underbag.model.layup.layup import Layup
from underbag.model.layup.settle import settle
from underbag.model.plan import plan
from underbag.model.scene import scene
from underbag.model.shape.loop import circle, polygon, rectangle
from underbag.model.shape.pathed import bays, pathed
from underbag.model.shape.seat import clearance
from underbag.model.template import templates

ELL = ((0.0, 0.0), (900.0, 0.0), (900.0, 300.0), (350.0, 300.0), (350.0, 700.0), (0.0, 700.0))


@pytest.mark.parametrize(
    ("panel", "key", "told"),
    [
        ({"corners": ((0.0, 0.0), (500.0, 0.0))}, "panel.corners", "2 corners"),
        (
            {"corners": ((0.0, 0.0), (500.0, 300.0), (500.0, 0.0), (0.0, 300.0))},
            "panel.corners",
            "crosses or touches itself at x 250.00 mm, y 150.00 mm",
        ),
        (
            {"corners": ((0.0, 0.0), (500.0, 0.0), (500.0, 60.0), (0.0, 60.0)), "fillet": 31.0},
            "panel.fillet",
            "the largest radius is 30 mm",
        ),
        ({"corners": ELL, "length": 800.0}, "panel.length", "900 mm, which is what the polygon measures"),
        ({"corners": ELL, "corner": 20.0}, "panel.corner", "a corner radius"),
        ({"sides": 6}, "panel.width", "nothing"),
        ({"sides": 6, "width": 400.0, "length": 400.0}, "panel.length", "461.88 mm"),
        ({"outline": "regular polygon", "width": 400.0}, "panel.sides", "nothing"),
        ({"outline": "polygon"}, "panel.corners", "nothing"),
        ({"outline": "drawing"}, "panel.outline_file", "nothing"),
        ({"exponent": 2.5, "length": 400.0}, "panel.width", "nothing"),
        (
            {"outline": "ellipse", "length": 400.0, "width": 300.0, "fillet": 5.0},
            "panel.fillet",
            "rounded corners",
        ),
        ({"sides": 5, "corners": ELL}, "panel.corners", "corners with the outline"),
        ({"sides": 3, "width": 100.0, "fillet": 90.0}, "panel.fillet", "the largest radius"),
    ],
)
def test_what_is_no_outline_is_refused(panel: Mapping[str, Any], key: str, told: str) -> None:
    with pytest.raises(LayupError) as error:
        settle({"panel": panel})
    assert error.value.key == key
    assert told in str(error.value)


def test_the_largest_fillet_fits() -> None:
    corners = ((0.0, 0.0), (500.0, 0.0), (500.0, 60.0), (0.0, 60.0))
    assert settle({"panel": {"corners": corners, "fillet": 30.0}}).edge.area == pytest.approx(
        440.0 * 60.0 + math.pi * 900.0
    )


@st.composite
def panels(draw: st.DrawFn) -> dict[str, Any]:
    """Flat panels of every outline that is given by numbers."""
    match draw(st.sampled_from(["superellipse", "regular", "polygon", "polygon"])):
        case "superellipse":
            return {
                "length": draw(st.floats(200.0, 1500.0)),
                "width": draw(st.floats(200.0, 900.0)),
                "exponent": draw(st.floats(2.0, 10.0)),
            }
        case "regular":
            return {
                "sides": draw(st.integers(3, 12)),
                "width": draw(st.floats(200.0, 900.0)),
                "fillet": draw(st.sampled_from([0.0, 10.0, 25.0])),
            }
    count = draw(st.integers(3, 8))
    corners = draw(
        st.lists(st.tuples(st.floats(0.0, 1200.0), st.floats(0.0, 800.0)), min_size=count, max_size=count)
    )
    return {"corners": tuple(corners), "fillet": draw(st.sampled_from([0.0, 0.0, 20.0]))}


def made(asked: Mapping[str, Any]) -> tuple[Layup | None, str]:
    """Layup that is asked for, or why there is none."""
    try:
        return settle(asked), ""
    except LayupError as error:
        return None, str(error)


@given(panel=panels(), overhang=st.sampled_from([0.0, 6.0, 25.0]), trim=st.sampled_from([0.0, 12.0]))
@example(
    # two directions on the bare panel meet in one corner of the sheet that hangs over it
    panel={"corners": ((0.0, 0.0), (0.0, 161.0), (490.0, 503.0)), "fillet": 20.0},
    overhang=0.0,
    trim=0.0,
)
@example(
    # the same on the way down over a face that stands out
    panel={"corners": ((534.0, 794.0), (156.0, 755.0), (1065.0, 797.0)), "fillet": 10.0},
    overhang=25.0,
    trim=0.0,
)
@settings(max_examples=10, deadline=None)
def test_any_outline_gives_closed_meshes_or_a_clear_refusal(
    panel: dict[str, Any], overhang: float, trim: float
) -> None:
    asked = {"panel": panel, "face": {"overhang": overhang}, "substrate": {"trim": trim}}
    layup, fault = made(asked)
    if layup is None:
        assert fault.startswith("panel.")
        assert "mm" in fault or "corners" in fault
        return
    planned = plan(layup)
    for part in scene(planned).parts:
        edges = np.sort(part.mesh.triangles[:, [[0, 1], [1, 2], [2, 0]]].reshape(-1, 2), axis=1)
        _, shared = np.unique(edges, axis=0, return_counts=True)
        assert (shared == 2).all(), part.key
    for layer in planned.stack.layers:
        ring = Polygon(layer.blank.edge.flattened(0.01))
        assert ring.is_valid
        assert ring.area == pytest.approx(layer.blank.area, abs=0.01 * layer.blank.edge.length)
        low, high = layer.blank.edge.box
        assert (high[0] - low[0], high[1] - low[1]) == pytest.approx(
            (layer.blank.length, layer.blank.width), abs=1e-6
        )
    core, face = (planned.stack.find(key) for key in ("substrate", "face"))
    assert core is not None
    assert face is not None
    assert (
        Polygon(face.outline.loops[0].flattened(0.01))
        .buffer(1e-3)
        .contains(Polygon(core.outline.loops[0].flattened(0.01)))
    )


@given(panel=panels())
@settings(max_examples=12, deadline=None)
def test_soft_sheets_cover_all_and_are_cut_straight(panel: dict[str, Any]) -> None:
    try:
        planned = plan(settle({"panel": panel}))
    except LayupError:
        return
    for layer in planned.stack.layers:
        if layer.role in ("release", "absorbent", "breather"):
            assert len(layer.blank.edge.corners) == 4
    face, release = planned.stack.find("face"), planned.stack.find("release-above")
    assert face is not None
    assert release is not None
    over = Polygon(release.outline.loops[0].flattened(1.0))
    assert over.buffer(1e-6).contains(Polygon(face.outline.loops[0].flattened(0.01)).buffer(11.99))
    # the section that the bag is sized by holds everything that lies in it
    assert planned.bag.width >= planned.stack.layers[-1].outline.width


def test_the_valve_keeps_to_a_caul_with_a_bay() -> None:
    planned = plan(settle({"panel": {"corners": ELL}}))
    caul = planned.stack.find("caul")
    assert caul is not None
    assert planned.valve.over == "caul"
    spot = np.array([[planned.valve.t, planned.valve.w]])
    # the middle of the box lies in the bay: 50 mm and the valve's base are clear of the edge
    assert clearance(caul.outline.loops[0].flattened(0.1), np.zeros((1, 2)))[0] < 0.0
    assert clearance(caul.outline.loops[0].flattened(0.1), spot)[0] >= 80.0
    bag, valve = planned.bag, planned.valve
    assert valve.from_closed_end - valve.work_from_closed_end == pytest.approx(valve.t)
    assert 0.0 < valve.from_left_seam < bag.width


def test_a_narrow_ring_has_no_seat_for_a_valve() -> None:
    thin = tuple(
        (x, y)
        for x, y in ((0.0, 0.0), (900.0, 0.0), (900.0, 100.0), (100.0, 100.0), (100.0, 700.0), (0.0, 700.0))
    )
    assert plan(settle({"panel": {"corners": thin}})).valve.over == "tail"


def test_holes_are_cut_after_pressing() -> None:
    outline = pathed(rectangle((0.0, 0.0), (600.0, 400.0)), (circle((200.0, 150.0), 80.0),))
    layup = settle({"panel": {"outline": "drawing", "outline_file": "top.svg"}}, drawn_edge=outline)
    planned = plan(layup)
    assert planned.outline.area == pytest.approx(240_000.0 - math.pi * 1600.0)
    for layer in planned.stack.layers:
        assert layer.blank.holes == ()
    core = planned.stack.find("substrate")
    assert core is not None
    # glue is spread on the whole sheet
    assert core.blank.area == pytest.approx(240_000.0)
    cut = {template.key: template for template in templates(planned)}
    assert cut["substrate"].openings == outline.holes
    assert cut["face"].openings == outline.holes
    assert cut["breather"].openings == ()


@pytest.mark.parametrize(("lay", "side"), [("face up", 1.0), ("face down", -1.0)])
def test_a_panel_pressed_face_down_is_cut_as_its_mirror_image(lay: str, side: float) -> None:
    planned = plan(settle({"panel": {"corners": ELL}, "press": {"lay": lay}}))
    core = planned.stack.find("substrate")
    assert core is not None
    # the L has its bay at the right, beyond its middle; turned over about its length, on the near side
    bay = np.array([[200.0, side * 200.0], [200.0, side * -200.0]])
    inside = clearance(core.blank.edge.flattened(0.1), bay)
    assert inside[0] < 0.0 < inside[1]
    assert core.blank.edge.area > 0.0


U = (
    (0.0, 0.0),
    (900.0, 0.0),
    (900.0, 700.0),
    (600.0, 700.0),
    (600.0, 300.0),
    (300.0, 300.0),
    (300.0, 700.0),
    (0.0, 700.0),
)


def test_film_goes_down_into_a_bay_and_up_again() -> None:
    box = tuple(corner for corner in U if corner[0] in (0.0, 900.0) and corner[1] in (0.0, 700.0))
    bay, whole = (plan(settle({"panel": {"corners": corners}})) for corners in (U, box))
    # the bay lies between two arms: a section along crosses it, one across does not
    assert bay.along.following - whole.along.following == pytest.approx(2.0 * bay.stack.height)
    assert bay.across.following == pytest.approx(whole.across.following)
    assert bay.along.taut == pytest.approx(whole.along.taut)


@pytest.mark.parametrize("exponent", [2.0, 2.5, 9.0])
def test_a_round_outline_has_no_bay(exponent: float) -> None:
    layup = settle({"panel": {"length": 900.0, "width": 500.0, "exponent": exponent}})
    assert bays(layup.edge.loops[0]) == (0, 0)


@pytest.mark.parametrize(("corner", "is_met"), [(12.0, True), (0.0, False)])
def test_corners_of_a_caul_cut_to_a_polygon_are_held_against_the_film(corner: float, is_met: bool) -> None:
    layup = settle({"panel": {"sides": 6, "width": 400.0}, "caul": {"corner": corner}})
    found = examine(layup).planned
    assert found is not None
    (about,) = (one for one in found.report.checks if one.key == "edge.corner" and one.place.layer == "caul")
    assert (about.status == "ok") == is_met


@pytest.mark.parametrize(
    "corners",
    [
        ((0.0, 0.0), (900.0, 0.0), (900.0, 60.0)),
        # a tongue 4 mm wide
        (
            (0.0, 0.0),
            (600.0, 0.0),
            (600.0, 300.0),
            (302.0, 300.0),
            (302.0, 500.0),
            (298.0, 500.0),
            (298.0, 300.0),
            (0.0, 300.0),
        ),
        tuple(
            (r * math.cos(0.2 * math.pi * n), r * math.sin(0.2 * math.pi * n))
            for n, r in enumerate([400.0, 170.0] * 5)
        ),
        ELL,
    ],
)
def test_a_caul_with_rounded_corners_still_covers_the_panel(corners: tuple[tuple[float, float], ...]) -> None:
    """Held against shapely: nothing of the core lies bare, at sharp tips either."""
    planned = plan(settle({"panel": {"corners": corners}}))
    core, caul = (planned.stack.find(key) for key in ("substrate", "caul"))
    assert core is not None
    assert caul is not None
    bare = Polygon(core.blank.edge.flattened(0.005)).difference(Polygon(caul.blank.edge.flattened(0.005)))
    assert bare.area == 0.0


def test_blanks_on_the_page_have_their_own_shape() -> None:
    outline = pathed(polygon(ELL), (circle((150.0, 150.0), 80.0),))
    layup = settle({"panel": {"outline": "drawing", "outline_file": "top.svg"}}, drawn_edge=outline)
    rows = blanks_list(plan(layup)).split("<li>")
    (core,) = (row for row in rows if "substrate" in row)
    # y runs down from the upper left corner of the blank
    assert '<path d="M0.0,700.0 900.0,700.0 900.0,400.0 350.0,400.0 350.0,0.0 0.0,0.0Z"' in core
    assert "stroke-dasharray" in core
    (breather,) = (row for row in rows if "breather" in row)
    assert breather.count(",0.0") == 2 * 2, "a rectangle, as it is drawn and as it clips"
