"""What the preview says of a plan: every part has its row, and corners stand on the bend where the plan puts them."""

from pathlib import Path

import numpy as np
import pytest

from underbag.app.examine import examine_file
from underbag.app.read.layup_file import read_file
from underbag.export.preview import STEP, bent_uprights, content
from underbag.model.scene import scene

DEMOS = sorted((Path(__file__).parents[2] / "demos").glob("*.toml"))
BENT = [path for path in DEMOS if "[bend]" in path.read_text(encoding="utf-8")]


@pytest.mark.parametrize("path", BENT, ids=lambda path: path.stem)
def test_corners_of_a_bent_layer_stand_at_its_two_heights(path):
    plan = examine_file(read_file(str(path))).planned.plan
    shown = scene(plan)
    uprights = bent_uprights(plan, shown)
    for layer in plan.stack.layers:
        stand = uprights[layer.key]
        off = np.abs(stand.heights[:, None] - [layer.height, layer.top]).min(axis=1)
        # a corner is looked up at places a step apart; what lies past the form's end is not looked up at all
        is_over = np.abs(layer.outline.length) <= plan.base.outline.length
        radius = 1.0 / abs(float(plan.stack.sheet.profile.bend(np.zeros(1))[0]))
        assert not is_over or off.max() <= STEP**2 / radius + 1e-6
        assert np.linalg.norm(stand.normals, axis=1) == pytest.approx(np.ones(len(stand.heights)), abs=1e-12)
    # the flange lies flat beside the form: a stack that is drawn thicker does not lift it
    film = uprights["upper-film"]
    flat = next(part for part in shown.parts if part.key == "upper-film").mesh.points[:, 2] < 1.0
    left, right = plan.base.foot
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
