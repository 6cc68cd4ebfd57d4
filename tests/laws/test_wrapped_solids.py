"""Solids of outlines wrapped onto a bend: valid, as large as the model says, touching all over, and re-read whole.

The referee is the CAD kernel: its checker, its adaptive volume, its union and its STEP reader.
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

HEAD = '[substrate]\nmaterial = "birch plywood"\nthickness = 1.5\nlaminations = 1\n'
OVAL = '[panel]\nwidth = 180\noutline = "ellipse"\n'
ROUNDED = '[panel]\nwidth = 180\noutline = "rounded rectangle"\ncorner = 40\n'
SERPENTINE = (
    '[bend]\nchain = "straight 40, crown 120 through 50°, hollow 120 through 60°, crown 80 through 20°, '
    'straight 40"\n'
)
POINTS = "[bend]\nevery = 50\nordinates = [0, 12, 21, 24, 20, 12, 3, -4]\n"
LAYUPS = {
    "oval on an arc": OVAL + "[bend]\nradius = 220\nangle = 80\n",
    "oval in a hollow": OVAL + '[bend]\nradius = 220\nangle = 80\nshow_face = "inside"\n',
    "rounded on a serpentine": ROUNDED + SERPENTINE,
    "oval on points": OVAL + POINTS,
    "rounded on a half ellipse": ROUNDED + '[bend]\nshape = "ellipse"\nchord = 320\nrise = 90\n',
    "oval on a parabola": OVAL + '[bend]\nshape = "parabola"\nchord = 320\nrise = 70\n',
    "oval past the half round": OVAL + "[bend]\nradius = 100\nangle = 240\n",
}
UNITED = ("oval on an arc", "rounded on a serpentine", "oval on points")
"""Those whose layers are united: one of arcs, one with joints and one along a spline; the kernel takes long for it."""


@dataclass(frozen=True, slots=True)
class Built:
    """A plan with its solids."""

    plan: Plan
    parts: tuple[NamedSolid, ...]

    def layers(self) -> dict[str, Solid]:
        """Solids of its layers, from below."""
        keys = [layer.key for layer in self.plan.stack.layers]
        return {part.key: part.solid for part in self.parts if part.key in keys}


@pytest.fixture(scope="module")
def built() -> dict[str, Built]:
    plans = {name: plan(read_text(HEAD + text)) for name, text in LAYUPS.items()}
    return {name: Built(made, solids(made)) for name, made in plans.items()}


def volume(solid: Solid) -> float:
    from OCP.BRepGProp import BRepGProp
    from OCP.GProp import GProp_GProps

    properties = GProp_GProps()
    BRepGProp.VolumePropertiesGK_s(solid, properties, 1e-9)
    return float(properties.Mass())


@pytest.mark.parametrize("name", LAYUPS)
def test_every_solid_is_valid_and_as_large_as_its_blank_says(built: dict[str, Built], name: str) -> None:
    """Thickness times the area of the blank, which is exact on every bend; what hangs over an edge ends there."""
    made = built[name]
    assert [part.name for part in made.parts if not is_valid(part.solid)] == []
    bodies = made.layers()
    for layer in lying(made.plan).layers:
        assert volume(bodies[layer.key]) == pytest.approx(layer.volume, rel=1e-7), layer.key


@pytest.mark.parametrize("name", UNITED)
def test_the_union_is_as_large_as_the_sum(
    fused: Callable[[list[Solid]], Solid], built: dict[str, Built], name: str
) -> None:
    """Nothing overlaps and no wedge is left: a rectangle, the back that reaches past its glue, and the core."""
    bodies = list(built[name].layers().values())[:4]
    assert volume(fused(bodies)) == pytest.approx(math.fsum(volume(body) for body in bodies), rel=1e-7)


@pytest.mark.parametrize("name", LAYUPS)
def test_step_is_small_and_reads_back_whole(built: dict[str, Built], name: str, tmp_path: Path) -> None:
    """A dozen solids stay below 2 MB; each is read as large as it was written."""
    from OCP.IFSelect import IFSelect_ReturnStatus
    from OCP.STEPControl import STEPControl_Reader

    parts = built[name].parts
    content = step_of(parts, name)
    assert len(content) < 2_000_000
    path = tmp_path / "layup.step"
    path.write_bytes(content)
    reader: Any = STEPControl_Reader()
    assert reader.ReadFile(str(path)) == IFSelect_ReturnStatus.IFSelect_RetDone
    reader.TransferRoots()
    found = solids_in(reader.OneShape())
    assert all(is_valid(solid) for solid in found)
    wrapped = {part.key: volume(part.solid) for part in parts}
    # the reader sets edges anew within its tolerance of 1e-7 mm
    assert sorted(map(volume, found)) == pytest.approx(sorted(wrapped.values()), rel=1e-6)


def solids_in(shape: Any) -> list[Solid]:
    from OCP.TopAbs import TopAbs_ShapeEnum
    from OCP.TopExp import TopExp_Explorer

    explorer, found = TopExp_Explorer(shape, TopAbs_ShapeEnum.TopAbs_SOLID), []
    while explorer.More():
        found.append(explorer.Current())
        explorer.Next()
    return found
