"""Overhang against printed values."""

import math

import pytest

from underbag.model.mechanics.grain import STRENGTH_EXPONENT, at_angle
from underbag.model.mechanics.overhang import (
    FreeEdge,
    edge_limit,
    free_length,
    longest_by_deflection,
    longest_by_strength,
    root_stress,
    tip_deflection,
    weakest_edge,
    working_strength,
)

# Black walnut at 12 %: MOR 101 MPa, tension across the grain 4.8 MPa, E 11 600 MPa (FPL-GTR-190, Table 5-3a).
MOR, TENSION_PERP, E_BEND = 101.0, 4.8, 11600.0

# Cantilever under uniform load, M = wL²/2 and y = wL⁴/8EI: any beam table, such as Roark, Table 8.1 case 2a.


def test_walnut_along_the_grain() -> None:
    # t √(f/3p) = 0.6 √(101/0.24) = 12.31 mm
    assert longest_by_strength(p=0.08, t=0.6, f=MOR) == pytest.approx(12.31, abs=0.01)


def test_walnut_across_the_grain() -> None:
    assert longest_by_strength(p=0.08, t=0.6, f=TENSION_PERP) == pytest.approx(2.683, abs=0.001)


def test_root_stress() -> None:
    # 3 · 0.08 · 25 / 0.36 = 16.667 MPa
    assert root_stress(p=0.08, L=5, t=0.6) == pytest.approx(16.667, abs=0.001)


def test_tip_deflection() -> None:
    # 0.08 · 625 / (8 · 11600 · 0.018) = 0.02993 mm
    assert tip_deflection(p=0.08, L=5, t=0.6, E=E_BEND) == pytest.approx(0.02993, abs=1e-5)
    assert longest_by_deflection(p=0.08, t=0.6, E=E_BEND, w=0.02993) == pytest.approx(5, abs=0.001)


def test_hankinson_example() -> None:
    # Worked example of a civil engineering calculations handbook, compression on an oblique plane: 1400 and
    # 400 lb/in², sin² = 0.36, printed 737 lb/in².
    found = at_angle(f_l=1400, f_c=400, a=math.asin(0.6), n=2)

    assert found == pytest.approx(737, abs=0.5)


# Bending strength against slope of grain, Wood Handbook (1999), Table 4-12, from memory. The two published exponents
# bracket it for a ratio across : along of 0.048, walnut's; the lower one is the safe one.
@pytest.mark.parametrize(("slope", "share"), [(25, 0.96), (20, 0.93), (15, 0.89), (10, 0.81), (5, 0.55)])
def test_slope_of_grain(slope: float, share: float) -> None:
    angle = math.atan(1 / slope)
    safe = at_angle(f_l=1.0, f_c=TENSION_PERP / MOR, a=angle, n=STRENGTH_EXPONENT)
    other = at_angle(f_l=1.0, f_c=TENSION_PERP / MOR, a=angle, n=2.0)

    assert safe < share < other


def edge(piece: int, angle: float, thickness: float = 0.6) -> FreeEdge:
    return FreeEdge(
        piece=piece,
        thickness=thickness,
        f_along=MOR,
        f_across=TENSION_PERP,
        E_along=E_BEND,
        E_across=650.0,
        angle=angle,
    )


def test_end_grain_edge_and_side_edge() -> None:
    end = edge_limit(edge(0, 0.0), p=0.08, w=5.0)
    side = edge_limit(edge(0, math.pi / 2), p=0.08, w=5.0)

    assert end.by == side.by == "strength"
    # √(101/4.8) = 4.587
    assert end.length / side.length == pytest.approx(4.587, abs=0.001)


def test_a_stiff_limit_sets_the_length_by_deflection() -> None:
    limit = edge_limit(edge(0, 0.0), p=0.08, w=0.02993)

    assert limit.by == "deflection"
    assert limit.length == pytest.approx(5, abs=0.001)


def test_a_face_is_as_weak_as_its_worst_piece() -> None:
    pieces = [edge(0, 0.0), edge(1, math.pi / 4), edge(2, math.pi / 2), edge(3, math.pi / 2, thickness=0.9)]

    worst = weakest_edge(pieces, p=0.08, w=5.0)

    assert worst.edge.piece == 2
    assert worst.length == pytest.approx(2.683, abs=0.001)


def test_a_face_without_edges_has_no_limit() -> None:
    with pytest.raises(ValueError, match="empty"):
        weakest_edge([], p=0.08, w=1.0)


@pytest.mark.parametrize(
    ("overhang", "reach", "free"), [(12.0, 0.0, 12.0), (12.0, 5.0, 7.0), (12.0, 12.0, 0.0), (12.0, 50.0, 0.0)]
)
def test_a_plate_past_the_edge_supports_it(overhang: float, reach: float, free: float) -> None:
    assert free_length(L_o=overhang, L_s=reach) == free


def test_working_strength() -> None:
    # Wet veneer at 0.6 and half of that for safety (common practice): 101 → 30.3 MPa.
    assert working_strength(f=MOR, k=0.6, s=2.0) == pytest.approx(30.3, rel=1e-12)


def test_an_eighth_of_an_inch_past_an_inch_is_far_too_much() -> None:
    """The trade's outer bound of 1 1/8 in breaks a 0.6 mm veneer even along the grain (common practice)."""
    assert root_stress(p=0.08, L=1.125 * 25.4, t=0.6) > MOR
