"""The solids and meshes of a ribbed form: whole, as large as their drawings say, and none in another's place.

The referees are the CAD kernel's checker, volumes and cuts for the solids, and trimesh for the meshes.
"""

import math
from itertools import combinations
from typing import Any

import pytest
import trimesh

from underbag.export.kernel import Solid
from underbag.export.shapes import is_valid
from underbag.export.solids import bodies, solids
from underbag.model.layup.settle import settle
from underbag.model.plan import Plan, plan
from underbag.model.scene import scene
from underbag.model.shape.profile import Run

RIBS = {"build": "ribs", "spacing": 90.0}
FEW = {"laminations": 2, "thickness": 3.0}
JOBS: dict[str, Any] = {
    "crown": {
        "panel": {"width": 150.0},
        "bend": {"chord": 600.0, "rise": 60.0},
        "form": RIBS,
        "substrate": FEW,
    },
    "half round hollow": {
        "panel": {"width": 80.0},
        "bend": {"radius": 200.0, "angle": math.pi, "show_face": "inside"},
        "form": RIBS | {"skins": 3},
        "substrate": FEW | {"laminations": 6, "thickness": 1.5},
    },
    "serpentine": {
        "panel": {"width": 120.0},
        "bend": {"chain": (Run(160.0, 1 / 300.0), Run(80.0, 0.0), Run(180.0, -1 / 250.0))},
        "form": RIBS,
        "substrate": FEW,
    },
    "points": {
        "panel": {"width": 120.0},
        "bend": {"ordinates": (0.0, 30.0, 48.0, 52.0, 40.0, 12.0), "every": 90.0},
        "form": RIBS,
        "substrate": FEW,
    },
}


def volume(solid: Solid) -> float:
    from OCP.BRepGProp import BRepGProp
    from OCP.GProp import GProp_GProps

    properties = GProp_GProps()
    BRepGProp.VolumePropertiesGK_s(solid, properties, 1e-10)
    return float(properties.Mass())


def shared(one: Solid, other: Solid) -> float:
    """Volume that two solids have in common."""
    from OCP.BRepAlgoAPI import BRepAlgoAPI_Common

    return abs(volume(BRepAlgoAPI_Common(one, other).Shape()))


@pytest.fixture(scope="module", params=JOBS)
def built(request: pytest.FixtureRequest) -> tuple[Plan, dict[str, Solid]]:
    found = plan(settle(JOBS[request.param]))
    return found, bodies(found)


def form_of(found: dict[str, Solid]) -> dict[str, Solid]:
    return {key: solid for key, solid in found.items() if key.startswith("form")}


def test_every_board_is_valid_and_as_large_as_it_is_drawn(built: tuple[Plan, dict[str, Solid]]) -> None:
    found, made = built
    assert found.form is not None
    assert found.form.ribs is not None
    ribs = found.form.ribs
    drawn = {f"form-{part.key}": part.volume for part in ribs.parts}
    # a prism over a section at mid-thickness: exact for every profile
    drawn |= {f"form-{skin.key}": skin.length * skin.width * skin.thickness for skin in ribs.skins}
    for key, solid in form_of(made).items():
        assert is_valid(solid), key
        plain = key if key in drawn else key.rpartition("-")[0]
        # the edge of a rib that follows no arc is drawn as chords within 0.005 mm
        is_exact = "rib" not in key or len(ribs.core.curve) < 12
        assert volume(solid) == pytest.approx(drawn[plain], rel=1e-8 if is_exact else 5e-5), key
    assert len(form_of(made)) == ribs.bays + 1 + len(ribs.crossings) + 1 + len(ribs.skins)


def test_no_board_stands_in_another_or_in_the_work(built: tuple[Plan, dict[str, Solid]]) -> None:
    found, made = built
    boards = form_of(made)
    boards[found.stack.layers[0].key] = made[found.stack.layers[0].key]
    ribs = [key for key in boards if key.startswith("form-rib")]
    # ribs are equal and apart: one of them stands for all; stretchers are plain boards side by side
    kept = [key for key in boards if key not in ribs[1:]]
    for one, other in combinations(kept, 2):
        if not ("stretcher" in one and "stretcher" in other):
            assert shared(boards[one], boards[other]) < 1e-6, (one, other)


def test_the_meshes_are_the_same_boards(built: tuple[Plan, dict[str, Solid]]) -> None:
    found, made = built
    parts = {part.key: part for part in scene(found).parts if part.key.startswith("form")}
    assert set(parts) == set(form_of(made))
    for key, part in parts.items():
        mesh = trimesh.Trimesh(part.mesh.points, part.mesh.triangles)
        assert mesh.is_watertight, key
        assert mesh.is_winding_consistent, key
        # chords within 0.05 mm
        assert mesh.volume == pytest.approx(volume(made[key]), rel=2e-3), key


def test_names_and_order_of_the_assembly() -> None:
    found = plan(settle(JOBS["crown"]))
    names = [part.name for part in solids(found)]
    assert len(set(names)) == len(names)
    assert "form rib 1 · MDF" in names
    lifts = {part.key: part.lift for part in scene(found).parts}
    assert lifts["form-baseboard"] < lifts["form-stretcher-1-1"] == lifts["form-rib-2"] < lifts["form-skin-1"]
