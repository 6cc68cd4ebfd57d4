"""Random outlines on random bends through the whole model and into solids: a valid stack, or a stop that names the place.

The referee of the solids is the CAD kernel: its checker, and its adaptive volume against thickness times blank.
"""

import math
from typing import Any

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from underbag.app.examine import examine
from underbag.export.shapes import is_valid
from underbag.export.solids import bodies
from underbag.model.layup.settle import settle

from .test_random_bends import bends
from .test_wrapped_solids import volume

Asked = dict[str, dict[str, Any]]


@st.composite
def outlines(draw: st.DrawFn) -> dict[str, Any]:
    """Keys of [panel]: on the unrolled sheet as long as the curve, or in plan, at times too long for it."""
    panel: dict[str, Any] = {"width": draw(st.floats(60.0, 300.0))}
    match draw(st.sampled_from(["ellipse", "rounded", "superellipse", "star", "plan"])):
        case "ellipse":
            panel |= {"outline": "ellipse"}
        case "rounded":
            panel |= {"outline": "rounded rectangle", "corner": draw(st.floats(1.0, 29.0))}
        case "superellipse":
            panel |= {"exponent": draw(st.floats(2.0, 5.0))}
        case "star":
            # five arms around a middle: never alike on both sides, with inside corners
            arms = draw(st.lists(st.floats(0.4, 1.0), min_size=10, max_size=10))
            size = draw(st.floats(30.0, 120.0))
            turns = [0.2 * math.pi * number + 0.05 for number in range(10)]
            corners = [
                (size * r * math.cos(a), size * r * math.sin(a)) for r, a in zip(arms, turns, strict=True)
            ]
            panel = {
                "corners": tuple(corners),
                "outline_on": "plan",
                "fillet": draw(st.sampled_from([0.0, 2.0])),
            }
        case _:
            panel |= {"outline": "ellipse", "outline_on": "plan", "length": draw(st.floats(40.0, 250.0))}
    return panel


@given(bends(), outlines(), st.sampled_from(["outside", "inside"]), st.sampled_from([0.0, 5.0]))
@settings(
    max_examples=6, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much]
)
def test_any_outline_on_any_bend_is_a_valid_stack_or_a_stop_that_names_the_place(
    bend: dict[str, Any], panel: dict[str, Any], show_face: str, springback: float
) -> None:
    asked: Asked = {
        "panel": panel,
        "bend": bend | {"show_face": show_face},
        "substrate": {"laminations": 2, "thickness": 1.5},
        "form": {"springback": springback},
    }
    try:
        layup = settle(asked)
    except ValueError as error:
        # longer than the chord in plan, or corners that find no room
        assume(
            "in plan" not in str(error) and "fillet" not in str(error) and "panel.corner" not in str(error)
        )
        raise
    told = examine(layup)
    if told.planned is None:
        (check,) = told.checks
        assert "the middle" in check.message or "past the bend" in check.message
        return
    # what is cut to the outline; soft sheets and film are rectangles that hang as they may
    work = told.planned.plan.stack.work
    found = bodies(told.planned.plan)
    assert [layer.key for layer in work if not is_valid(found[layer.key])] == []
    for layer in work[:3]:
        assert volume(found[layer.key]) == pytest.approx(layer.volume, rel=1e-5), layer.key
