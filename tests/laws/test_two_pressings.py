"""One face at a time: what lies in the press, what the panel does until the second face is laid, and what it is then."""

from typing import Any

import numpy as np
import pytest

from underbag.model.checks.rule import Check
from underbag.model.errors import LayupError
from underbag.model.layup.settle import settle
from underbag.model.mechanics.moisture import equilibrium_moisture
from underbag.model.plan import Plan, plan
from underbag.model.report import Report, report

Asked = dict[str, dict[str, Any]]

FLAT: Asked = {"panel": {"length": 600.0, "width": 300.0}}
FACE_FIRST: Asked = FLAT | {"press": {"faces": "face first"}}
BACK_FIRST: Asked = FLAT | {"press": {"faces": "back first"}}
NO_BACK: Asked = FLAT | {"back": {"material": "none"}}
SEASONS = ("driest", "dampest")
SHAPES = ("bow", "cup", "twist")


def planned(asked: Asked) -> Plan:
    return plan(settle(asked))


def told(asked: Asked) -> Report:
    return report(planned(asked))


def found(asked: Asked) -> Check:
    return next(check for check in told(asked).checks if check.key == "flatness.between")


def between(asked: Asked, shape: str) -> float:
    return told(asked).value(f"between.{shape}").number


@pytest.mark.parametrize(
    ("asked", "laid", "later"), [(FACE_FIRST, "face", "back"), (BACK_FIRST, "back", "face")]
)
def test_only_the_first_veneer_and_its_crossband_lie_in_the_press(
    asked: Asked, laid: str, later: str
) -> None:
    made = planned(asked | {"crossband": {"material": "yellow-poplar"}})
    keys = {layer.key for layer in made.stack.work}
    assert keys == {laid, f"glue-{laid}", f"crossband-{laid}", f"glue-crossband-{laid}", "substrate"}
    assert {ply.key for ply in made.finished} - {ply.key for ply in made.plies} == {
        later,
        f"crossband-{later}",
    }


def test_both_at_once_is_the_finished_panel() -> None:
    made = planned(FLAT)
    assert made.plies == made.finished
    assert found(FLAT).status == "not applicable"
    assert not [value.key for value in report(made).values if value.key.startswith("between.")]


def test_what_lies_in_the_press_is_as_large_as_with_one_veneer_alone() -> None:
    one, other = planned(FACE_FIRST), planned(NO_BACK)
    assert one.stack.layers == other.stack.layers
    assert (one.bag, one.base.outline) == (other.bag, other.base.outline)
    wide = FACE_FIRST | {"back": {"overhang": 30.0}}
    assert planned(wide).stack.layers == one.stack.layers
    assert told(FACE_FIRST).value("glue.mass") == told(NO_BACK).value("glue.mass")


def test_between_the_pressings_it_bows_as_a_panel_of_one_face_in_the_air_of_the_shop() -> None:
    """The air of the room set to that of the shop, on the road through the seasons.

    The room stands at 20 °C, and so does the shop.
    """
    shop = {"driest": 50.0, "dampest": 50.0}
    alone = told({"panel": FLAT["panel"] | shop, "back": {"material": "none"}})
    for shape in ("bow", "cup"):
        assert between(FACE_FIRST, shape) == pytest.approx(
            alone.value(f"flatness.driest.{shape}").number, rel=1e-9
        )
    # its veneer has dried: the show face is hollow across its grain
    assert between(FACE_FIRST, "cup") < 0.0 < between(BACK_FIRST, "cup")


def test_bow_between_the_pressings_by_hand() -> None:
    """Two plies as a beam, without Poisson's effect; the glue's water shared by what each side can still hold."""
    no_poisson = (("black-walnut", "nu_LT", 0.0), ("mdf", "nu", 0.0))
    made = plan(settle(FACE_FIRST, overrides=no_poisson))
    core, face = made.plies
    shop = equilibrium_moisture(T=20.0, h=0.5)
    # 28 %: fibre saturation; water reaches 1.5 mm into the core (common practice), which lies 1.5 % below wood
    room = [
        core.dry_density * 1.5 * (28.0 - (shop - 1.5)) / 100.0,
        face.dry_density * 0.6 * (28.0 - shop) / 100.0,
    ]
    water = made.layup.adhesive.spread * made.chosen.adhesive.water_fraction
    share = [water * part / sum(room) for part in room]
    gain = [100.0 * share[0] / (core.dry_density * 18.0), 100.0 * share[1] / (face.dry_density * 0.6)]
    t, E = np.array([18.0, 0.6]), np.array([core.E_1, face.E_1])
    dried = -np.array([core.C_1, face.C_1]) * gain
    middle = np.array([9.0, 18.3])
    neutral = (E * t * middle).sum() / (E * t).sum()
    stiff = (E * (t**3 / 12.0 + t * (middle - neutral) ** 2)).sum()
    curvature = (E * t * dried * (middle - neutral)).sum() / stiff
    assert report(made).value("between.bow").number == pytest.approx(curvature * 600.0**2 / 8.0, rel=1e-9)


def test_glue_without_water_leaves_it_flat_between_the_pressings() -> None:
    asked = FACE_FIRST | {"adhesive": {"material": "epoxy"}}
    # the shop's air and the plies laid in it differ by rounding alone
    assert between(asked, "bow") == between(asked, "cup") == 0.0
    assert found(asked).status == "ok"


def test_the_finished_panel_is_judged_with_both_faces() -> None:
    values = told(FACE_FIRST)
    assert {values.value(f"flatness.{a}.{b}").number for a in SEASONS for b in SHAPES} == {0.0}
    season = next(check for check in values.checks if check.key == "flatness.season")
    assert season.status == "ok"


def test_at_the_limit_it_still_holds_and_past_it_says_what_to_do() -> None:
    largest = found(FACE_FIRST).value
    assert largest == max(abs(between(FACE_FIRST, shape)) for shape in ("bow", "cup"))

    def within(limit: float) -> Check:
        return found(FACE_FIRST | {"panel": FLAT["panel"] | {"flat_within": limit}})

    assert within(1.001 * largest).status == "ok"
    assert within(largest).status == "ok"
    failing = within(0.999 * largest)
    assert (failing.status, failing.change, failing.place.layer) == ("caution", "press.faces", "face")
    assert "the back within the hour" in failing.remedy
    assert "With the back alone" in found(BACK_FIRST).message


@pytest.mark.parametrize("side", ["face", "back"])
def test_one_face_at_a_time_takes_two_veneers(side: str) -> None:
    with pytest.raises(LayupError, match=f"without a {side} veneer"):
        settle(FACE_FIRST | {side: {"material": "none"}})


def test_a_bend_is_glued_at_once() -> None:
    with pytest.raises(LayupError, match=r"press\.faces.*on a bend"):
        settle(
            {
                "panel": {"width": 150.0},
                "bend": {"radius": 400.0, "angle": 1.0},
                "press": {"faces": "face first"},
            }
        )
