"""Random bends through the whole model and into solids: a valid stack, or a stop that names the place; never a hang.

The referee of the solids is the CAD kernel's own checker.
"""

import math
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st
from shapely import MultiPoint, Point

from underbag.app.examine import examine
from underbag.export.shapes import is_valid
from underbag.export.solids import solids
from underbag.model.bag.section import hollow_profile
from underbag.model.errors import ShapeError
from underbag.model.layup.sections import BENT_LAYS, CURVES
from underbag.model.layup.settle import settle
from underbag.model.plan import plan
from underbag.model.shape.profile import Run
from underbag.model.values.film import film_values, hollow_of

Asked = dict[str, dict[str, Any]]

arcs = st.builds(
    lambda radius, angle, side: Run(radius * angle, side / radius),
    st.floats(30.0, 600.0),
    st.floats(0.1, 2.2),
    st.sampled_from([1.0, -1.0]),
)
straights = st.builds(Run, st.floats(5.0, 200.0), st.just(0.0))
chains = st.lists(st.one_of(arcs, straights), min_size=1, max_size=5)
ordinates = st.lists(st.floats(-25.0, 25.0), min_size=4, max_size=9)


@st.composite
def bends(draw: st.DrawFn) -> dict[str, Any]:
    """Keys of [bend] for one of the shapes."""
    match draw(st.sampled_from(["chain", "points", "ellipse", "parabola", "arc"])):
        case "chain":
            pieces = tuple(draw(chains))
            assume(any(piece.curvature for piece in pieces) and sum(piece.length for piece in pieces) > 40.0)
            return {"chain": pieces}
        case "points":
            row = tuple(draw(ordinates))
            assume(max(row) - min(row) > 1.0)
            return {"ordinates": row, "every": draw(st.floats(30.0, 120.0))}
        case "arc":
            return {"radius": draw(st.floats(30.0, 900.0)), "angle": draw(st.floats(0.2, 5.0))}
        case shape:
            chord = draw(st.floats(100.0, 900.0))
            return {"shape": shape, "chord": chord, "rise": draw(st.floats(0.05, 0.6)) * chord}


@given(
    bends(),
    st.sampled_from(CURVES),
    st.sampled_from(["outside", "inside"]),
    st.sampled_from(BENT_LAYS),
)
@settings(max_examples=6)
def test_any_bend_is_a_valid_stack_or_a_stop_that_names_the_place(
    bend: dict[str, Any], curve: str, show_face: str, lay: str
) -> None:
    asked: Asked = {
        "panel": {"width": 140.0},
        "bend": bend | {"curve": curve, "show_face": show_face},
        "press": {"lay": lay},
        "substrate": {"laminations": 2, "thickness": 1.5},
    }
    told = examine(settle(asked))
    if told.planned is None:
        (check,) = told.checks
        assert "the middle" in check.message or "past the bend" in check.message
        return
    parts = solids(told.planned.plan)
    assert [part.name for part in parts if not is_valid(part.solid)] == []


@pytest.mark.parametrize("curve", CURVES)
def test_the_curve_that_is_told_has_the_length_that_was_asked_for(curve: str) -> None:
    """On the surface that it describes: show face, middle of the substrate, or the face of the form."""
    pieces = (Run(80.0, 0.0), Run(90.0, 1.0 / 120.0), Run(60.0, -1.0 / 150.0), Run(50.0, 0.0))
    asked: Asked = {
        "panel": {"width": 140.0},
        "bend": {"chain": pieces, "curve": curve},
        "form": {"springback": 0.0},
    }
    made = plan(settle(asked))
    work = made.stack.work
    sheets = [layer for layer in work if layer.role == "substrate"]
    heights = {
        "show face": work[-1].top,
        "substrate middle": 0.5 * (sheets[0].height + sheets[-1].top),
        "form face": 0.0,
    }
    sheet, half = made.stack.sheet, 0.5 * made.outline.length
    assert sheet.length(heights[curve], -half, half) == pytest.approx(280.0, rel=1e-12)
    turn = 90.0 / 120.0 - 60.0 / 150.0
    assert sheet.length(heights[curve] + 10.0, -half, half) == pytest.approx(280.0 + 10.0 * turn, rel=1e-12)
    assert math.isclose(sheet.profile.swing, 90.0 / 120.0, rel_tol=1e-12)


TUCKED = (
    Run(196.15, -0.014436),
    Run(181.20, 0.0027196),
    Run(199.43, 0.0),
    Run(153.10, 0.0027604),
)
"""An arc of 162° at one end: the end lies tucked under the bulge of the arc, inside the taut film."""


@given(chains.map(tuple), st.sampled_from(["outside", "inside"]), st.sampled_from([1, 6]))
@example(TUCKED, "inside", 6)
@example(TUCKED[::-1], "inside", 1)
@settings(max_examples=80)
def test_the_film_over_any_chain(pieces: tuple[Run, ...], show_face: str, laminations: int) -> None:
    """A hollow is a side of the taut film: one of the hull that another library finds, or a part of it."""
    assume(any(piece.curvature for piece in pieces) and sum(piece.length for piece in pieces) > 40.0)
    asked: Asked = {
        "panel": {"width": 140.0},
        "bend": {"chain": pieces, "show_face": show_face},
        "substrate": {"laminations": laminations, "thickness": 1.5},
    }
    try:
        made = plan(settle(asked))
    except ShapeError:
        return
    assert "film.along.sliding" in {value.key for value in film_values(made)}
    hollow = hollow_of(made)
    if hollow is None:
        return
    profile = hollow_profile(made.stack, made.base)[0]
    hull = MultiPoint(profile).convex_hull.exterior
    for end in profile[[0, -1]]:
        assert hull.distance(Point(end)) == pytest.approx(0.0, abs=1e-9)
    sides = [math.dist(a, b) for a, b in pairwise(hull.coords)]
    assert 0.0 < hollow.span < hollow.girth
    assert hollow.span <= max(sides) + 1e-9
    assert hollow.depth <= 0.5 * hollow.girth
