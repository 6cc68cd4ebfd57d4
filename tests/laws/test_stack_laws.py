"""The stack: who lies on whom, and what a blank must be."""

import itertools
import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from underbag.model.layup.settle import settle
from underbag.model.plan import Plan, plan
from underbag.model.report import report

FLAT: dict[str, dict[str, Any]] = {"panel": {"length": 420.0, "width": 300.0}}
ARC: dict[str, dict[str, Any]] = {"panel": {"width": 150.0}, "bend": {"chord": 600.0, "rise": 60.0}}


def planned(asked: dict[str, dict[str, Any]]) -> Plan:
    return plan(settle(asked))


def order(asked: dict[str, dict[str, Any]]) -> list[str]:
    return [layer.key for layer in planned(asked).stack.layers if layer.role != "adhesive"]


# common practice: orders of laying, from the platen or form upward
@pytest.mark.parametrize(
    ("asked", "from_below"),
    [
        (
            FLAT,
            ["release-below", "back", "substrate", "face", "release-above", "absorbent", "caul", "breather"],
        ),
        (
            FLAT | {"press": {"lay": "face down"}},
            ["release-below", "face", "substrate", "back", "release-above", "absorbent", "caul", "breather"],
        ),
        (
            FLAT | {"back": {"material": "none"}, "absorbent": {"sheets": 0}},
            ["release-below", "substrate", "face", "release-above", "caul", "breather"],
        ),
        (
            ARC | {"substrate": {"laminations": 3}},
            [
                "release-below",
                "back",
                "substrate-1",
                "substrate-2",
                "substrate-3",
                "face",
                "release-above",
                "absorbent",
                "breather",
            ],
        ),
    ],
)
def test_order_of_laying(asked: dict[str, dict[str, Any]], from_below: list[str]) -> None:
    assert order(asked) == from_below


@pytest.mark.parametrize(
    ("lay", "show_face", "uppermost"),
    [
        ("convex", "outside", "face"),
        ("convex", "inside", "back"),
        ("concave", "inside", "face"),
        ("concave", "outside", "back"),
    ],
)
def test_which_veneer_is_uppermost_on_a_form(lay: str, show_face: str, uppermost: str) -> None:
    asked = ARC | {"bend": ARC["bend"] | {"show_face": show_face}, "press": {"lay": lay}}
    veneers = [layer.key for layer in planned(asked).stack.of_role("veneer")]
    assert veneers[-1] == uppermost


def test_there_is_glue_between_all_sheets_of_the_panel() -> None:
    layers = planned(ARC).stack.work
    roles = [layer.role == "adhesive" for layer in layers]
    assert roles == [index % 2 == 1 for index in range(len(layers))]


@given(st.floats(300.0, 2000.0), st.floats(0.02, 0.3), st.sampled_from(["outside", "inside"]))
def test_layers_lie_on_each_other_and_outer_ones_are_longer(chord: float, share: float, side: str) -> None:
    asked = {"panel": {"width": 150.0}, "bend": {"chord": chord, "rise": chord * share, "show_face": side}}
    stack = planned(asked).stack
    for below, above in zip(stack.layers, stack.layers[1:], strict=False):
        assert above.height == pytest.approx(below.top, abs=1e-12)
    plies = stack.of_role("substrate")
    lengths = [ply.blank.length for ply in plies]
    assert lengths == sorted(lengths, reverse=side == "inside")
    turn = stack.sheet.profile.turn
    for one, other in itertools.pairwise(plies):
        assert other.blank.length - one.blank.length == pytest.approx(
            (other.middle - one.middle) * turn, rel=1e-9
        )


@given(st.floats(100.0, 3000.0), st.floats(100.0, 1500.0))
def test_turning_a_flat_job_by_a_right_angle_only_swaps_its_sizes(length: float, width: float) -> None:
    one, other = (
        planned({"panel": {"length": length, "width": width}}),
        planned({"panel": {"length": width, "width": length}}),
    )
    for a, b in zip(one.stack.layers, other.stack.layers, strict=True):
        assert (a.blank.length, a.blank.width, a.blank.area) == pytest.approx(
            (b.blank.width, b.blank.length, b.blank.area)
        )
    assert one.along.girth == pytest.approx(other.across.girth)


def test_a_four_line_file_makes_a_whole_plan_without_a_caution() -> None:
    checks = report(planned(FLAT)).checks
    assert {check.status for check in checks} <= {"ok", "not applicable"}
    assert planned(FLAT).layup.settled
    assert [item.key for item in planned(FLAT).layup.settled if item.given] == ["panel.length", "panel.width"]
    assert all(item.reason for item in planned(FLAT).layup.settled)


def test_each_surface_that_a_bend_may_be_measured_on_is_where_it_says() -> None:
    for curve in ("show face", "substrate middle", "form face"):
        asked = {"panel": {"width": 150.0}, "bend": {"radius": 400.0, "angle": 1.0, "curve": curve}}
        stack = planned(asked).stack
        face, core = stack.find("face"), stack.of_role("substrate")
        assert face is not None
        height = {
            "show face": face.top,
            "substrate middle": 0.5 * (core[0].height + core[-1].top),
            "form face": 0.0,
        }[curve]
        assert stack.sheet.reference == pytest.approx(height, abs=1e-12)
        half = 0.5 * stack.sheet.profile.length
        assert stack.sheet.length(height, -half, half) == pytest.approx(400.0 * 1.0, rel=1e-12)


def test_release_and_breather_are_larger_than_the_veneer() -> None:
    # common practice: release a little larger than the veneer, breather at least as large as it
    for asked in (FLAT, ARC, FLAT | {"panel": FLAT["panel"] | {"outline": "ellipse"}}):
        stack = planned(asked).stack
        veneer = max(layer.outline.length for layer in stack.of_role("veneer"))
        assert all(layer.outline.length > veneer for layer in stack.of_role("release"))
        assert all(layer.outline.length >= veneer for layer in stack.of_role("breather"))
        assert stack.layers[-1].role == "breather"


def test_the_work_lies_centred_under_the_valve_of_a_new_bag() -> None:
    # common practice
    valve = planned(FLAT).valve
    assert (valve.t, valve.w) == (0.0, 0.0)
    assert valve.from_closed_end == pytest.approx(valve.work_from_closed_end)
    assert math.isclose(2.0 * valve.from_left_seam, planned(FLAT).bag.width)
