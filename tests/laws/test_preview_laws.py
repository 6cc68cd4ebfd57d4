"""What the preview says of a plan: every part has its row, and corners stand on the bend where the plan puts them."""

from pathlib import Path

import numpy as np
import pytest

from underbag.app.examine import examine_file
from underbag.app.read.layup_file import read_file
from underbag.export.preview import content
from underbag.export.uprights import bent_uprights
from underbag.model.scene import scene

DEMOS = sorted((Path(__file__).parents[2] / "demos").glob("*.toml"))
BENT = [path for path in DEMOS if "[bend]" in path.read_text(encoding="utf-8")]


@pytest.mark.parametrize("path", BENT, ids=lambda path: path.stem)
def test_corners_of_a_bent_stack_stand_above_the_nearest_place_of_the_form(path):
    plan = examine_file(read_file(str(path))).planned.plan
    shown = scene(plan)
    uprights = bent_uprights(plan, shown)
    # the form's face by many places: what the foot of a corner is looked up on here is found by nothing but distance
    # over a taper the film is drawn as over its larger end; the layers stand on the tapered sheet itself
    ground = plan.draped
    layers = {layer.key for layer in plan.stack.layers}
    half = 0.5 * ground.base.outline.length
    t = np.linspace(-half, half, 8001)
    sheet = ground.stack.sheet
    face = sheet.place(t, np.zeros_like(t), 0.0) + np.array([0.0, 0.0, ground.base.lift])
    for part in shown.parts:
        if part.key == "lower-film" or part.key.startswith("form"):
            assert part.key not in uprights
            continue
        stand, places = uprights[part.key], part.mesh.points * [1.0, 0.0, 1.0]
        assert np.linalg.norm(stand.normals, axis=1) == pytest.approx(np.ones(len(places)), abs=1e-9)
        if plan.taper is not None and part.key in layers:
            continue
        apart = np.linalg.norm(places[::7, None] - face, axis=2)
        nearest = apart.argmin(axis=1)
        over = (np.abs(t[nearest]) < half) & (stand.heights[::7] != 0.0)
        # the nearest of the places lies within a step of the foot
        height, seen = np.abs(stand.heights[::7][over]), apart.min(axis=1)[over]
        assert (height <= seen + 1e-6).all()
        assert (seen <= np.hypot(height, t[1] - t[0])).all()
        assert stand.normals[::7][over][:, [0, 2]] == pytest.approx(
            sheet.profile.normals(t[nearest])[over], abs=1e-3
        )
    hung = {part.key for part in shown.parts if part.hung}
    for layer in plan.stack.layers:
        if layer.key in hung:
            # it hangs down over the edges, and lies nowhere higher than on its top
            assert uprights[layer.key].heights.max() == pytest.approx(layer.top, abs=0.05)
        else:
            assert set(uprights[layer.key].heights.tolist()) == {layer.height, layer.top}
    # the flange lies flat beside the form: a stack that is drawn thicker does not lift it
    film = uprights["upper-film"]
    flat = next(part for part in shown.parts if part.key == "upper-film").mesh.points[:, 2] < 1.0
    left, right = ground.base.foot
    x = next(part for part in shown.parts if part.key == "upper-film").mesh.points[:, 0]
    beside = flat & ((x < left - 20.0) | (x > right + 20.0))
    assert beside.any()
    assert (film.heights[beside] <= 0.0).all()


@pytest.mark.parametrize("path", DEMOS, ids=lambda path: path.stem)
def test_every_part_has_its_row_and_every_sheet_its_size(path):
    planned = examine_file(read_file(str(path))).planned
    shown = scene(planned.plan)
    said = content(planned.plan, planned.report, shown)
    assert [row.key for row in said.layers] == [part.key for part in shown.parts]
    numbers = {layer.key: str(number) for number, layer in enumerate(planned.plan.stack.layers, 1)}
    assert {row.key: row.number for row in said.layers if row.number} == numbers
    sheets = [numbers[layer.key] for layer in planned.plan.stack.layers if layer.role != "adhesive"]
    assert [row.number for row in said.sizes] == sheets
    assert len(said.checks) == len(planned.report.checks)
    assert said.status == "ok"
    assert said.date == ""
