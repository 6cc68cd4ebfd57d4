"""Bending: two ways to one number, and what may never happen."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from underbag.model.mechanics.bending import (
    curvature_at,
    least_radius,
    strain_at_radius,
    strain_limit,
    tightest_bend,
)
from underbag.model.mechanics.radii import published_radius, radius_series

thickness = st.floats(0.1, 20)
strain = st.floats(0.001, 0.05)


@settings(deadline=None)
@given(strain, thickness, thickness, st.floats(1, 3))
def test_thinner_veneer_never_needs_a_larger_radius(eps_0: float, one: float, other: float, n: float) -> None:
    thin, thick = sorted((one, other))
    radius = {t: least_radius(t=t, eps_a=strain_limit(eps_0=eps_0, t=t, n=n)) for t in (thin, thick)}

    assert radius[thin] <= radius[thick]


@settings(deadline=None)
@given(st.sampled_from(radius_series()), st.floats(0.2, 20), st.floats(0.2, 20))
def test_within_a_printed_column_thinner_never_needs_more(series, one: float, other: float) -> None:  # type: ignore[no-untyped-def]
    thin, thick = sorted((one, other))
    below, above = series.radius_at(thin), series.radius_at(thick)

    assert above is None or (below is not None and below <= above * (1 + 1e-12))


@settings(deadline=None)
@given(
    st.sampled_from([("dry", "along"), ("dry", "across"), ("soaked", "along"), ("soaked", "across")]),
    st.floats(0.9, 9.5),
)
def test_a_looked_up_radius_lies_between_its_neighbours(column: tuple, t: float) -> None:  # type: ignore[type-arg]
    found = published_radius("aircraft plywood", *column, t)

    assert found is not None
    place = int(np.searchsorted(found.series.thickness, t))
    low, high = found.series.radius[max(place - 1, 0)], found.series.radius[min(place, 5)]
    assert low * (1 - 1e-12) <= found.radius <= high * (1 + 1e-12)


@settings(deadline=None)
@given(thickness, strain)
def test_radius_and_strain_undo_each_other(t: float, eps: float) -> None:
    assert strain_at_radius(t=t, R=least_radius(t=t, eps_a=eps)) == pytest.approx(eps, rel=1e-9)


@settings(deadline=None)
@given(thickness, st.floats(1, 5000))
def test_strain_is_the_outer_arc_against_the_middle_one(t: float, R: float) -> None:
    """Half a turn of the sheet: the outer face is longer than the middle by the strain, the inner one shorter."""
    outer, middle, inner = (math.pi * (R + share * t) for share in (1.0, 0.5, 0.0))
    eps = strain_at_radius(t=t, R=R)

    assert outer / middle - 1 == pytest.approx(eps, rel=1e-6)
    assert 1 - inner / middle == pytest.approx(eps, rel=1e-6)


@settings(deadline=None)
@given(st.floats(0, 30), st.floats(0.2, 5), st.floats(60, 500), st.integers(0, 99))
def test_the_tightest_place_is_the_worst_of_all_places(
    d: float, t: float, radius: float, phase: float
) -> None:
    """A wavy profile, searched by hand with each place taken for itself."""
    s = np.linspace(0, 1000, 301)
    k = np.sin(s / 90 + (phase + 0.5) / 16) / radius

    bend = tightest_bend(s, k, d, t)

    strains = []
    for curvature in k:
        concave = (
            (1 / curvature + d) if curvature > 0 else (-1 / curvature - d - t) if curvature < 0 else math.inf
        )
        strains.append(t / (2 * concave + t))
    assert bend.strain == pytest.approx(max(strains), rel=1e-9)
    assert strains[int(np.searchsorted(s, bend.at))] == pytest.approx(max(strains), rel=1e-9)
    assert bend.strain == pytest.approx(strain_at_radius(t=t, R=bend.radius), rel=1e-9)


@settings(deadline=None)
@given(st.floats(-0.01, 0.01), st.floats(0, 30), st.floats(0, 30))
def test_offsets_add_up(k: float, one: float, other: float) -> None:
    twice = curvature_at(k=curvature_at(k=k, d=one), d=other)

    assert twice == pytest.approx(curvature_at(k=k, d=one + other), rel=1e-9, abs=1e-15)


def test_curvature_of_an_offset_curve_by_finite_differences() -> None:
    """A sine wave moved along its normal by 5 mm, its curvature measured from neighbouring points."""
    x = np.linspace(0, 200, 20001)
    y = 20 * np.sin(x / 40)
    slope, bend = 0.5 * np.cos(x / 40), -20 / 1600 * np.sin(x / 40)
    length = np.hypot(1, slope)
    k = -bend / length**3
    moved = np.stack([x - 5 * slope / length, y + 5 / length])
    d1 = np.gradient(moved, axis=1)
    d2 = np.gradient(d1, axis=1)
    measured = -(d1[0] * d2[1] - d1[1] * d2[0]) / np.hypot(*d1) ** 3

    expected = np.array([curvature_at(k=item, d=5.0) for item in k])
    # Central differences with a step of 0.01 mm: 1e-6 of the greatest curvature.
    assert np.abs(measured - expected)[4:-4].max() < 1e-6 * np.abs(k).max() * 10
