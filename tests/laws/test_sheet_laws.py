"""Laws of profiles and sheets: lengths by two ways, and what must not change them."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from underbag.model.errors import ShapeError
from underbag.model.shape.profile import Profile, Run, arc_profile
from underbag.model.shape.sheet import Sheet

RUNS = st.builds(Run, length=st.floats(5.0, 500.0), curvature=st.floats(-0.01, 0.01))
PROFILES = st.builds(Profile, st.lists(RUNS, min_size=1, max_size=6).map(tuple))
HEIGHTS = st.floats(-40.0, 40.0)


def polyline(points: np.ndarray) -> float:
    return float(np.hypot(*np.diff(points, axis=0).T).sum())


@given(PROFILES, HEIGHTS)
def test_length_at_a_height_is_the_length_of_its_own_curve(profile: Profile, height: float) -> None:
    """L + d·Δθ against the summed chords of the points in space."""
    sheet = Sheet(profile=profile, reference=0.0)
    half = 0.5 * profile.length
    t = np.linspace(-half, half, 20_001)
    spots = sheet.place(t, np.zeros_like(t), height)[:, [0, 2]]
    # a chord of arc s is short by s³κ²/24: below 1e-7 relative for these steps
    assert sheet.length(height, -half, half) == pytest.approx(polyline(spots), rel=1e-6)


@given(PROFILES, HEIGHTS)
def test_length_at_a_height_is_the_integral_of_the_stretch(profile: Profile, height: float) -> None:
    sheet = Sheet(profile=profile, reference=3.0)
    total = 0.0
    for start, end in zip(profile.joints()[:-1], profile.joints()[1:], strict=True):
        middle = np.array([0.5 * (start + end)])
        total += (end - start) * float(sheet.stretch(height, middle)[0])
    half = 0.5 * profile.length
    assert sheet.length(height, -half, half) == pytest.approx(total, rel=1e-9)


@given(PROFILES)
def test_the_chord_is_level_and_its_middle_is_the_origin(profile: Profile) -> None:
    half = 0.5 * profile.length
    ends = profile.points(np.array([-half, half]))
    size = profile.length
    assert ends.sum(axis=0) == pytest.approx([0.0, 0.0], abs=1e-9 * size)
    assert ends[1, 1] - ends[0, 1] == pytest.approx(0.0, abs=1e-9 * size)


@given(PROFILES, HEIGHTS)
def test_walking_it_backward_changes_no_length(profile: Profile, height: float) -> None:
    half = 0.5 * profile.length
    there = Sheet(profile=profile, reference=0.0).length(height, -half, half)
    back = Sheet(profile=Profile(profile.pieces[::-1]), reference=0.0).length(height, -half, half)
    assert there == pytest.approx(back, rel=1e-12, abs=1e-9)


@given(PROFILES)
def test_points_lie_one_unit_of_arc_apart_and_normals_stand_on_them(profile: Profile) -> None:
    half = 0.5 * profile.length
    t = np.linspace(-half - 30.0, half + 30.0, 801)
    step = t[1] - t[0]
    points, normals = profile.points(t), profile.normals(t)
    moves = np.diff(points, axis=0)
    assert np.hypot(*moves.T) == pytest.approx(step, rel=1e-3)
    between = 0.5 * (normals[1:] + normals[:-1])
    # between two points the normal turns by half of κ·step at the most
    assert np.abs((moves * between).sum(axis=1)).max() <= step * 0.01 * step


@given(PROFILES, st.floats(1.0, 80.0))
def test_past_the_ends_a_sheet_goes_on_straight(profile: Profile, past: float) -> None:
    half = 0.5 * profile.length
    a, b, c = profile.points(np.array([half, half + past, half + 2.0 * past]))
    assert b - a == pytest.approx(c - b, abs=1e-9 * (profile.length + past))
    assert math.hypot(*(b - a)) == pytest.approx(past, rel=1e-9)
    assert Sheet(profile=profile, reference=0.0).length(25.0, half, half + past) == pytest.approx(
        past, rel=1e-9
    )


@given(PROFILES, st.floats(0.0, 0.9))
def test_springback_keeps_lengths_and_scales_the_turn(profile: Profile, ratio: float) -> None:
    pressed = Sheet(profile=profile, reference=4.0)
    released = pressed.sprung(ratio)
    assert released.profile.length == pytest.approx(profile.length, rel=1e-12)
    assert released.profile.turn == pytest.approx((1.0 - ratio) * profile.turn, rel=1e-9, abs=1e-12)


@given(PROFILES)
def test_zero_net_turn_gives_every_layer_the_same_length(profile: Profile) -> None:
    there_and_back = Profile(profile.pieces + tuple(Run(p.length, -p.curvature) for p in profile.pieces))  # type: ignore[attr-defined]
    sheet = Sheet(profile=there_and_back, reference=0.0)
    half = 0.5 * there_and_back.length
    lengths = [sheet.length(height, -half, half) for height in (-30.0, 0.0, 30.0)]
    assert lengths == pytest.approx([there_and_back.length] * 3, rel=1e-12)


def test_layers_may_reach_up_to_the_middle_of_the_bend_and_no_farther() -> None:
    sheet = Sheet(profile=arc_profile(100.0, 2.0), reference=0.0)
    sheet.demand_room(-49.99, 0.0)
    with pytest.raises(ShapeError, match=r"radius of 50.0 mm there"):
        sheet.demand_room(-50.0, 0.0)
    with pytest.raises(ShapeError, match="cross themselves"):
        sheet.demand_room(-60.0, 0.0)


def test_straight_ends_past_the_half_round_may_reach_until_they_meet() -> None:
    # textbook: tangents at both ends of an arc of turn θ meet at R·|tan(θ/2)| from the ends
    turn, radius = 4.0, 100.0
    sheet = Sheet(profile=arc_profile(radius * turn, turn), reference=0.0)
    meeting = radius * abs(math.tan(0.5 * turn))
    sheet.demand_open_ends(0.0, 0.0, meeting - 0.01)
    with pytest.raises(ShapeError, match=r"would meet 218\.5 mm past the bend"):
        sheet.demand_open_ends(0.0, 0.0, meeting + 0.01)


def test_straight_ends_of_a_half_round_never_meet() -> None:
    Sheet(profile=arc_profile(300.0, math.pi), reference=0.0).demand_open_ends(0.0, 20.0, 1e6)
