"""Staying flat through the whole road: from a layup file's keys to bow, cup and what would balance them."""

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from underbag.model.checks.rule import Check
from underbag.model.layup.settle import settle
from underbag.model.mechanics.moisture import equilibrium_moisture, humidity_for
from underbag.model.plan import plan
from underbag.model.report import Report, report
from underbag.model.wetting import moisture_of

Asked = dict[str, dict[str, Any]]
Overrides = tuple[tuple[str, str, float], ...]

FLAT: Asked = {"panel": {"length": 600.0, "width": 300.0}}
ONE_FACE: Asked = FLAT | {"back": {"material": "none"}}
SHAPES = ("bow", "cup", "twist")
SEASONS = ("driest", "dampest")


def told(asked: Asked, overrides: Overrides = ()) -> Report:
    return report(plan(settle(asked, overrides=overrides)))


def found(asked: Asked) -> Check:
    return next(check for check in told(asked).checks if check.key == "flatness.season")


def warps(asked: Asked, overrides: Overrides = ()) -> dict[str, float]:
    """Bow, cup and twist in both seasons, mm."""
    values = told(asked, overrides)
    return {
        f"{season} {shape}": values.value(f"flatness.{season}.{shape}").number
        for season in SEASONS
        for shape in SHAPES
    }


def panel(**keys: Any) -> dict[str, Any]:
    return FLAT["panel"] | keys


@pytest.mark.parametrize(
    ("thickness", "span", "bow", "cup"),
    [(6.0, 600.0, -9.10, 8.64), (18.0, 1000.0, -4.90, 3.18)],
)
def test_veneer_on_one_face_of_mdf_makes_a_saddle(
    thickness: float, span: float, bow: float, cup: float
) -> None:
    """Both plies gain 3 % of moisture; bow and cup by an independent program of laminated-plate theory.

    Its stiffness matrix was held against a third one to the last digit. Walnut 0.6 mm, E 12 760 and 715 MPa, G 791 MPa,
    nu 0.45, movement 5e-5 and 0.00274; MDF 3000 MPa, nu 0.25, movement 0.0005.
    """
    wet = equilibrium_moisture(T=20.0, h=0.5) + 3.0
    asked: Asked = {
        "panel": {"length": span, "width": span, "dampest": 100.0 * humidity_for(T=20.0, M=wet)},
        "substrate": {"thickness": thickness},
        "back": {"material": "none"},
        "adhesive": {"material": "epoxy"},  # brings no water
    }
    seen = warps(asked, (("black-walnut", "nu_LT", 0.45),))
    assert seen["dampest bow"] == pytest.approx(bow, abs=0.01)
    assert seen["dampest cup"] == pytest.approx(cup, abs=0.01)
    assert seen["dampest twist"] == 0.0
    assert "saddle" in found(asked).message


def test_bow_by_hand_of_one_veneer() -> None:
    """Forces and moments of two layers without Poisson's effect, summed one by one as for a beam."""
    no_poisson: Overrides = (("black-walnut", "nu_LT", 0.0), ("mdf", "nu", 0.0))
    asked = ONE_FACE | {"adhesive": {"material": "epoxy"}}
    change = equilibrium_moisture(T=20.0, h=0.65) - equilibrium_moisture(T=20.0, h=0.5)
    t, E, C = np.array([18.0, 0.6]), np.array([3000.0, 12760.0]), np.array([0.0005, 0.00005])
    middle = np.array([9.0, 18.3])
    neutral = (E * t * middle).sum() / (E * t).sum()
    bending = (E * (t**3 / 12.0 + t * (middle - neutral) ** 2)).sum()
    curvature = (E * t * C * change * (middle - neutral)).sum() / bending
    assert warps(asked, no_poisson)["dampest bow"] == pytest.approx(curvature * 600.0**2 / 8.0, rel=1e-9)


def test_a_file_of_four_lines_stays_flat_without_a_caution() -> None:
    asked = FLAT
    assert set(warps(asked).values()) == {0.0}
    assert found(asked).status == "ok"
    assert {check.status for check in told(asked).checks} <= {"ok", "not applicable"}


def test_one_face_is_a_caution_that_names_the_back() -> None:
    check = found(ONE_FACE)
    assert check.status == "caution"
    assert check.change == "back.material"
    assert check.value == max(abs(number) for number in warps(ONE_FACE).values())


def test_at_the_limit_it_still_holds() -> None:
    largest = found(ONE_FACE).value
    assert found(ONE_FACE | {"panel": panel(flat_within=largest)}).status == "ok"
    assert found(ONE_FACE | {"panel": panel(flat_within=0.999 * largest)}).status == "caution"


def test_a_bow_past_the_thickness_says_that_the_theory_ends() -> None:
    thin = ONE_FACE | {"substrate": {"thickness": 3.0}}
    assert told(thin).value("flatness.over_thickness").number > 1.0
    assert "linear theory ends" in found(thin).message
    assert "linear theory" not in found(ONE_FACE).message


def test_at_the_ends_of_the_band_of_humidity_it_warps_by_the_limit() -> None:
    band = told(ONE_FACE)
    ends = {name: band.value(f"flatness.band.{name}").number for name in SEASONS}
    within = plan(settle(ONE_FACE)).layup.panel.flat_within
    asked = ONE_FACE | {"panel": panel(**ends)}
    seen = warps(asked)
    for season in SEASONS:
        largest = max(abs(seen[f"{season} {shape}"]) for shape in SHAPES)
        # humidity is found to 1e-12, and the limit is the same number
        assert largest == pytest.approx(within, rel=1e-6)


def test_the_back_that_balances_leaves_less_than_the_one_that_is_there() -> None:
    unlike: Asked = FLAT | {
        "substrate": {"thickness": 6.0},
        "back": {"material": "white oak"},
        "adhesive": {"material": "epoxy"},
    }
    before = found(unlike).value
    values = told(unlike)
    better = unlike | {
        "back": {"material": "white oak", "thickness": values.value("flatness.balancing_back").number}
    }
    after = found(better).value
    assert after == pytest.approx(values.value("flatness.balanced").number, rel=1e-6)
    assert after < 0.5 * before


def test_the_back_that_balances_a_bare_one_is_the_face_again() -> None:
    # the search closes in to about 1e-6 of its range
    assert told(ONE_FACE).value("flatness.balancing_back").number == pytest.approx(0.6, abs=1e-4)


def test_laying_it_face_down_changes_nothing() -> None:
    up, down = warps(ONE_FACE), warps(ONE_FACE | {"press": {"lay": "face down"}})
    assert down == pytest.approx(up, rel=1e-9)


def test_a_drier_veneer_cups_the_show_face_hollow() -> None:
    """Glue without water; in dry air the veneer shrinks across its grain more than the core: ends up, hollow."""
    dry = warps(ONE_FACE | {"adhesive": {"material": "epoxy"}})
    assert dry["driest cup"] < 0.0 < dry["dampest cup"]


def test_the_glues_water_is_shared_and_none_is_lost() -> None:
    """Water into the plies is what the glue lines brought, as nothing is full here."""
    made = plan(settle(FLAT))
    wet = moisture_of(made)
    held = sum(
        ply.dry_density * ply.thickness * gain / 100.0
        for ply, gain in zip(made.plies, wet.at_set - wet.laid, strict=True)
    )
    water = made.layup.adhesive.spread * made.chosen.adhesive.water_fraction
    assert held == pytest.approx(2.0 * water, rel=1e-12)
    # into a core that lets none in, all of it goes to the veneer, until that is full
    tight = plan(settle(FLAT | {"substrate": {"material": "acrylic"}}))
    gained = moisture_of(tight).at_set - moisture_of(tight).laid
    assert gained[1] == 0.0
    assert moisture_of(tight).at_set[0] == pytest.approx(28.0, rel=1e-12)


def test_a_core_of_its_own_moisture_bends_nothing_between_like_faces() -> None:
    wet = FLAT | {"substrate": {"moisture": 14.0}}
    assert set(warps(wet).values()) == {0.0}
    assert warps(ONE_FACE | {"substrate": {"moisture": 14.0}}) != warps(ONE_FACE)


def test_a_bent_panel_is_not_judged_flat_but_its_turn_is_told() -> None:
    asked: Asked = {"panel": {"width": 150.0}, "bend": {"chord": 600.0, "rise": 60.0}}
    assert found(asked).status == "not applicable"
    dry, damp = (told(asked).value(f"flatness.{season}.turn").number for season in SEASONS)
    # plies swell more through their thickness than along: damp opens a bend, drying closes it
    assert damp < dry


def test_the_turn_of_a_ring_follows_from_its_two_radii() -> None:
    """Geometry without the formula: arcs at both faces grow by the strain along, their distance by that through."""
    theta, radius, depth, along, through = 1.3, 300.0, 12.0, 4e-4, 9e-3
    inner, outer = radius * theta * (1.0 + along), (radius + depth) * theta * (1.0 + along)
    grown = (outer - inner) / (depth * (1.0 + through))
    # to first order in strains of a hundredth
    assert grown - theta == pytest.approx(theta * (along - through), rel=2e-2)


@given(
    face=st.sampled_from(["black walnut", "white oak", "holly", "sapele"]),
    core=st.sampled_from(["mdf", "birch plywood", "lumber core", "xps-276", "yellow-poplar"]),
    t=st.floats(0.3, 3.0),
    thickness=st.floats(3.0, 40.0),
    grain=st.sampled_from(["along length", "along width"]),
    across=st.sampled_from(["along length", "along width"]),
    sheets=st.integers(1, 4),
    humidity=st.floats(10.0, 90.0),
)
@settings(max_examples=25, deadline=None)
def test_a_symmetric_panel_never_bows_cups_or_twists(
    face: str,
    core: str,
    t: float,
    thickness: float,
    grain: str,
    across: str,
    sheets: int,
    humidity: float,
) -> None:
    asked = FLAT | {
        "face": {"material": face, "thickness": t, "grain": grain},
        "substrate": {"material": core, "thickness": thickness, "laminations": sheets, "grain": across},
        "press": {"humidity": humidity},
    }
    seen = warps(asked)
    assert set(seen.values()) == {0.0}
    assert found(asked).status == "ok"


@given(size=st.floats(1.0, 4.0), t=st.floats(0.3, 1.5), thickness=st.floats(3.0, 30.0))
@settings(max_examples=15, deadline=None)
def test_a_panel_as_it_grows_bows_by_the_square(size: float, t: float, thickness: float) -> None:
    veneer = {"face": {"thickness": t}, "substrate": {"thickness": thickness}}
    small, large = (
        warps(ONE_FACE | veneer | {"panel": {"length": 600.0 * scale, "width": 300.0 * scale}})
        for scale in (1.0, size)
    )
    for key, number in small.items():
        assert large[key] == pytest.approx(number * size**2, rel=1e-9, abs=1e-12)


@given(low=st.floats(20.0, 50.0), high=st.floats(50.0, 80.0), wider=st.floats(0.0, 10.0))
@settings(max_examples=15, deadline=None)
def test_a_wider_band_of_air_never_warps_less_at_its_ends(low: float, high: float, wider: float) -> None:
    def worst(driest: float, dampest: float) -> float:
        return found(ONE_FACE | {"panel": panel(driest=driest, dampest=dampest)}).value

    assert worst(low - wider, high + wider) >= worst(low, high) * (1.0 - 1e-12)
    assert math.isfinite(worst(low, high))
