"""Outlines for cutting machines, as ezdxf reads them back, and 3MF packages, as an XML parser and trimesh read them."""

import io
import math
import zipfile
from functools import cache
from typing import Any
from xml.etree import ElementTree

import numpy as np
import pytest
import trimesh
from ezdxf import path as dxf_path
from ezdxf.filemanagement import read as read_dxf
from shapely import Polygon

from underbag.export.outline_dxf import outline_dxf
from underbag.export.threemf import CORE, threemf
from underbag.model.layup.settle import settle
from underbag.model.plan import Plan, plan
from underbag.model.scene import Scene, scene
from underbag.model.shape.loop import FINE
from underbag.model.template import Template, templates

FLAT = {"panel": {"length": 420.0, "width": 300.0}}
JOBS: dict[str, Any] = {
    "flat": FLAT,
    "rounded": {"panel": FLAT["panel"] | {"outline": "rounded rectangle", "corner": 40.0}},
    "oval": {"panel": FLAT["panel"] | {"outline": "ellipse"}},
    "crown of ribs": {
        "panel": {"width": 150.0},
        "bend": {"chord": 600.0, "rise": 60.0},
        "form": {"build": "ribs"},
    },
    "half round of sheets": {
        "panel": {"width": 95.0},
        "bend": {"radius": 340.0, "angle": math.pi, "show_face": "inside"},
    },
}


@cache
def planned(name: str) -> Plan:
    return plan(settle(JOBS[name], title='A "test" & more'))


@cache
def drawing(template: Template) -> Any:
    return read_dxf(io.StringIO(outline_dxf(template).decode()))


def polylines(template: Template) -> list[Any]:
    return [one for one in drawing(template).modelspace() if one.dxftype() == "LWPOLYLINE"]


def area(polyline: Any) -> float:
    """Area as the library sees it: it makes Bézier curves of arcs, good to a few hundred-thousandths."""
    points = [(p.x, p.y) for p in dxf_path.make_path(polyline).flattening(1e-4)]
    return float(Polygon(points).area)


@pytest.mark.parametrize("name", JOBS)
def test_every_outline_is_closed_and_on_the_layer_of_cuts(name: str) -> None:
    for template in templates(planned(name)):
        doc = drawing(template)
        assert doc.header["$INSUNITS"] == 4  # millimetres, DXF reference
        assert {one.dxf.layer for one in doc.modelspace()} <= {"CUT", "MARK", "TEXT"}
        kinds = {one.dxf.layer: set() for one in doc.modelspace()}
        for one in doc.modelspace():
            kinds[one.dxf.layer].add(one.dxftype())
        assert kinds["CUT"] == {"LWPOLYLINE"}
        assert kinds["TEXT"] == {"TEXT"}
        assert all(one.closed and one.dxf.layer == "CUT" for one in polylines(template))
        assert len(polylines(template)) == 1 + len(template.holes)


@pytest.mark.parametrize("name", JOBS)
def test_outlines_have_the_areas_of_the_blanks(name: str) -> None:
    found = planned(name)
    by_key = {template.key: template for template in templates(found)}
    for layer in found.stack.layers:
        if layer.key in by_key:
            outer, *_ = polylines(by_key[layer.key])
            # chords of an oval sag within FINE: by less than the edge's length times that
            assert area(outer) == pytest.approx(layer.blank.area, abs=2000.0 * FINE)
    wanted = sum(layer.blank.quantity for layer in found.stack.layers if layer.role != "adhesive")
    layers = sum(one.quantity for one in by_key.values() if found.stack.find(one.key) is not None)
    assert layers == wanted


def test_holes_and_arcs_of_a_rib_are_true_arcs() -> None:
    found = planned("crown of ribs")
    assert found.form is not None
    assert found.form.ribs is not None
    rib = next(one for one in templates(found) if one.key == "form-rib")
    outer, *holes = polylines(rib)
    bulges = [b for *_, b in outer.get_points("xyb") if b]
    # the edge of one arc is one arc: tan of a quarter of the turn, clockwise over a crown
    assert bulges == [pytest.approx(-math.tan(0.25 * found.stack.sheet.profile.turn), rel=1e-9)]
    assert all([b for *_, b in hole.get_points("xyb")] == [1.0, 1.0] for hole in holes)
    wood = area(outer) - sum(area(hole) for hole in holes)
    assert wood * rib.thickness == pytest.approx(found.form.ribs.rib.volume, rel=1e-4)
    assert rib.quantity == found.form.ribs.bays + 1


def test_rounded_corners_of_a_flat_blank_are_true_arcs() -> None:
    face = next(one for one in templates(planned("rounded")) if one.key == "substrate")
    (outer,) = polylines(face)
    # a quarter of a circle: tan(90°/4)
    assert [b for *_, b in outer.get_points("xyb") if b] == [pytest.approx(math.tan(math.pi / 8.0))] * 4
    # 420 × 300 less four corner wastes of radius 40
    assert area(outer) == pytest.approx(420.0 * 300.0 - (4.0 - math.pi) * 1600.0, rel=1e-4)


def test_blanks_of_a_bend_carry_the_lines_at_which_it_begins_and_ends() -> None:
    found = planned("crown of ribs")
    sheet = found.stack.sheet
    half = 0.5 * sheet.profile.length
    core = found.stack.find("substrate-3")
    assert core is not None
    template = next(one for one in templates(found) if one.key == "substrate-3")
    marks = [one for one in drawing(template).modelspace() if one.dxf.layer == "MARK"]
    upright = sorted(line.dxf.start.x for line in marks if abs(line.dxf.start.x - line.dxf.end.x) < 1e-9)
    # textbook: the arc's own length at the layer's middle, half of it on each side
    at = half + (core.middle - sheet.reference) * 0.5 * sheet.profile.turn
    assert upright[0] == pytest.approx(-at, rel=1e-9)
    assert upright[-1] == pytest.approx(at, rel=1e-9)


def test_the_same_blank_gives_the_same_bytes() -> None:
    one, *_ = templates(planned("oval"))
    assert outline_dxf(one) == outline_dxf(one)


@cache
def shown(name: str) -> Scene:
    return scene(planned(name))


@pytest.mark.parametrize("name", ["flat", "crown of ribs"])
def test_a_package_keeps_the_rules_of_the_core_specification(name: str) -> None:
    """3MF Core Specification 1.3 (from memory): container, namespace, unit, unique ids, closed oriented meshes."""
    with zipfile.ZipFile(io.BytesIO(threemf(shown(name)))) as package:
        assert package.namelist()[0] == "[Content_Types].xml"
        types = package.read("[Content_Types].xml").decode()
        assert "application/vnd.ms-package.3dmanufacturing-3dmodel+xml" in types
        (start,) = ElementTree.fromstring(package.read("_rels/.rels"))
        assert start.get("Type") == "http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"
        model = ElementTree.fromstring(package.read(str(start.get("Target")).lstrip("/")))
    space = {"m": CORE}
    assert model.get("unit") == "millimeter"
    objects = model.findall(".//m:object", space)
    ids = [one.get("id") for one in (*model.findall(".//m:basematerials", space), *objects)]
    assert len(set(ids)) == len(ids)
    assert [item.get("objectid") for item in model.findall(".//m:item", space)] == ids[1:]
    names = [one.get("name") for one in objects]
    assert len(set(names)) == len(names)
    move = str(model.findall(".//m:item", space)[0].get("transform")).split()
    for part, one in zip(shown(name).parts, objects, strict=True):
        points = np.array([[float(v.get(k)) for k in "xyz"] for v in one.iter(f"{{{CORE}}}vertex")])
        corners = np.array(
            [[int(t.get(k)) for k in ("v1", "v2", "v3")] for t in one.iter(f"{{{CORE}}}triangle")]
        )
        assert (points + np.array([float(value) for value in move[9:]]) >= -1e-6).all()
        edges = np.concatenate([corners[:, [0, 1]], corners[:, [1, 2]], corners[:, [2, 0]]])
        pairs = {tuple(edge) for edge in edges.tolist()}
        # each edge once each way: closed, and wound alike
        assert len(pairs) == len(edges)
        assert all((b, a) in pairs for a, b in pairs)
        volume = (
            float(
                np.einsum(
                    "ij,ij->i", points[corners[:, 0]], np.cross(points[corners[:, 1]], points[corners[:, 2]])
                ).sum()
            )
            / 6.0
        )
        assert volume > 0.0
        assert np.abs(points - part.mesh.points).max() < 1e-6
    colours = [one.get("displaycolor") for one in model.findall(".//m:base", space)]
    first = shown(name).parts[0]
    assert str(colours[0]).startswith("#{:02X}{:02X}{:02X}".format(*first.colour))


def test_trimesh_reads_the_package_with_its_names_and_unit() -> None:
    found = shown("crown of ribs")
    read = trimesh.load(io.BytesIO(threemf(found)), file_type="3mf")
    assert read.units == "millimeter"
    assert len(read.geometry) == len(found.parts)
    rib = next(mesh for name, mesh in read.geometry.items() if name.startswith("form rib 1"))
    part = next(part for part in found.parts if part.key == "form-rib-1")
    assert rib.is_watertight
    mesh = trimesh.Trimesh(part.mesh.points, part.mesh.triangles)
    assert rib.volume == pytest.approx(mesh.volume, rel=1e-9)


def test_the_same_scene_gives_the_same_package() -> None:
    assert threemf(shown("flat")) == threemf(shown("flat"))
