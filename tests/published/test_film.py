"""The film against closed forms of plane geometry, the boiler formula and a strip in tension."""

from math import atan, cos, hypot, pi, radians, sin, sqrt

import numpy as np
import pytest
from scipy.optimize import brentq
from scipy.special import ellipe

from underbag.model.errors import ShapeError
from underbag.model.mechanics.film import (
    bridge_gap,
    corner_gap,
    corner_saving,
    corner_void,
    film_sag,
    film_stress,
    half_girth,
    hang_test_modulus,
    inside_radius,
    membrane_tension,
    missing_easing,
    pinned_stretch,
    pleat_length,
    sliding_stretch,
    taped_sheet,
    usable_stretch,
)
from underbag.model.mechanics.film_path import (
    convex_hull,
    girth,
    hull_girth,
    lay_over,
    path_length,
    sharp_corners,
    wrap,
)

TOUCH = 0.01
BOX = np.array([[0, 0], [600, 0], [600, 300], [0, 300]], dtype=float)


def arc(radius, start, stop, steps, centre=(0.0, 0.0)):
    """Corners of an arc broken into chords."""
    angles = np.linspace(start, stop, steps + 1)
    return np.column_stack([centre[0] + radius * np.cos(angles), centre[1] + radius * np.sin(angles)])


def test_girth_of_an_ellipse():
    # Source: textbook, perimeter 4·a·E(e); 2552.6999 mm for semi-axes 500 and 300.
    turn = np.linspace(0, 2 * pi, 3601)[:-1]
    ellipse = np.column_stack([500 * np.cos(turn), 300 * np.sin(turn)])
    # 3600 chords: short by about (2π/3600)²/24, 1.3e-7 of the whole.
    assert girth(ellipse) == pytest.approx(2552.6999, rel=2e-6)
    assert girth(ellipse) == pytest.approx(4 * 500 * ellipe(1 - 0.36), rel=2e-7)
    assert hull_girth(ellipse) == pytest.approx(girth(ellipse), rel=1e-12)


def test_chords_shorten_an_arc_by_the_stated_part():
    # Source: textbook, chord 2·r·sin(a/2) against arc r·a, first term of the series: a²/24.
    for steps in (12, 36, 72):
        step = 2 * pi / steps
        short = 1 - girth(arc(100, 0, 2 * pi, steps)) / (200 * pi)
        assert short == pytest.approx(
            step**2 / 24, rel=0.02
        )  # the next term, a⁴/1920, is 1.4 % of it at 12 steps


def test_half_round_groove_needs_57_percent():
    # Source: textbook; the film over a chord 2·r, pushed in to πr: π/2 − 1 = 57.08 %.
    profile = np.vstack([[[-300, 0]], arc(50, pi, 2 * pi, 720), [[300, 0]]])
    film = lay_over(profile, TOUCH)
    (groove,) = film.bridges
    # The rims move in by touch, where the wall is upright: 0.01 mm in 100.
    assert groove.stretch == pytest.approx(0.5708, abs=2e-4)
    assert film.pinned == groove.stretch
    assert groove.span == pytest.approx(100, abs=0.01)
    assert groove.depth == pytest.approx(50, abs=1e-3)
    assert groove.deepest == pytest.approx(250 + 25 * pi, abs=0.01)
    assert groove.extra == pytest.approx(50 * pi - 100, abs=0.01)
    assert film.sliding == pytest.approx((50 * pi - 100) / 600, abs=1e-5)


def test_channel_needs_120_percent():
    # Source: textbook; 100 wide, 60 deep: (100 + 120)/100 − 1 = 120 %.
    block = np.array(
        [[0, 0], [300, 0], [300, 90], [200, 90], [200, 30], [100, 30], [100, 90], [0, 90]], dtype=float
    )
    film = wrap(block, TOUCH)
    (channel,) = film.bridges
    assert channel.stretch == pytest.approx(1.2, rel=1e-12)
    assert (channel.start, channel.end) == pytest.approx((300 + 90 + 100, 300 + 90 + 100 + 220))
    assert channel.depth == pytest.approx(60)
    assert film.sliding == pytest.approx(120 / 780, rel=1e-12)
    assert film.extra == pytest.approx(120)


def test_bridge_is_found_wherever_a_closed_section_begins_and_whichever_way_it_runs():
    block = np.array(
        [[0, 0], [300, 0], [300, 90], [200, 90], [200, 30], [100, 30], [100, 90], [0, 90]], dtype=float
    )
    for shift in range(8):
        for corners in (np.roll(block, shift, axis=0), np.roll(block, shift, axis=0)[::-1]):
            film = wrap(corners, TOUCH)
            (channel,) = film.bridges
            assert channel.extra == pytest.approx(120)
            assert (channel.end - channel.start) % film.true_length == pytest.approx(220)
            walked = girth(corners) if channel.end < channel.start else channel.end
            assert 0 <= channel.start < film.true_length
            assert 0 <= channel.end < film.true_length
            assert walked > channel.start


def test_two_channels_side_by_side_are_two_bridges():
    # Each has its own rims: the film rests on the rib between them.
    comb = np.array(
        [[0, 0], [0, 50], [20, 50], [20, 10], [60, 10], [60, 50], [80, 50], [80, 30], [120, 30], [120, 50], [140, 50], [140, 0]],
        dtype=float,
    )  # fmt: skip
    film = lay_over(comb, TOUCH)
    assert [bridge.depth for bridge in film.bridges] == pytest.approx([40, 20])
    assert [bridge.stretch for bridge in film.bridges] == pytest.approx([2.0, 1.0])
    assert film.pinned == pytest.approx(2.0)


def test_serpentine_of_equal_crowns():
    # Source: textbook; half circles of radius r up and down: the film lies on crowns 4·r apart. Between two of
    # them it leaves the work at the tops, and the work below is 2·π·r long.
    r = 80
    waves = [arc(r, pi, 0, 360, (4 * r * n, 0)) for n in range(3)]
    hollows = [arc(r, pi, 2 * pi, 360, (4 * r * n + 2 * r, 0)) for n in range(2)]
    pieces = [waves[0], hollows[0], waves[1], hollows[1], waves[2]]
    film = lay_over(np.vstack(pieces), TOUCH)
    assert film.taut_length == pytest.approx(8 * r + pi * r, rel=1e-5)
    assert film.true_length == pytest.approx(5 * pi * r, rel=1e-5)
    assert len(film.bridges) == 2
    for bridge in film.bridges:
        # touch moves each rim off the top by √(2·r·touch) = 1.3 mm.
        assert bridge.span == pytest.approx(4 * r, abs=2 * sqrt(2 * r * TOUCH) + 0.1)
        assert bridge.stretch == pytest.approx(pi / 2 - 1, rel=0.02)
        assert bridge.depth == pytest.approx(2 * r, abs=0.02)


def test_valley_form():
    # Source: plane geometry; two slopes of 30° meet in a valley 400 wide: sides 200/cos 30°.
    profile = np.array([[0, 0], [0, 150], [200, 150 - 200 * sin(pi / 6) / cos(pi / 6)], [400, 150], [400, 0]])
    film = lay_over(profile, TOUCH)
    (valley,) = film.bridges
    assert valley.depth == pytest.approx(200 / sqrt(3))
    assert valley.stretch == pytest.approx(1 / cos(pi / 6) - 1)
    assert film.taut_length == pytest.approx(700)


def test_half_cylinder_on_a_bench_is_touched_everywhere():
    # Source: plane geometry; π·r of film, 2·r + π·r round it.
    dome = arc(300, pi, 0, 90)
    film = lay_over(dome, TOUCH)
    assert film.bridges == ()
    assert film.pinned == 0
    assert film.sliding == pytest.approx(0, abs=1e-12)
    assert film.taut_length == pytest.approx(300 * pi, rel=(pi / 90) ** 2 / 24 * 1.01)
    assert hull_girth(dome) == pytest.approx(300 * (pi + 2), rel=1e-4)


def test_film_bridges_the_foot_of_a_box_on_the_bench():
    # Source: plane geometry; sealed 300 from a box 300 high, the taut film is the slope of 45° on both sides.
    profile = np.array([[-300, 0], [0, 0], [0, 300], [600, 300], [600, 0], [900, 0]], dtype=float)
    film = lay_over(profile, TOUCH)
    assert film.taut_length == pytest.approx(600 + 2 * hypot(300, 300))
    assert [foot.depth for foot in film.bridges] == pytest.approx([300 / sqrt(2)] * 2)
    assert film.true_length == pytest.approx(taped_sheet(W=600, h=300, s=300))


def test_box_in_a_tube():
    # Source: derived; without stretch a tube round W × H lies W + H flat, and is L + H long: 900 and 1500.
    film = wrap(BOX, TOUCH)
    assert film.bridges == ()
    assert half_girth(H=film.taut_length) == pytest.approx(900)
    along = np.array([[0, 0], [1200, 0], [1200, 300], [0, 300]], dtype=float)
    assert half_girth(H=hull_girth(along)) == pytest.approx(1500)


def test_inside_corner_against_its_fillet():
    # Source: textbook; a fillet of radius r in a square corner saves (2 − π/2)·r = 0.429204·r and leaves
    # r²·(1 − π/4) without pressure, r·(√2 − 1) at the deepest.
    assert corner_saving(r=1, a=pi / 2) == pytest.approx(0.429204, abs=1e-6)
    assert corner_void(r=1, a=pi / 2) == pytest.approx(1 - pi / 4)
    assert corner_gap(r=1, a=pi / 2) == pytest.approx(sqrt(2) - 1)


def test_inside_corner_of_another_angle_against_a_drawn_one():
    # Independent: the fillet drawn as a polygon, its corner measured.
    r, a = 20.0, radians(50)
    tangent = r * np.tan(a / 2)
    fillet = arc(r, -pi / 2, -pi / 2 + a, 2000, (0, r))
    corner = np.array([tangent, 0.0])
    assert corner_saving(r=r, a=a) == pytest.approx(2 * tangent - path_length(fillet), rel=1e-5)
    assert corner_gap(r=r, a=a) == pytest.approx(np.hypot(*(fillet - corner).T).min(), rel=1e-6)
    loop = np.vstack([fillet, corner])
    x, y = loop.T
    area = abs(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1))) / 2
    assert corner_void(r=r, a=a) == pytest.approx(area, rel=1e-5)


@pytest.mark.parametrize("function", [corner_saving, corner_gap, corner_void])
def test_a_corner_turns_by_less_than_half_a_circle(function):
    assert function(r=1, a=3.14) > 0
    with pytest.raises(ShapeError, match="less than half a circle"):
        function(r=1, a=pi)


def test_radius_that_the_pressure_presses_the_film_into():
    # Source: textbook, boiler formula; E = 30 MPa, 0.5 mm, 10 %, 85 kPa: 1.5 N/mm, 17.6 mm.
    pull = membrane_tension(E=30, t=0.5, e=0.1)
    assert pull == pytest.approx(1.5)
    assert inside_radius(T=pull, g=0.085) == pytest.approx(17.6, abs=0.05)


def test_stress_of_the_film_in_an_inside_corner():
    # Source: textbook, stress p·r/t; r = 20, t = 0.5, 85 kPa: 3.4 MPa.
    assert film_stress(g=0.085, r=20, t=0.5) == pytest.approx(3.4)


def test_hang_test():
    # Source: textbook, Hooke; 1 kg (9.80665 N) on 25 × 0.5 mm: 0.7845 MPa, 10 % longer: 7.845 MPa.
    assert hang_test_modulus(F=9.80665, L=500, b=25, t=0.5, d=50) == pytest.approx(7.845, abs=1e-3)


def test_sag_against_the_balance_on_its_radius():
    # Independent: the same balance written on the radius, arc length 2·r·asin(c/2r), solved by another method.
    # A square channel 100 wide under 85 kPa, film of 0.5 mm and 30 MPa: less than half a circle.
    g, c, E, t = 0.085, 100.0, 30.0, 0.5
    r = brentq(lambda r: E * t * (2 * r * np.arcsin(c / 2 / r) / c - 1) - g * r, c / 2 * 1.0000001, 1e4)
    assert film_sag(g, c, E, t) == pytest.approx(r - sqrt(r**2 - c**2 / 4), rel=1e-6)


def test_small_sag_against_the_parabola():
    # Limit: flat arcs, stretch 8·f²/3c² and pull g·c²/8f give f³ = 3·g·c⁴/(64·E·t).
    g, c, E, t = 0.01, 50.0, 500.0, 0.05
    assert film_sag(g, c, E, t) == pytest.approx((3 * g * c**4 / 64 / E / t) ** (1 / 3), rel=0.02)


def test_soft_film_reaches_any_depth_and_stiff_film_leaves_a_gap():
    assert film_sag(0.085, 400, 8, 0.5) == np.inf
    assert bridge_gap(g=0.085, c=400, d=1000, E=8, t=0.5) == 0
    stiff = bridge_gap(g=0.085, c=100, d=60, E=500, t=0.05)
    assert stiff == pytest.approx(60 - film_sag(0.085, 100, 500, 0.05))
    assert bridge_gap(g=0.085, c=100, d=film_sag(0.085, 100, 500, 0.05), E=500, t=0.05) == 0


def test_pleat_and_limits():
    # Source: common practice for the quarter of the stretch at break; the rest is plane geometry.
    assert usable_stretch(e_b=2.8, k=0.25) == pytest.approx(0.7)
    assert pleat_length(P=220, H=100, e=0.0) == pytest.approx(120)
    assert pleat_length(P=220, H=100, e=0.7) == pytest.approx(50)
    assert pleat_length(P=220, H=100, e=1.2) == pytest.approx(0, abs=1e-12)
    assert pinned_stretch(s=220, c=100) == pytest.approx(1.2)
    assert sliding_stretch(P=900, H=900) == 0
    assert taped_sheet(W=600, h=30, s=75) == 810


def test_edges_that_cut_the_film():
    # Source: common practice, plate edges eased by 6 mm, 3 mm at the least.
    assert missing_easing(r=1, r_c=3) == 2
    assert missing_easing(r=3, r_c=3) == 0
    assert missing_easing(r=6, r_c=3) == 0


def test_sharp_corners_are_those_not_broken_into_an_arc():
    eased = np.vstack([[[0, 0]], arc(6, pi, pi / 2, 18, (6, 14)), [[200, 20], [200, 0]]])
    found = sharp_corners(lay_over(eased, TOUCH), turn=radians(20))
    assert found.tolist() == [[200, 20]]
    assert len(sharp_corners(wrap(BOX, TOUCH), turn=radians(20))) == 4
    assert len(sharp_corners(wrap(BOX, TOUCH), turn=pi / 2)) == 4
    assert len(sharp_corners(wrap(BOX, TOUCH), turn=pi / 2 + 1e-9)) == 0
    assert sharp_corners(wrap(arc(100, 0, 2 * pi, 72), TOUCH), turn=radians(20)).shape == (0, 2)


def test_hull_of_corners_on_a_line_and_repeated_ones():
    square = np.array(
        [[0, 0], [0, 0], [5, 0], [10, 0], [10, 10], [10, 10], [0, 10], [0, 5], [0, 0]], dtype=float
    )
    assert convex_hull(square).tolist() == [[0, 0], [10, 0], [10, 10], [0, 10]]
    assert hull_girth(np.array([[0.0, 0], [3, 4]])) == pytest.approx(10)
    assert girth(square) == pytest.approx(40)
    assert wrap(square, TOUCH).true_length == pytest.approx(40)


def test_sections_that_cannot_be():
    line = np.array([[0.0, 0], [1, 1], [2, 2]])
    with pytest.raises(ShapeError, match="all on one line"):
        wrap(line, TOUCH)
    with pytest.raises(ShapeError, match="left to right"):
        lay_over(line[::-1], TOUCH)
    with pytest.raises(ShapeError, match="an end lies inside"):
        lay_over(np.array([[0.0, 5], [-50, 0], [-50, 20], [100, 20], [100, 0]]), TOUCH)
    with pytest.raises(ShapeError, match="crosses itself"):
        lay_over(np.array([[0.0, 0], [60, 50], [40, 50], [100, 0]]), TOUCH)
    with pytest.raises(ShapeError, match="greater than 0"):
        wrap(BOX, 0.0)
    with pytest.raises(ShapeError, match="two at least"):
        girth(np.array([[1.0, 1], [1, 1]]))
    with pytest.raises(ShapeError, match="not a finite number"):
        girth(np.array([[1.0, 1], [np.nan, 1]]))
    with pytest.raises(ShapeError, match=r"\(n, 2\)"):
        girth(np.array([1.0, 2, 3]))


def test_work_below_the_ends_is_bridged_and_never_carries_the_film():
    # A concave form taken from rim to rim: the film is straight, not drawn down to the bottom.
    bowl = arc(500, radians(240), radians(300), 60)
    film = lay_over(bowl, TOUCH)
    assert film.taut_length == pytest.approx(500)
    assert film.bridges[0].depth == pytest.approx(500 * (1 - cos(pi / 6)), rel=1e-3)
    assert film.taut.tolist() == [bowl[0].tolist(), bowl[-1].tolist()]
    assert atan(film.taut[1, 1] - film.taut[0, 1]) == pytest.approx(0, abs=1e-9)
