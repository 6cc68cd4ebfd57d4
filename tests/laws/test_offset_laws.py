"""True offsets of edges; the referee is shapely's buffer of chords within a micrometre or so."""

import math

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely import Polygon

from underbag.model.errors import ShapeError
from underbag.model.shape.figures import filleted, superellipse
from underbag.model.shape.loop import FINE, Loop, circle, polygon, rectangle
from underbag.model.shape.offset import LONGEST, offset, round_off
from underbag.model.shape.outline import Oval, RoundedRectangle
from underbag.model.shape.pathed import pathed, sharp_corners

HAIR = 5e-4


@st.composite
def edges(draw: st.DrawFn) -> Loop:
    """Edges around the origin, convex or not, their corners sharp or round."""
    count = draw(st.integers(3, 9))
    steps = draw(st.lists(st.floats(0.25, 1.0), min_size=count, max_size=count))
    angles = np.cumsum(steps) * 2.0 * math.pi / sum(steps)
    reach = draw(st.lists(st.floats(80.0, 400.0), min_size=count, max_size=count))
    corners = [(r * math.cos(a), r * math.sin(a)) for a, r in zip(angles, reach, strict=True)]
    try:
        return filleted(corners, draw(st.sampled_from([0.0, 0.0, 4.0, 15.0])))
    except ShapeError:
        assume(False)
        raise


@given(edge=edges(), margin=st.floats(-30.0, 40.0).filter(lambda m: abs(m) > 0.1))
@settings(max_examples=60, deadline=None)
def test_an_offset_is_that_of_the_referee(edge: Loop, margin: float) -> None:
    wanted = Polygon(edge.flattened(HAIR)).buffer(margin, join_style="mitre", mitre_limit=LONGEST)
    if wanted.is_empty or wanted.geom_type == "MultiPolygon":
        with pytest.raises(ShapeError, match="nothing is left" if wanted.is_empty else "falls into"):
            offset(edge, margin)
        return
    moved = offset(edge, margin)
    found = Polygon(moved.flattened(HAIR))
    assert found.is_valid
    assert moved.area > 0.0
    # chords of the referee, and its rounding of what lies between them; a bay that closes is filled
    whole = Polygon(wanted.exterior)
    assert found.boundary.hausdorff_distance(whole.boundary) < 4.0 * FINE * LONGEST
    assert moved.area == pytest.approx(whole.area, abs=2.0 * FINE * moved.length)


@given(edge=edges(), margin=st.floats(0.5, 40.0))
@settings(max_examples=60, deadline=None)
def test_an_edge_that_grows_covers_what_it_was(edge: Loop, margin: float) -> None:
    grown = Polygon(offset(edge, margin).flattened(HAIR))
    assert grown.contains(Polygon(edge.flattened(HAIR)).buffer(margin - 4.0 * FINE, join_style="round"))


@given(edge=edges(), margin=st.floats(0.5, 20.0))
@settings(max_examples=60, deadline=None)
def test_round_joins_keep_to_the_margin(edge: Loop, margin: float) -> None:
    moved = Polygon(offset(edge, margin, round_off).flattened(HAIR))
    wanted = Polygon(edge.flattened(HAIR)).buffer(margin, join_style="round", quad_segs=500)
    assert moved.boundary.hausdorff_distance(Polygon(wanted.exterior).boundary) < 4.0 * FINE


def test_a_rectangle_stays_sharp() -> None:
    moved = offset(rectangle((0.0, 0.0), (300.0, 200.0)), 6.0)
    wanted = rectangle((-6.0, -6.0), (306.0, 206.0))
    assert np.array(sorted(moved.corners)) == pytest.approx(np.array(sorted(wanted.corners)))
    assert sharp_corners(moved) == 4


@pytest.mark.parametrize("margin", [25.0, -25.0, -39.0, -60.0])
def test_arcs_stay_arcs_and_vanish_where_they_are_used_up(margin: float) -> None:
    # the reference is the outline's own closed form
    whole = RoundedRectangle(600.0, 400.0, 40.0)
    moved = offset(whole.loops[0], margin)
    assert moved.area == pytest.approx(whole.grown(margin).area, rel=1e-12)
    assert sum(bulge != 0.0 for _, _, bulge in moved.corners) == (4 if margin > -40.0 else 0)


@pytest.mark.parametrize("margin", [30.0, -30.0])
def test_an_ellipse_moves_by_steiners_formula(margin: float) -> None:
    moved = offset(superellipse(600.0, 400.0, 2.0), margin)
    assert moved.area == pytest.approx(Oval(600.0, 400.0, margin).area, abs=FINE * moved.length)
    assert all(bulge > 0.0 for _, _, bulge in moved.corners), "arcs, not chords"


def test_a_circle_has_the_radius_and_the_margin() -> None:
    assert offset(circle((10.0, 20.0), 100.0), 6.0).area == pytest.approx(math.pi * 56.0**2, rel=1e-12)


def test_a_needle_is_cut_square() -> None:
    """A tip of 10° would reach out by 1/sin 5° = 11.5 margins; it ends at LONGEST of them."""
    half = 500.0 * math.tan(math.radians(5.0))
    moved = offset(polygon([(500.0, 0.0), (0.0, half), (0.0, -half)]), 6.0)
    assert moved.box[1][0] == pytest.approx(500.0 + 6.0 * LONGEST, abs=1e-9)
    assert len(moved.corners) == 4


def test_a_neck_that_is_too_narrow_parts() -> None:
    dumbbell = polygon(
        [
            (0, 0),
            (200, 0),
            (200, 90),
            (400, 90),
            (400, 0),
            (600, 0),
            (600, 200),
            (400, 200),
            (400, 110),
            (200, 110),
            (200, 200),
            (0, 200),
        ]
    )
    assert offset(dumbbell, -9.0).area == pytest.approx(2.0 * 182.0**2 + 2.0 * 218.0, rel=1e-9)
    with pytest.raises(ShapeError, match="falls into 2 pieces"):
        offset(dumbbell, -11.0)
    with pytest.raises(ShapeError, match="nothing is left"):
        offset(dumbbell, -101.0)


def test_holes_shrink_as_the_outline_grows_and_are_gone_at_last() -> None:
    panel = pathed(rectangle((0.0, 0.0), (400.0, 300.0)), (circle((100.0, 100.0), 60.0),))
    grown = panel.grown(10.0)
    assert grown.area == pytest.approx(420.0 * 320.0 - math.pi * 20.0**2, rel=1e-12)
    assert panel.grown(30.5).holes == ()
    assert panel.whole.area == 400.0 * 300.0
    smaller = panel.grown(-10.0)
    assert smaller.area == pytest.approx(380.0 * 280.0 - math.pi * 40.0**2, rel=1e-12)
    with pytest.raises(ShapeError, match="a hole meets the edge at x"):
        panel.grown(-40.0)


@given(edge=edges())
@settings(max_examples=60, deadline=None)
def test_the_rim_holds_all_of_an_outline(edge: Loop) -> None:
    outline = pathed(edge)
    t, half = outline.rim(0.01)
    assert (np.diff(t) > 0.0).all()
    assert t == pytest.approx(-t[::-1])
    assert half == pytest.approx(half[::-1])
    points = outline.edge.flattened(0.01)
    # places are kept to 1e-7 mm, which on a side that is all but upright is more across
    assert (np.abs(points[:, 1]) <= np.interp(np.abs(points[:, 0]) - 1e-6, t, half) + 1e-6).all()
    # convex: the half width falls ever more steeply
    slope = np.diff(half) / np.diff(t)
    assert (np.diff(slope) <= 1e-6 * np.abs(slope[1:]) + 1e-6).all()
