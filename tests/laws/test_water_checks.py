"""The rules of the glue's water through the whole road: each kept, broken and at its limit; and balances."""

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from underbag.model.checks.rule import Check
from underbag.model.layup.settle import settle
from underbag.model.materials import find_adhesive, find_wood
from underbag.model.plan import plan
from underbag.model.report import Report, report

Asked = dict[str, dict[str, Any]]

FLAT: Asked = {"panel": {"length": 420.0, "width": 300.0}}
FOAM: Asked = FLAT | {"substrate": {"material": "extruded polystyrene"}}
"""A core that lets no water in."""


def reported(asked: Asked) -> Report:
    return report(plan(settle(asked)))


def found(asked: Asked, key: str) -> list[Check]:
    return [check for check in reported(asked).checks if check.key == key]


def status(asked: Asked, key: str) -> str:
    (check,) = found(asked, key)
    return check.status


def face(pieces: int, sheets: int) -> Asked:
    return FLAT | {"face": {"pieces": pieces}, "absorbent": {"sheets": sheets}}


def test_a_plain_face_needs_one_sheet_at_the_most() -> None:
    # common practice: none or one for a plain face on a core that drinks
    assert reported(FLAT).value("paper.sheets").number <= 1
    assert status(FLAT, "paper.sheets") == "ok"
    assert status(FLAT | {"absorbent": {"sheets": 0}}, "paper.sheets") == "ok"


def test_a_face_of_many_pieces_takes_five_or_six_sheets() -> None:
    # common practice: five or six absorbent sheets on a small panel of many pieces
    assert [status(face(64, sheets), "paper.sheets") for sheets in (4, 5, 6)] == ["caution", "ok", "ok"]
    assert [status(face(pieces, 1), "paper.sheets") for pieces in (11, 12)] == ["ok", "caution"]
    broken = found(face(64, 1), "paper.sheets")[0]
    assert broken.change == "absorbent.sheets"
    assert "five or six" in broken.remedy


def test_five_or_six_sheets_hold_all_the_water_of_the_face_with_some_to_spare() -> None:
    # The usual number held against another way to it: all of one glue line's water in newsprint.
    for spread in (0.00014, 0.00016, 0.0002):
        values = reported(FLAT | {"adhesive": {"spread": spread}})
        assert 4 <= values.value("paper.sheets_for_all").number <= 6


def test_many_pieces_count_where_the_paper_lies() -> None:
    # face down the many pieces lie on the platen, and the paper over the back has nothing to do with them
    down = face(64, 1) | {"press": {"lay": "face down"}}
    assert status(down, "paper.sheets") == "ok"
    assert status(down | {"back": {"pieces": 64}}, "paper.sheets") == "caution"


def test_sheets_for_the_water_that_comes_through_thin_veneer() -> None:
    thin = FOAM | {"face": {"thickness": 0.3}}
    needed = int(reported(thin).value("paper.sheets").number)
    assert needed >= 2
    for sheets, expected in ((needed - 1, "caution"), (needed, "ok"), (needed + 1, "ok")):
        assert status(thin | {"absorbent": {"sheets": sheets}}, "paper.sheets") == expected
    assert status(thin | {"absorbent": {"material": "none"}}, "paper.sheets") == "caution"
    assert status(thin | {"absorbent": {"material": "cork"}}, "paper.sheets") == "caution"


def test_paper_behind_a_tight_release_is_the_matter_of_another_rule() -> None:
    tight = face(64, 1) | {"release": {"material": "polyethylene film"}}
    assert status(tight, "paper.sheets") == "not applicable"
    assert status(tight, "absorbent.behind_release") == "caution"


def test_glue_without_water_asks_for_no_paper() -> None:
    dry = face(64, 0) | {"adhesive": {"material": "epoxy", "spread": 0.00012}}
    assert status(dry, "paper.sheets") == "not applicable"
    assert "water.load" not in reported(dry).by_key()


def test_glue_that_would_fill_the_face_comes_through() -> None:
    # At the limit: seven tenths of the voids of walnut, of middling pores, 1 − SG/1.5 of its volume (Wood Handbook, p. 4-3).
    walnut, glue = find_wood("black walnut"), find_adhesive("pva")
    voids = 1.0 - walnut.SG / 1.5
    most = 0.7 * 0.6 * voids * glue.density
    assert status(FLAT, "glue.bleed") == "ok"
    assert status(FLAT | {"adhesive": {"spread": most}}, "glue.bleed") == "ok"
    broken = found(FLAT | {"adhesive": {"spread": 1.01 * most}}, "glue.bleed")[0]
    assert (broken.status, broken.change) == ("caution", "adhesive.spread")
    assert broken.margin < 0.0


def test_closed_wood_holds_glue_back_better_than_open_wood() -> None:
    much = {"adhesive": {"spread": 0.00025}}
    assert status(FLAT | much | {"face": {"material": "white oak"}}, "glue.bleed") == "caution"
    assert status(FLAT | much | {"face": {"material": "hard maple"}}, "glue.bleed") == "ok"


def test_water_without_a_way_out() -> None:
    tight = {"release": {"material": "polyethylene film"}}
    assert status(FLAT, "water.way_out") == "ok"
    assert status(FLAT | tight, "water.way_out") == "ok"
    assert status(FOAM, "water.way_out") == "ok"
    broken = found(FOAM | tight, "water.way_out")[0]
    assert (broken.status, broken.change) == ("caution", "release.material")
    assert status(FOAM | tight | {"adhesive": {"material": "epoxy"}}, "water.way_out") == "not applicable"


def test_without_a_way_out_glue_takes_twice_as_long() -> None:
    # common practice: both sides impermeable, twice as long
    tight = FOAM | {"release": {"material": "polyethylene film"}}
    for key in ("time.least", "time.safe"):
        assert reported(tight).value(key).number == pytest.approx(2.0 * reported(FOAM).value(key).number)


@settings(max_examples=20, deadline=None)
@given(st.floats(5e-5, 4e-4), st.floats(0.3, 3.0), st.sampled_from(["mdf", "extruded polystyrene", "poplar"]))
def test_water_of_a_veneer_is_what_it_takes_and_what_comes_through(
    spread: float, thickness: float, core: str
) -> None:
    values = reported(
        FLAT
        | {
            "adhesive": {"spread": spread},
            "face": {"thickness": thickness},
            "substrate": {"material": core},
        }
    ).by_key()
    line, share = values["water.line"].number, values["water.face.share"].number
    gain = values["water.face.gain"]
    per_percent = next(item.number for item in gain.inputs if item.symbol == "rho") * thickness / 100.0
    taken = gain.number * per_percent
    assert 0.0 < share <= 1.0
    assert taken + values["water.face.through"].number == pytest.approx(share * line)
    assert taken <= values["water.face.room"].number * (1 + 1e-12)


@settings(max_examples=15, deadline=None)
@given(st.floats(5e-5, 3e-4), st.floats(1.0, 2.0))
def test_more_glue_never_needs_less_paper_and_never_bleeds_less(spread: float, more: float) -> None:
    little, much = (
        reported(FOAM | {"adhesive": {"spread": amount}}).by_key() for amount in (spread, spread * more)
    )
    for key in ("paper.sheets", "paper.sheets_for_all", "glue.bleed.face", "water.face.through"):
        assert much[key].number >= little[key].number * (1 - 1e-12)
