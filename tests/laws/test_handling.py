"""What goes into the bag, who carries it, and the words on every step."""

import pytest

from underbag.export.drawing import Text
from underbag.export.papers.press_sheet import press_sheet
from underbag.model.handling import TOPICS, all_advice, handling, told_load
from underbag.model.layup.sections import BAG_KINDS, CLOSURES
from underbag.model.layup.settle import settle
from underbag.model.plan import Plan, plan
from underbag.model.report import report

FLAT = {"panel": {"length": 600.0, "width": 300.0}}
BENT = {"panel": {"width": 150.0}, "bend": {"chord": 600.0, "rise": 60.0}}
HOLLOW = {"panel": {"width": 150.0}, "bend": {"chord": 600.0, "rise": 60.0, "show_face": "inside"}}


def planned(asked: dict, **bag: object) -> Plan:
    return plan(settle(asked | {"bag": bag}))


@pytest.mark.parametrize("kind", BAG_KINDS)
@pytest.mark.parametrize("closed_by", CLOSURES)
@pytest.mark.parametrize("asked", [FLAT, BENT, HOLLOW], ids=["flat", "bent", "hollow"])
@pytest.mark.parametrize("film", ["PVC", "LDPE"])
def test_every_job_has_a_word_on_every_step(asked: dict, kind: str, closed_by: str, film: str) -> None:
    told = [one.key for one in handling(planned(asked, kind=kind, closed_by=closed_by, material=film))]
    assert {"slide", "folds", "close", "store"} == set(told) == set(TOPICS) - {"lift"}
    # hollows have a second word on folds
    assert len(told) == (5 if asked is HOLLOW else 4)


def test_words_are_short() -> None:
    assert all(len(one.words) <= 170 and one.words.endswith(".") for one in all_advice())


def test_the_load_by_hand() -> None:
    # an MDF platen of 680 × 380 × 18 mm and a caul of 604 × 304 × 9 mm with corners of 6 mm, 0.75 g/cm³
    made = planned(FLAT)
    values = report(made).by_key()
    density = made.chosen.platen.density
    assert density == made.chosen.caul.density
    corners = 4.0 - 3.141592653589793
    platen = (680.0 * 380.0 - corners * 12.0**2) * 18.0 * density
    caul = (604.0 * 304.0 - corners * 6.0**2) * 9.0 * density
    assert values["handling.plates"].number == pytest.approx(platen + caul)
    assert values["handling.mass"].number == pytest.approx(platen + caul + values["panel.mass"].number)
    assert values["handling.people"].number == 1


def test_long_and_heavy_work_takes_more_people_and_built_in_place_fewer() -> None:
    top = {"panel": {"length": 2400.0, "width": 1200.0}, "caul": {"thickness": 12.0}}
    slid = report(planned(top, kind="joined sheets")).by_key()
    built = report(planned(top, kind="taped sheets")).by_key()
    assert slid["handling.people"].number > built["handling.people"].number >= 2
    # the platen, which is larger than the panel on it, is the heaviest part
    platen = (
        planned(top, kind="taped sheets").chosen.platen.density * 18.0 * (2480.0 * 1280.0 - 0.8584 * 12.0**2)
    )
    assert built["handling.part"].number == pytest.approx(platen, rel=1e-5)
    assert built["panel.mass"].number < platen < built["handling.mass"].number
    # light but long: two to keep it straight
    rail = report(planned({"panel": {"length": 1600.0, "width": 60.0}})).by_key()
    assert rail["handling.mass"].number < 20000.0
    assert rail["handling.people"].number == 2


def test_ribs_weigh_less_than_a_solid_stack() -> None:
    stacked, ribs = (
        report(plan(settle(BENT | {"form": {"build": build}}))).value("handling.plates").number
        for build in ("stacked", "ribs")
    )
    assert 0.1 * stacked < ribs < 0.9 * stacked


def test_the_press_sheet_tells_the_load_and_the_way_in_where_there_is_room() -> None:
    made = planned(FLAT)
    pages = press_sheet(made, report(made))
    said = " ".join(item.text for page in pages for item in page.items if isinstance(item, Text))
    assert "go into the bag: one person." in said
    assert handling(made)[0].words[:40] in said
    assert len(pages) <= 2


@pytest.mark.parametrize("kind", ["joined sheets", "taped sheets"])
def test_what_is_too_heavy_is_not_lifted_by_ten(kind: str) -> None:
    top = {"panel": {"length": 2800.0, "width": 1500.0}, "substrate": {"thickness": 60.0}}
    made = planned(top, kind=kind)
    values = report(made).by_key()
    # four people at 20 kg each are the most that can stand around it
    assert values["handling.people"].number > 4
    said = told_load(report(made))
    assert said.endswith("more than people can lift")
    assert [one.key for one in handling(made)].count("lift") == 1
    pages = press_sheet(made, report(made))
    told = " ".join(item.text for page in pages for item in page.items if isinstance(item, Text))
    assert "Nobody lifts this" in told
    assert "lift" not in [one.key for one in handling(planned(FLAT))]


def test_four_people_lift_and_a_fifth_is_not_asked_for() -> None:
    """6 m are kept straight by four people, one for each 1.5 m."""
    bench = {"platen": {"material": "none"}, "caul": {"material": "none"}}
    for length, is_told in ((5900.0, True), (6100.0, False)):
        made = planned({"panel": {"length": length, "width": 60.0}} | bench)
        assert (": 4 people" in told_load(report(made))) is is_told


@pytest.mark.parametrize("material", ["none", "MDF"])
def test_a_caul_is_named_where_there_is_one(material: str) -> None:
    made = planned(FLAT | {"caul": {"material": material}})
    assert any("caul" in one.words for one in handling(made)) is (material == "MDF")
