"""The drawn views and the packed scene against geometry that is known otherwise."""

import itertools
import json
import math
import struct
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import Point, Polygon

from underbag.export.page.camera import CORNER
from underbag.export.page.curve import pieces
from underbag.export.page.facets import facets
from underbag.export.page.order import painting_order
from underbag.export.page.pack import pack
from underbag.export.page.section import section
from underbag.export.page.svg_text import apart
from underbag.export.page.thickness import flat_uprights, growth
from underbag.model.scene import Mesh


def area(loops: list[Any]) -> float:
    """Signed area of outlines, by the shoelace formula."""
    return sum(
        float(np.sum(p[:, 0] * np.roll(p[:, 1], -1) - p[:, 1] * np.roll(p[:, 0], -1))) / 2 for p in loops
    )


def mesh_of(scene: Any, key: str) -> Mesh:
    return next(part.mesh for part in scene.parts if part.key == key)


def test_a_cut_box_shows_length_by_thickness(flat: Any) -> None:
    assert area(section(mesh_of(flat, "substrate"), 0.0)) == pytest.approx(500.0 * 18.0, rel=1e-12)
    assert area(section(mesh_of(flat, "platen"), 0.0)) == pytest.approx(580.0 * 16.0, rel=1e-12)


def test_a_cut_ends_where_the_part_ends(flat: Any) -> None:
    mesh = mesh_of(flat, "substrate")
    assert section(mesh, 159.999) != []
    assert section(mesh, 160.001) == []


def test_a_cut_bent_sheet_shows_the_area_of_its_chords(bent: Any) -> None:
    # 40 chords over 2.2 rad: each is a triangle of apex angle a, area r² sin(a) / 2
    scene, _ = bent
    low, a = 220.0 + 0.05 + 0.6 + 0.15, 2.2 / 40
    wanted = 40 * math.sin(a) / 2 * ((low + 3.0) ** 2 - low**2)
    assert area(section(mesh_of(scene, "ply 1"), 0.0)) == pytest.approx(wanted, rel=1e-9)


def test_thin_sheets_grow_and_thick_ones_only_move(flat: Any) -> None:
    grown = growth(flat, flat_uprights(flat))
    tall = {
        part.key: np.ptp((part.mesh.points + 9.0 * grown[part.key].moves)[:, 2])
        for part in flat.parts
        if part.key != "bag"
    }
    true = {part.key: np.ptp(part.mesh.points[:, 2]) for part in flat.parts}
    for key, height in tall.items():
        factor = 10.0 if true[key] <= 1.5 else 1.0
        assert height == pytest.approx(factor * true[key], rel=1e-9), key
    # the caul lies above two films, two glue lines, two veneers and a paper
    thin = 0.05 + 0.6 + 0.1 + 0.1 + 0.6 + 0.05 + 0.08
    assert grown["caul"].amounts == pytest.approx(thin)


def test_bent_sheets_grow_along_the_normal(bent: Any) -> None:
    scene, stands = bent
    grown = growth(scene, stands)
    foot = 220.0 * math.cos(1.1) - 30.0
    for key, high in (("inside veneer", 0.65), ("ply 1", 0.8)):
        points = mesh_of(scene, key).points + 4.0 * grown[key].moves
        radii = np.hypot(points[:, 0], points[:, 2] + foot)
        assert radii.max() == pytest.approx(220.0 + high + 4.0 * high + (3.0 if key == "ply 1" else 0.0))
    assert not grown["form"].moves.any()


def test_what_lies_beside_a_sheet_is_not_counted_twice(flat: Any) -> None:
    twin = [replace(part, key=part.key + " twin") for part in flat.parts]
    doubled = replace(flat, parts=(*flat.parts, *twin))
    once, twice = growth(flat, flat_uprights(flat)), growth(doubled, flat_uprights(doubled))
    assert all(np.array_equal(once[key].amounts, twice[key].amounts) for key in once)


@pytest.mark.parametrize("gap", [0.0, 6.0, 40.0])
@pytest.mark.parametrize("hollow", [False, True])
def test_the_last_painted_facet_is_the_nearest(bent: Any, gap: float, hollow: bool) -> None:
    """Painting over each other shows what a line of sight meets first, over a form and in one."""
    scene, _ = bent
    flip = np.array([1.0, 1.0, -1.0]) if hollow else np.ones(3)
    parts = [part for part in scene.parts if not (hollow and part.key == "form")]
    meshes = []
    for part in parts:
        order = part.mesh.triangles[:, ::-1] if hollow else part.mesh.triangles
        lift = (len(parts) - part.lift if hollow else part.lift) * gap
        meshes.append(replace(part.mesh, points=part.mesh.points * flip + [0.0, 0.0, lift], triangles=order))
    faces = [facet for place, mesh in enumerate(meshes) for facet in facets(place, mesh, CORNER)]
    painted = [faces[number] for number in painting_order(faces, set())]
    shapes = [Polygon(facet.loops[0]).buffer(0) for facet in painted]
    corners = [CORNER.see(mesh.points)[mesh.triangles] for mesh in meshes]
    random = np.random.default_rng(7)
    every = np.concatenate(corners).reshape(-1, 3)
    wrong = met = 0
    for u, v in random.uniform(every.min(axis=0)[:2], every.max(axis=0)[:2], (250, 2)):
        nearest = max(
            ((depth_at(block, u, v), place) for place, block in enumerate(corners)), default=(-np.inf, -1)
        )
        if nearest[0] == -np.inf:
            continue
        top = [
            facet.part for facet, shape in zip(painted, shapes, strict=True) if shape.contains(Point(u, v))
        ]
        met += 1
        wrong += not top or top[-1] != nearest[1]
    assert met > 80
    # a spot on the very rim of a sheet may fall to its neighbour
    assert wrong <= 0.02 * met


def depth_at(triangles: Any, u: float, v: float) -> float:
    """Nearest depth of triangles over one spot, or minus infinity: by barycentric shares."""
    a, b, c = triangles[:, 0], triangles[:, 1], triangles[:, 2]
    whole = (b[:, 0] - a[:, 0]) * (c[:, 1] - a[:, 1]) - (b[:, 1] - a[:, 1]) * (c[:, 0] - a[:, 0])
    with np.errstate(divide="ignore", invalid="ignore"):
        s = ((u - a[:, 0]) * (c[:, 1] - a[:, 1]) - (v - a[:, 1]) * (c[:, 0] - a[:, 0])) / whole
        t = ((b[:, 0] - a[:, 0]) * (v - a[:, 1]) - (b[:, 1] - a[:, 1]) * (u - a[:, 0])) / whole
    inside = (s >= 0) & (t >= 0) & (s + t <= 1)
    depth = a[:, 2] + s * (b[:, 2] - a[:, 2]) + t * (c[:, 2] - a[:, 2])
    return float(depth[inside].max()) if inside.any() else -np.inf


@given(
    st.lists(st.floats(0, 400), min_size=1, max_size=14).map(sorted),
    st.floats(400, 800),
)
def test_labels_keep_their_distance_and_their_order(wanted: list[float], high: float) -> None:
    step = 17.0
    places = apart(wanted, step, 8.5, high)
    assert all(b - a >= step - 1e-9 for a, b in itertools.pairwise(places))
    assert places[0] >= 8.5
    free = all(b - a >= step for a, b in itertools.pairwise(wanted))
    if free and wanted[0] >= 8.5 and wanted[-1] <= high:
        assert places == pytest.approx(wanted)


@given(st.floats(20, 300), st.floats(0.3, 6.0), st.integers(3, 80))
def test_drawn_curves_stay_close_to_their_points(radius: float, turn: float, count: int) -> None:
    angles = np.linspace(0.0, turn, count)
    points = radius * np.column_stack((np.cos(angles), np.sin(angles)))
    at, drawn = points[0], [points[0]]
    for control, end in pieces(points, 0.2, closed=False):
        share = np.linspace(0, 1, 200)[:, None]
        middle = 0.5 * (at + end) if control is None else control
        drawn += list(at * (1 - share) ** 2 + 2 * middle * share * (1 - share) + end * share**2)
        at = end
    assert np.array_equal(at, points[-1])
    gaps = np.linalg.norm(points[:, None] - np.array(drawn)[None], axis=2).min(axis=1)
    # 0.2 as asked, and half a step of the 200 along the longest piece
    assert gaps.max() <= 0.2 + radius * turn / 400


def test_the_packed_scene_gives_back_every_corner(bent: Any) -> None:
    scene, stands = bent
    data = pack(scene, {"ply 1": "5"}, stands)
    (length,) = struct.unpack("<I", data[:4])
    at = 4 + length

    def column(count: int, columns: int) -> Any:
        nonlocal at
        bytes_ = np.frombuffer(data, np.uint8, 4 * count, at).reshape(4, count).astype(np.int64)
        at += 4 * count
        twice = (bytes_ * np.array([[1], [1 << 8], [1 << 16], [1 << 24]])).sum(axis=0)
        signed = np.where(twice >= 1 << 31, twice - (1 << 32), twice)
        return np.cumsum(np.cumsum(signed.reshape(columns, -1), axis=1), axis=1).T

    heads = json.loads(data[4:at])
    faces: list[tuple[Any, Any]] = []
    for head in heads:
        if head["faces"] == len(faces):
            faces.append((column(head["triangles"], 3), column(head["creases"], 2)))
    count = sum(head["points"] for head in heads)
    points, amounts, normals = column(count, 3), column(count // 3, 1), column(count, 3)
    assert at == len(data)
    grown, start = growth(scene, stands), 0
    for part, head in zip(scene.parts, heads, strict=True):
        assert np.array_equal(faces[head["faces"]][0], part.mesh.triangles)
        assert np.array_equal(faces[head["faces"]][1], part.mesh.creases)
        own = slice(start, start + head["points"] // 3)
        start = own.stop
        # half a step of 0.002 mm
        assert np.abs(points[own] * 0.002 - part.mesh.points).max() <= 0.001 + 1e-9
        assert np.abs(amounts[own, 0] * 0.002 - grown[part.key].amounts).max() <= 0.001 + 1e-9
        assert np.abs(normals[own] * 0.002 - grown[part.key].normals).max() <= 0.001 + 1e-9
