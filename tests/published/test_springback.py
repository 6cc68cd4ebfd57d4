"""Springback against the boatbuilder's rule and worked stacks."""

import numpy as np
import pytest

from underbag.model.errors import ShapeError
from underbag.model.mechanics.springback import (
    bundle,
    form_curvature,
    form_for,
    release,
    released_curvature,
    springback_of_equal,
    springback_ratio,
)


# Boatbuilders' rule for laminated deck beams, y = x/n² (common practice, printed in a builders' forum): the camber x
# loses y. It follows from beam theory: n plies free have n t³, glued (n t)³.
@pytest.mark.parametrize(("n", "share"), [(2, 0.25), (3, 0.1111), (4, 0.0625), (5, 0.04), (8, 0.015625)])
def test_equal_plies(n: int, share: float) -> None:
    assert springback_of_equal(n=n) == pytest.approx(share, abs=5e-5)
    assert bundle(np.full(n, 1.5), 11600.0).ratio == pytest.approx(1 / n**2, rel=1e-12)


def test_three_inches_of_camber_in_four_plies() -> None:
    # The rule's own example: 3 in of camber, 4 plies: 3/16 in; with twice the plies 3/64 in.
    assert 3 * springback_of_equal(n=4) == pytest.approx(3 / 16, rel=1e-12)
    assert 3 * springback_of_equal(n=8) == pytest.approx(3 / 64, rel=1e-12)


def test_form_for_half_a_metre() -> None:
    # R (1 − 1/n²) = 500 · 15/16 = 468.75 mm
    k = form_curvature(k=1 / 500, s=springback_of_equal(n=4), k_0=0.0)

    assert 1 / k == pytest.approx(468.75, rel=1e-12)
    assert 1 / released_curvature(k_f=k, s=0.0625, k_0=0.0) == pytest.approx(500, rel=1e-12)


def test_unequal_thickness() -> None:
    # Σ t³/h³ = (27 + 27 + 0.216)/6.6³ = 0.18858; the rule for equal plies would say 1/9.
    plies = bundle([3, 3, 0.6], 11600.0)

    assert plies.ratio == pytest.approx((27 + 27 + 0.216) / 6.6**3, rel=1e-12)
    assert plies.ratio == pytest.approx(0.18858, abs=5e-6)


def test_unequal_stiffness() -> None:
    # Two 5 mm plies at 2000 MPa and a face of 0.6 mm at 11 600 MPa, by hand with the transformed section.
    E, t, middle = np.array([2000, 2000, 11600]), np.array([5, 5, 0.6]), np.array([2.5, 7.5, 10.3])
    neutral = (E * t * middle).sum() / (E * t).sum()
    free = (E * t**3 / 12).sum()
    glued = (E * t**3 / 12 + E * t * (middle - neutral) ** 2).sum()

    plies = bundle(t, E)

    assert plies.ratio == pytest.approx(free / glued, rel=1e-12)
    assert plies.ratio == pytest.approx(0.13426, abs=5e-6)
    assert plies.neutral == pytest.approx(neutral, rel=1e-12)


def test_one_of_two_plies_bent_beforehand() -> None:
    # Two equal plies, one already bent to half the form: 0.25 · 3/4 = 0.1875 of the form's curvature is lost.
    plies = bundle([1.0, 1.0], 11600.0)
    form = 1e-6

    left = release(plies, form, natural=[form / 2, 0.0])[0]

    # The form is so flat that the radius of each ply is the same to 1e-6.
    assert 1 - left / form == pytest.approx(0.1875, abs=1e-6)
    assert released_curvature(
        k_f=form, s=plies.ratio, k_0=float(plies.mean([form / 2, 0.0]))
    ) == pytest.approx(left, rel=1e-6)


def test_radius_of_the_form_hardly_matters() -> None:
    # Forests 2020, 11(7), 725 (abstract): for laminated beech the radius of the die was negligible. Four plies of
    # 1.5 mm on 300 mm at the concave face: 1/16 within 1e-5.
    plies = bundle(np.full(4, 1.5), 13090.0)
    form = 1 / (300 + plies.neutral)

    assert 1 - release(plies, form)[0] / form == pytest.approx(0.0625, abs=1e-5)


def test_a_single_ply_springs_back_whole() -> None:
    plies = bundle([3.0], 11600.0)

    assert plies.ratio == pytest.approx(1, rel=1e-12)
    assert release(plies, 1 / 300)[0] == pytest.approx(0, abs=1e-15)
    with pytest.raises(ShapeError, match="two plies or more"):
        form_for(plies, 1 / 300)
    with pytest.raises(ShapeError, match="two plies or more"):
        form_curvature(k=1 / 300, s=1.0, k_0=0.0)


def test_a_form_tighter_than_its_plies_is_refused() -> None:
    plies = bundle([5.0, 5.0], 11600.0)

    release(plies, -1 / 2.51)
    with pytest.raises(ShapeError, match=r"radius 2.50 mm"):
        release(plies, -1 / 2.5)


def test_ratio_of_second_moments() -> None:
    plies = bundle([3, 3, 0.6], 11600.0)

    assert springback_ratio(i_f=plies.free, i_g=plies.glued) == plies.ratio
    # A solid sheet of the same thickness: h²/12 per width and thickness.
    assert plies.glued == pytest.approx(6.6**2 / 12, rel=1e-12)
