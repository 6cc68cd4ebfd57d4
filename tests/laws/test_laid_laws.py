"""Meshes of layers of any outline on a bend: closed, outward, and as large as their blanks.

trimesh is the outside referee.
"""

import math

import numpy as np
import pytest
import trimesh
from hypothesis import given, settings
from hypothesis import strategies as st

from underbag.model.shape.laid import laid, region
from underbag.model.shape.mesh import Mesh
from underbag.model.shape.outline import Outline, Oval, Rectangle, RoundedRectangle
from underbag.model.shape.profile import Profile, Run, arc_profile
from underbag.model.shape.sheet import Sheet
from underbag.model.stack import blank_at

TOLERANCE = 0.05
SIZES = st.floats(60.0, 900.0)
OUTLINES = st.one_of(
    st.builds(
        lambda length, width, share: RoundedRectangle(length, width, share * min(length, width)),
        SIZES,
        SIZES,
        st.floats(0.02, 0.5),
    ),
    st.builds(Oval, SIZES, SIZES, st.floats(0.0, 30.0)),
    st.builds(Rectangle, SIZES, SIZES),
)
CHAIN = (Run(0.2, 0.0), Run(0.3, 1.0), Run(0.2, -1.2), Run(0.3, 0.0))
"""Lengths and turns as shares of the whole and of one radian."""


def closed(mesh: Mesh) -> trimesh.Trimesh:
    solid = trimesh.Trimesh(mesh.points, mesh.triangles, process=False)
    assert solid.is_watertight
    assert solid.is_winding_consistent
    assert solid.volume > 0.0
    return solid


@settings(deadline=None, max_examples=40)
@given(
    OUTLINES, st.floats(-3.0, 3.0).filter(lambda turn: abs(turn) > 0.01), st.floats(0.1, 8.0), st.booleans()
)
def test_a_layer_is_closed_and_as_large_as_its_blank(
    outline: Outline, turn: float, thickness: float, is_chain: bool
) -> None:
    # the layers reach 8 mm to the inside of the tightest radius
    length = max(outline.length, 40.0 * abs(turn))
    if is_chain:
        pieces = [Run(piece.length * length, piece.curvature * abs(turn) / (2.0 * length)) for piece in CHAIN]
        sheet = Sheet(profile=Profile(tuple(pieces)), reference=4.0)
    else:
        sheet = Sheet(profile=arc_profile(length, turn), reference=4.0)
    rulings = sheet.profile.stations(10.0, TOLERANCE)
    mesh = laid(sheet, region(outline, rulings, TOLERANCE), 0.0, thickness, 100.0)
    volume = closed(mesh).volume
    exact = thickness * blank_at(sheet, outline, 0.5 * thickness).area
    # chords leave out the tolerance along the whole edge, and lie under a crown or over a hollow by as much
    slack = TOLERANCE * 1.5 * outline.perimeter * thickness + 2.0 * TOLERANCE / 30.0 * exact
    assert exact - slack <= volume <= exact + slack
    lengths = mesh.points[mesh.creases[:, 0]] - mesh.points[mesh.creases[:, 1]]
    assert np.all(np.linalg.norm(lengths, axis=1) > 0.0)


def test_neighbours_meet_corner_on_corner() -> None:
    sheet = Sheet(profile=arc_profile(400.0, 1.1), reference=0.0)
    part = region(Oval(380.0, 200.0, 6.0), sheet.profile.stations(10.0, TOLERANCE), TOLERANCE)
    below, above = laid(sheet, part, 0.0, 2.0, 5.0), laid(sheet, part, 2.0, 3.0, 5.0)
    half = len(part.places)
    np.testing.assert_array_equal(below.points[half:], above.points[:half])


def test_a_box_is_a_box() -> None:
    """Flat, a rectangle has its corners and nothing else: 12 triangles."""
    sheet = Sheet(profile=Profile((Run(300.0, 0.0),)), reference=0.0)
    mesh = laid(
        sheet, region(Rectangle(300.0, 100.0), sheet.profile.stations(5.0, 0.05), 0.05), 0.0, 4.0, 0.0
    )
    assert len(mesh.triangles) == 12
    assert closed(mesh).volume == pytest.approx(120_000.0, rel=1e-12)
    assert math.isclose(float(np.ptp(mesh.points[:, 2])), 4.0)
