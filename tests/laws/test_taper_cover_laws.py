"""The film of a taper goes over all of it, its form is as large as it is told, and the bag has film for every section."""

import numpy as np
import pytest
from shapely import MultiPoint, points

from underbag.model.covering import rise_over
from underbag.model.layup.settle import settle
from underbag.model.plan import Plan, plan
from underbag.model.scene import scene

CONE = {
    "panel": {"width": 260.0},
    "bend": {"radius": 180.0, "angle": np.radians(110.0), "show_face": "inside"},
    "taper": {"radius": 110.0},
    "substrate": {"material": "birch plywood", "thickness": 1.0, "laminations": 3},
}
JOBS = {
    "crown": CONE | {"bend": CONE["bend"] | {"show_face": "outside"}},
    "hollow": CONE,
    "far end higher": CONE
    | {"bend": CONE["bend"] | {"show_face": "outside"}, "taper": {"radius": 110.0, "lift": 150.0}},
    "hollow, near end higher": CONE | {"taper": {"radius": 110.0, "lift": -60.0}},
}
BEYOND = 0.1
"""Film and parts are chords within 0.05 mm each."""


@pytest.fixture(scope="module", params=JOBS, ids=list(JOBS))
def planned(request: pytest.FixtureRequest) -> Plan:
    return plan(settle(JOBS[request.param], title="taper"))


def test_form_and_work_lie_within_the_film(planned: Plan) -> None:
    parts = scene(planned).parts
    film = next(part for part in parts if part.key == "upper-film").mesh.points
    hull = MultiPoint(film[:, [0, 2]]).convex_hull.buffer(BEYOND)
    work = {layer.key for layer in planned.stack.work}
    held = [part for part in parts if part.key in work or part.key.startswith("form")]
    assert len(held) > len(work)
    for part in held:
        assert hull.covers(points(part.mesh.points[:, [0, 2]])).all(), part.key


def test_both_ends_lie_under_what_the_film_is_drawn_over(planned: Plan) -> None:
    assert planned.taper is not None
    over = planned.draped
    for _, end in planned.taper.ends:
        assert rise_over(over.stack, over.base, end.stack, end.base) < BEYOND


def test_the_form_is_as_large_as_it_is_told(planned: Plan) -> None:
    corners = np.concatenate(
        [part.mesh.points for part in scene(planned).parts if part.key.startswith("form")]
    )
    length, width, height = planned.base_size
    assert (np.ptp(corners[:, 0]), np.ptp(corners[:, 1])) == pytest.approx((length, width), abs=BEYOND)
    assert corners[:, 2].max() == pytest.approx(height, abs=BEYOND)


def test_the_bag_has_film_around_every_section_of_the_form(planned: Plan) -> None:
    assert planned.form is not None
    carcase = planned.form.carcase
    assert carcase is not None
    for share in np.linspace(-0.5, 0.5, 5):
        edge = carcase.edge(share * carcase.width)
        foot = edge * [1.0, 0.0]
        girth = MultiPoint(np.concatenate((edge, foot))).convex_hull.length
        assert girth <= planned.along.girth
