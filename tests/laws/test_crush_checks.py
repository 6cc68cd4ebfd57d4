"""The rule of crushing: each part held against the gauge, at once and for hours."""

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from underbag.model.checks.rule import STATUSES, Check
from underbag.model.layup.settle import settle
from underbag.model.plan import plan
from underbag.model.report import report

Asked = dict[str, dict[str, Any]]
Overrides = tuple[tuple[str, str, float], ...]

FLAT: Asked = {"panel": {"length": 420.0, "width": 300.0}}
GAUGE = 0.08


def found(asked: Asked, part: str, overrides: Overrides = ()) -> Check:
    """What the rule says of one part."""
    checks = report(plan(settle(asked, overrides=overrides))).checks
    return next(check for check in checks if check.key == "crush.core" and check.place.layer == part)


def foam(gauge: float) -> Asked:
    return FLAT | {"substrate": {"material": "xps-104"}, "vacuum": {"gauge": gauge}}


def test_a_board_bears_every_vacuum() -> None:
    assert {found(FLAT, part).status for part in ("substrate", "caul", "platen")} == {"ok"}


def test_foam_is_held_to_a_third_of_its_class_for_hours_and_to_the_whole_at_once() -> None:
    # from memory: makers of extruded foam allow a third of the strength that it is classed by for long loads
    third = 0.3333 * 0.104
    assert found(foam(third), "substrate").status == "ok"
    caution = found(foam(third + 1e-4), "substrate")
    assert caution.status == "caution"
    assert caution.change == "vacuum.gauge"
    assert found(foam(GAUGE), "substrate", (("xps-104", "crush", GAUGE),)).status == "caution"
    assert found(foam(GAUGE), "substrate", (("xps-104", "crush", 0.999 * GAUGE),)).status == "stop"


def test_a_core_that_bears_exactly_the_gauge_holds() -> None:
    assert found(FLAT, "substrate", (("mdf", "crush", GAUGE),)).status == "ok"
    assert found(FLAT, "substrate", (("mdf", "crush", 0.999 * GAUGE),)).status == "stop"


def test_a_form_of_foam_is_looked_at_too() -> None:
    asked: Asked = {
        "panel": {"width": 150.0},
        "bend": {"chord": 600.0, "rise": 60.0},
        "form": {"material": "xps-104"},
    }
    assert found(asked, "form").status == "caution"


@pytest.mark.parametrize("material", ["paper honeycomb", "aramid honeycomb", "balsa core", "poplar plywood"])
@given(low=st.floats(0.01, 0.09), more=st.floats(0.0, 0.01))
@settings(max_examples=10, deadline=None)
def test_more_vacuum_never_crushes_less(material: str, low: float, more: float) -> None:
    def status(gauge: float) -> int:
        asked = FLAT | {"substrate": {"material": material}, "vacuum": {"gauge": gauge}}
        return STATUSES.index(found(asked, "substrate").status)

    assert status(low + more) <= status(low)
