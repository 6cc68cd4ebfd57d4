"""Bends that are no arcs: ellipse, parabola and points, from the layup file to blanks, checks and stops.

Lengths are held against closed forms: the elliptic integral of scipy, the arc length of the parabola (textbook), and
L_d = L + d·Δθ for every layer.
"""

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.special import ellipe, ellipeinc

from underbag.app.examine import examine
from underbag.app.read.layup_file import read_text
from underbag.app.read.row import read_row
from underbag.model.errors import LayupError, ShapeError
from underbag.model.layup.settle import settle
from underbag.model.plan import Plan, plan
from underbag.model.report import report
from underbag.model.shape.bulge import circles_through, worst_bulge
from underbag.model.shape.curve import CurvePiece, ellipse_over
from underbag.model.shape.spline import spline_through

STILL: dict[str, Any] = {"form": {"springback": 0.0}, "panel": {"width": 140.0}}


def made(**bend: Any) -> Plan:
    return plan(settle(STILL | {"bend": bend}))


def template(ordinates: tuple[float, ...], every: float = 50.0, **more: Any) -> Plan:
    return made(ordinates=ordinates, every=every, **more)


def demand_blanks(planned: Plan, length: float, turn: float) -> None:
    """Hold every blank against L + d·Δθ and what it reaches past the panel."""
    reference = planned.stack.sheet.reference
    for layer in planned.stack.layers:
        past = layer.outline.length - planned.outline.length
        wanted = length + past + (layer.middle - reference) * turn
        assert layer.blank.length == pytest.approx(wanted, rel=1e-9), layer.key


# Ellipse and parabola


def test_a_half_ellipse_against_the_elliptic_integral() -> None:
    """Half axes 300 and 120: 2·a·E(e²), and a half round from end to end."""
    planned = made(shape="ellipse", chord=600.0, rise=120.0)
    length = 2.0 * 300.0 * ellipe(1.0 - (120.0 / 300.0) ** 2)
    assert planned.layup.panel.length == pytest.approx(length, rel=1e-9)
    demand_blanks(planned, length, math.pi)


def test_part_of_an_ellipse_against_the_incomplete_integral() -> None:
    """Half axes 400 and 250 between ±50° of the parameter from the crown: ∫ a·√(1 − m·sin²u) du, m = 1 − b²/a²."""
    u, a, b = math.radians(50.0), 400.0, 250.0
    chord, rise = 2.0 * a * math.sin(u), b * (1.0 - math.cos(u))
    angle = 2.0 * math.atan(b / a * math.tan(u))
    planned = made(shape="ellipse", chord=chord, rise=rise, angle=angle)
    length = 2.0 * a * ellipeinc(u, 1.0 - (b / a) ** 2)
    assert planned.layup.panel.length == pytest.approx(length, rel=1e-9)
    demand_blanks(planned, length, angle)


@given(st.floats(50.0, 2000.0), st.floats(0.05, 0.9), st.floats(0.02, 0.98))
@settings(max_examples=25)
def test_an_ellipse_has_the_sizes_that_were_asked_for(chord: float, flatness: float, share: float) -> None:
    rise = flatness * chord
    least = 2.0 * math.atan(4.0 * rise / chord)
    angle = least + share * (5.9 - least)
    course = ellipse_over(chord, rise, angle)
    first, crown, last = course.at(np.array([course.start, math.pi / 2.0, course.end]))[0]
    assert math.dist(first, last) == pytest.approx(chord, rel=1e-9)
    assert crown[1] - first[1] == pytest.approx(rise, rel=1e-9)
    assert CurvePiece(course).turn == pytest.approx(angle, rel=1e-6)


def test_a_circle_is_an_ellipse() -> None:
    """Chord 400 and rise 100 with the angle of their arc: R = (200² + 100²)/200 = 250."""
    angle = 4.0 * math.atan2(100.0, 200.0)
    course = ellipse_over(400.0, 100.0, angle)
    assert (course.half_x, course.half_z) == pytest.approx((250.0, 250.0), rel=1e-12)


def test_no_ellipse_turns_less_than_the_parabola() -> None:
    least = 2.0 * math.degrees(math.atan(4.0 * 100.0 / 600.0))
    with pytest.raises(ShapeError, match=f"more than {least:.4g}°"):
        ellipse_over(600.0, 100.0, math.radians(least))
    with pytest.raises(LayupError, match=r"bend\.angle"):
        made(shape="ellipse", chord=600.0, rise=100.0, angle=1.0)


def test_a_parabola_against_its_arc_length() -> None:
    """s = ½·√(c² + 16·r²) + c²/(8·r)·asinh(4·r/c); it turns by 2·atan(4·r/c)."""
    c, r = 700.0, 90.0
    planned = made(shape="parabola", chord=c, rise=r)
    length = 0.5 * math.sqrt(c * c + 16.0 * r * r) + c * c / (8.0 * r) * math.asinh(4.0 * r / c)
    assert planned.layup.panel.length == pytest.approx(length, rel=1e-9)
    demand_blanks(planned, length, 2.0 * math.atan(4.0 * r / c))


def test_a_parabola_is_judged_at_its_crown() -> None:
    """Its least radius is c²/(8·r) in the middle."""
    planned = made(shape="parabola", chord=400.0, rise=80.0)
    checks = {check.key: check for check in report(planned).checks}
    assert checks["bend.depth"].value == pytest.approx(400.0**2 / (8.0 * 80.0), rel=1e-6)
    assert checks["bend.depth"].place.t == pytest.approx(0.0, abs=1.0)


def test_springback_scales_the_turn_and_keeps_the_lengths() -> None:
    still = made(shape="parabola", chord=700.0, rise=90.0)
    bend = {"shape": "parabola", "chord": 700.0, "rise": 90.0}
    sprung = plan(settle({"panel": {"width": 140.0}, "bend": bend, "form": {"springback": 8.0}}))
    assert sprung.stack.sheet.profile.length == pytest.approx(still.stack.sheet.profile.length, rel=1e-12)
    assert 0.92 * sprung.stack.sheet.profile.turn == pytest.approx(still.stack.sheet.profile.turn, rel=1e-12)
    assert sprung.released.profile.turn == pytest.approx(still.stack.sheet.profile.turn, rel=1e-12)


# Points


ORDINATES = (0.0, 11.0, 21.0, 29.5, 35.5, 38.5, 37.5, 32.5, 24.0, 13.5, 3.0, -5.5, -11.0, -13.0)


def test_points_of_a_circle_give_its_length() -> None:
    """Interpolated: 1e-4 of 300·1.6, with an ordinate every 0.1 rad."""
    angle = np.linspace(-0.8, 0.8, 17)
    stations, ordinates = 300.0 * np.sin(angle), 300.0 * np.cos(angle)
    planned = made(stations=tuple(stations.tolist()), ordinates=tuple(ordinates.tolist()))
    assert planned.layup.panel.length == pytest.approx(480.0, rel=1e-4)
    for layer in planned.stack.layers:
        past = layer.outline.length - planned.outline.length
        wanted = (300.0 + layer.middle - planned.stack.sheet.reference) * 1.6 + past
        assert layer.blank.length == pytest.approx(wanted, rel=1e-4)


def test_reversed_moved_and_turned_points_change_no_length() -> None:
    places = np.arange(len(ORDINATES)) * 50.0
    points = np.column_stack((places, ORDINATES))
    c, s = math.cos(0.3), math.sin(0.3)
    lengths = []
    for entered in (
        points,
        points[::-1],
        points + np.array([120.0, -45.0]),
        points @ np.array([[c, s], [-s, c]]),
    ):
        planned = made(stations=tuple(entered[:, 0].tolist()), ordinates=tuple(entered[:, 1].tolist()))
        lengths.append([layer.blank.length for layer in planned.stack.layers])
    for other in lengths[1:]:
        assert other == pytest.approx(lengths[0], rel=1e-10)


def test_a_row_and_an_array_in_either_unit_are_the_same() -> None:
    head = "[panel]\nwidth = 140\n[bend]\nevery = '2 in'\nordinates = "
    lengths = [
        read_text(head + row).panel.length
        for row in ("[0, 12.7, 25.4, 12.7]", "'0, 12.7, 25.4, 1/2 in'", "['0', '1/2 in', 25.4, '12.7 mm']")
    ]
    assert lengths[1:] == pytest.approx(lengths[:1] * 2, rel=1e-14)
    inches = read_text("unit = 'in'\n" + head.replace("140", "6") + "[0, 0.5, 1, 0.5]")
    assert inches.panel.length == pytest.approx(lengths[0], rel=1e-14)


@pytest.mark.parametrize(
    ("bend", "key", "told"),
    [
        ("ordinates = [0, 5, 0]", "bend.every", "neither every nor stations"),
        ("every = 50", "bend.ordinates", "three points or more"),
        ("ordinates = [0, 5]\nevery = 50", "bend.ordinates", "2 points; allowed: 3 points or more"),
        ("ordinates = [0, 5, 0]\nstations = [0, 50]", "bend.stations", "2 stations; allowed: 3"),
        ("ordinates = [0, 5, 5, 0]\nstations = [0, 50, 50, 90]", "bend.ordinates", "points 2 and 3, 0 mm"),
        ("ordinates = [1, 1, 1, 1]\nevery = 50", "bend", "one straight line"),
        ("ordinates = 5\nevery = 50", "bend.ordinates", "found 5"),
        ("ordinates = [0, true, 3]\nevery = 50", "bend.ordinates", "true"),
        ("ordinates = '0, x, 3'\nevery = 50", "bend.ordinates", "'x'"),
        (f"ordinates = {[0, 5] * 101}\nevery = 50", "bend.ordinates", "202 lengths; allowed: 1 to 200"),
        ("ordinates = [0, 5, 0]\nevery = 50\nrise = 5", "bend.rise", "beside the shape points"),
        ("shape = 'ellipse'\nchord = 500", "bend.rise", "the rise of the ellipse"),
        ("shape = 'parabola'\nchord = 500\nrise = 20\nangle = 30", "bend.angle", "beside the shape parabola"),
        ("shape = 'points'", "bend.ordinates", "three points or more"),
        ("shape = 'chain'", "bend.chain", "found nothing"),
        ("chain = 'straight 19000, crown 900 through 90°'", "bend", "found a curve of 20413.7 mm"),
        ("ordinates = [0, 1, 0]\nevery = 4", "bend", "10 to 20000 mm along the curve"),
        ("shape = 'file'", "bend.file", "found nothing"),
    ],
)
def test_what_gives_no_curve_is_refused_by_its_key(bend: str, key: str, told: str) -> None:
    with pytest.raises(LayupError) as caught:
        read_text(f"[panel]\nwidth = 140\n[bend]\n{bend}\n")
    assert caught.value.key == key
    assert told in str(caught.value)


def test_as_many_points_as_there_may_be_are_taken() -> None:
    row = [round(40.0 * math.sin(0.03 * number), 2) for number in range(200)]
    curve = read_text(f"[panel]\nwidth = 140\n[bend]\nordinates = {row}\nevery = 5\n").curve
    assert curve is not None
    assert curve.length > 199 * 5.0


def test_a_row_of_a_hundred_thousand_is_refused_at_once() -> None:
    with pytest.raises(LayupError, match="more than 10000"):
        read_row([0.0] * 100_000, "mm")
    with pytest.raises(LayupError):
        read_row("0," * 400_000, "mm")


# Bulges


def test_circles_through_points_of_a_circle() -> None:
    angle = np.linspace(-1.0, 1.0, 9)
    points = 250.0 * np.column_stack((np.sin(angle), np.cos(angle)))
    assert circles_through(points) == pytest.approx([1.0 / 250.0] * 7, rel=1e-12)
    assert circles_through(points * [1.0, -1.0]) == pytest.approx([-1.0 / 250.0] * 7, rel=1e-12)


def test_a_smooth_template_has_no_bulge_and_one_reading_amiss_shows() -> None:
    """A parabola, one ordinate of which is read 6 mm too high at a spacing of 50 mm."""
    x = np.arange(13) * 50.0
    smooth = x * (600.0 - x) / 1500.0
    amiss = smooth.copy()
    amiss[6] += 6.0
    status = []
    for ordinates in (smooth, amiss):
        checks = report(template(tuple(ordinates.tolist()))).checks
        (check,) = (check for check in checks if check.key == "bend.points")
        status.append(check.status)
    assert status == ["ok", "caution"]
    assert check.change == "bend.ordinates"
    # the sixth or the seventh span: between points 6, 7 and 8 from the left
    assert "Between points 6 and 7" in check.message or "Between points 7 and 8" in check.message


@pytest.mark.parametrize(
    "bend", [{"chord": 600.0, "rise": 60.0}, {"shape": "parabola", "chord": 600.0, "rise": 60.0}]
)
def test_only_points_are_looked_at_for_bulges(bend: dict[str, Any]) -> None:
    assert [check.status for check in report(made(**bend)).checks if check.key == "bend.points"] in (
        [],
        ["not applicable"],
    )


def test_the_worst_bulge_is_where_the_curve_leaves_its_points() -> None:
    """A single step in a straight row: the spline swings beside it."""
    course = spline_through(np.array([(50.0 * i, 20.0 if i == 4 else 0.0) for i in range(9)]))
    piece = CurvePiece(course)
    bulge = worst_bulge(piece, course)
    assert bulge.span in (2, 3, 4, 5)
    assert bulge.bend == pytest.approx(float(piece.bend(np.array([bulge.at]))[0]))
    assert bulge.excess > 1.0


# Stops and properties


def test_points_that_make_layers_cusp_are_a_stop_that_names_place_and_radius() -> None:
    """A crown of 8 mm radius between long slopes, on a stack of 13 mm."""
    told = examine(
        settle(STILL | {"bend": {"every": 10.0, "ordinates": (0.0, 10.0, 20.0, 24.0, 20.0, 10.0, 0.0)}})
    )
    assert told.planned is None
    (check,) = told.checks
    assert check.change == "bend.ordinates"
    assert "The layers would cross themselves in the middle" in check.message
    assert "the curve has a radius of" in check.message
    assert "the middle" in check.message


rows = st.lists(st.floats(-60.0, 60.0), min_size=3, max_size=12)


@given(rows, st.floats(20.0, 200.0), st.sampled_from(["outside", "inside"]))
@settings(max_examples=12)
def test_any_row_of_ordinates_is_a_plan_or_a_clear_stop(row: list[float], every: float, side: str) -> None:
    asked = {"panel": {"width": 140.0}, "bend": {"ordinates": tuple(row), "every": every, "show_face": side}}
    assume(np.ptp(np.diff(row)) > 1e-3)
    told = examine(settle(asked))
    if told.planned is None:
        assert "the middle" in told.checks[0].message
        return
    planned = told.planned.plan
    sheet, profile = planned.stack.sheet, planned.stack.sheet.profile
    t = profile.places()
    assert min(sheet.stretch(0.0, t).min(), sheet.stretch(planned.stack.height, t).min()) > 0.0
    # the curve runs through its points, wherever it has been put
    knots = planned.layup.curve.pieces[0].breaks() - 0.5 * profile.length  # type: ignore[union-attr]
    placed = planned.released.profile.points(knots)
    asked_for = np.column_stack((np.arange(len(row)) * every, row))
    gaps = [np.hypot(*np.diff(points, axis=0).T) for points in (placed, asked_for)]
    assert gaps[0] == pytest.approx(gaps[1], rel=1e-6)
