"""The layers of a tapered job: blanks that roll back onto the panel's edge, areas, volumes and meshes that touch."""

import math
from functools import lru_cache
from itertools import pairwise

import numpy as np
import pytest

from underbag.app.document import document
from underbag.app.examine import examine
from underbag.app.read.layup_file import read_text
from underbag.model.errors import ShapeError
from underbag.model.plan import Plan, plan
from underbag.model.scene import layer_meshes
from underbag.model.shape.loop import Loop
from underbag.model.shape.mesh import Mesh
from underbag.model.shape.profile import Floats
from underbag.model.shape.taper import TaperedSheet
from underbag.model.tapered_blanks import tapered_outline
from underbag.model.template import templates

SHADE = '[panel]\nwidth = 260\n[bend]\nradius = 180\nangle = "150°"\n[taper]\nradius = 110\n'
JOBS = {
    "round cone": SHADE,
    "hollow cone": SHADE + '[press]\nlay = "concave"\n',
    "leaning cone": SHADE + "lift = 40\n",
    "form sizes": SHADE.replace("angle", 'curve = "form face"\nangle'),
    "ellipse": '[panel]\nwidth = 300\n[bend]\nshape = "ellipse"\nchord = 400\nrise = 90\n[taper]\nchord = 300\n',
    "crown and hollow": '[panel]\nwidth = 300\n[bend]\nchain = "straight 40, crown 180 through 50°, hollow 150 through 40°"\n'
    '[taper]\nchain = "straight 70, crown 240 through 50°, hollow 190 through 40°"\n',
}


@lru_cache(maxsize=16)
def job(name: str) -> Plan:
    return plan(read_text(JOBS[name]))


def pressed(plan: Plan) -> TaperedSheet:
    assert plan.taper is not None
    return plan.taper.states.pressed


def apart(points: Floats, loop: Loop) -> float:
    """Largest distance of points from an edge."""
    edge = loop.flattened(1e-3)
    ahead = np.roll(edge, -1, axis=0) - edge
    found = []
    for point in points:
        share = np.clip(((point - edge) * ahead).sum(axis=1) / (ahead**2).sum(axis=1), 0.0, 1.0)
        found.append(float(np.hypot(*(edge + share[:, None] * ahead - point).T).min()))
    return max(found)


def mesh_volume(mesh: Mesh) -> float:
    a, b, c = (mesh.points[mesh.triangles[:, corner]] for corner in range(3))
    return float((np.cross(a, b) * c).sum()) / 6.0


@pytest.mark.parametrize("name", JOBS)
def test_every_blank_rolled_back_lands_on_the_edge_of_its_layer(name: str) -> None:
    plan = job(name)
    sheet = pressed(plan)
    for layer in plan.stack.layers[::4]:
        points = layer.blank.edge.flattened(0.02)
        u, w = sheet.locate(points[:, 0], points[:, 1], layer.middle)
        # on the flat pattern of the surface that the curves lie on every layer's edge is a true offset of the panel's
        found = sheet.unroll(u, w, sheet.reference)
        assert apart(found, tapered_outline(layer).loops[0]) < 0.002
        # and pressed it lies over that very edge, square to the sheet
        over = sheet.place(u, w, layer.middle) - sheet.place(u, w, sheet.reference)
        assert np.linalg.norm(over, axis=1) == pytest.approx(
            np.full(u.size, abs(layer.middle - sheet.reference)), abs=1e-9
        )


@pytest.mark.parametrize("name", ["round cone", "leaning cone", "ellipse", "crown and hollow"])
def test_the_core_without_trim_ends_on_both_curves(name: str) -> None:
    found = plan(read_text(JOBS[name] + "[substrate]\ntrim = 0\n"))
    assert found.taper is not None
    core = next(layer for layer in found.stack.layers if layer.role == "substrate")
    sheet, released = pressed(found), found.taper.states.released
    points = core.blank.edge.flattened(0.02)
    u, w = sheet.locate(points[:, 0], points[:, 1], core.middle)
    off = np.minimum(np.abs(np.abs(w) - sheet.half_width(u)), np.abs(np.abs(u) - 0.5 * sheet.profile.length))
    # the promise is 0.05 mm; arcs keep within 1e-4 mm of an edge that is none
    assert off.max() < 1e-3
    # sprung open, these ends lie in the planes of both curves
    long = np.abs(np.abs(u) - 0.5 * sheet.profile.length) > 1.0
    y = released.place(u, w, released.reference)[long, 1]
    assert np.abs(y) == pytest.approx(np.full(y.size, 0.5 * released.width), abs=1e-3)


@pytest.mark.parametrize("name", ["round cone", "leaning cone", "ellipse"])
def test_a_margin_is_square_to_the_edge_all_round(name: str) -> None:
    plan = job(name)
    sheet = pressed(plan)
    core = next(layer for layer in plan.stack.layers if layer.role == "substrate")
    face = next(layer for layer in plan.stack.layers if layer.role == "veneer")
    inner, outer = (tapered_outline(layer) for layer in (core, face))
    step = outer.margin - inner.margin
    assert step > 0.0
    edge = inner.loops[0].flattened(0.01)
    for point in outer.loops[0].flattened(0.01)[::5]:
        away = np.hypot(*(edge - point).T).min()
        # sharp corners lie farther out, by the square's diagonal where the corner is square
        assert away > step - 1e-3
        assert away < step * 2.0
    # area by Steiner's formula: edge times margin, and what the corners add
    grown = outer.loops[0].area - inner.loops[0].area
    assert grown == pytest.approx(step * inner.loops[0].length, abs=6.0 * step**2 + 5.0)
    assert outer.sheet == sheet


@pytest.mark.parametrize("name", JOBS)
def test_area_grows_by_the_turn_of_the_normal(name: str) -> None:
    """A(d) = A + d·∫θ′·(length of the ruling) du: what the metric of the sheet says, integrated apart."""
    plan = job(name)
    sheet = pressed(plan)
    layers = [layer for layer in plan.stack.layers if layer.role == "veneer"]
    for layer in layers:
        outline = tapered_outline(layer)
        breaks = np.concatenate((outline.ends[:1], sheet.breaks(), outline.ends[1:]))
        places = [np.linspace(a, b, 400, endpoint=False) + (b - a) / 800.0 for a, b in pairwise(breaks)]
        u = np.concatenate(places)
        step = np.repeat(np.diff(breaks) / 400.0, 400)
        near, far = outline.bounds(u)
        rates = sheet.rates(u)
        d = layer.middle - sheet.reference
        area = float(
            ((rates.g + d * rates.theta) * (far - near) + 0.5 * rates.phi * (far**2 - near**2)) @ step
        )
        # midpoint sums of 400 steps: the square of the step
        assert layer.blank.area == pytest.approx(area, rel=2e-6)


def test_the_blanks_of_a_cone_have_true_arcs_and_can_be_struck() -> None:
    plan = job("round cone")
    sheet = pressed(plan)
    assert sheet.cone is not None
    angles = set()
    for layer in plan.stack.layers:
        sector = layer.blank.sector
        assert sector is not None
        angles.add(round(sector.angle, 12))
        corners = np.array(layer.blank.edge.corners)
        bulged = corners[corners[:, 2] != 0.0]
        assert len(bulged) == 2
        assert np.abs(4.0 * np.arctan(bulged[:, 2])) == pytest.approx(np.full(2, sector.angle), abs=1e-9)
        assert layer.blank.area == pytest.approx(sector.area, rel=1e-9)
        assert (layer.blank.length, layer.blank.width) == pytest.approx(sector.box, abs=1e-7)
        # the flat sheet of a layer at d over the cone has radii larger by d over the tangent of the half angle
        d = layer.middle - sheet.reference
        margin = tapered_outline(layer).margin
        grown = d / math.tan(sheet.cone.half_angle)
        one, other = (
            radius / math.sin(sheet.cone.half_angle) for radius in (sheet.cone.near, sheet.cone.far)
        )
        assert sector.outer == pytest.approx(max(one, other) + grown + margin, rel=1e-12)
        assert sector.inner == pytest.approx(min(one, other) + grown - margin, rel=1e-12)
    assert len(angles) == 1


def test_past_half_a_round_in_the_flat_a_blank_is_longer_than_its_chord() -> None:
    # a steep cone of 220° around its axis lies flat as a sector of more than 180°
    found = plan(
        read_text('[panel]\nwidth = 60\n[bend]\nradius = 300\nangle = "220°"\n[taper]\nradius = 180\n')
    )
    for layer in found.stack.layers:
        sector = layer.blank.sector
        assert sector is not None
        assert sector.angle > math.pi
        points = layer.blank.edge.flattened(0.001)
        box = np.ptp(points, axis=0)
        # points of the arc fall short of it by the tolerance that they are taken at
        assert (layer.blank.length, layer.blank.width) == pytest.approx(tuple(box), abs=3e-3)
        assert layer.blank.length == pytest.approx(sector.box[0], abs=1e-7)
        assert layer.blank.length > sector.chord + 1.0


def test_a_form_that_would_reach_the_point_of_the_cone_is_refused() -> None:
    # the point lies 38 mm past the far end; the form ends 40 mm and more past the panel in its plane
    with pytest.raises(ShapeError, match=r"rulings would meet 79\.7 mm past the far curve"):
        plan(read_text('[panel]\nwidth = 60\n[bend]\nradius = 180\nangle = "220°"\n[taper]\nradius = 70\n'))


def test_programs_read_how_a_blank_is_struck() -> None:
    told = document(examine(read_text(JOBS["round cone"])))
    for layer, row in zip(job("round cone").stack.layers, told["layers"], strict=True):
        sector, found = layer.blank.sector, row["blank"]["sector"]
        assert sector is not None
        # area of a ring's part and of the two strips beside it, from what is told alone
        deep = found["outer_radius"] - found["inner_radius"]
        middle = 0.5 * (found["outer_radius"] + found["inner_radius"])
        assert (found["angle"] * middle + 2.0 * found["beside"]) * deep == pytest.approx(
            layer.blank.area, rel=1e-9
        )
        assert found["chord"] < row["blank"]["length"] + 1e-6
    told = document(examine(read_text(JOBS["ellipse"])))
    assert [row["blank"]["sector"] for row in told["layers"]] == [None] * len(told["layers"])


@pytest.mark.parametrize("name", JOBS)
def test_layers_are_closed_and_touch(name: str) -> None:
    plan = job(name)
    meshes = layer_meshes(plan)
    for layer, mesh in zip(plan.stack.layers, meshes, strict=True):
        edges = np.concatenate([mesh.triangles[:, pair] for pair in ((0, 1), (1, 2), (2, 0))])
        forward = {tuple(edge) for edge in edges.tolist()}
        assert len(forward) == len(edges)
        assert {edge[::-1] for edge in forward} == forward
        # chords within 0.05 mm of layers at least 0.05 mm thick; both faces lose nearly the same
        assert mesh_volume(mesh) == pytest.approx(layer.volume, rel=2e-3)
    for lower, upper, below, above in zip(
        meshes[:-1], meshes[1:], plan.stack.layers[:-1], plan.stack.layers[1:], strict=True
    ):
        if tapered_outline(below).margin != tapered_outline(above).margin:
            continue
        half = len(lower.points) // 2
        assert lower.points[half:] == pytest.approx(upper.points[:half], abs=1e-9)


@pytest.mark.parametrize("name", ["round cone", "ellipse"])
def test_templates_are_the_blanks_with_their_rulings(name: str) -> None:
    plan = job(name)
    found = {template.key: template for template in templates(plan) if not template.key.startswith("form")}
    for layer in plan.stack.layers:
        if layer.key not in found:
            continue
        template = found[layer.key]
        assert template.outline == layer.blank.edge
        # the middle ruling lies along y = x-axis's middle
        assert any(abs(mark.start[0]) < 1e-9 and abs(mark.end[0]) < 1e-9 for mark in template.marks)
