"""Drawings and papers of a taper: both ends, patterns, boards, and nothing that lies over anything else."""

from pathlib import Path

import pytest

from underbag.app.page.desk import Desk
from underbag.app.page.picture import dimensions, spots
from underbag.app.read.layup_file import read_file
from underbag.export.drawing import collisions
from underbag.export.papers.press_sheet import press_sheet
from underbag.export.sheets.drawings import drawings
from underbag.model.nest.nesting import nest
from underbag.model.plan import Plan, plan
from underbag.model.report import Report, report
from underbag.model.template import templates

DEMO = Path(__file__).parents[2] / "demos" / "tapered-shade.toml"


@pytest.fixture(scope="module")
def made() -> tuple[Plan, Report]:
    found = plan(read_file(str(DEMO)).layup)
    return found, report(found)


def test_every_sheet_is_there_and_nothing_lies_over_anything(made: tuple[Plan, Report]) -> None:
    sheets = (*drawings(*made, nest(made[0])), *press_sheet(*made))
    for sheet in sheets:
        assert not collisions(sheet), (sheet.name, collisions(sheet)[:3])
    names = [sheet.name for sheet in sheets]
    assert {"section near", "section far", "plan", "form", "form curves near", "form curves far"} <= set(
        names
    )
    assert made[0].form is not None
    assert made[0].form.taper is not None
    # a drawing for every rib, as each has an edge of its own
    edges = [name for name in names if name.startswith("form edge")]
    assert len(edges) == len(made[0].form.taper.boards)


def test_every_rib_and_sheet_of_skin_has_a_template(made: tuple[Plan, Report]) -> None:
    found = {one.key: one for one in templates(made[0])}
    assert made[0].form is not None
    for part in made[0].form.parts:
        assert found[f"form-{part.key}"].outline == part.outline
    for skin in made[0].form.skins:
        assert found[f"form-{skin.key}"].outline == skin.outline
        assert any(mark.name == "middle of a rib" for mark in found[f"form-{skin.key}"].marks)


def test_the_page_draws_a_taper_and_points_at_its_ends() -> None:
    desk = Desk(DEMO.read_text(encoding="utf-8"), None)
    seen, planned = desk.now.picture, desk.now.examined.planned
    assert seen is not None
    assert planned is not None
    assert planned.plan.taper is not None
    bends = [check.place for check in planned.report.checks if check.key == "bend.strain"]
    # the tighter end is the far one, on the far side of the width
    for _, (_, y, z) in spots(planned.plan, seen.scene, bends):
        assert y == pytest.approx(0.5 * planned.plan.taper.states.pressed.width, abs=2.0)
        assert z > 0.0
    assert any("chord on the form" in one["text"] for one in dimensions(planned.plan, seen.scene))
