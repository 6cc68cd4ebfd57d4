"""Meshes of layers: closed, outward, and as large as the formulas say."""

import math

import numpy as np
import pytest
import trimesh
from hypothesis import given, settings
from hypothesis import strategies as st

from underbag.model.shape.mesh import Mesh
from underbag.model.shape.outline import Outline, Oval, Rectangle, RoundedRectangle
from underbag.model.shape.profile import arc_profile, flat_profile
from underbag.model.shape.sheet import Sheet
from underbag.model.shape.slab import slab, stations

TOLERANCE = 0.05
SIZES = st.floats(60.0, 2000.0)
OUTLINES = st.one_of(
    st.builds(Rectangle, SIZES, SIZES),
    st.builds(
        lambda length, width, share: RoundedRectangle(length, width, share * min(length, width)),
        SIZES,
        SIZES,
        st.floats(0.02, 0.5),
    ),
    st.builds(Oval, SIZES, SIZES, st.floats(0.0, 30.0)),
)


def closed(mesh: Mesh) -> trimesh.Trimesh:
    """The mesh as trimesh sees it, held to be closed and wound outward; trimesh is the outside referee."""
    solid = trimesh.Trimesh(mesh.points, mesh.triangles, process=False)
    assert solid.is_watertight
    assert solid.is_winding_consistent
    assert solid.volume > 0.0
    return solid


@settings(deadline=None, max_examples=60)
@given(OUTLINES, st.floats(0.05, 40.0))
def test_flat_layers_have_the_area_times_the_thickness(outline: Outline, thickness: float) -> None:
    sheet = Sheet(profile=flat_profile(outline.length), reference=0.0)
    t, half = stations(sheet, outline, thickness, TOLERANCE)
    volume = closed(slab(sheet, t, half, 0.0, thickness)).volume
    exact = outline.area * thickness
    # chords lie inside a convex edge by the tolerance at the most, along the whole perimeter
    assert exact - outline.perimeter * TOLERANCE * thickness <= volume <= exact * (1 + 1e-9)


@settings(deadline=None, max_examples=60)
@given(st.floats(60.0, 900.0), st.floats(-3.0, 3.0), st.floats(40.0, 600.0), st.floats(0.05, 8.0))
def test_bent_layers_have_their_blank_times_the_thickness(
    length: float, turn: float, width: float, thickness: float
) -> None:
    if abs(turn) > 1e-6 and length / abs(turn) < 30.0:
        return
    sheet = Sheet(profile=arc_profile(length, turn), reference=0.0)
    outline = Rectangle(length + 12.0, width)
    t, half = stations(sheet, outline, 20.0, TOLERANCE)
    volume = closed(slab(sheet, t, half, 0.0, thickness)).volume
    half_length = 0.5 * outline.length
    exact = sheet.length(0.5 * thickness, -half_length, half_length) * width * thickness
    # both faces are cut by chords of the same turn, so the error is the sagitta on each: opposite in sign
    assert volume == pytest.approx(exact, abs=2.0 * TOLERANCE * width * (length + 24.0))


def test_neighbours_share_their_surface_point_for_point() -> None:
    sheet = Sheet(profile=arc_profile(400.0, math.pi / 2), reference=0.0)
    outline = Rectangle(400.0, 150.0)
    t, half = stations(sheet, outline, 10.0, TOLERANCE)
    lower, upper = slab(sheet, t, half, 0.0, 2.0), slab(sheet, t, half, 2.0, 5.0)
    count = t.size
    assert np.array_equal(lower.points[2 * count :], upper.points[: 2 * count])


@pytest.mark.parametrize("outline", [Oval(300.0, 200.0, 6.0), RoundedRectangle(300.0, 200.0, 100.0)])
def test_the_rim_reaches_both_ends_and_the_full_width(outline: Outline) -> None:
    t, half = outline.rim(TOLERANCE)
    assert t[0] == pytest.approx(-0.5 * outline.length)
    assert t[-1] == pytest.approx(0.5 * outline.length)
    assert np.all(np.diff(t) > 0.0)
    assert 2.0 * half.max() == pytest.approx(outline.width)


def test_the_edge_of_a_grown_oval_lies_at_its_margin_from_the_ellipse() -> None:
    u = np.linspace(0.0, 2.0 * math.pi, 100)
    t, w = Oval(300.0, 200.0, 6.0).edge(u)
    fine = np.linspace(0.0, 2.0 * math.pi, 200_001)
    ellipse = np.column_stack((150.0 * np.cos(fine), 100.0 * np.sin(fine)))
    for a, b in zip(t, w, strict=True):
        # the nearest of points 5 µm apart: off by less than a micron of a millimetre
        assert np.hypot(*(ellipse - [a, b]).T).min() == pytest.approx(6.0, abs=1e-6)
