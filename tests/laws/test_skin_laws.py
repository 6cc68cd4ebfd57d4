"""Skin, plates and ribs: two ways to one number, and what may never happen."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.sparse import diags, identity, kron
from scipy.sparse.linalg import spsolve

from underbag.model.mechanics.plate import buckling_factor, clamped_plate, hollow_box, supported_plate
from underbag.model.mechanics.skin import (
    bending_sag,
    continuous_strip,
    shear_sag,
    skin_coefficients,
    skin_stress,
    spacing_for_sag,
    spacing_for_strength,
)

spans = st.lists(st.floats(20, 400), min_size=1, max_size=8)


def strip_by_elements(lengths: list[float], pieces: int = 40) -> tuple[np.ndarray, np.ndarray]:
    """Reactions and greatest deflections of a strip from cubic beam elements, for a load and a stiffness of 1."""
    sizes = np.repeat(np.array(lengths) / pieces, pieces)
    count = 2 * (len(sizes) + 1)
    matrix, load = np.zeros((count, count)), np.zeros(count)
    for i, h in enumerate(sizes):
        own = slice(2 * i, 2 * i + 4)
        matrix[own, own] += (
            np.array([[12, 6 * h, -12, 6 * h], [6 * h, 4 * h * h, -6 * h, 2 * h * h],
                      [-12, -6 * h, 12, -6 * h], [6 * h, 2 * h * h, -6 * h, 4 * h * h]]) / h**3
        )  # fmt: skip
        load[own] += np.array([h / 2, h * h / 12, h / 2, -h * h / 12])
    ribs = 2 * pieces * np.arange(len(lengths) + 1)
    free = np.setdiff1d(np.arange(count), ribs)
    w = np.zeros(count)
    w[free] = np.linalg.solve(matrix[np.ix_(free, free)], load[free])
    reaction = (load - matrix @ w)[ribs]
    deflections = w[::2]
    worst = [np.abs(deflections[i * pieces : (i + 1) * pieces + 1]).max() for i in range(len(lengths))]
    return reaction, np.array(worst)


@settings(max_examples=15, deadline=None)
@given(spans)
def test_strip_by_beam_elements(lengths: list[float]) -> None:
    reaction, deflection = strip_by_elements(lengths)

    strip = continuous_strip(lengths)

    assert strip.reaction == pytest.approx(reaction, rel=1e-5, abs=1e-5 * max(lengths))
    # The elements are exact at their ends; the peak may lie between two: (1/40)² of the deflection's bend there.
    longest = max(lengths) ** 4
    assert strip.deflection == pytest.approx(deflection, rel=0.01, abs=1e-6 * longest)


@settings(deadline=None)
@given(spans)
def test_the_ribs_carry_the_whole_load(lengths: list[float]) -> None:
    strip = continuous_strip(lengths)

    assert strip.reaction.sum() == pytest.approx(sum(lengths), rel=1e-9)
    place = np.concatenate([[0], np.cumsum(lengths)])
    assert strip.reaction @ place == pytest.approx(sum(lengths) ** 2 / 2, rel=1e-9)


@settings(deadline=None)
@given(spans)
def test_a_form_may_be_read_from_either_end(lengths: list[float]) -> None:
    one, other = continuous_strip(lengths), continuous_strip(lengths[::-1])

    assert one.reaction == pytest.approx(other.reaction[::-1], rel=1e-9, abs=1e-9 * max(lengths))
    assert one.deflection == pytest.approx(other.deflection[::-1], rel=1e-9)


@settings(deadline=None)
@given(st.integers(1, 12))
def test_a_skin_over_more_ribs_never_sags_more_than_over_two(n: int) -> None:
    many = skin_coefficients(n)

    assert many.k_inner <= many.k <= skin_coefficients(1).k
    assert many.m <= 0.125 + 1e-12
    assert sum(many.shares) == pytest.approx(n, rel=1e-9)


@settings(deadline=None)
@given(
    st.floats(0.01, 5), st.floats(0.005, 0.1), st.floats(2, 30), st.floats(200, 12000), st.floats(20, 800),
    st.integers(1, 8),
)  # fmt: skip
def test_at_the_spacing_found_the_skin_sags_by_the_limit(
    w: float, p: float, t: float, E: float, G: float, n: int
) -> None:
    k = skin_coefficients(n).k

    s = spacing_for_sag(w=w, p=p, t=t, E=E, G=G, k=k)

    assert bending_sag(p=p, s=s, t=t, E=E, k=k) + shear_sag(p=p, s=s, t=t, G=G) == pytest.approx(w, rel=1e-6)


@settings(deadline=None)
@given(st.floats(0.01, 2), st.floats(0.005, 0.1), st.floats(0.005, 0.1), st.floats(2, 30))
def test_more_pressure_never_allows_wider_ribs(w: float, one: float, other: float, t: float) -> None:
    low, high = sorted((one, other))

    def spacing(p: float) -> float:
        sags = spacing_for_sag(w=w, p=p, t=t, E=3000, G=175, k=0.0069)
        return min(sags, spacing_for_strength(f=10, p=p, t=t, m=0.1))

    assert spacing(high) <= spacing(low) * (1 + 1e-12)


@settings(deadline=None)
@given(st.floats(1, 60), st.floats(0.005, 0.1), st.floats(2, 30))
def test_at_the_spacing_found_the_skin_bears_its_strength(f: float, p: float, t: float) -> None:
    assert skin_stress(p=p, s=spacing_for_strength(f=f, p=p, t=t, m=0.1), t=t, m=0.1) == pytest.approx(
        f, rel=1e-9
    )


def test_shear_by_finite_differences() -> None:
    """κGA w' = V of a simply supported strip, summed from the support to the middle."""
    p, s, t, G = 0.085, 100.0, 12.0, 175.0
    x = (np.arange(2000) + 0.5) * s / 2 / 2000
    slope = p * (s / 2 - x) / (5 / 6 * G * t)

    assert shear_sag(p=p, s=s, t=t, G=G) == pytest.approx(slope.sum() * s / 2 / 2000, rel=1e-9)


def plate_by_differences(ratio: float, clamped: bool, steps: int) -> float:
    """Deflection of the middle of a plate ``ratio`` by 1 under a load and a stiffness of 1, by finite differences."""
    h = 1 / steps
    along, across = round(ratio * steps) - 1, steps - 1

    def second(n: int) -> object:
        return diags([1.0, -2.0, 1.0], [-1, 0, 1], shape=(n, n)) / h**2

    def fourth(n: int) -> object:
        matrix = diags([1.0, -4.0, 6.0, -4.0, 1.0], [-2, -1, 0, 1, 2], shape=(n, n)).tolil()
        # The point past the edge mirrors the first one inside: alike where clamped, opposite where free to turn.
        matrix[0, 0] = matrix[n - 1, n - 1] = 7.0 if clamped else 5.0
        return matrix.tocsr() / h**4

    matrix = (
        kron(fourth(along), identity(across))
        + 2 * kron(second(along), second(across))
        + kron(identity(along), fourth(across))
    )
    w = spsolve(matrix.tocsr(), np.ones(along * across)).reshape(along, across)
    return float(w[along // 2, across // 2])


@pytest.mark.parametrize("ratio", [1.0, 1.5, 2.0])
@pytest.mark.parametrize("clamped", [False, True])
def test_plate_by_finite_differences(ratio: float, clamped: bool) -> None:
    coarse, fine = (plate_by_differences(ratio, clamped, steps) for steps in (16, 32))
    # Second-order differences: two grids give the limit.
    limit = (4 * fine - coarse) / 3

    plate = clamped_plate(ratio, 1) if clamped else supported_plate(ratio, 1, 0.3)

    # What the extrapolation leaves is of fourth order, (1/16)⁴ times a number of order ten.
    assert plate.alpha == pytest.approx(limit, rel=1e-3)


@pytest.mark.parametrize("ratio", [1.0, 1.7, 3.0])
@pytest.mark.parametrize("nu", [0.0, 0.3])
def test_supported_plate_by_naviers_double_series(ratio: float, nu: float) -> None:
    m, n = (np.arange(1.0, 400.0, 2.0) for _ in range(2))
    m, n = m[:, None], n[None, :]
    sign = np.where((m + n) / 2 % 2 == 1, 1.0, -1.0)
    long, short = (m / ratio) ** 2, n**2
    term = 16 * sign / (np.pi**6 * m * n * (long + short) ** 2)

    plate = supported_plate(ratio, 1, nu)

    assert plate.alpha == pytest.approx(term.sum(), rel=1e-8)
    # The moments converge with the square of the number of terms only.
    assert plate.beta == pytest.approx((term * np.pi**2 * (short + nu * long)).sum(), rel=1e-3)


@settings(deadline=None)
@given(st.floats(1, 6), st.floats(0, 0.45))
def test_a_clamped_plate_sags_less_than_a_supported_one(ratio: float, nu: float) -> None:
    assert 0.15 < clamped_plate(ratio, 1).alpha / supported_plate(ratio, 1, nu).alpha < 0.35


@settings(max_examples=30, deadline=None)
@given(st.floats(100, 900), st.floats(100, 900), st.floats(50, 400), st.floats(6, 40), st.floats(0.01, 0.1))
def test_a_box_under_more_pressure_is_never_safer(
    length: float, width: float, height: float, t: float, p: float
) -> None:
    calm = hollow_box(length, width, height, t, 3000, 0.25, p)
    hard = hollow_box(length, width, height, t, 3000, 0.25, 1.2 * p)

    for one, other in zip(calm, hard, strict=True):
        assert other.reserve == pytest.approx(one.reserve / 1.2, rel=1e-9)
        assert other.deflection >= one.deflection
        assert other.stress >= one.stress


def test_buckling_by_finite_differences() -> None:
    """Least thrust at which ∇⁴w = −N ∇²w has a bent solution on a supported square, both ways pressed."""
    steps = 24
    h = 1 / steps
    n = steps - 1
    second = (diags([1.0, -2.0, 1.0], [-1, 0, 1], shape=(n, n)) / h**2).toarray()
    laplace = np.kron(second, np.eye(n)) + np.kron(np.eye(n), second)
    # On a supported plate the fourth-order operator is the square of the second-order one.
    least = np.abs(np.linalg.eigvalsh(laplace)).min()

    D = 3000 * 10**3 / (12 * (1 - 0.3**2))
    found = buckling_factor(500, 500, 10, 3000, 0.3, along=1.0, across=1.0)
    assert found == pytest.approx(least * D / 500**2, rel=2e-3)
