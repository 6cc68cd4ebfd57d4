"""The tail of breather to a valve beside the work: it goes on from the breather, lies on the work and reaches the valve."""

from typing import Any

import numpy as np
import pytest

from underbag.model.bag.drape import drape, draped_sheets, valve_disc
from underbag.model.bag.tail import Tail, tail_mesh
from underbag.model.layup.settle import settle
from underbag.model.plan import Plan, plan
from underbag.model.scene import scene, tail_of
from underbag.model.shape.mesh import Mesh
from underbag.model.shape.profile import Run

CHAIN = (Run(80.0, 1 / 150.0), Run(120.0, -1 / 180.0), Run(30.0, 0.0), Run(90.0, 1 / 250.0))
NO_CAUL = {"caul": {"material": "none"}}
LONG = {"length": 2400.0, "width": 1500.0}
FLAT = {"panel": {"length": 420.0, "width": 300.0}} | NO_CAUL
JOBS: dict[str, dict[str, Any]] = {
    "flat": FLAT,
    "serpentine": {"panel": {"width": 150.0}, "bend": {"chain": CHAIN}} | NO_CAUL,
    "toward the open end": FLAT
    | {"bag": LONG, "valve": {"from_closed_end": 1900.0, "from_left_seam": 750.0}},
    "behind": FLAT | {"bag": LONG, "valve": {"from_closed_end": 1200.0, "from_left_seam": 1300.0}},
}


def made(asked: dict[str, Any]) -> tuple[Plan, Tail]:
    one = plan(settle(asked))
    film = drape(one.stack, one.base, one.bag, one.valve, one.layup.bag.thickness)
    found = tail_of(one, one.stack, valve_disc(film, one.stack, one.bag, one.valve))
    assert found is not None
    return one, found


def volume(mesh: Mesh) -> float:
    a, b, c = mesh.points[mesh.triangles].transpose(1, 0, 2)
    return float(np.sum(a * np.cross(b, c)) / 6.0)


@pytest.mark.parametrize("name", JOBS)
def test_a_tail_is_a_strip_as_thick_as_the_breather(name: str) -> None:
    """The area of its section is its thickness times its way but for the corners, and its mesh is closed."""
    one, tail = made(JOBS[name])
    breather = one.stack.find("breather")
    assert breather is not None
    mesh = tail_mesh(tail)
    edges = np.sort(mesh.triangles[:, [0, 1, 1, 2, 2, 0]].reshape(-1, 2), axis=1)
    assert (np.unique(edges, axis=0, return_counts=True)[1] == 2).all()
    edge = np.linalg.norm(np.diff(tail.section, axis=0, append=tail.section[:1]), axis=1).sum()
    way = 0.5 * edge - breather.thickness
    # each square corner takes a thickness more or less
    assert volume(mesh) / tail.width == pytest.approx(
        breather.thickness * way, abs=6.0 * breather.thickness**2
    )


@pytest.mark.parametrize("name", JOBS)
def test_it_begins_at_the_breather_and_ends_under_the_valve(name: str) -> None:
    one, tail = made(JOBS[name])
    film = drape(one.stack, one.base, one.bag, one.valve, one.layup.bag.thickness)
    disc = valve_disc(film, one.stack, one.bag, one.valve)
    spot, other = disc.base[:2] if not tail.is_across else disc.base[1::-1]
    assert np.abs(tail.section[:, 0] - spot).min() == pytest.approx(disc.radius)
    assert tail.middle == pytest.approx(other)
    assert tail.section[:, 1].min() == 0.0
    # both its faces go on from those of the breather
    breather = draped_sheets(one.stack, one.base, 0.25)["breather"]
    for face in (breather.inner[0], breather.outer[0]):
        apart = face[:, None, [int(tail.is_across), 2]] - tail.section
        assert np.linalg.norm(apart, axis=2).min() < 0.5
    assert [part.key for part in scene(one).parts].count("tail") == 1


def test_over_a_caul_there_is_none() -> None:
    one = plan(settle({"panel": {"length": 420.0, "width": 300.0}}))
    assert one.valve.over == "caul"
    assert "tail" not in {part.key for part in scene(one).parts}
