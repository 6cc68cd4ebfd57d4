"""Lengths of curved pieces against closed forms (textbook analytic geometry) and against their own points."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.interpolate import CubicSpline
from scipy.special import ellipe

from underbag.model.shape.curve import CurvePiece, EllipseCourse, ParabolaCourse
from underbag.model.shape.profile import Piece, Profile
from underbag.model.shape.sheet import Sheet
from underbag.model.shape.spline import spline_through

SIZES = st.floats(20.0, 2000.0)


@settings(max_examples=25)
@given(SIZES, st.floats(0.05, 1.0))
def test_half_ellipse(half: float, share: float) -> None:
    # 2·a·E(e), scipy's elliptic integral as the outside referee
    piece = CurvePiece(EllipseCourse(half, half * share, 0.0, math.pi))
    assert piece.length == pytest.approx(2.0 * half * ellipe(1.0 - share**2), rel=1e-9)
    assert piece.turn == pytest.approx(math.pi, abs=1e-12)


@settings(max_examples=25)
@given(SIZES, st.floats(0.01, 1.0))
def test_parabola(chord: float, share: float) -> None:
    # textbook: s = ½·√(c² + 16·r²)  + c²/(8·r)·asinh(4·r/c)
    rise = chord * share
    length = 0.5 * math.sqrt(chord**2 + 16.0 * rise**2) + chord**2 / (8.0 * rise) * math.asinh(
        4.0 * rise / chord
    )
    piece = CurvePiece(ParabolaCourse(chord, rise))
    assert piece.length == pytest.approx(length, rel=1e-10)
    assert piece.turn == pytest.approx(2.0 * math.atan(4.0 * rise / chord), rel=1e-12)


@pytest.mark.parametrize("turn", [0.5, 1.0, 2.0, 3.0])
def test_spline_through_points_of_an_arc(turn: float) -> None:
    # interpolated: 1e-4 relative with an ordinate about every tenth of a radian
    angle = np.linspace(-0.5 * turn, 0.5 * turn, 2 + math.ceil(turn * 10))
    piece = CurvePiece(spline_through(300.0 * np.column_stack((np.sin(angle), np.cos(angle)))))
    assert piece.length == pytest.approx(300.0 * turn, rel=1e-4)
    assert piece.turn == pytest.approx(turn, rel=1e-3)


@pytest.mark.parametrize("count", [3, 4, 5, 30])
def test_the_spline_is_that_of_a_general_library(count: int) -> None:
    # scipy's not-a-knot spline over the lengths of the chords
    x = np.linspace(0.0, 900.0, count) ** 1.05
    points = np.column_stack((x, 60.0 * np.sin(x / 150.0)))
    course = spline_through(points)
    referee = CubicSpline(course.knots, points)
    u = np.linspace(course.start, course.end, 301)[1:-1]
    for order, found in enumerate(course.at(u)[:3]):
        assert found == pytest.approx(referee(u, order), rel=1e-9, abs=1e-10)


def test_spline_length_does_not_depend_on_how_the_points_are_entered() -> None:
    points = np.array([[0.0, 0.0], [100.0, 40.0], [220.0, 55.0], [330.0, 20.0], [450.0, -10.0]])
    c, s = math.cos(0.7), math.sin(0.7)
    same = CurvePiece(spline_through(points)).length
    for other in (points[::-1], points + 1234.5, points @ np.array([[c, s], [-s, c]])):
        assert CurvePiece(spline_through(other)).length == pytest.approx(same, rel=1e-12)


PIECES: tuple[Piece, ...] = (
    CurvePiece(EllipseCourse(400.0, 150.0, 0.2, 2.5)),
    CurvePiece(ParabolaCourse(800.0, 120.0)),
    CurvePiece(
        spline_through(np.array([[0.0, 0.0], [150.0, 60.0], [300.0, 0.0], [450.0, -60.0], [600.0, 0.0]]))
    ),
    CurvePiece(ParabolaCourse(800.0, 120.0)).scaled(1.1),
)


@pytest.mark.parametrize("piece", PIECES)
@pytest.mark.parametrize("height", [-20.0, 0.0, 25.0])
def test_every_layer_is_as_long_as_its_own_curve(piece: Piece, height: float) -> None:
    sheet = Sheet(profile=Profile((piece,)), reference=0.0)
    half = 0.5 * piece.length
    t = np.linspace(-half, half, 20_001)
    spots = sheet.place(t, np.zeros_like(t), height)[:, [0, 2]]
    # chords of 0.04 mm are short by less than 2e-9 relative; points are good to 1e-9
    summed = float(np.hypot(*np.diff(spots, axis=0).T).sum())
    assert sheet.length(height, -half, half) == pytest.approx(summed, rel=1e-8)


@pytest.mark.parametrize("piece", PIECES)
def test_the_rate_is_that_at_which_the_bend_changes(piece: Piece) -> None:
    # central differences over a hundredth of a millimetre, away from the breaks of a spline
    s = np.linspace(1.0, piece.length - 1.0, 200)
    s = s[np.abs(s[:, None] - piece.breaks()).min(axis=1) > 0.02]
    slope = (piece.bend(s + 0.005) - piece.bend(s - 0.005)) / 0.01
    assert piece.rate(s) == pytest.approx(slope, abs=1e-11, rel=1e-5)


@pytest.mark.parametrize("piece", PIECES)
def test_chords_between_stations_stay_within_the_tolerance(piece: Piece) -> None:
    sheet = Sheet(profile=Profile((piece,)), reference=0.0)
    t = sheet.profile.stations(25.0, 0.05)
    for height in (-25.0, 25.0):
        ends = sheet.place(t, np.zeros_like(t), height)[:, [0, 2]]
        inner = sheet.place(0.5 * (t[1:] + t[:-1]), np.zeros(len(t) - 1), height)[:, [0, 2]]
        chords = np.diff(ends, axis=0)
        across = np.column_stack((-chords[:, 1], chords[:, 0])) / np.hypot(*chords.T)[:, None]
        assert np.abs(((inner - ends[:-1]) * across).sum(axis=1)).max() <= 0.05


@pytest.mark.parametrize("piece", PIECES)
def test_springback_and_its_making_up_cancel(piece: Piece) -> None:
    back = piece.scaled(1.25).scaled(0.8)
    s = np.linspace(0.0, piece.length, 50)
    assert back.walk(s) == pytest.approx(piece.walk(s), abs=1e-8 * piece.length)
