"""Solids of tapered layers: valid, as large as the model says, touching all over, and read again whole.

The referee is the CAD kernel: its checker, its volumes by adaptive integration, its union and its STEP reader.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from underbag.app.read.layup_file import read_text
from underbag.export.kernel import Solid
from underbag.export.shapes import is_valid
from underbag.export.solids import NamedSolid, bodies
from underbag.export.step import step_of
from underbag.export.taper_work import taper_work
from underbag.export.tapered import tapered_bodies
from underbag.model.plan import Plan, plan
from underbag.model.scene import scene

THICK = '[substrate]\nmaterial = "birch plywood"\nthickness = 3\nlaminations = 2\n'
SHADE = '[panel]\nwidth = 260\n[bend]\nradius = 180\nangle = "150°"\n[taper]\nradius = 110\n'
ROUND = ("round cone", "past the half round")
JOBS = {
    "round cone": SHADE + THICK,
    "past the half round": SHADE.replace("150", "220") + THICK,
    "leaning cone": SHADE + "lift = 40\n" + THICK,
    "crown and hollow": '[panel]\nwidth = 300\n[bend]\nchain = "straight 40, crown 180 through 50°, hollow 150 through 40°"\n'
    '[taper]\nchain = "straight 70, crown 240 through 50°, hollow 190 through 40°"\n' + THICK,
}


@dataclass(frozen=True, slots=True)
class Built:
    """A plan with the solids of its layers."""

    plan: Plan
    bodies: list[Solid]


@pytest.fixture(scope="module")
def built() -> dict[str, Built]:
    found = {}
    for name, text in JOBS.items():
        made = plan(read_text(text))
        assert made.taper is not None
        found[name] = Built(made, tapered_bodies(made.stack.layers, taper_work(made, made.taper)))
    return found


def volume(solid: Solid, accuracy: float = 1e-7) -> float:
    from OCP.BRepGProp import BRepGProp
    from OCP.GProp import GProp_GProps

    properties = GProp_GProps()
    BRepGProp.VolumePropertiesGK_s(solid, properties, accuracy)
    return float(properties.Mass())


def kinds(solid: Solid) -> list[str]:
    """What kinds of surface the faces of a solid have."""
    from OCP.BRepAdaptor import BRepAdaptor_Surface
    from OCP.TopAbs import TopAbs_ShapeEnum
    from OCP.TopExp import TopExp_Explorer
    from OCP.TopoDS import TopoDS

    explorer = TopExp_Explorer(solid, TopAbs_ShapeEnum.TopAbs_FACE)
    found = []
    while explorer.More():
        kind = BRepAdaptor_Surface(TopoDS.Face_s(explorer.Current())).GetType()
        found.append(str(kind).rsplit("_", 1)[-1])
        explorer.Next()
    return sorted(found)


@pytest.mark.parametrize("name", JOBS)
def test_every_solid_is_valid(built: dict[str, Built], name: str) -> None:
    made = built[name]
    layers = made.plan.stack.layers
    assert [layer.key for layer, body in zip(layers, made.bodies, strict=True) if not is_valid(body)] == []


@pytest.mark.parametrize("name", JOBS)
def test_thickness_times_blank_is_the_volume(built: dict[str, Built], name: str) -> None:
    """The area of a developable layer changes evenly with its height: that at mid-thickness is the mean."""
    made = built[name]
    # the kernel takes seconds for one solid along splines
    every = 1 if name in ROUND else 5
    # cones are exact, splines keep within 1e-6 mm on both faces alike; 1e-5 is the promise
    close = 1e-11 if name in ROUND else 1e-7
    for layer, body in list(zip(made.plan.stack.layers, made.bodies, strict=True))[::every]:
        assert volume(body) == pytest.approx(layer.volume, rel=close), layer.key


@pytest.mark.parametrize("name", ROUND)
def test_round_cones_are_cones_of_the_kernel(built: dict[str, Built], name: str) -> None:
    # both faces and both curved sides; margins and ends are flat
    for layer, body in zip(built[name].plan.stack.layers, built[name].bodies, strict=True):
        assert kinds(body).count("Cone") == 4, layer.key
        assert set(kinds(body)) == {"Cone", "Plane"}, layer.key


@pytest.mark.parametrize("name", ["round cone", "crown and hollow"])
def test_the_union_is_as_large_as_the_sum(
    fused: Callable[[list[Solid]], Solid], built: dict[str, Built], name: str
) -> None:
    bodies = built[name].bodies if name in ROUND else built[name].bodies[4:6]
    total = math.fsum(volume(body) for body in bodies)
    # of splines the kernel's own tolerance for touching faces, 1e-6 mm, over layers of 0.1 mm
    assert volume(fused(bodies)) == pytest.approx(total, rel=1e-9 if name in ROUND else 1e-6)


@pytest.mark.parametrize("name", ["round cone", "crown and hollow"])
def test_step_reads_back_whole(built: dict[str, Built], name: str, tmp_path: Path) -> None:
    from OCP.IFSelect import IFSelect_ReturnStatus
    from OCP.STEPControl import STEPControl_Reader
    from OCP.TopAbs import TopAbs_ShapeEnum
    from OCP.TopExp import TopExp_Explorer

    made = built[name]
    picked = list(zip(made.plan.stack.layers, made.bodies, strict=True))[::4]
    parts = tuple(
        NamedSolid(key=layer.key, name=layer.name, colour=(180, 120, 60), translucent=False, solid=body)
        for layer, body in picked
    )
    path = tmp_path / "taper.step"
    path.write_bytes(step_of(parts, name))
    reader: Any = STEPControl_Reader()
    assert reader.ReadFile(str(path)) == IFSelect_ReturnStatus.IFSelect_RetDone
    reader.TransferRoots()
    explorer = TopExp_Explorer(reader.OneShape(), TopAbs_ShapeEnum.TopAbs_SOLID)
    found = []
    while explorer.More():
        found.append(explorer.Current())
        explorer.Next()
    assert len(found) == len(picked)
    for (layer, _), solid in zip(picked, found, strict=True):
        assert is_valid(solid)
        assert volume(solid) == pytest.approx(layer.volume, rel=1e-7), layer.key


@pytest.mark.parametrize(
    ("build", "lay"), [("box", "convex"), ("stacked", "concave"), ("ribs", "convex"), ("ribs", "concave")]
)
def test_the_form_carries_the_layers_all_over(
    fused: Callable[[list[Solid]], Solid], build: str, lay: str
) -> None:
    text = f'{SHADE}[press]\nlay = "{lay}"\n[form]\nbuild = "{build}"\nrib = 25\n{THICK}'
    made = plan(read_text(text))
    found = bodies(made)
    parts = {part.key: part for part in scene(made).parts}
    # of the tail of breather that runs down to the valve no solid is made
    assert set(found) == set(parts) - {"tail"}
    assert [key for key, body in found.items() if not is_valid(body)] == []
    form = [key for key in found if key.startswith("form")]
    for key in form:
        a, b, c = (parts[key].mesh.points[parts[key].mesh.triangles[:, corner]] for corner in range(3))
        mesh = float((np.cross(a, b) * c).sum()) / 6.0
        # the mesh keeps within 0.05 mm of arcs and round holes
        assert volume(found[key], 1e-6) == pytest.approx(mesh, rel=1e-3), key
    united = [found[key] for key in (*form, *(layer.key for layer in made.stack.layers[:3]))]
    total = math.fsum(volume(body) for body in united)
    assert volume(fused(united)) == pytest.approx(total, rel=1e-7)
