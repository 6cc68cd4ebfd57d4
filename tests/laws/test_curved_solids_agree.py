"""Solids of layers on curves that are no single arc: valid, as large as the model says, and touching all over.

The referee is the CAD kernel: its checker, its areas by adaptive integration, its union and its STEP reader.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from underbag.app.read.layup_file import read_text
from underbag.export.kernel import Solid
from underbag.export.shapes import is_valid
from underbag.export.solids import NamedSolid, lying, solids
from underbag.export.step import step_of
from underbag.model.plan import Plan, plan

HEAD = '[panel]\nwidth = 140\n[substrate]\nmaterial = "birch plywood"\nthickness = 1.5\n'
LONG = "template of 200 points"
LAYUPS = {
    # twelve layers: release, back, five laminations with glue, face, release, paper, breather are more than that
    "serpentine": HEAD
    + "laminations = 5\n[bend]\n"
    + 'chain = "straight 40, crown 180 through 50°, hollow 180 through 100°, crown 180 through 50°, straight 40"\n',
    "half ellipse": HEAD + 'laminations = 3\n[bend]\nshape = "ellipse"\nchord = 500\nrise = 140\n',
    "parabola in a hollow": HEAD
    + 'laminations = 3\n[bend]\nshape = "parabola"\nchord = 500\nrise = 90\nshow_face = "inside"\n',
    "points": HEAD
    + "laminations = 3\n[bend]\nevery = 50\nordinates = [0, 12, 21, 24, 20, 12, 3, -4, -8, -9]\n",
    "rounded corner": HEAD
    + 'laminations = 3\n[bend]\nchain = "straight 200, crown 80 through 90°, straight 120"\n',
    LONG: HEAD
    + "laminations = 3\n[bend]\nevery = 5\nordinates = ["
    + ", ".join(f"{60.0 * math.sin(0.0316 * n) + 20.0 * math.sin(0.025 * n):.2f}" for n in range(200))
    + "]\n",
}


@dataclass(frozen=True, slots=True)
class Built:
    """A plan with its solids."""

    plan: Plan
    parts: tuple[NamedSolid, ...]

    def find(self, key: str) -> Solid:
        """Solid of a part."""
        return next(part.solid for part in self.parts if part.key == key)


@pytest.fixture(scope="module")
def built() -> dict[str, Built]:
    plans = {name: plan(read_text(text)) for name, text in LAYUPS.items()}
    return {name: Built(made, solids(made)) for name, made in plans.items()}


def volume(solid: Solid) -> float:
    from OCP.BRepGProp import BRepGProp
    from OCP.GProp import GProp_GProps

    properties = GProp_GProps()
    BRepGProp.VolumePropertiesGK_s(solid, properties, 1e-10)
    return float(properties.Mass())


def end_area(solid: Solid) -> float:
    """Area of one of the two plane faces that are square to the width."""
    from OCP.BRepAdaptor import BRepAdaptor_Surface
    from OCP.BRepGProp import BRepGProp
    from OCP.GeomAbs import GeomAbs_SurfaceType
    from OCP.GProp import GProp_GProps
    from OCP.TopAbs import TopAbs_ShapeEnum
    from OCP.TopExp import TopExp_Explorer
    from OCP.TopoDS import TopoDS

    explorer = TopExp_Explorer(solid, TopAbs_ShapeEnum.TopAbs_FACE)
    while explorer.More():
        face = TopoDS.Face_s(explorer.Current())
        surface = BRepAdaptor_Surface(face)
        is_plane = surface.GetType() == GeomAbs_SurfaceType.GeomAbs_Plane
        if is_plane and abs(surface.Plane().Coefficients()[1]) > 0.5:
            properties = GProp_GProps()
            BRepGProp.SurfaceProperties_s(face, properties, 1e-11)
            return float(properties.Mass())
        explorer.Next()
    raise AssertionError("no end face")


@pytest.mark.parametrize("name", LAYUPS)
def test_every_solid_is_valid(built: dict[str, Built], name: str) -> None:
    assert [part.name for part in built[name].parts if not is_valid(part.solid)] == []
    keys = {part.key for part in built[name].parts}
    assert {"form", "upper-film", "valve"} <= keys


@pytest.mark.parametrize("name", LAYUPS)
def test_end_area_times_width_is_the_volume(built: dict[str, Built], name: str) -> None:
    """1e-8 of a prism, as its thickness times its blank says; what hangs over an edge ends there."""
    made = built[name]
    for layer in lying(made.plan).layers:
        found = end_area(made.find(layer.key)) * layer.outline.width
        assert found == pytest.approx(layer.volume, rel=1e-8), layer.key


@pytest.mark.parametrize("name", [name for name in LAYUPS if name != LONG])
def test_the_union_is_as_large_as_the_sum(
    fused: Callable[[list[Solid]], Solid], built: dict[str, Built], name: str
) -> None:
    """Nothing overlaps and no wedge is left: all that is built of arcs, else form, two layers and the highest.

    Along 200 points it holds too, but takes the kernel minutes.
    """
    parts = built[name].parts
    if name not in ("serpentine", "rounded corner"):
        # the kernel takes minutes to unite twenty solids along splines
        layers = [layer.key for layer in built[name].plan.stack.layers]
        parts = tuple(part for part in parts if part.key in ("form", *layers[:2], layers[-1]))
    bodies = [part.solid for part in parts]
    assert volume(fused(bodies)) == pytest.approx(math.fsum(volume(body) for body in bodies), rel=1e-8)


@pytest.mark.parametrize("name", LAYUPS)
def test_step_is_small_and_reads_back_whole(built: dict[str, Built], name: str, tmp_path: Path) -> None:
    """A stack of twelve layers and more stays below 2 MB, and below 1.1 MB along a curve of few points or none."""
    from OCP.IFSelect import IFSelect_ReturnStatus
    from OCP.STEPControl import STEPControl_Reader

    content = step_of(built[name].parts, name)
    assert len(built[name].plan.stack.layers) >= 12
    # some hundred kB of it are the plane faces of the film, one for every few degrees of a bend
    assert len(content) < (2_000_000 if name == LONG else 1_100_000)
    path = tmp_path / "layup.step"
    path.write_bytes(content)
    reader: Any = STEPControl_Reader()
    assert reader.ReadFile(str(path)) == IFSelect_ReturnStatus.IFSelect_RetDone
    reader.TransferRoots()
    shape = reader.OneShape()
    assert is_valid(shape)
    assert solids_in(shape) == len(built[name].parts)


def solids_in(shape: Any) -> int:
    from OCP.TopAbs import TopAbs_ShapeEnum
    from OCP.TopExp import TopExp_Explorer

    explorer, count = TopExp_Explorer(shape, TopAbs_ShapeEnum.TopAbs_SOLID), 0
    while explorer.More():
        count += 1
        explorer.Next()
    return count
