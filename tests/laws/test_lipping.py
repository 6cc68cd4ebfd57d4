"""Lipping: what is cut, what it weighs, the step that the seasons raise at its joint, and where it is refused."""

import csv
import io
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from underbag.export.cut_list import cut_list
from underbag.export.sheets.parts import parts_of
from underbag.model.checks.rule import Check
from underbag.model.errors import LayupError
from underbag.model.layup.settle import Override, settle
from underbag.model.mechanics.moisture import humidity_for
from underbag.model.plan import Plan, plan
from underbag.model.report import Report, report

Asked = dict[str, dict[str, Any]]

FLAT: Asked = {"panel": {"length": 600.0, "width": 300.0}}
LIPPED: Asked = FLAT | {"lipping": {"material": "white oak", "width": 12.0}}


def planned(asked: Asked, overrides: tuple[Override, ...] = ()) -> Plan:
    return plan(settle(asked, overrides=overrides))


def told(asked: Asked, overrides: tuple[Override, ...] = ()) -> Report:
    return report(planned(asked, overrides))


def found(asked: Asked, overrides: tuple[Override, ...] = ()) -> Check:
    return next(check for check in told(asked, overrides).checks if check.key == "lipping.step")


def step(asked: Asked, overrides: tuple[Override, ...] = ()) -> float:
    return told(asked, overrides).value("lipping.step").number


@given(length=st.floats(200.0, 2000.0), width=st.floats(100.0, 1000.0), lip=st.floats(3.0, 40.0))
@settings(max_examples=15, deadline=None)
def test_board_and_strips_are_the_lipped_core(length: float, width: float, lip: float) -> None:
    """Areas of what is cut against the area that it makes up."""
    asked: Asked = {
        "panel": {"length": length, "width": width},
        "lipping": {"material": "white oak", "width": lip},
        "substrate": {"trim": 2.0},
    }
    values = told(asked)
    board = values.value("blank.substrate.length").number * values.value("blank.substrate.width").number
    strips = 2.0 * lip * (values.value("lipping.long").number + values.value("lipping.short").number)
    assert board + strips == pytest.approx((length + 4.0) * (width + 4.0), rel=1e-12)


def test_everything_but_the_board_is_as_without_a_lipping() -> None:
    lipped, plain = planned(LIPPED), planned(FLAT)
    core = lipped.stack.find("substrate")
    assert core is not None
    assert (core.blank.length, core.blank.width) == (576.0, 276.0)
    for one, other in zip(lipped.stack.layers, plain.stack.layers, strict=True):
        assert one.outline == other.outline
        assert one.blank == other.blank or one.key == "substrate"
    assert (lipped.bag, lipped.valve) == (plain.bag, plain.valve)


def test_the_mass_counts_board_and_strips_each_with_its_own_wood() -> None:
    made, plain = planned(LIPPED), told(FLAT)
    assert made.chosen.lipping is not None
    heavier = made.chosen.lipping.density - made.chosen.substrate.density
    edging = 18.0 * (600.0 * 300.0 - 576.0 * 276.0)
    assert report(made).value("panel.mass").number - plain.value("panel.mass").number == pytest.approx(
        edging * heavier, rel=1e-9
    )
    # sums in another order: rounding only
    assert report(made).value("panel.volume").number == pytest.approx(
        plain.value("panel.volume").number, rel=1e-12
    )


def test_the_strips_stand_in_the_cut_list_and_among_the_parts() -> None:
    made = planned(LIPPED)
    rows = csv.reader(io.StringIO(cut_list(made, report(made)).decode("utf-8-sig")))
    strips = [row[1:8] for row in rows if row[1].startswith("lipping")]
    assert strips == [
        ["lipping along the length", "white oak", "along length", "2", "600", "12", "18"],
        ["lipping along the width", "white oak", "along width", "2", "276", "12", "18"],
    ]
    parts = [part for part in parts_of(made) if part.name == "lipping"]
    assert sorted((part.size, part.quantity) for part in parts) == [((276.0, 12.0), 2), ((600.0, 12.0), 2)]
    assert not [part for part in parts_of(planned(FLAT)) if part.name == "lipping"]


def test_step_by_hand() -> None:
    """18 mm of MDF beside oak through a change of 5 % in the moisture of the wood.

    MDF 0.0035 for one percent (a maker's guide); white oak 0.0018 across and 0.00365 along its rings: Wood Handbook, table
    13-5. 18 × (0.0035 − 0.0018) × 5 = 0.153 mm in all, half of it at each face.
    """
    driest, dampest = (100.0 * humidity_for(T=20.0, M=moisture) for moisture in (7.0, 12.0))
    asked = LIPPED | {"panel": FLAT["panel"] | {"driest": driest, "dampest": dampest}}
    assert step(asked) == pytest.approx(0.0765, abs=5e-4)


def test_a_lipping_that_swells_as_its_core_raises_no_step() -> None:
    own: tuple[Override, ...] = (("white-oak", "C_R", 0.0035), ("white-oak", "C_T", 0.0035))
    assert step(LIPPED, own) == 0.0
    assert found(LIPPED, own).status == "ok"


def test_the_limit_holds_and_past_it_a_crossband_is_named() -> None:
    """Thickness of the core at which the step is just what a veneer hides: 0.05 mm (common practice)."""
    at_limit = 18.0 * 0.05 / step(LIPPED)

    def thick(thickness: float, **more: Any) -> Check:
        return found(LIPPED | {"substrate": {"thickness": thickness}} | more)

    assert thick(0.9 * at_limit).status == "ok"
    assert thick(at_limit).status == "ok"
    failing = thick(1.001 * at_limit)
    assert (failing.status, failing.change, failing.place.layer) == (
        "caution",
        "crossband.material",
        "substrate",
    )
    assert "after veneering" in failing.remedy
    crossband = {"material": "yellow-poplar"}
    assert thick(1.001 * at_limit, crossband=crossband).status == "ok"
    assert thick(2.0 * at_limit, crossband=crossband).status == "ok"
    assert thick(2.001 * at_limit, crossband=crossband).change == "lipping.material"


def test_without_a_lipping_there_is_nothing_to_tell() -> None:
    assert found(FLAT).status == "not applicable"
    assert not [value for value in told(FLAT).values if value.key.startswith("lipping.")]


OAK = {"material": "white oak"}


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        ({"panel": {"width": 150.0}, "bend": {"radius": 400.0, "angle": 1.0}, "lipping": OAK}, "on a bend"),
        ({"panel": FLAT["panel"] | {"outline": "ellipse"}, "lipping": OAK}, "ellipse"),
        (FLAT | {"substrate": {"laminations": 2}, "lipping": OAK}, "a core of 2 sheets"),
        (FLAT | {"lipping": OAK | {"width": 150.0}}, "less than 150 mm"),
        (FLAT | {"lipping": OAK | {"width": 3.0}, "substrate": {"trim": 3.0}}, "more than 3 mm"),
    ],
)
def test_where_it_is_not_worked_out_it_is_refused(asked: Asked, said: str) -> None:
    with pytest.raises(LayupError, match=f"lipping.*{said}"):
        settle(asked)
    # without a lipping the same is a layup, whatever width it would have
    settle({name: keys for name, keys in asked.items() if name != "lipping"})
