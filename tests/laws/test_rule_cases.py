"""Every rule has a case that it passes, one that it fails and, where it measures, one at its limit."""

import math
from dataclasses import dataclass
from typing import Any

import pytest

from underbag.model.checks.rule import Check
from underbag.model.errors import ShapeError
from underbag.model.layup.settle import settle
from underbag.model.plan import plan
from underbag.model.report import report

Asked = dict[str, dict[str, Any]]

FLAT: Asked = {"panel": {"length": 420.0, "width": 300.0}}
ARC: Asked = {"panel": {"width": 150.0}, "bend": {"chord": 600.0, "rise": 60.0}}


@dataclass(frozen=True)
class Case:
    """One rule with three layups; ``limit`` is None for a rule that measures nothing."""

    key: str
    passing: Asked
    limit: Asked | None
    failing: Asked
    status: str


def flat(**sections: dict[str, Any]) -> Asked:
    return FLAT | sections


def arc(**sections: dict[str, Any]) -> Asked:
    return ARC | sections


def bend(**sizes: float) -> Asked:
    return {"panel": {"width": 150.0}, "bend": {"radius": 300.0} | sizes}


SEA_LEVEL = 0.101325
"""ISO 2533: standard pressure at sea level, MPa."""

CASES = (
    # a platen of 500 × 380 mm, and 5 mm trimmed off every edge of the board
    Case(
        "stock.size",
        flat(),
        flat(stock={"board_length": 510.0, "board_width": 390.0}),
        flat(stock={"board_length": 509.9, "board_width": 390.0}),
        "caution",
    ),
    Case("vacuum.possible", flat(), flat(vacuum={"gauge": SEA_LEVEL}), flat(vacuum={"gauge": 0.102}), "stop"),
    Case(
        "edge.easing",
        flat(),
        flat(platen={"easing": 3.0}, caul={"easing": 3.0}),
        flat(platen={"easing": 2.9}),
        "caution",
    ),
    Case("edge.corner", flat(), flat(platen={"corner": 6.0}), flat(platen={"corner": 5.9}), "caution"),
    Case(
        "form.hollow",
        arc(form={"build": "ribs", "vented": "yes"}),
        None,
        arc(form={"build": "box", "vented": "no"}),
        "stop",
    ),
    Case(
        "form.foot",
        arc(form={"build": "ribs"}),
        None,  # the lowest place of an arc lies at its ends: the exact depth follows below
        arc(form={"build": "ribs", "base": 20.0}),
        "caution",
    ),
    Case(
        "form.skin",
        arc(form={"build": "ribs"}),
        None,  # the exact radius follows below, from the values themselves
        arc(form={"build": "ribs", "skin": 12.0, "skins": 1}),
        "caution",
    ),
    Case(
        "bag.fit",
        flat(bag={"width": 900.0, "length": 1500.0}),
        None,  # the exact size follows below, from the plan itself
        flat(bag={"width": 400.0, "length": 1500.0}),
        "stop",
    ),
    Case(
        "bag.room",
        flat(),
        flat(bag={"side_clearance": 50.0, "closure": 150.0}),
        flat(bag={"side_clearance": 49.0}),
        "caution",
    ),
    # a limit between them follows by way of the breather's own numbers, in test_air_choice_laws
    Case("breather.open", flat(), None, flat(breather={"material": "none"}), "caution"),
    Case("bag.seam", flat(), flat(bag={"seam": 12.0}), flat(bag={"seam": 11.9}), "caution"),
    Case("bag.stock", flat(), None, flat(bag={"roll": 400.0}), "caution"),
    Case(
        "valve.clearance",
        arc(),
        arc(),  # a valve beside the work is set exactly its clearance from the closed end
        flat(
            bag={"width": 620.0, "length": 1000.0}, valve={"from_closed_end": 80.0, "from_left_seam": 310.0}
        ),
        "caution",
    ),
    Case(
        "valve.seat",
        flat(),
        None,
        arc(
            bag={"width": 560.0, "length": 1200.0}, valve={"from_closed_end": 550.0, "from_left_seam": 280.0}
        ),
        "stop",
    ),
    Case("bend.undercut", arc(), bend(angle=math.pi), bend(angle=3.2), "stop"),
    Case(
        "bend.laminations",
        arc(),
        arc(substrate={"laminations": 3}),
        arc(substrate={"laminations": 2, "thickness": 2.0}),
        "caution",
    ),
    Case(
        "overhang.bound",
        flat(),
        flat(face={"overhang": 12.0}, caul={"material": "none"}),
        flat(face={"overhang": 29.0}, caul={"material": "none"}),
        "stop",
    ),
    Case(
        "overhang.bending",
        flat(),
        # a = t·√(f/3p) = 0.6·√(101/0.24) for walnut at 80 kPa
        flat(face={"overhang": 0.6 * math.sqrt(101.0 / 0.24)}, caul={"material": "none"}),
        flat(face={"overhang": 12.4}, caul={"material": "none"}),
        "caution",
    ),
    Case(
        "release.cover", flat(), flat(release={"margin": 0.0}), flat(release={"material": "none"}), "caution"
    ),
    Case("breather.reach", flat(), arc(breather={"margin": 25.0}), arc(breather={"margin": 24.9}), "caution"),
    Case("breather.drape", flat(), None, flat(breather={"margin": 26.0}), "caution"),
    Case("caul.size", flat(), flat(caul={"margin": 10.0}), flat(caul={"margin": -1.0}), "caution"),
    Case("base.size", flat(), flat(platen={"margin": 6.0}), flat(platen={"margin": 5.9}), "caution"),
    Case(
        "absorbent.behind_release",
        flat(),
        None,
        flat(release={"material": "polyethylene"}),
        "caution",
    ),
)


def found(asked: Asked, key: str) -> list[Check]:
    return [check for check in report(plan(settle(asked))).checks if check.key == key]


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.key)
def test_passing_case(case: Case) -> None:
    checks = found(case.passing, case.key)
    assert {"ok"} == {check.status for check in checks}
    assert all(check.change == "" and check.remedy == "" for check in checks)


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.key)
def test_failing_case(case: Case) -> None:
    worst = found(case.failing, case.key)[0]
    assert worst.status == case.status
    assert worst.margin < 0.0
    assert worst.message
    assert worst.remedy.endswith(".")
    assert worst.why.endswith(".")
    assert "." in worst.change


@pytest.mark.parametrize(
    "case", [case for case in CASES if case.limit is not None], ids=lambda case: case.key
)
def test_at_the_limit_it_still_holds(case: Case) -> None:
    assert case.limit is not None
    assert {"ok"} == {check.status for check in found(case.limit, case.key)}


def test_a_bag_of_exactly_the_size_needed_fits() -> None:
    needed = plan(settle(FLAT)).bag
    size = {"width": needed.needed_width, "length": needed.needed_length}
    assert [check.status for check in found(flat(bag=size), "bag.fit")] == ["ok", "ok"]
    size["length"] -= 0.1
    assert sorted(check.status for check in found(flat(bag=size), "bag.fit")) == ["ok", "stop"]


def test_ribs_of_exactly_the_least_height_hold() -> None:
    # common practice: half of a rib below 20 mm is too weak for a notch
    def depth(base: float) -> float:
        return report(plan(settle(arc(form={"build": "ribs", "base": base})))).value("form.depth").number

    exact = 26.0 + 20.0 - depth(26.0)
    assert depth(exact) == pytest.approx(20.0, abs=1e-9)
    assert found(arc(form={"build": "ribs", "base": exact}), "form.foot")[0].status == "ok"
    assert found(arc(form={"build": "ribs", "base": exact - 0.1}), "form.foot")[0].status == "caution"


def test_no_rib_is_left_under_a_skin_as_thick_as_the_base() -> None:
    for form in ({"skin": 6.0, "base": 6.0}, {"rib": 120.0}, {"skin": 60.0, "skins": 6, "base": 40.0}):
        check = found(arc(form={"build": "ribs"} | form), "form.foot")[0]
        assert check.status == "stop"
        design = plan(settle(arc(form={"build": "ribs"} | form))).form
        assert design is not None
        assert design.built is None


def test_a_skin_that_is_bent_to_exactly_its_least_radius_holds() -> None:
    """Strain t/(2R + t) at R must be the strain allowed, strength over modulus × (0.889/t)^0.39."""
    asked = arc(form={"build": "ribs", "skin": 6.0, "skins": 1})
    radius = report(plan(settle(asked))).value("form.skin.radius").number
    strength = 3000.0 * 6.0 / (2.0 * radius + 6.0) / (0.889 / 6.0) ** 0.39

    def status(MOR: float) -> str:
        checks = report(plan(settle(asked, overrides=(("mdf", "MOR", MOR),)))).checks
        return next(check.status for check in checks if check.key == "form.skin")

    assert [status(strength * (1.0 + 1e-9)), status(0.99 * strength)] == ["ok", "caution"]


def test_a_breather_of_exactly_the_drop_drapes() -> None:
    breather = plan(settle(FLAT)).stack.find("breather")
    assert breather is not None
    assert found(flat(breather={"margin": breather.height}), "breather.drape")[0].status == "ok"
    assert found(flat(breather={"margin": breather.height - 0.01}), "breather.drape")[0].status == "caution"


def test_a_caul_or_platen_that_reaches_past_the_veneer_carries_it() -> None:
    # common practice: what lies on or under a plate is not free
    bare = flat(face={"overhang": 30.0}, caul={"material": "none"})
    below = bare | {"press": {"lay": "face down"}, "platen": {"margin": 40.0}}
    capped = flat(face={"overhang": 8.0}, caul={"margin": 8.0})
    assert found(bare, "overhang.bound")[0].status == "stop"
    faces = [check for check in found(below, "overhang.bound") if check.place.layer == "face"]
    assert [check.status for check in faces] == ["ok"]
    assert [check.value for check in found(capped, "overhang.bound") if check.place.layer == "face"] == [0.0]


def test_overhang_past_plenty_is_a_caution_and_past_the_outer_bound_a_stop() -> None:
    # common practice: 1 1/8 in = 28.575 mm is the outer bound
    def status(overhang: float) -> str:
        asked = flat(face={"overhang": overhang, "thickness": 2.0}, caul={"material": "none"})
        return next(check.status for check in found(asked, "overhang.bound") if check.place.layer == "face")

    assert [status(12.0), status(12.1), status(28.575), status(28.6)] == ["ok", "caution", "caution", "stop"]


def test_a_bend_of_room_for_the_stack_is_ok_and_one_without_room_makes_no_plan() -> None:
    assert found(bend(angle=1.0), "bend.depth")[0].status == "ok"
    thick = {"substrate": {"laminations": 60, "thickness": 6.0}, "form": {"springback": 0.0}}
    with pytest.raises(ShapeError, match=r"radius of 300.0 mm there and the stack reaches"):
        plan(settle(bend(angle=1.0) | thick))
