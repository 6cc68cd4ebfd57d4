"""Crossbands: where they lie, what they do to flatness and bends, and two other ways to the same numbers."""

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from underbag.model.layup.settle import settle
from underbag.model.mechanics.moisture import equilibrium_moisture, humidity_for
from underbag.model.plan import Plan, plan
from underbag.model.report import Report, report
from underbag.model.wetting import moisture_of

Asked = dict[str, dict[str, Any]]

FLAT: Asked = {"panel": {"length": 600.0, "width": 300.0}}
CROSSED: Asked = FLAT | {"crossband": {"material": "yellow-poplar"}}
NO_BACK = {"material": "none"}
DRY_GLUE = {"material": "epoxy"}  # brings no water
SHAPES = ("bow", "cup", "twist")
SEASONS = ("driest", "dampest")


def planned(asked: Asked) -> Plan:
    return plan(settle(asked))


def told(asked: Asked) -> Report:
    return report(planned(asked))


def warps(values: Report) -> list[float]:
    return [values.value(f"flatness.{season}.{shape}").number for season in SEASONS for shape in SHAPES]


def by_hand(plies: list[tuple[float, tuple[float, ...], bool, tuple[float, float]]]) -> tuple[float, float]:
    """Curvatures of free plies by slicing: a second program of laminated-plate theory.

    Each ply (thickness, (E1, E2, nu), runs along x, free strain along and across its grain) is cut into thin slices, and
    force and moment are summed slice by slice instead of from the powers of the interfaces' heights; no shear, as every
    grain runs along x or y.
    """
    slices = 4000
    rows, height = [], 0.0
    for t, (E1, E2, nu), along, (e1, e2) in plies:
        low = 1.0 - nu**2 * E2 / E1
        Q = np.array([[E1, nu * E2], [nu * E2, E2]]) / low
        free = np.array([e1, e2])
        if not along:
            Q, free = Q[::-1, ::-1], free[::-1]
        for index in range(slices):
            rows.append((height + (index + 0.5) * t / slices, t / slices, Q, free))
        height += t
    whole, load = np.zeros((4, 4)), np.zeros(4)
    for z, t, Q, free in rows:
        reach = np.hstack([np.eye(2), (z - height / 2.0) * np.eye(2)])
        whole += t * reach.T @ Q @ reach
        load += t * reach.T @ Q @ free
    shape = np.linalg.solve(whole, load)
    return float(shape[2]), float(shape[3])


def test_each_veneer_lies_on_its_crossband_and_glue_is_between_all() -> None:
    keys = [layer.key for layer in planned(CROSSED).stack.work]
    assert keys == [
        "back",
        "glue-back",
        "crossband-back",
        "glue-crossband-back",
        "substrate",
        "glue-crossband-face",
        "crossband-face",
        "glue-face",
        "face",
    ]
    only_face = [layer.key for layer in planned(CROSSED | {"back": NO_BACK}).stack.work]
    assert only_face == keys[4:]
    assert not [layer for layer in planned(FLAT).stack.layers if "crossband" in layer.key]


def test_a_crossband_is_cut_to_the_core_with_its_trim() -> None:
    made = planned(CROSSED | {"substrate": {"trim": 5.0}})
    band, core = made.stack.find("crossband-face"), made.stack.find("substrate")
    assert band is not None
    assert core is not None
    assert (band.blank.length, band.blank.width) == (core.blank.length, core.blank.width) == (610.0, 310.0)
    assert band.material == "yellow-poplar"


@pytest.mark.parametrize(("face", "band"), [("along length", "along width"), ("along width", "along length")])
def test_its_grain_runs_across_the_face_unless_the_file_says_otherwise(face: str, band: str) -> None:
    asked = CROSSED | {"face": {"grain": face}}
    assert [ply.runs_along for ply in planned(asked).plies] == [
        face == "along length",
        band == "along length",
        True,
        band == "along length",
        face == "along length",
    ]
    own = asked | {"crossband": {"material": "yellow-poplar", "grain": face}}
    assert settle(own).crossband.grain == face


def test_four_glue_lines_take_twice_the_glue_of_two() -> None:
    assert told(CROSSED).value("glue.mass").number == pytest.approx(
        2.0 * told(FLAT).value("glue.mass").number, rel=1e-12
    )


def test_the_mass_is_that_of_every_sheet() -> None:
    """Density times thickness times size, summed by hand over nine layers."""
    made = planned(CROSSED)
    chosen = made.chosen
    assert chosen.face is not None
    assert chosen.crossband is not None
    face = 2.0 * 0.6 * 612.0 * 312.0 * chosen.face.density
    core = 600.0 * 300.0 * (18.0 * chosen.substrate.density + 2.0 * 0.6 * chosen.crossband.density)
    glue = 4.0 * 600.0 * 300.0 * made.layup.adhesive.spread
    assert told(CROSSED).value("panel.mass").number == pytest.approx(face + core + glue, rel=1e-12)


def test_curvatures_of_a_crossbanded_face_by_slices() -> None:
    """Five plies less one: MDF, a crossband of poplar, a face of walnut; glue without water, gain of 3 %."""
    wet = equilibrium_moisture(T=20.0, h=0.5) + 3.0
    asked = CROSSED | {
        "panel": {"length": 600.0, "width": 300.0, "dampest": 100.0 * humidity_for(T=20.0, M=wet)},
        "back": NO_BACK,
        "adhesive": DRY_GLUE,
    }
    made = planned(asked)
    k_x, k_y = by_hand(
        [
            (ply.thickness, (ply.E_1, ply.E_2, ply.nu), ply.runs_along, (3.0 * ply.C_1, 3.0 * ply.C_2))
            for ply in made.plies
        ]
    )
    values = report(made)
    # a slice's own bending is left out: 1/slices² of the ply's
    assert values.value("flatness.dampest.bow").number == pytest.approx(k_x * 600.0**2 / 8.0, rel=1e-5)
    assert values.value("flatness.dampest.cup").number == pytest.approx(k_y * 300.0**2 / 8.0, rel=1e-5)
    assert values.value("flatness.dampest.twist").number == 0.0


def test_a_crossband_like_the_core_changes_nothing_but_the_thickness() -> None:
    """Textbook identity: plies of one material and grain are one ply."""
    thin = FLAT | {
        "substrate": {"material": "yellow-poplar", "thickness": 11.4},
        "crossband": {"material": "yellow-poplar", "thickness": 0.6, "grain": "along length"},
        "back": NO_BACK,
        "adhesive": DRY_GLUE,
    }
    thick = FLAT | {
        "substrate": {"material": "yellow-poplar", "thickness": 12.0},
        "back": NO_BACK,
        "adhesive": DRY_GLUE,
    }
    # an inverse of the whole stiffness stands between: rounding only
    assert warps(told(thin)) == pytest.approx(warps(told(thick)), rel=1e-8, abs=1e-12)


def test_the_back_that_balances_a_bare_crossbanded_one_is_the_face_again() -> None:
    # it takes the face's crossband with it; the search closes in to about 1e-6 of its range
    values = told(CROSSED | {"back": NO_BACK})
    assert values.value("flatness.balancing_back").number == pytest.approx(0.6, abs=1e-4)
    assert values.value("flatness.balanced").number == pytest.approx(0.0, abs=1e-3)


def test_all_of_a_crossband_takes_up_water_from_both_of_its_glue_lines() -> None:
    made = planned(CROSSED)
    wet = moisture_of(made)
    held = sum(
        ply.dry_density * ply.thickness * gain / 100.0
        for ply, gain in zip(made.plies, wet.at_set - wet.laid, strict=True)
    )
    water = made.layup.adhesive.spread * made.chosen.adhesive.water_fraction
    assert held == pytest.approx(4.0 * water, rel=1e-12)
    back, band, core, *_ = (wet.at_set - wet.laid).tolist()
    assert band > back > core


@given(
    face=st.sampled_from(["black walnut", "white oak", "holly"]),
    band=st.sampled_from(["yellow-poplar", "sapele", "black walnut"]),
    core=st.sampled_from(["mdf", "birch plywood", "lumber core", "yellow-poplar"]),
    t=st.floats(0.3, 3.0),
    grains=st.tuples(*[st.sampled_from(["along length", "along width"])] * 3),
    humidity=st.floats(10.0, 90.0),
)
@settings(max_examples=20, deadline=None)
def test_a_symmetric_panel_with_crossbands_never_bows_cups_or_twists(
    face: str, band: str, core: str, t: float, grains: tuple[str, str, str], humidity: float
) -> None:
    asked = FLAT | {
        "face": {"material": face, "thickness": t, "grain": grains[0]},
        "crossband": {"material": band, "thickness": t, "grain": grains[1]},
        "substrate": {"material": core, "grain": grains[2]},
        "press": {"humidity": humidity},
    }
    assert set(warps(told(asked))) == {0.0}


def test_a_bend_takes_its_crossbands_along() -> None:
    asked: Asked = {
        "panel": {"width": 150.0},
        "bend": {"radius": 400.0, "angle": 1.0},
        "crossband": {"material": "yellow-poplar"},
    }
    made, plain = planned(asked), planned({key: asked[key] for key in ("panel", "bend")})
    values = report(made)
    for side in ("face", "back"):
        layer = made.stack.find(f"crossband-{side}")
        assert layer is not None
        turn, reference = made.stack.sheet.profile.turn, made.stack.sheet.reference
        length = made.outline.length + 24.0 + (layer.middle - reference) * turn
        assert layer.blank.length == pytest.approx(length, rel=1e-12)
        assert values.value(f"bend.crossband-{side}.radius").number > 0.0
    checks = {check.place.layer: check for check in values.checks if check.key == "bend.strain"}
    assert any(layer.startswith("crossband-") for layer in checks)
    # soft plies between stiff ones: a share of the turn is still lost, and no more than without them
    assert made.spring is not None
    assert plain.spring is not None
    assert 0.0 < made.spring.plies.ratio < plain.spring.plies.ratio
    assert math.isfinite(values.value("springback.ratio").number)
