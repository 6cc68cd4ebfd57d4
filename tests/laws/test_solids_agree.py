"""The kernel's solids and the model's numbers are two ways to one geometry: they have to agree.

The referee is the CAD kernel itself: its checker, and its areas, lengths and volumes by adaptive integration.
"""

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

import numpy as np
import pytest

from underbag.export.kernel import Solid
from underbag.export.shapes import is_valid
from underbag.export.solids import NamedSolid, lying, solids
from underbag.model.bag.drape import CHORD, drape, valve_disc
from underbag.model.bag.drape_mesh import lower_film_mesh, upper_film_mesh, valve_mesh
from underbag.model.base import DRAWN_CHORD
from underbag.model.layup.settle import settle
from underbag.model.plan import Plan, plan
from underbag.model.scene import TOLERANCE as SCENE_TOLERANCE
from underbag.model.scene import scene
from underbag.model.shape.mesh import Mesh
from underbag.model.shape.plate import plate
from underbag.model.shape.slab import slab, stations
from underbag.model.stack import Layer

TOLERANCE = 0.02
"""Chordal tolerance of the meshes here, mm."""

FEW = {"laminations": 2, "thickness": 3.0}
ARC = {"chord": 600.0, "rise": 60.0}
FLAT: dict[str, Any] = {
    "rectangle": {"panel": {"length": 420.0, "width": 300.0}},
    "rounded": {"panel": {"length": 420.0, "width": 300.0, "outline": "rounded rectangle"}},
    "ellipse": {"panel": {"length": 420.0, "width": 300.0, "outline": "ellipse"}},
    "tall ellipse": {
        "panel": {"length": 200.0, "width": 300.0, "outline": "ellipse"},
        "platen": {"material": "none"},
    },
    "hexagon": {"panel": {"sides": 6, "width": 300.0, "fillet": 20.0}},
    "superellipse": {"panel": {"length": 420.0, "width": 300.0, "exponent": 2.5}},
    # an inside corner that closes as the veneer grows, and a needle whose tip is cut square
    "bay": {
        "panel": {
            "corners": ((0.0, 0.0), (600.0, 40.0), (250.0, 90.0), (260.0, 300.0), (0.0, 300.0)),
            "fillet": 8.0,
        }
    },
}
BENT: dict[str, Any] = {
    "arc": {"panel": {"width": 150.0}, "bend": ARC, "substrate": FEW},
    "concave": {"panel": {"width": 150.0}, "bend": {**ARC, "show_face": "inside"}, "substrate": FEW},
    # a form of exactly the half round, which springback would carry past it
    "half round": {
        "panel": {"width": 150.0},
        "bend": {"radius": 200.0, "angle": math.pi},
        "substrate": FEW,
        "form": {"springback": 0.0},
    },
    "past the half round": {
        "panel": {"width": 150.0},
        "bend": {"radius": 200.0, "angle": 4.0},
        "substrate": FEW,
    },
}


@dataclass(frozen=True, slots=True)
class Built:
    """A plan with its solids, and the solids of its layers by key."""

    plan: Plan
    parts: tuple[NamedSolid, ...]

    def pairs(self) -> Iterator[tuple[Layer, Solid]]:
        """Each layer with its solid, from below."""
        found = {part.key: part.solid for part in self.parts}
        return ((layer, found[layer.key]) for layer in lying(self.plan).layers)


@pytest.fixture(scope="module")
def built() -> dict[str, Built]:
    plans = {name: plan(settle(asked)) for name, asked in (FLAT | BENT).items()}
    return {name: Built(made, solids(made)) for name, made in plans.items()}


def volume(solid: Solid) -> float:
    from OCP.BRepGProp import BRepGProp
    from OCP.GProp import GProp_GProps

    properties = GProp_GProps()
    BRepGProp.VolumePropertiesGK_s(solid, properties, 1e-10)
    return float(properties.Mass())


def area(face: Any) -> float:
    from OCP.BRepGProp import BRepGProp
    from OCP.GProp import GProp_GProps

    properties = GProp_GProps()
    BRepGProp.SurfaceProperties_s(face, properties, 1e-10)
    return float(properties.Mass())


def length(edge: Any) -> float:
    from OCP.BRepGProp import BRepGProp
    from OCP.GProp import GProp_GProps

    properties = GProp_GProps()
    BRepGProp.LinearProperties_s(edge, properties)
    return float(properties.Mass())


def parts_of(shape: Any, kind: str) -> list[Any]:
    """Faces or edges of a shape, each once."""
    from OCP.TopAbs import TopAbs_ShapeEnum
    from OCP.TopExp import TopExp
    from OCP.TopoDS import TopoDS
    from OCP.TopTools import TopTools_IndexedMapOfShape

    found = TopTools_IndexedMapOfShape()
    TopExp.MapShapes_s(shape, getattr(TopAbs_ShapeEnum, f"TopAbs_{kind.upper()}"), found)
    as_kind = getattr(TopoDS, f"{kind.capitalize()}_s")
    return [as_kind(found.FindKey(number)) for number in range(1, found.Extent() + 1)]


def planes(solid: Solid) -> list[tuple[Any, np.ndarray, float]]:
    """Plane faces with their normal (sign open) and its distance from the origin along it."""
    from OCP.BRepAdaptor import BRepAdaptor_Surface
    from OCP.GeomAbs import GeomAbs_SurfaceType

    found = []
    for face in parts_of(solid, "face"):
        surface = BRepAdaptor_Surface(face)
        if surface.GetType() == GeomAbs_SurfaceType.GeomAbs_Plane:
            a, b, c, d = surface.Plane().Coefficients()
            found.append((face, np.array([a, b, c]), float(d)))
    return found


def cylinders(solid: Solid) -> set[tuple[float, float, float]]:
    """Axis (x, z) and radius of the round faces around the y direction, as the kernel holds them."""
    from OCP.BRepAdaptor import BRepAdaptor_Surface
    from OCP.GeomAbs import GeomAbs_SurfaceType

    found = set()
    for face in parts_of(solid, "face"):
        surface = BRepAdaptor_Surface(face)
        if surface.GetType() == GeomAbs_SurfaceType.GeomAbs_Cylinder:
            axis, radius = surface.Cylinder().Axis().Location(), surface.Cylinder().Radius()
            found.add((axis.X(), axis.Z(), radius))
    return found


def end_face(solid: Solid) -> Any:
    """One of the two faces square to the y direction."""
    return next(face for face, normal, _ in planes(solid) if abs(normal[1]) > 0.5)


def mesh_volume(mesh: Mesh) -> float:
    """Volume by the divergence theorem."""
    a, b, c = mesh.points[mesh.triangles].transpose(1, 0, 2)
    return float(np.sum(a * np.cross(b, c)) / 6.0)


@pytest.mark.parametrize("name", FLAT | BENT)
def test_every_solid_is_valid(built: dict[str, Built], name: str) -> None:
    assert [part.name for part in built[name].parts if not is_valid(part.solid)] == []


@pytest.mark.parametrize("name", FLAT | BENT)
def test_each_layer_has_the_volume_of_the_model(built: dict[str, Built], name: str) -> None:
    for layer, solid in built[name].pairs():
        # 1e-9: the spline along an offset ellipse keeps within 1e-7 mm of it
        assert volume(solid) == pytest.approx(layer.volume, rel=1e-9), layer.key


@pytest.mark.parametrize("name", BENT)
def test_end_area_times_width_is_the_volume(built: dict[str, Built], name: str) -> None:
    for layer, solid in built[name].pairs():
        assert area(end_face(solid)) * layer.outline.width == pytest.approx(layer.volume, rel=1e-8), layer.key


@pytest.mark.parametrize("name", FLAT)
def test_face_area_times_thickness_is_the_volume(built: dict[str, Built], name: str) -> None:
    for layer, solid in built[name].pairs():
        lying = [area(face) for face, normal, _ in planes(solid) if abs(normal[2]) > 0.5]
        assert len(lying) == 2, layer.key
        for one in lying:
            assert one * layer.thickness == pytest.approx(layer.volume, rel=1e-8), layer.key


@pytest.mark.parametrize("name", BENT)
def test_each_side_is_longer_by_its_height_times_the_turn(built: dict[str, Built], name: str) -> None:
    """L + d·Δθ: the round faces turn by the whole angle of the bend, and the rest of a side is straight."""
    made = built[name].plan
    bend = made.layup.bend
    assert bend is not None
    assert made.spring is not None
    turn = bend.angle / (1.0 - made.spring.used)
    sign = 1.0 if made.layup.press.lay == "convex" else -1.0
    for layer, solid in built[name].pairs():
        # the end face is bounded by the two sides of the layer and by two edges as long as it is thick
        sides = sum(length(edge) for edge in parts_of(end_face(solid), "edge")) - 2.0 * layer.thickness
        expected = sum(
            layer.outline.length + sign * turn * (height - made.stack.sheet.reference)
            for height in (layer.height, layer.top)
        )
        assert sides == pytest.approx(expected, rel=1e-9), layer.key
        assert layer.blank.length == pytest.approx(0.5 * expected, rel=1e-12), layer.key


@pytest.mark.parametrize("name", BENT)
def test_neighbours_share_one_surface(built: dict[str, Built], name: str) -> None:
    found = [cylinders(solid) for _, solid in built[name].pairs()]
    assert all(len(both) == 2 for both in found)
    assert len({(x, z) for both in found for x, z, _ in both}) == 1
    for lower, upper in pairwise(found):
        assert len(lower & upper) == 1
    radii = [next(iter(lower & upper))[2] for lower, upper in pairwise(found)]
    turned = radii[0] < radii[-1]
    assert radii == sorted(radii, reverse=not turned)


def test_the_form_shares_its_face_with_the_lowest_layer(built: dict[str, Built]) -> None:
    for name in ("arc", "concave", "half round"):
        form = next(part.solid for part in built[name].parts if part.key == "form")
        _, lowest = next(built[name].pairs())
        assert len(cylinders(form) & cylinders(lowest)) == 1
        assert len(cylinders(form)) == 1


@pytest.mark.parametrize("name", ["rectangle", "ellipse", "arc", "concave", "half round"])
def test_the_union_is_as_large_as_the_sum(
    fused: Callable[[list[Solid]], Solid], built: dict[str, Built], name: str
) -> None:
    """Nothing overlaps anything: every part of the assembly, glued into one."""
    bodies = [part.solid for part in built[name].parts]
    total = sum(volume(body) for body in bodies)
    assert volume(fused(bodies)) == pytest.approx(total, rel=1e-9)


@pytest.mark.parametrize("name", FLAT | BENT)
def test_meshes_are_as_large_as_the_solids_within_the_tolerance(built: dict[str, Built], name: str) -> None:
    made = built[name].plan
    sheet = made.stack.sheet
    for layer, solid in built[name].pairs():
        if made.layup.bend is None:
            mesh = plate(sheet, layer.outline, layer.height, layer.top, TOLERANCE)
            # chords lie inside a convex edge, by the tolerance at the most
            rel = TOLERANCE * layer.outline.perimeter / layer.outline.area
        else:
            t, half = stations(sheet, layer.outline, made.stack.height, TOLERANCE)
            mesh = slab(sheet, t, half, layer.height, layer.top)
            # a chord of sagitta s on the radius R turns by a with a² = 8·s/R; the sector loses a²/6 of itself
            radius = min(radius for _, _, radius in cylinders(solid))
            rel = 8.0 * TOLERANCE / radius / 6.0
        whole = volume(solid)
        # in a bay they lie outside
        past = rel if name == "bay" else 1e-9
        assert (1.0 - rel) * whole - 1e-6 <= mesh_volume(mesh) <= (1.0 + past) * whole, layer.key


@pytest.mark.parametrize("name", [name for name in FLAT | BENT if name != "past the half round"])
def test_film_and_valve_are_the_same_in_solid_and_mesh(built: dict[str, Built], name: str) -> None:
    made = built[name].plan
    found = {part.key: part.solid for part in built[name].parts}
    film = drape(made.stack, made.base, made.bag, made.valve, made.layup.bag.thickness)
    disc = valve_disc(film, made.stack, made.bag, made.valve)
    assert mesh_volume(upper_film_mesh(film)) == pytest.approx(volume(found["upper-film"]), rel=1e-9)
    assert mesh_volume(lower_film_mesh(film)) == pytest.approx(volume(found["lower-film"]), rel=1e-9)
    valve, mesh = volume(found["valve"]), mesh_volume(valve_mesh(disc, TOLERANCE))
    assert (1.0 - 2.0 * TOLERANCE / disc.radius) * valve <= mesh <= valve


@pytest.mark.parametrize("name", ["rectangle", "ellipse", "arc", "concave", "half round"])
def test_platen_and_form_are_the_same_in_solid_and_scene(built: dict[str, Built], name: str) -> None:
    made = built[name].plan
    solid = next(part.solid for part in built[name].parts if part.key == made.base.kind)
    mesh = next(part.mesh for part in scene(made).parts if part.key == made.base.kind)
    outline = made.base.outline
    if made.base.kind == "platen":
        bound = SCENE_TOLERANCE * outline.perimeter * made.base.lowest
    else:
        # a chord of sagitta s cuts off two thirds of s times its length
        bound = 2.0 / 3.0 * DRAWN_CHORD * outline.length * outline.width
    assert mesh_volume(mesh) == pytest.approx(volume(solid), abs=bound, rel=1e-9)


@pytest.mark.parametrize("name", ["rectangle", "arc", "concave", "half round"])
def test_the_film_stands_off_the_work_by_its_chord(built: dict[str, Built], name: str) -> None:
    """The film touches only the other film and the valve; it nowhere cuts into the layup."""
    from OCP.BRepExtrema import BRepExtrema_DistShapeShape

    found = {part.key: part.solid for part in built[name].parts}
    film = found.pop("upper-film")
    for key in (built[name].plan.base.kind, "face", "breather"):
        assert BRepExtrema_DistShapeShape(film, found[key]).Value() > 0.0, key
    # 1e-3: corners of the hull that near to each other are joined
    assert BRepExtrema_DistShapeShape(film, found["breather"]).Value() <= CHORD + 1e-3


def test_past_the_half_round_neither_form_nor_bag_is_designed(built: dict[str, Built]) -> None:
    keys = [part.key for part in built["past the half round"].parts]
    assert keys == [layer.key for layer in built["past the half round"].plan.stack.layers]


@pytest.mark.parametrize("name", FLAT | BENT)
def test_names_tell_the_parts_apart(built: dict[str, Built], name: str) -> None:
    names = [part.name for part in built[name].parts]
    assert len(set(names)) == len(names)
    assert all(" · " in one for one in names if one != "valve, schematic")
