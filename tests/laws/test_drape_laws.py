"""The film under vacuum: it lies on the work and never in it, is as long as was counted, and its mesh is closed."""

from itertools import pairwise
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, Point, Polygon
from shapely.ops import unary_union

from underbag.model.bag.drape import CHORD, Drape, drape, draped_sheets, hung_sheets, section_of
from underbag.model.bag.drape_mesh import draped_mesh, upper_film_mesh
from underbag.model.bag.section import section_at
from underbag.model.bag.skin import ground, moved_out, skin
from underbag.model.bag.terraces import terraces
from underbag.model.layup.settle import settle
from underbag.model.mechanics.film_path import path_length
from underbag.model.plan import Plan, plan
from underbag.model.scene import TOLERANCE
from underbag.model.shape.mesh import Mesh
from underbag.model.shape.profile import Run

CHAIN = (Run(80.0, 1 / 150.0), Run(120.0, -1 / 180.0), Run(30.0, 0.0), Run(90.0, 1 / 250.0))
JOBS: dict[str, dict[str, Any]] = {
    "flat": {"panel": {"length": 420.0, "width": 300.0}},
    "rounded": {"panel": {"length": 420.0, "width": 300.0, "outline": "rounded rectangle", "corner": 60.0}},
    "oval": {"panel": {"length": 420.0, "width": 300.0, "outline": "ellipse"}},
    "hexagon": {"panel": {"outline": "regular polygon", "sides": 6, "length": 420.0}},
    "oval on the bench": {
        "panel": {"length": 420.0, "width": 300.0, "outline": "ellipse"},
        "platen": {"material": "none"},
    },
    "crown": {"panel": {"width": 150.0}, "bend": {"chord": 600.0, "rise": 90.0}},
    "half cylinder": {
        "panel": {"width": 150.0},
        "bend": {"radius": 200.0, "angle": np.pi},
        "form": {"springback": 0.0},
    },
    "valley": {"panel": {"width": 150.0}, "bend": {"radius": 250.0, "angle": 2.6, "show_face": "inside"}},
    "serpentine": {"panel": {"width": 150.0}, "bend": {"chain": CHAIN}},
}


@pytest.fixture(scope="module")
def made() -> dict[str, tuple[Plan, Drape]]:
    plans = {name: plan(settle(asked)) for name, asked in JOBS.items()}
    return {
        name: (one, drape(one.stack, one.base, one.bag, one.valve, one.layup.bag.thickness))
        for name, one in plans.items()
    }


def is_closed(mesh: Mesh) -> bool:
    """Whether every edge has one triangle on each of its sides."""
    edges = mesh.triangles[:, [0, 1, 1, 2, 2, 0]].reshape(-1, 2)
    there = {(int(a), int(b)) for a, b in edges}
    return len(there) == len(edges) and all((b, a) in there for a, b in there)


def volume(mesh: Mesh) -> float:
    a, b, c = mesh.points[mesh.triangles].transpose(1, 0, 2)
    return float(np.sum(a * np.cross(b, c)) / 6.0)


def work(one: Plan) -> Any:
    """Base and hard layers in the middle of the width, from the sheet itself and finely."""
    sheet, base = one.stack.sheet, one.base
    parts = [Polygon(base.section)] if base.kind != "bench" else []
    for layer in one.stack.layers:
        if layer.key in {hung.layer.key for hung in hung_sheets(one.stack, base)}:
            continue
        half = 0.5 * layer.outline.length
        t = np.unique(np.concatenate((np.linspace(-half, half, 900), sheet.profile.joints())))
        t = t[np.abs(t) <= half]
        low, high = (sheet.place(t, np.zeros_like(t), h)[:, ::2] for h in (layer.height, layer.top))
        ring = np.concatenate((low, high[::-1])) + np.array([0.0, base.lift])
        parts.append(Polygon(ring).buffer(0.0))
    return unary_union(parts)


@pytest.mark.parametrize("name", JOBS)
def test_the_film_is_never_in_the_work(made: dict[str, tuple[Plan, Drape]], name: str) -> None:
    one, film = made[name]
    inside = LineString(section_of(film.inner)).intersection(work(one))
    assert inside.length < 1e-6


@pytest.mark.parametrize("name", JOBS)
def test_where_the_film_reaches_it_lies_on_the_work(made: dict[str, tuple[Plan, Drape]], name: str) -> None:
    """It lies off by what hangs between and by twice its chordal tolerance: once by itself, once in a hollow.

    What a larger layer shades is out of reach: the film falls down from its edge.
    """
    one, film = made[name]
    hung = sum(hung.layer.thickness for hung in hung_sheets(one.stack, one.base))
    contour = section_at(one.stack, one.base, terraces(one.stack, one.base), 0.0)
    body, chain = unary_union([work(one), Polygon(contour).buffer(0.0)]), section_of(film.inner)
    spots = np.concatenate([np.linspace(a, b, 8) for a, b in pairwise(chain)])
    away = max(body.distance(Point(spot)) for spot in spots)
    # in an outside corner the offset is a mitre, longer by the square root of two
    assert away <= np.sqrt(2.0) * (hung + 2.0 * CHORD) + 0.05


@pytest.mark.parametrize("name", JOBS)
def test_its_length_is_the_length_counted(made: dict[str, tuple[Plan, Drape]], name: str) -> None:
    """Along its whole way in the middle of the width: exactly on the work, nearly over what hangs between."""
    one, film = made[name]
    rows = terraces(one.stack, one.base)
    counted = path_length(section_at(one.stack, one.base, rows, 0.0))
    bare = skin(ground(one.stack.sheet, one.base, rows, one.stack.height, CHORD), 0.0, one.stack.height, 0.0)
    assert path_length(section_of(bare)) == pytest.approx(counted, abs=0.2)
    hung = sum(hung.layer.thickness for hung in hung_sheets(one.stack, one.base)) + CHORD
    # each of both ends turns round one outside corner more than inside ones, and climbs onto what hangs
    assert path_length(section_of(film.inner)) == pytest.approx(counted, abs=4.0 * 2.0 * hung)


@pytest.mark.parametrize("name", JOBS)
def test_meshes_are_closed_and_face_outward(made: dict[str, tuple[Plan, Drape]], name: str) -> None:
    one, film = made[name]
    mesh = upper_film_mesh(film)
    assert is_closed(mesh)
    assert volume(mesh) > 0.0
    for key, sheet in draped_sheets(one.stack, one.base, TOLERANCE).items():
        hung = draped_mesh(sheet)
        assert is_closed(hung), key
        layer = one.stack.find(key)
        assert layer is not None
        # the corners of a sheet lie in folds, which are not drawn: all that a square one has more than a hexagon
        assert 0.7 * layer.volume < volume(hung) < 1.02 * layer.volume, key


@pytest.mark.parametrize("name", JOBS)
def test_the_flange_reaches_as_far_as_the_bag(made: dict[str, tuple[Plan, Drape]], name: str) -> None:
    one, film = made[name]
    work_takes = one.bag.width_terms[0].amount
    left, right = film.inner[0, :, 1].min() - film.low[1], film.high[1] - film.inner[0, :, 1].max()
    assert left + right == pytest.approx(one.bag.width - work_takes)
    assert left == pytest.approx(right)


@given(rises=st.lists(st.floats(-40.0, 40.0), min_size=2, max_size=6), distance=st.floats(0.05, 3.0))
@settings(max_examples=25)
def test_a_chain_moved_out_keeps_its_distance(rises: list[float], distance: float) -> None:
    chain = np.column_stack((100.0 * np.arange(len(rises)), rises))
    moved = moved_out(chain, distance)
    for (a, b), (c, d) in zip(pairwise(chain), pairwise(moved), strict=True):
        run = (b - a) / np.hypot(*(b - a))
        out = np.array([-run[1], run[0]])
        assert out @ (c - a) == pytest.approx(distance, rel=1e-9)
        assert out @ (d - b) == pytest.approx(distance, rel=1e-9)


@pytest.mark.parametrize(
    ("over", "short"),
    [(0.0, (0.0, 0.0)), (-40.0, (40.0, 40.0))],
    ids=["film that just reaches", "film that does not"],
)
def test_what_an_owned_bag_is_short_of_is_told(
    made: dict[str, tuple[Plan, Drape]], over: float, short: tuple[float, float]
) -> None:
    """Seams right at the layup are the limit: all that is needed but the clearance beside it."""
    size = made["flat"][0].bag
    length = size.needed_length - size.length_terms[1].amount + over
    width = size.needed_width - size.width_terms[1].amount + over
    owned = plan(
        settle({"panel": {"length": 420.0, "width": 300.0}, "bag": {"length": length, "width": width}})
    )
    assert owned.bag.film_short == pytest.approx(short)
