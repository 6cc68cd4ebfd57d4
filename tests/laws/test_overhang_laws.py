"""Overhang: two ways to one number, and what may never happen."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from underbag.model.mechanics.grain import at_angle
from underbag.model.mechanics.overhang import (
    FreeEdge,
    edge_limit,
    longest_by_deflection,
    longest_by_strength,
    root_stress,
    tip_deflection,
    weakest_edge,
)

pressure = st.floats(0.005, 0.1)
thickness = st.floats(0.2, 5)
strength = st.floats(1, 200)
modulus = st.floats(100, 20000)
angle = st.floats(0, math.pi / 2)


@st.composite
def edges(draw: st.DrawFn) -> FreeEdge:
    across, along = sorted((draw(strength), draw(strength)))
    soft, stiff = sorted((draw(modulus), draw(modulus)))
    return FreeEdge(
        piece=draw(st.integers(0, 20)),
        thickness=draw(thickness),
        f_along=along,
        f_across=across,
        E_along=stiff,
        E_across=soft,
        angle=draw(angle),
    )


@settings(deadline=None)
@given(edges(), pressure, pressure, st.floats(0.01, 5))
def test_more_pressure_never_allows_more_overhang(edge: FreeEdge, one: float, other: float, w: float) -> None:
    low, high = sorted((one, other))

    assert edge_limit(edge, high, w).length <= edge_limit(edge, low, w).length


@settings(deadline=None)
@given(edges(), pressure, st.floats(0.01, 5), st.floats(1, 3))
def test_thicker_veneer_never_allows_less(edge: FreeEdge, p: float, w: float, more: float) -> None:
    thick = FreeEdge(
        piece=edge.piece,
        thickness=edge.thickness * more,
        f_along=edge.f_along,
        f_across=edge.f_across,
        E_along=edge.E_along,
        E_across=edge.E_across,
        angle=edge.angle,
    )

    assert edge_limit(thick, p, w).length >= edge_limit(edge, p, w).length * (1 - 1e-12)


@settings(deadline=None)
@given(st.lists(edges(), min_size=1, max_size=8), pressure, st.floats(0.01, 5))
def test_the_face_allows_what_every_piece_allows(face: list[FreeEdge], p: float, w: float) -> None:
    lengths = [edge_limit(edge, p, w).length for edge in face]

    assert weakest_edge(face, p, w).length == min(lengths)


@settings(deadline=None)
@given(pressure, thickness, strength)
def test_at_the_limit_the_root_bears_its_strength(p: float, t: float, f: float) -> None:
    assert root_stress(p=p, L=longest_by_strength(p=p, t=t, f=f), t=t) == pytest.approx(f, rel=1e-9)


@settings(deadline=None)
@given(pressure, thickness, modulus, st.floats(0.01, 5))
def test_at_the_limit_the_tip_is_down_by_what_is_allowed(p: float, t: float, E: float, w: float) -> None:
    assert tip_deflection(p=p, L=longest_by_deflection(p=p, t=t, E=E, w=w), t=t, E=E) == pytest.approx(
        w, rel=1e-9
    )


@settings(deadline=None)
@given(strength, strength, angle, st.floats(1.5, 2))
def test_strength_at_an_angle_never_exceeds_that_along(one: float, other: float, a: float, n: float) -> None:
    across, along = sorted((one, other))
    # With an exponent under 2 the curve may dip below the value across when both are nearly alike: by 2^(1 - n/2).
    found = at_angle(f_l=along, f_c=across, a=a, n=n)

    assert across * 2 ** (n / 2 - 1) * (1 - 1e-12) <= found <= along * (1 + 1e-12)


@settings(deadline=None)
@given(strength, strength, st.floats(1.5, 2))
def test_strength_along_and_across_are_met(f_l: float, f_c: float, n: float) -> None:
    assert at_angle(f_l=f_l, f_c=f_c, a=0.0, n=n) == pytest.approx(f_l, rel=1e-12)
    assert at_angle(f_l=f_l, f_c=f_c, a=math.pi / 2, n=n) == pytest.approx(f_c, rel=1e-9)


def test_cantilever_by_finite_differences() -> None:
    """EI w'''' = p on a grid of 400 steps, clamped at the root, no moment and no shear at the tip."""
    p, L, t, E, steps = 0.08, 9.0, 0.9, 700.0, 400
    h = L / steps
    stiffness = E * t**3 / 12
    # Unknowns are the deflections of points 0 … steps and of two points past each end.
    size = steps + 5
    matrix = np.zeros((size, size))
    load = np.zeros(size)
    for row in range(2, steps + 3):
        matrix[row, row - 2 : row + 3] = np.array([1, -4, 6, -4, 1]) * stiffness / h**4
        load[row] = p
    matrix[0, 2] = 1
    matrix[1, [1, 3]] = [-1, 1]
    tip = steps + 2
    matrix[size - 2, tip - 1 : tip + 2] = [1, -2, 1]
    matrix[size - 1, tip - 2 : tip + 3] = [-1, 2, 0, -2, 1]
    w = np.linalg.solve(matrix, load)
    root = stiffness * (w[3] - 2 * w[2] + w[1]) / h**2 * 6 / t**2

    # Second order in the step: (1/400)² of the answer; rounding of h⁻⁴ stays below that.
    assert tip_deflection(p=p, L=L, t=t, E=E) == pytest.approx(w[tip], rel=1e-4)
    assert root_stress(p=p, L=L, t=t) == pytest.approx(root, rel=1e-4)
