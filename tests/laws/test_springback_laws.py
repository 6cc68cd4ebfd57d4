"""Springback: two ways to one number, and what may never happen."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from underbag.model.mechanics.springback import PlyBundle, bundle, form_for, release, springback_of_equal

curvature = st.floats(-1 / 100, 1 / 100)


@st.composite
def bundles(draw: st.DrawFn) -> PlyBundle:
    count = draw(st.integers(2, 7))
    t = draw(st.lists(st.floats(0.4, 4), min_size=count, max_size=count))
    E = draw(st.lists(st.floats(500, 15000), min_size=count, max_size=count))
    return bundle(t, E)


def released_by_fibres(t: list[float], E: list[float], form: float, natural: list[float]) -> float:
    """Curvature after release of a stack cut into 2000 fibres a ply, by balancing the force and moment of all.

    On the form the glue locks every fibre at the stress that bending its own ply from its own curve has put on it;
    let go, the stack strains and bends until nothing pulls or turns.
    """
    top = np.cumsum(t)
    share = (np.arange(2000) + 0.5) / 2000
    z = np.concatenate([upper - own + own * share for upper, own in zip(top, t, strict=True)])
    area = np.concatenate([np.full(2000, own / 2000) for own in t])
    modulus = np.repeat(E, 2000)
    own_middle = np.repeat(top - np.array(t) / 2, 2000)
    neutral = (modulus * area * z).sum() / (modulus * area).sum()
    on_form = form / (1 + form * (own_middle - neutral))
    locked = modulus * (on_form - np.repeat(natural, 2000)) * (z - own_middle)
    force, moment = (locked * area).sum(), (locked * area * z).sum()
    system = [[(modulus * area * z**n * z**m).sum() for m in (0, 1)] for n in (0, 1)]
    return form + np.linalg.solve(system, [-force, -moment])[1]


@pytest.mark.parametrize(
    ("t", "E", "natural"),
    [
        ([1.5, 1.5, 1.5, 1.5], [11600.0] * 4, [0.0] * 4),
        ([3.0, 3.0, 0.6], [2000.0, 2000.0, 11600.0], [0.0] * 3),
        (
            [0.6, 2.0, 2.0, 2.0, 0.6],
            [11600.0, 8000.0, 500.0, 8000.0, 11600.0],
            [0.001, 0.0, 0.002, 0.0, -0.001],
        ),
    ],
)
@pytest.mark.parametrize("form", [1 / 300, -1 / 150])
def test_release_by_fibres(t: list[float], E: list[float], natural: list[float], form: float) -> None:
    found = release(bundle(t, E), form, natural)[0]

    # 2000 fibres a ply leave (1/2000)² of the second moments.
    assert found == pytest.approx(released_by_fibres(t, E, form, natural), rel=1e-5)


@settings(deadline=None)
@given(bundles(), st.lists(curvature, min_size=1, max_size=6))
def test_form_and_release_undo_each_other(plies: PlyBundle, wanted: list[float]) -> None:
    assert release(plies, form_for(plies, wanted)) == pytest.approx(wanted, rel=1e-9, abs=1e-13)


@settings(deadline=None)
@given(bundles(), st.lists(curvature, min_size=1, max_size=4), st.data())
def test_form_and_release_undo_each_other_with_bent_plies(
    plies: PlyBundle, wanted: list[float], data: st.DataObject
) -> None:
    count = len(plies.stiffness)
    natural = data.draw(st.lists(st.floats(-1e-3, 1e-3), min_size=count, max_size=count))

    form = form_for(plies, wanted, natural)

    assert release(plies, form, natural) == pytest.approx(wanted, rel=1e-9, abs=1e-13)


@settings(deadline=None)
@given(bundles(), curvature)
def test_the_work_never_springs_past_flat_or_past_the_form(plies: PlyBundle, form: float) -> None:
    left = release(plies, form)[0]

    assert 0 <= plies.ratio <= 1
    assert abs(left) <= abs(form) * (1 + 1e-9)
    assert left * form >= 0


@settings(deadline=None)
@given(bundles(), curvature)
def test_a_convex_and_a_concave_form_are_mirror_images(plies: PlyBundle, form: float) -> None:
    """Turning the stack over and the form with it gives the same bend the other way."""
    upside = PlyBundle(
        stiffness=plies.stiffness[::-1],
        middle=-plies.middle[::-1],
        neutral=plies.thickness - plies.neutral,
        thickness=plies.thickness,
        free=plies.free,
        glued=plies.glued,
    )

    assert release(upside, -form)[0] == pytest.approx(-release(plies, form)[0], rel=1e-12, abs=1e-18)


@settings(deadline=None)
@given(bundles(), st.floats(1e-5, 1e-2))
def test_plies_bent_to_the_form_beforehand_stay_on_it(plies: PlyBundle, form: float) -> None:
    natural = form / (1 + plies.middle * form)

    assert release(plies, form, natural)[0] == pytest.approx(form, rel=1e-12)


@settings(deadline=None)
@given(st.integers(1, 40))
def test_more_plies_never_spring_back_more(n: int) -> None:
    assert springback_of_equal(n=n + 1) < springback_of_equal(n=n)


@settings(deadline=None)
@given(bundles(), st.floats(0.1, 10))
def test_scaling_all_moduli_changes_nothing(plies: PlyBundle, factor: float) -> None:
    t = np.sqrt(12 * plies.stiffness[:2] + 1)
    one, other = bundle(t, [2000.0, 9000.0]), bundle(t, [2000.0 * factor, 9000.0 * factor])

    assert one.ratio == pytest.approx(other.ratio, rel=1e-12)


def test_natural_curvature_per_ply_and_place() -> None:
    plies = bundle([1.0, 2.0, 1.0], [11600.0, 500.0, 11600.0])
    form = np.array([0.0, 1 / 400, -1 / 200])
    natural = np.array([[0.0, 1e-3, 0.0], [0.0, 0.0, 2e-3], [0.0, 0.0, -1e-3]])

    together = release(plies, form, natural)
    apart = [release(plies, form[place], natural[:, place])[0] for place in range(3)]

    assert together == pytest.approx(apart, rel=1e-12, abs=1e-18)
