"""The rule of the tightest bend: every ply at its own height, its own thickness, its own grain."""

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from underbag.model.checks.rule import STATUSES, Check
from underbag.model.layup.settle import settle
from underbag.model.plan import plan
from underbag.model.report import Report, report

Asked = dict[str, dict[str, Any]]
Overrides = tuple[tuple[str, str, float], ...]

WALNUT_E_BEND, WALNUT_MOR = 11600.0, 101.0
WALNUT_E_ACROSS, WALNUT_TENSION_ACROSS = 0.056 * 1.1 * 11600.0, 4.8
"""Black walnut at 12 %: Wood Handbook, FPL-GTR-190, Tables 5-3a and 5-1."""


def bent(radius: float, **sections: dict[str, Any]) -> Asked:
    """A quarter turn straight on a convex form of that radius: its lowest ply has it at its inside."""
    asked: Asked = {
        "panel": {"width": 150.0},
        "bend": {"radius": radius, "angle": 1.5, "curve": "form face"},
        "substrate": {"thickness": 0.8, "laminations": 5},
        "release": {"material": "none"},
    }
    return asked | sections


def told(asked: Asked, overrides: Overrides = ()) -> Report:
    return report(plan(settle(asked, overrides=overrides)))


def found(asked: Asked, part: str, overrides: Overrides = ()) -> Check:
    """What the rule says of the worst ply of a part."""
    checks = [check for check in told(asked, overrides).checks if check.key == "bend.strain"]
    return next(check for check in checks if check.place.layer.partition("-")[0] == part)


def least_of_veneer(t: float, f: float, E: float) -> float:
    """Radius of the concave face at which the strain t/(2R + t) is f/E; thin veneer has no size effect."""
    return t / 2.0 * (E / f - 1.0)


def test_a_gentle_bend_is_ok() -> None:
    check = found(bent(300.0), "back")
    assert check.status == "ok"
    assert check.value == pytest.approx(300.0, rel=1e-12)
    assert check.limit == pytest.approx(least_of_veneer(0.6, WALNUT_MOR, WALNUT_E_BEND), rel=1e-9)


def test_a_veneer_at_exactly_its_least_radius_holds() -> None:
    radius = 60.0
    strength = WALNUT_E_BEND / (2.0 * radius / 0.6 + 1.0)
    assert found(bent(radius), "back", (("black-walnut", "MOR", strength),)).status == "ok"
    broken = found(bent(radius), "back", (("black-walnut", "MOR", 0.999 * strength),))
    assert broken.status == "caution"
    assert broken.change == "back.thickness"
    assert "back.proved_radius" in broken.remedy


def test_along_the_grain_half_of_the_least_radius_is_a_stop() -> None:
    least = least_of_veneer(0.6, WALNUT_MOR, WALNUT_E_BEND)
    assert found(bent(0.51 * least), "back").status == "caution"
    assert found(bent(0.49 * least), "back").status == "stop"


def test_across_the_grain_practice_goes_further_and_it_stays_a_caution() -> None:
    # common practice: thin veneer with its grain along the bend's axis rolls tighter than its strain says
    across = {"grain": "along width"}
    least = least_of_veneer(0.6, WALNUT_TENSION_ACROSS, WALNUT_E_ACROSS)
    assert found(bent(1.001 * least, face=across), "back").status == "ok"
    for share in (0.999, 0.3, 0.2):
        assert found(bent(share * least, face=across), "back").status == "caution"


@pytest.mark.parametrize(("proved", "status"), [(20.0, "ok"), (20.1, "caution")])
def test_a_test_bend_that_held_makes_its_radius_ok(proved: float, status: str) -> None:
    tried = {"proved_radius": proved}
    assert found(bent(20.0), "back").status == "caution"
    assert found(bent(20.0, back=tried), "back").status == status


def test_a_test_bend_wider_than_the_limit_takes_nothing_away() -> None:
    assert found(bent(60.0, back={"proved_radius": 500.0}), "back").status == "ok"


def test_plywood_may_be_bent_as_the_table_has_it() -> None:
    """The table's radius is asked of the ply at the inside of the bend, and the substrate's own limit is beside it."""
    # FAA AC 43.13-1B, Table 1-2: 0.070 in, dry, 90° to the face grain: 5.2 in
    ply = {"material": "birch plywood", "thickness": 1.778, "laminations": 3}
    bare = {"face": {"material": "none"}, "back": {"material": "none"}}
    at_table = bent(132.08, substrate=ply) | bare
    assert told(at_table).value("bend.substrate.published").number == pytest.approx(132.08, rel=1e-9)
    assert found(at_table, "substrate").status == "ok"
    assert found(bent(132.0, substrate=ply) | bare, "substrate").status == "caution"


def test_every_ply_has_its_own_radius() -> None:
    """On a convex form a ply's inside is its lower face, in a concave one its upper: radii differ by thicknesses."""
    for show_face, sign in (("outside", 1.0), ("inside", -1.0)):
        asked = bent(300.0)
        asked["bend"] = asked["bend"] | {"show_face": show_face}
        made = plan(settle(asked))
        values = report(made)
        for ply in made.plies:
            inside = ply.height if sign > 0.0 else ply.top
            radius = values.value(f"bend.{ply.key}.radius").number
            assert radius == pytest.approx(300.0 + sign * inside, rel=1e-12)
            strain = ply.thickness / (2.0 * radius + ply.thickness)
            assert values.value(f"bend.{ply.key}.strain").number == pytest.approx(strain, rel=1e-12)


def test_a_stiff_caul_has_to_follow_the_bend() -> None:
    assert found(bent(100.0, caul={"material": "mdf", "thickness": 6.0}), "caul").status == "stop"
    assert found(bent(2000.0, caul={"material": "mdf", "thickness": 2.0}), "caul").status == "ok"


def test_a_flat_panel_has_no_bend() -> None:
    checks = told({"panel": {"length": 420.0, "width": 300.0}}).checks
    assert [check.status for check in checks if check.key == "bend.strain"] == ["not applicable"]


@given(
    thin=st.floats(0.3, 3.0), more=st.floats(0.0, 2.0), grain=st.sampled_from(["along length", "along width"])
)
@settings(max_examples=25, deadline=None)
def test_thinner_veneer_never_needs_a_larger_radius(thin: float, more: float, grain: str) -> None:
    def least(t: float) -> tuple[float, int]:
        asked = bent(400.0, face={"thickness": t, "grain": grain})
        status = found(asked, "face").status
        return told(asked).value("bend.face.least").number, STATUSES.index(status)

    (thin_radius, thin_status), (thick_radius, thick_status) = least(thin), least(thin + more)
    assert thin_radius <= thick_radius * (1.0 + 1e-12)
    assert thin_status >= thick_status


@given(
    t=st.floats(0.5, 9.0), more=st.floats(0.0, 2.0), grain=st.sampled_from(["along length", "along width"])
)
@settings(max_examples=25, deadline=None)
def test_thinner_plywood_never_needs_a_larger_radius(t: float, more: float, grain: str) -> None:
    def limit(thickness: float) -> float:
        ply = {"material": "poplar plywood", "thickness": thickness, "laminations": 3, "grain": grain}
        return found(bent(3000.0, substrate=ply), "substrate").limit

    assert limit(t) <= limit(t + more) * (1.0 + 1e-12)
