"""What holds for the film over any section."""

from math import pi

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from hypothesis.extra import numpy as nps
from shapely import MultiPoint

from underbag.model.mechanics.film import (
    bridge_gap,
    corner_gap,
    corner_saving,
    film_sag,
    film_stress,
    half_girth,
    inside_radius,
    membrane_tension,
    pinned_stretch,
    pleat_length,
    sliding_stretch,
    taped_sheet,
)
from underbag.model.mechanics.film_path import convex_hull, girth, hull_girth, lay_over, path_length, wrap

TOUCH = 1e-6
length = st.floats(1.0, 2000.0)
stretch = st.floats(0.0, 3.0)


@st.composite
def stars(draw):
    """Closed sections that every corner of can be seen from within, so that they never cross themselves."""
    count = draw(st.integers(4, 24))
    radii = np.array(draw(st.lists(st.floats(20.0, 400.0), min_size=count, max_size=count)))
    turn = 2 * pi * (np.arange(count) + 0.3) / count
    return np.column_stack([radii * np.cos(turn), radii * np.sin(turn)])


@st.composite
def heaps(draw):
    """Open profiles over a bench, from left to right."""
    heights = draw(st.lists(st.floats(0.0, 300.0), min_size=1, max_size=20))
    steps = draw(st.lists(st.floats(5.0, 100.0), min_size=len(heights) + 1, max_size=len(heights) + 1))
    return np.column_stack([np.cumsum([0.0, *steps]), [0.0, *heights, 0.0]])


@given(stars())
def test_film_is_never_longer_than_the_surface(section):
    film = wrap(section, TOUCH)
    assert film.taut_length <= film.true_length * (1 + 1e-12)
    assert film.true_length == pytest.approx(girth(section), rel=1e-12)
    assert film.taut_length == pytest.approx(hull_girth(section), rel=1e-12)


@given(
    nps.arrays(float, st.tuples(st.integers(3, 40), st.just(2)), elements=st.floats(-1000, 1000, width=16))
)
def test_hull_is_that_of_another_library(points):
    # Half precision, so that the cross products of both are exact and ties are decided alike.
    other = MultiPoint(points).convex_hull
    assume(other.geom_type == "Polygon")
    hull = convex_hull(points)
    assert {tuple(corner) for corner in hull} == set(other.exterior.coords)
    assert hull_girth(points) == pytest.approx(other.length, rel=1e-12)
    x, y = hull.T
    assert (np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1))) / 2 == pytest.approx(other.area, rel=1e-9)


@given(stars())
def test_the_bridges_account_for_all_that_the_film_lacks(section):
    film = wrap(section, TOUCH)
    missing = sum(bridge.extra for bridge in film.bridges)
    # Hollows shallower than touch are not bridges: each leaves less than touch uncounted.
    assert missing == pytest.approx(film.extra, abs=len(section) * TOUCH + 1e-9)


@given(stars(), st.integers(0, 23), st.booleans())
def test_where_a_section_begins_and_which_way_it_runs_changes_nothing(section, shift, backward):
    turned = np.roll(section, shift, axis=0)[:: -1 if backward else 1]
    one, other = wrap(section, TOUCH), wrap(turned, TOUCH)
    assert other.taut_length == pytest.approx(one.taut_length, rel=1e-12)
    assert sorted(b.depth for b in other.bridges) == pytest.approx(
        sorted(b.depth for b in one.bridges), rel=1e-9
    )
    assert other.pinned == pytest.approx(one.pinned, rel=1e-9)


@given(stars(), st.floats(0, 2 * pi), st.floats(0.1, 10), st.floats(-500, 500))
def test_turning_moving_and_scaling_a_section(section, angle, scale, shift):
    turn = np.array([[np.cos(angle), -np.sin(angle)], [np.sin(angle), np.cos(angle)]])
    moved = scale * section @ turn + shift
    one, other = wrap(section, TOUCH), wrap(moved, TOUCH * scale)
    assert other.true_length == pytest.approx(scale * one.true_length, rel=1e-9)
    assert other.taut_length == pytest.approx(scale * one.taut_length, rel=1e-9)
    assert other.sliding == pytest.approx(one.sliding, rel=1e-6, abs=1e-9)


@given(stars())
def test_pinned_is_the_safe_one(section):
    # The film between two rims has no more help than that of the whole girth.
    film = wrap(section, TOUCH)
    assert film.pinned >= film.sliding - 1e-9
    for bridge in film.bridges:
        assert bridge.depth > 0
        assert bridge.girth >= bridge.span
        # The way down and up again is at least as long as the two straight lines to the deepest place.
        assert bridge.girth >= 2 * bridge.depth - 1e-9


@given(heaps())
def test_film_over_a_heap_lies_on_or_above_it(profile):
    film = lay_over(profile, TOUCH)
    above = np.interp(profile[:, 0], film.taut[:, 0], film.taut[:, 1])
    assert (above >= profile[:, 1] - 1e-9).all()
    slopes = np.diff(film.taut[:, 1]) / np.diff(film.taut[:, 0])
    assert (np.diff(slopes) < 1e-9).all()
    assert film.true_length == pytest.approx(path_length(profile))
    # The taut film and the bench close the band round the heap.
    assert film.taut_length + profile[-1, 0] == pytest.approx(hull_girth(profile))
    depths = [bridge.depth for bridge in film.bridges]
    gaps = (above - profile[:, 1]).max()
    assert max(depths, default=0) <= gaps + 1e-9


@given(heaps())
def test_a_mirrored_heap_has_the_mirrored_bridges(profile):
    mirrored = profile[::-1] * [-1, 1]
    one, other = lay_over(profile, TOUCH), lay_over(mirrored, TOUCH)
    # A depth that is reached at two places may be named at either, so only rims are compared.
    rims = [place for bridge in one.bridges for place in (bridge.start, bridge.end)]
    mirrored_rims = [place for bridge in other.bridges for place in (bridge.start, bridge.end)]
    assert mirrored_rims == pytest.approx([one.true_length - rim for rim in rims[::-1]], abs=1e-9)


@given(length, length)
def test_a_box_has_no_hollow(width, height):
    box = np.array([[0, 0], [width, 0], [width, height], [0, height]])
    film = wrap(box, TOUCH)
    assert film.bridges == ()
    assert half_girth(H=film.taut_length) == pytest.approx(width + height)


@given(length, length, st.floats(1.0, 500.0))
def test_any_channel(width, depth, wall):
    # Closed form: (w + 2·d)/w − 1.
    block = np.array(
        [[0, 0], [2 * wall + width, 0], [2 * wall + width, 2 * depth], [wall + width, 2 * depth],
         [wall + width, depth], [wall, depth], [wall, 2 * depth], [0, 2 * depth]]
    )  # fmt: skip
    (channel,) = wrap(block, TOUCH).bridges
    assert channel.stretch == pytest.approx(2 * depth / width)
    assert channel.depth == pytest.approx(depth)


@given(st.floats(5.0, 2000.0), st.integers(90, 400))
def test_any_half_round_groove(radius, steps):
    # Closed form: π/2 − 1, whatever the radius.
    turn = np.linspace(pi, 2 * pi, steps + 1)
    groove = np.column_stack([radius * np.cos(turn), radius * np.sin(turn)])
    profile = np.vstack([[[-2 * radius, 0]], groove, [[2 * radius, 0]]])
    (bridge,) = lay_over(profile, 1e-9 * radius).bridges
    assert bridge.stretch == pytest.approx(pi / 2 - 1, abs=1e-4)


@given(length, length, stretch, stretch)
def test_more_film_never_needs_more_stretch(surface, taut, slack, more):
    assume(surface > taut)
    few, many = taut * (1 + min(slack, more)), taut * (1 + max(slack, more))
    assert sliding_stretch(P=surface, H=many) <= sliding_stretch(P=surface, H=few)
    assert pinned_stretch(s=surface, c=many) <= pinned_stretch(s=surface, c=few)


@given(length, length, stretch, stretch)
def test_a_pleat_takes_away_the_need(surface, taut, allowed, more):
    pleat = pleat_length(P=surface, H=taut, e=allowed)
    assert pleat >= 0
    # The pleat unfolds without stretch, and the rest of the film gives what it may.
    assert taut * (1 + allowed) + pleat >= surface * (1 - 1e-12)
    assert pleat_length(P=surface, H=taut, e=allowed + more) <= pleat


@given(st.floats(0.01, 0.1), st.floats(20, 400), st.floats(5, 500), st.floats(0.05, 0.8), st.floats(1, 3))
def test_what_helps_the_film_into_a_hollow(pressure, width, modulus, thickness, more):
    sag = film_sag(pressure, width, modulus, thickness)
    assert film_sag(pressure * more, width, modulus, thickness) >= sag
    assert film_sag(pressure, width, modulus * more, thickness) <= sag
    assert film_sag(pressure, width * more, modulus, thickness) >= sag
    # Wider and thicker by the same part is the same picture, larger.
    assert film_sag(pressure, width * more, modulus, thickness * more) == pytest.approx(sag * more, rel=1e-9)
    gap = bridge_gap(g=pressure, c=width, d=60, E=modulus, t=thickness)
    assert 0 <= gap <= 60
    assert gap == pytest.approx(max(60 - sag, 0))


@given(st.floats(5, 500), st.floats(0.05, 0.8), st.floats(0.001, 0.5), st.floats(0.02, 0.1))
def test_stress_and_radius_are_two_ways_to_one_pull(modulus, thickness, strain, pressure):
    pull = membrane_tension(E=modulus, t=thickness, e=strain)
    radius = inside_radius(T=pull, g=pressure)
    assert film_stress(g=pressure, r=radius, t=thickness) == pytest.approx(modulus * strain)


@given(st.floats(0.1, 200), st.floats(0.01, 3.0), st.floats(0, 0.1))
def test_a_sharper_corner_keeps_more_from_the_film(radius, turn, more):
    assert corner_saving(r=radius, a=turn) >= 0
    assert corner_saving(r=radius, a=turn + more) >= corner_saving(r=radius, a=turn)
    assert corner_gap(r=radius, a=turn + more) >= corner_gap(r=radius, a=turn) >= 0


@settings(max_examples=30)
@given(length, st.floats(1, 300), st.floats(1, 300))
def test_taped_sheet_is_the_surface_from_seam_to_seam(width, height, seam):
    profile = np.array([[-seam, 0], [0, 0], [0, height], [width, height], [width, 0], [width + seam, 0]])
    film = lay_over(profile, TOUCH)
    assert taped_sheet(W=width, h=height, s=seam) == pytest.approx(film.true_length)
    assert film.taut_length <= film.true_length
