"""What may never happen in a whole report, whatever the layup."""

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from underbag.model.checks.rule import STATUSES
from underbag.model.layup.settle import settle
from underbag.model.plan import plan
from underbag.model.report import Report, report
from underbag.model.value import evaluate

Asked = dict[str, dict[str, Any]]

FLAT: Asked = {"panel": {"length": 420.0, "width": 300.0}}
FEW = settings(max_examples=15, deadline=None)


def told(asked: Asked) -> Report:
    return report(plan(settle(asked)))


@st.composite
def layups(draw: st.DrawFn) -> Asked:
    """Flat and bent layups of many makes, some of them foolish."""
    materials = ["black walnut", "white oak", "holly", "none"]
    veneer = st.fixed_dictionaries(
        {
            "material": st.sampled_from(materials),
            "thickness": st.floats(0.3, 3.0),
            "grain": st.sampled_from(["along length", "along width"]),
        }
    )
    substrate = st.fixed_dictionaries(
        {
            "material": st.sampled_from(
                ["mdf", "birch plywood", "bending plywood", "xps-276", "sapele", "paper honeycomb"]
            ),
            "thickness": st.floats(0.8, 12.0),
            "laminations": st.integers(1, 6),
            "grain": st.sampled_from(["along length", "along width"]),
        }
    )
    asked: Asked = {"face": draw(veneer), "back": draw(veneer), "substrate": draw(substrate)}
    asked["adhesive"] = {"material": draw(st.sampled_from(["pva", "urea", "epoxy"]))}
    if draw(st.booleans()):
        return FLAT | asked
    bend = {"radius": draw(st.floats(300.0, 3000.0)), "angle": draw(st.floats(0.05, 3.0))}
    form = {"build": draw(st.sampled_from(["stacked", "ribs", "box"]))}
    return {"panel": {"width": 200.0}, "bend": bend, "form": form} | asked


@given(asked=layups())
@settings(max_examples=60, deadline=None)
def test_every_layup_has_a_report_and_every_working_gives_its_number(asked: Asked) -> None:
    found = told(asked)
    assert len({value.key for value in found.values}) == len(found.values)
    for value in found.values:
        if not value.is_method:
            # the same arithmetic twice; sums that nearly cancel lose digits
            assert evaluate(value) == pytest.approx(value.number, rel=1e-9, abs=1e-12), value.key
    for check in found.checks:
        assert (check.remedy == "") == (check.status in ("ok", "not applicable")), check.key


@given(asked=layups())
@FEW
def test_the_same_layup_gives_the_same_report(asked: Asked) -> None:
    assert told(asked) == told(asked)


@given(low=st.floats(-400e3, 5000e3), higher=st.floats(0.0, 1000e3))
@FEW
def test_higher_altitude_never_gives_more_force(low: float, higher: float) -> None:
    def most(altitude: float) -> float:
        values = told(FLAT | {"vacuum": {"altitude": altitude, "gauge": 0.04}})
        return values.value("air.deepest_gauge").number * values.value("press.area").number

    assert most(low + higher) <= most(low)


@given(gauge=st.floats(0.01, 0.09), deeper=st.floats(0.0, 0.01), overhang=st.floats(1.0, 30.0))
@FEW
def test_more_pressure_never_allows_more_overhang(gauge: float, deeper: float, overhang: float) -> None:
    def worst(p: float) -> int:
        asked = FLAT | {
            "vacuum": {"gauge": p},
            "face": {"overhang": overhang},
            "caul": {"material": "none"},
        }
        return min(
            STATUSES.index(check.status)
            for check in told(asked).checks
            if check.key.startswith("overhang.") and check.status != "not applicable"
        )

    assert worst(gauge + deeper) <= worst(gauge)
