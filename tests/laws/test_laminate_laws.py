"""Laminate: two ways to one number, and what may never happen."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import minimize

from underbag.model.mechanics.balance import balancing_back, humidity_band, warp_in_mm
from underbag.model.mechanics.laminate import (
    Layers,
    bending_moduli,
    bistrip_curvature,
    layer_stress,
    layers,
    principal_curvatures,
    snapped_cylinders,
    stiffness,
    turned_stiffness,
    turned_strain,
    warp,
)
from underbag.model.mechanics.moisture import equilibrium_moisture


@st.composite
def plies(draw: st.DrawFn, least: int = 1, most: int = 6) -> list[dict[str, float]]:
    """Layers of wood at any angle, as rows of fields with their change of moisture."""
    row = st.fixed_dictionaries(
        {
            "t": st.floats(0.3, 20),
            "E1": st.floats(3000, 18000),
            "E2": st.floats(200, 3000),
            "G12": st.floats(100, 1500),
            "nu12": st.floats(0, 0.6),
            "angle": st.floats(-math.pi, math.pi),
            "C1": st.floats(3e-5, 5e-4),
            "C2": st.floats(5e-4, 4e-3),
            "dM": st.floats(-6, 6),
        }
    )
    return draw(st.lists(row, min_size=least, max_size=most))


def gather(rows: list[dict[str, float]]) -> tuple[Layers, np.ndarray]:
    """The layers and their free strains."""
    stack = layers(**{name: [row[name] for row in rows] for name in rows[0] if name != "dM"})
    return stack, stack.free_strain([row["dM"] for row in rows])


def warp_by_slices(stack: Layers, free: np.ndarray, slices: int = 400) -> np.ndarray:
    """Strain and curvature (6,) from a sum over thin slices of every layer, stiffness turned through its compliance."""
    system, load = np.zeros((6, 6)), np.zeros(6)
    bottom = -stack.t.sum() / 2
    for i in range(len(stack.t)):
        compliance = np.array(
            [
                [1 / stack.E1[i], -stack.nu12[i] / stack.E1[i], 0],
                [-stack.nu12[i] / stack.E1[i], 1 / stack.E2[i], 0],
                [0, 0, 1 / stack.G12[i]],
            ]
        )
        c, s = math.cos(stack.angle[i]), math.sin(stack.angle[i])
        stress_turn = np.array(
            [[c * c, s * s, 2 * s * c], [s * s, c * c, -2 * s * c], [-s * c, s * c, c * c - s * s]]
        )
        back = np.linalg.inv(stress_turn)
        Q = back @ np.linalg.inv(compliance) @ back.T
        step = stack.t[i] / slices
        for z in bottom + step * (np.arange(slices) + 0.5):
            shape = np.concatenate([np.eye(3), z * np.eye(3)], axis=1)
            system += step * shape.T @ Q @ shape
            load += step * shape.T @ Q @ free[i]
        bottom += stack.t[i]
    return np.linalg.solve(system, load)


@settings(max_examples=8, deadline=None)
@given(plies(least=2, most=4))
def test_warp_by_slices(rows: list[dict[str, float]]) -> None:
    stack, free = gather(rows)

    shape = warp(stiffness(stack), free)

    # The midpoint rule over 400 slices: (1/400)² of the second moments, on the scale of the largest free strain.
    expected = warp_by_slices(stack, free)
    scale = np.abs(free).max() + 1e-12
    assert shape.strain == pytest.approx(expected[:3], abs=3e-5 * scale)
    assert shape.curvature * stack.t.sum() == pytest.approx(expected[3:] * stack.t.sum(), abs=3e-4 * scale)


@settings(deadline=None)
@given(plies(most=5), st.floats(0.3, 20))
def test_a_symmetric_laminate_never_bows_cups_or_twists(rows: list[dict[str, float]], core: float) -> None:
    middle = dict(rows[0], t=core)
    stack, free = gather([*rows, middle, *reversed(rows)])

    shape = warp(stiffness(stack), free)

    scale = np.abs(free).max() / stack.t.sum()
    assert np.abs(shape.curvature).max() <= 1e-9 * scale + 1e-18
    assert np.abs(stiffness(stack).B).max() <= 1e-10 * np.abs(stiffness(stack).A).max() * stack.t.sum()


@settings(deadline=None)
@given(plies(least=2))
def test_nothing_pulls_or_turns_at_the_edges(rows: list[dict[str, float]]) -> None:
    """Layer stresses, straight through each layer, add up to no force and no moment."""
    stack, free = gather(rows)
    plate = stiffness(stack)

    stress = layer_stress(plate, free, warp(plate, free))

    low, high = stress[:, 0], stress[:, 1]
    t, z = stack.t[:, None], plate.z[:-1, None]
    force = ((low + high) / 2 * t).sum(axis=0)
    moment = (t * (low * (z / 2 + t / 6) + high * (z / 2 + t / 3))).sum(axis=0)
    # Rounding of the stress that holding every layer's own swelling would take.
    scale = np.abs(plate.Q).max() * np.abs(free).max()
    assert np.abs(force).max() <= 1e-10 * scale * stack.t.sum()
    assert np.abs(moment).max() <= 1e-10 * scale * stack.t.sum() ** 2


@settings(deadline=None)
@given(plies(least=2))
def test_turning_the_panel_over_turns_the_bow(rows: list[dict[str, float]]) -> None:
    up, free = gather(rows)
    down, free_down = gather(rows[::-1])

    k, mirrored = warp(stiffness(up), free).curvature, warp(stiffness(down), free_down).curvature

    assert mirrored == pytest.approx(-k, rel=1e-6, abs=1e-9 * np.abs(free).max() + 1e-18)


@settings(deadline=None)
@given(plies(least=2), st.floats(-3, 3))
def test_turning_the_bench_changes_no_shape(rows: list[dict[str, float]], turn: float) -> None:
    """All grains turned by one angle: the principal curvatures stay, their direction turns along."""
    stack, free = gather(rows)
    turned, free_turned = gather([dict(row, angle=row["angle"] + turn) for row in rows])

    one = principal_curvatures(warp(stiffness(stack), free).curvature)
    other = principal_curvatures(warp(stiffness(turned), free_turned).curvature)

    scale = np.abs(free).max() / stack.t.sum() + 1e-15
    assert other.greater == pytest.approx(one.greater, abs=1e-6 * scale, rel=1e-6)
    assert other.lesser == pytest.approx(one.lesser, abs=1e-6 * scale, rel=1e-6)
    if one.greater - one.lesser > 1e-3 * scale:
        assert math.sin(2 * (other.angle - one.angle - turn)) == pytest.approx(0, abs=1e-4)


@settings(deadline=None)
@given(
    st.floats(0.3, 20),
    st.floats(0.3, 20),
    st.floats(200, 15000),
    st.floats(200, 15000),
    st.floats(-1e-2, 1e-2),
)
def test_two_layers_that_do_not_narrow_are_timoshenkos_strip(
    t1: float, t2: float, E1: float, E2: float, de: float
) -> None:
    stack = layers(t=[t2, t1], E1=[E2, E1], E2=[E2, E1], G12=500.0, nu12=0.0, angle=0.0, C1=[0.0, de], C2=0.0)

    k = warp(stiffness(stack), stack.free_strain(1.0)).curvature

    strip = bistrip_curvature(de=de, t_1=t1, t_2=t2, E_1=E1, E_2=E2)
    assert k[0] == pytest.approx(strip, rel=1e-7, abs=1e-15)


def test_unequal_poissons_ratios_are_no_strip() -> None:
    """Walnut on fibreboard: as a plate −2.02e-4, as a strip −2.12e-4; the two must not be mixed up."""
    strip = bistrip_curvature(de=(5e-5 - 5e-4) * 3, t_1=0.6, t_2=6, E_1=12760, E_2=3000)
    stack = layers(
        t=[6, 0.6], E1=[3000, 12760], E2=[3000, 715], G12=[1200, 791], nu12=[0.25, 0.45], angle=0.0,
        C1=[5e-4, 5e-5], C2=[5e-4, 0.00274],
    )  # fmt: skip

    assert strip == pytest.approx(-2.12e-4, abs=1e-6)
    assert warp(stiffness(stack), stack.free_strain(3.0)).curvature[0] == pytest.approx(-2.02e-4, abs=1e-6)


@settings(deadline=None)
@given(
    st.floats(1000, 15000), st.floats(200, 1000), st.floats(100, 1000), st.floats(0, 0.5), st.floats(-3, 3)
)
def test_turned_stiffness_by_energy(E1: float, E2: float, G: float, nu: float, angle: float) -> None:
    """Energy of any strain is the same in the panel's directions and in the grain's."""
    turned = turned_stiffness(E1, E2, G, nu, angle)
    straight = turned_stiffness(E1, E2, G, nu, 0.0)
    for e1, e2, shear in ((1.0, 0.0, 0.0), (0.3, -0.7, 0.0), (0.2, 0.5, 0.9)):
        grain = np.array([e1, e2, shear])
        tensor = np.array([[e1, shear / 2], [shear / 2, e2]])
        R = np.array([[math.cos(angle), -math.sin(angle)], [math.sin(angle), math.cos(angle)]])
        moved = R @ tensor @ R.T
        panel = np.array([moved[0, 0], moved[1, 1], 2 * moved[0, 1]])

        assert panel @ turned @ panel == pytest.approx(grain @ straight @ grain, rel=1e-9)


@settings(deadline=None)
@given(st.floats(-1e-2, 1e-2), st.floats(-1e-2, 1e-2), st.floats(-3, 3))
def test_turned_strain_is_a_tensor(e1: float, e2: float, angle: float) -> None:
    R = np.array([[math.cos(angle), -math.sin(angle)], [math.sin(angle), math.cos(angle)]])
    moved = R @ np.diag([e1, e2]) @ R.T

    expected = [moved[0, 0], moved[1, 1], 2 * moved[0, 1]]
    assert turned_strain(e1, e2, angle) == pytest.approx(expected, abs=1e-15)


@settings(deadline=None)
@given(st.floats(-1e-3, 1e-3), st.floats(-1e-3, 1e-3), st.floats(-1e-3, 1e-3))
def test_principal_curvatures_are_eigenvalues(kx: float, ky: float, kxy: float) -> None:
    found = principal_curvatures([kx, ky, kxy])

    values = np.linalg.eigvalsh([[kx, kxy / 2], [kxy / 2, ky]])
    assert [found.lesser, found.greater] == pytest.approx(values, abs=1e-15)
    c, s = math.cos(found.angle), math.sin(found.angle)
    assert kx * c * c + ky * s * s + kxy * c * s == pytest.approx(found.greater, abs=1e-15)


@settings(deadline=None)
@given(plies(least=1, most=1), st.floats(0.5, 30))
def test_a_solid_sheet_bends_by_its_own_moduli(rows: list[dict[str, float]], t: float) -> None:
    stack, _ = gather([dict(rows[0], t=t, angle=0.0)])

    assert bending_moduli(stiffness(stack)) == pytest.approx([rows[0]["E1"], rows[0]["E2"]], rel=1e-9)


def test_many_laminates_at_once() -> None:
    rows = [
        {"t": 0.6, "E1": 12760, "E2": 715, "G12": 791, "nu12": 0.45, "angle": 0.3, "C1": 5e-5, "C2": 2.74e-3, "dM": 3},
        {"t": 18, "E1": 3000, "E2": 3000, "G12": 1200, "nu12": 0.25, "angle": 0, "C1": 5e-4, "C2": 5e-4, "dM": 2},
    ]  # fmt: skip
    stack, free = gather(rows)
    fields = {name: getattr(stack, name) for name in ("E1", "E2", "G12", "nu12", "angle", "C1", "C2")}
    t = np.array([[0.6, 18.0], [0.6, 6.0], [0.9, 12.0]])

    together = warp(stiffness(layers(t=t, **fields)), free)

    for row, k in zip(t, together.curvature, strict=True):
        assert k == pytest.approx(warp(stiffness(layers(t=row, **fields)), free).curvature, rel=1e-9)


@pytest.mark.parametrize("seed", range(6))
def test_no_cylinder_stores_less_energy(seed: int) -> None:
    """The likeliest roll of a chance laminate, against a free search over curvature and direction.

    The energy is that of the whole laminate with its middle free to follow, not the reduced one of the function.
    """
    chance = np.random.default_rng(seed)
    n = int(chance.integers(2, 5))
    stack = layers(
        t=chance.uniform(0.5, 3, n),
        E1=chance.uniform(6000, 15000, n),
        E2=chance.uniform(300, 1500, n),
        G12=chance.uniform(300, 1200, n),
        nu12=0.4,
        angle=chance.uniform(-1.5, 1.5, n),
        C1=5e-5,
        C2=chance.uniform(1e-3, 4e-3, n),
    )
    free = stack.free_strain(chance.uniform(1, 4, n))
    plate = stiffness(stack)
    shape = warp(plate, free)
    matrix = plate.matrix()
    flat = np.concatenate([shape.strain, shape.curvature])
    scale = float(np.abs(shape.curvature).max())

    def energy(roll: np.ndarray) -> float:
        """Energy above that of the free shape, as a share of what it takes to bend the free shape flat."""
        curve = (
            roll[0]
            * scale
            * np.array([math.cos(roll[1]) ** 2, math.sin(roll[1]) ** 2, math.sin(2 * roll[1])])
        )
        middle = flat[:3] - np.linalg.solve(plate.A, plate.B @ (curve - flat[3:]))
        off = np.concatenate([middle, curve]) - flat
        return float(off @ matrix @ off) / float(shape.curvature @ plate.free_bending() @ shape.curvature)

    starts = [(sign, turn) for sign in (1.0, -1.0) for turn in np.linspace(0, math.pi, 9)[:-1]]
    best = min(minimize(energy, start, method="Nelder-Mead", tol=1e-10).fun for start in starts)

    first, *others = snapped_cylinders(plate, shape)

    assert energy(np.array([first.curvature / scale, first.angle])) == pytest.approx(best, abs=1e-8)
    assert len(others) <= 1
    assert all(energy(np.array([roll.curvature / scale, roll.angle])) >= best - 1e-9 for roll in others)


def test_a_panel_that_stays_flat_snaps_nowhere() -> None:
    stack = layers(t=[1, 2, 1], E1=9000, E2=500, G12=600, nu12=0.4, angle=[0, 1, 0], C1=5e-5, C2=2e-3)
    plate = stiffness(stack)

    assert snapped_cylinders(plate, warp(plate, stack.free_strain(4.0))) == ()


def test_a_dome_rolls_up_any_way() -> None:
    """Two isotropic layers: the dome's curvature times one and a quarter, as a plate bent to a trough by one moment."""
    stack = layers(t=[1, 1], E1=3000, E2=3000, G12=3000 / 2.5, nu12=0.25, angle=0, C1=[0, 1e-4], C2=[0, 1e-4])
    plate = stiffness(stack)
    dome = warp(plate, stack.free_strain(3.0))

    rolls = snapped_cylinders(plate, dome)

    assert dome.curvature[0] == pytest.approx(dome.curvature[1], rel=1e-9)
    assert len(rolls) == 1
    assert rolls[0].curvature == pytest.approx(1.25 * dome.curvature[0], rel=1e-9)


@settings(max_examples=20, deadline=None)
@given(st.floats(0.4, 1.2), st.floats(6, 25), st.floats(-5, 5).filter(lambda d: abs(d) > 0.5))
def test_the_balancing_back_does_balance(face: float, core: float, dM: float) -> None:
    def panel(back: float) -> Layers:
        return layers(
            t=[back, core, face], E1=[9000, 3000, 12760], E2=[800, 3000, 715], G12=[700, 1200, 791],
            nu12=[0.4, 0.25, 0.45], angle=0.0, C1=[5e-5, 5e-4, 5e-5], C2=[2e-3, 5e-4, 2.74e-3],
        )  # fmt: skip

    def measures(back: float) -> np.ndarray:
        stack = panel(back)
        return warp_in_mm(warp(stiffness(stack), stack.free_strain(dM)).curvature, 1000, 600)

    found = balancing_back(panel(1.0), dM, back=0, a=1000, b=600, thinnest=0.1, thickest=4)

    one_sided = np.abs(measures(0.1)).max()
    assert found.along is not None
    assert found.across is not None
    assert measures(found.along)[0] == pytest.approx(0, abs=1e-5 * one_sided)
    assert measures(found.across)[1] == pytest.approx(0, abs=1e-5 * one_sided)
    worst = np.abs(measures(found.best)).max()
    for other in np.linspace(0.1, 4, 200):
        assert worst <= np.abs(measures(other)).max() + 1e-4 * one_sided


@settings(max_examples=20, deadline=None)
@given(plies(least=2, most=4), st.floats(10, 35), st.floats(0.2, 6))
def test_the_humidity_band_by_trying_every_humidity(
    rows: list[dict[str, float]], T: float, most: float
) -> None:
    stack, _ = gather(rows)
    flat_at = np.array([8 + row["dM"] / 6 for row in rows])
    below = np.linspace(0, 1.5, len(rows))
    limit = (most, most, most)

    band = humidity_band(stack, flat_at, below, T=T, a=800, b=500, limit=limit)

    for h in np.linspace(0.005, 0.995, 60):
        moisture = equilibrium_moisture(T=T, h=h)
        free = turned_strain(
            stack.C1 * (moisture - below - flat_at), stack.C2 * (moisture - below - flat_at), stack.angle
        )
        measures = np.abs(warp_in_mm(warp(stiffness(stack), free).curvature, 800, 500))
        near = np.any(np.abs(measures - most) < 1e-6 * most)
        if not near:
            inside = band is not None and band.driest <= h <= band.dampest
            assert inside == bool(np.all(measures <= most))
