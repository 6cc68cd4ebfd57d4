"""Meshes of a whole stack at once: the same bodies as one by one, closed, and neighbours that share their edges.

Outside referee: trimesh.
"""

import math

import numpy as np
import pytest
import trimesh
from hypothesis import given, settings
from hypothesis import strategies as st

from underbag.model.shape.mesh import Mesh
from underbag.model.shape.outline import Rectangle
from underbag.model.shape.profile import arc_profile, flat_profile
from underbag.model.shape.sheet import Sheet
from underbag.model.shape.slab import raised, slab, stations
from underbag.model.shape.slabs import slabs

TOLERANCE = 0.05
LAYER = st.tuples(st.floats(0.0, 60.0), st.floats(40.0, 600.0), st.floats(0.04, 6.0))
"""Margin past the core at each end, width, thickness."""


def seen(mesh: Mesh) -> trimesh.Trimesh:
    return trimesh.Trimesh(mesh.points, mesh.triangles, process=False)


@settings(deadline=None, max_examples=60)
@given(
    st.floats(100.0, 900.0),
    st.one_of(st.just(0.0), st.floats(0.001, 3.0), st.floats(-3.0, -0.001)),
    st.lists(LAYER, min_size=1, max_size=6),
    st.floats(-50.0, 50.0),
)
def test_layers_made_together_are_those_made_one_by_one(
    length: float, turn: float, layers: list[tuple[float, float, float]], lift: float
) -> None:
    tops = np.cumsum([thickness for _, _, thickness in layers]).tolist()
    if abs(turn) * (tops[-1] + 5.0) > length:
        return  # they would cross themselves
    sheet = Sheet(profile=arc_profile(length, turn), reference=0.0)
    sizes = [(length + 2.0 * margin, width) for margin, width, _ in layers]
    bounds = list(zip([0.0, *tops[:-1]], tops, strict=True))
    made = slabs(sheet, sizes, bounds, TOLERANCE, lift)
    for mesh, size, (low, high) in zip(made, sizes, bounds, strict=True):
        found = seen(mesh)
        assert found.is_watertight
        assert found.is_winding_consistent
        t, half = stations(sheet, Rectangle(*size), tops[-1], TOLERANCE)
        alone = seen(raised(slab(sheet, t, half, low, high), lift))
        # ends of other layers are further cuts of an arc: they bring the mesh nearer to the true body
        radius = length / abs(turn) if turn else math.inf
        nearest = min(radius + math.copysign(high, turn), radius)
        assert found.volume == pytest.approx(alone.volume, rel=2.0 * TOLERANCE / nearest + 1e-9)
        assert found.bounds[:, 1] == pytest.approx(alone.bounds[:, 1])
        # a cut more can reach farther than its chord, by the sagitta at the most
        assert found.bounds == pytest.approx(alone.bounds, abs=TOLERANCE + 1e-6)


def test_cuts_of_equal_layers_are_the_same_points() -> None:
    sheet = Sheet(profile=arc_profile(400.0, math.pi / 2), reference=3.0)
    t, half = stations(sheet, Rectangle(424.0, 150.0), 12.0, TOLERANCE)
    made = slabs(sheet, [(424.0, 150.0)], [(2.0, 15.0)], TOLERANCE, 7.0)[0]
    alone = raised(slab(sheet, t, half, 2.0, 15.0), 7.0)
    # 1e-9 mm: the heights are added in another order
    assert made.points == pytest.approx(alone.points, abs=1e-9)
    assert {frozenset(face) for face in made.triangles.tolist()} == {
        frozenset(face) for face in alone.triangles.tolist()
    }
    assert {frozenset(line) for line in made.creases.tolist()} == {
        frozenset(line) for line in alone.creases.tolist()
    }


def test_neighbours_share_every_cut_of_the_shorter_one() -> None:
    sheet = Sheet(profile=arc_profile(600.0, 1.2), reference=0.0)
    lower, upper = slabs(sheet, [(500.0, 150.0), (700.0, 150.0)], [(0.0, 2.0), (2.0, 5.0)], TOLERANCE, 0.0)
    top = lower.points[len(lower.points) // 2 :]
    under = {tuple(point) for point in upper.points[: len(upper.points) // 2].tolist()}
    assert all(tuple(point) in under for point in top.tolist())


def test_a_flat_stack_is_cut_at_its_ends_alone() -> None:
    sheet = Sheet(profile=flat_profile(400.0), reference=0.0)
    box = slabs(sheet, [(400.0, 300.0)], [(1.0, 4.0)], TOLERANCE, 10.0)[0]
    assert len(box.points) == 8
    assert seen(box).volume == pytest.approx(400.0 * 300.0 * 3.0)
    assert box.points[:, 2].min() == pytest.approx(11.0)
