"""Springback through the whole road: the form that leaves the wanted panel, and when that cannot be foretold."""

import math
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from underbag.model.checks.rule import STATUSES, Check
from underbag.model.layup.settle import settle
from underbag.model.plan import Plan, plan
from underbag.model.report import report

Asked = dict[str, dict[str, Any]]
Overrides = tuple[tuple[str, str, float], ...]

BARE: Asked = {"face": {"material": "none"}, "back": {"material": "none"}}
CREEPS = ("urea", "epoxy", "cross-linking-pva", "pva")
"""Glues from those that hold to those that give way."""


def bent(laminations: int, **sections: dict[str, Any]) -> Asked:
    asked: Asked = {
        "panel": {"width": 150.0},
        "bend": {"radius": 500.0, "angle": 1.2, "curve": "substrate middle"},
        "substrate": {"thickness": 2.0, "laminations": laminations},
    }
    return asked | sections


def found(asked: Asked, overrides: Overrides = ()) -> Check:
    checks = report(plan(settle(asked, overrides=overrides))).checks
    return next(check for check in checks if check.key == "springback.certain")


def form_radius(made: Plan) -> float:
    """Radius on the form of the curve that was asked for."""
    return made.stack.sheet.profile.length / abs(made.stack.sheet.profile.turn)


@pytest.mark.parametrize("n", [2, 3, 4, 5, 8])
def test_the_form_of_equal_plies_is_tighter_by_one_in_n_squared(n: int) -> None:
    # beam theory: plies bent one by one and glued lose 1/n²; a target of 500 mm with 4 plies asks for 468.75 mm
    made = plan(settle(bent(n) | BARE))
    assert report(made).value("springback.ratio").number == pytest.approx(1.0 / n**2, rel=1e-12)
    assert form_radius(made) == pytest.approx(500.0 * (1.0 - 1.0 / n**2), rel=1e-12)


def test_released_the_panel_is_the_one_that_was_asked_for() -> None:
    made = plan(settle(bent(3)))
    assert made.layup.bend is not None
    assert made.released.profile.turn == pytest.approx(made.layup.bend.angle, rel=1e-12)
    assert made.released.profile.length == made.stack.sheet.profile.length == made.layup.panel.length
    assert made.released.reference == made.stack.sheet.reference
    assert report(made).value("springback.show_face").number == pytest.approx(
        500.0 + made.stack.work[-1].top - made.stack.sheet.reference, rel=1e-12
    )


def test_the_radius_to_build_is_that_of_the_forms_face() -> None:
    made = plan(settle(bent(4)))
    sheet = made.stack.sheet
    assert report(made).value("springback.form_radius").number == pytest.approx(
        form_radius(made) - sheet.reference, rel=1e-12
    )
    # an arc of that radius over that turn is as long as the sheet is at height 0
    half = 0.5 * sheet.profile.length
    assert sheet.length(0.0, -half, half) == pytest.approx(
        abs(sheet.profile.turn) * (form_radius(made) - sheet.reference), rel=1e-12
    )


def test_a_form_that_is_there_already_is_kept_and_the_panel_opens() -> None:
    asked = bent(3) | BARE
    asked["bend"] = asked["bend"] | {"curve": "form face"}
    made = plan(settle(asked))
    assert form_radius(made) == pytest.approx(500.0, rel=1e-12)
    assert made.released.profile.turn == pytest.approx(1.2 * (1.0 - 1.0 / 9.0), rel=1e-12)


def test_a_trial_overrules_the_computed_share() -> None:
    made = plan(settle(bent(7, form={"springback": 10.0})))
    assert form_radius(made) == pytest.approx(500.0 * 0.9, rel=1e-12)
    kept = plan(settle(bent(7, form={"springback": 0.0})))
    assert form_radius(kept) == pytest.approx(500.0, rel=1e-15)
    assert kept.released == kept.stack.sheet


def test_blanks_are_those_of_the_pressed_state() -> None:
    made = plan(settle(bent(3)))
    for layer in made.stack.layers:
        expected = layer.outline.length + (layer.middle - made.stack.sheet.reference) * 1.2 / (
            1.0 - report(made).value("springback.ratio").number
        )
        assert layer.blank.length == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize("plies", [1, 3])
def test_a_bend_that_is_hardly_held_is_a_stop_and_its_form_is_left_as_the_panel(plies: int) -> None:
    thick = {"thickness": 10.0, "laminations": plies}
    made = plan(settle(bent(1, substrate=thick) | BARE))
    check = found(bent(1, substrate=thick) | BARE)
    if plies == 1:
        assert check.status == "stop"
        assert check.change == "substrate.laminations"
        assert form_radius(made) == pytest.approx(500.0, rel=1e-12)
    else:
        assert check.status == "ok"


def test_passing_at_the_limit_and_failing() -> None:
    from scipy.optimize import brentq

    def ratio(E: float) -> float:
        made = plan(settle(bent(2), overrides=(("birch-plywood", "E", E),)))
        return report(made).value("springback.ratio").number

    # stiff veneers on both faces hold two limp plies together: some stiffness leaves exactly the limit of 0.12
    at_limit = float(brentq(lambda E: ratio(E) - 0.12, 500.0, 50_000.0, xtol=1e-9, rtol=1e-14))
    assert found(bent(7)).status == "ok"
    assert found(bent(2), (("birch-plywood", "E", at_limit),)).status == "ok"
    assert found(bent(2), (("birch-plywood", "E", 1.01 * at_limit),)).status == "caution"


def test_a_trial_at_the_most_that_can_be_entered_holds() -> None:
    assert found(bent(3, form={"springback": 50.0})).status == "ok"


def test_the_more_a_glue_creeps_the_sooner_it_is_a_caution() -> None:
    # common practice: plain white glue for mild bends only, a rigid one for the rest
    status = {glue: found(bent(5, adhesive={"material": glue}) | BARE).status for glue in CREEPS}
    assert status["urea"] == "ok"
    assert status["pva"] == "caution"
    ranks = [STATUSES.index(status[glue]) for glue in CREEPS]  # type: ignore[arg-type]
    assert ranks == sorted(ranks, reverse=True)


def test_a_half_round_that_the_form_carries_far_past_itself_is_undercut() -> None:
    half: Asked = {"panel": {"width": 150.0}, "bend": {"radius": 300.0, "angle": math.pi}, **BARE}
    few = half | {"substrate": {"thickness": 2.0, "laminations": 3}}
    many = half | {"substrate": {"thickness": 2.0, "laminations": 9}}
    assert plan(settle(few)).is_undercut
    assert not plan(settle(many)).is_undercut


@given(n=st.integers(1, 12), t=st.floats(0.5, 5.0), veneer=st.floats(0.3, 1.5), angle=st.floats(0.05, 2.6))
@settings(max_examples=25, deadline=None)
def test_every_bend_gives_a_plan_and_more_plies_never_spring_back_more(
    n: int, t: float, veneer: float, angle: float
) -> None:
    def made(plies: int) -> Plan:
        asked: Asked = {
            "panel": {"width": 150.0},
            "bend": {"radius": 1000.0, "angle": angle},
            "substrate": {"thickness": t, "laminations": plies},
            "face": {"thickness": veneer},
        }
        return plan(settle(asked))

    few, more = made(n), made(n + 1)
    assert few.spring is not None
    assert more.spring is not None
    assert 0.0 < more.spring.plies.ratio <= few.spring.plies.ratio <= 1.0 + 1e-12
    assert abs(more.released.profile.turn) == pytest.approx(angle, rel=1e-12)
    assert abs(more.stack.sheet.profile.turn) >= angle * (1.0 - 1e-12)
