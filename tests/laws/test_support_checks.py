"""Support through the whole road: skin between ribs, ribs in bearing, hollow boxes, and what stands below."""

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from underbag.model.checks.rule import STATUSES, Check
from underbag.model.layup.settle import settle
from underbag.model.mechanics.skin import closing_pressure
from underbag.model.plan import plan
from underbag.model.report import Report, report

Asked = dict[str, dict[str, Any]]
Overrides = tuple[tuple[str, str, float], ...]


def built(build: str, **form: Any) -> Asked:
    """A bend on a form built that way; with what form and trim reach past it, 74 mm wider than the panel.

    The middles of the outermost ribs, 18 mm thick, are 400 mm apart.
    """
    return {
        "panel": {"width": 344.0 if build == "ribs" else 240.0},
        "bend": {"chord": 600.0, "rise": 60.0},
        "form": {"build": build} | form,
    }


def told(asked: Asked, overrides: Overrides = ()) -> Report:
    return report(plan(settle(asked, overrides=overrides)))


def found(asked: Asked, key: str, overrides: Overrides = ()) -> list[Check]:
    return [check for check in told(asked, overrides).checks if check.key == key]


def statuses(asked: Asked, key: str, overrides: Overrides = ()) -> list[str]:
    return [check.status for check in found(asked, key, overrides)]


def test_skin_and_ribs_as_the_strip_over_many_supports_has_them() -> None:
    """12 mm skin of 3000 MPa, ribs 100 mm apart, 85 kPa: four spans.

    Continuous beam with four equal spans under uniform load, textbook tables: 0.00646 deflection and 0.107 moment, 1.143
    of a bay on the second rib.
    """
    asked = built("ribs", skin=12.0, spacing=100.0, rib=18.0) | {"vacuum": {"gauge": 0.085}}
    values = told(asked)
    expected = 12.0 * 0.00646 * 0.085 * 100.0**4 / (3000.0 * 12.0**3)
    assert values.value("support.skin.bending_sag").number == pytest.approx(expected, rel=2e-3)
    stress = 6.0 * 0.107 * 0.085 * 100.0**2 / 12.0**2
    assert values.value("support.skin.stress").number == pytest.approx(stress, rel=2e-3)
    bearing = 1.143 * 0.085 * 100.0 / 18.0
    assert values.value("support.rib.bearing").number == pytest.approx(bearing, rel=2e-3)
    assert values.value("support.rib.load").number == pytest.approx(bearing * 18.0, rel=2e-3)


def test_ribs_as_close_as_the_limit_hold_and_wider_ones_print() -> None:
    assert statuses(built("ribs"), "support.skin") == ["ok"]
    # left open, the ribs stand as far apart as the skin carries: one bay less, and it prints
    bays = round(400.0 / told(built("ribs")).value("form.spacing").number)
    assert statuses(built("ribs", spacing=400.0 / bays), "support.skin") == ["ok"]
    wide = found(built("ribs", spacing=400.0 / (bays - 1)), "support.skin")[0]
    assert wide.status == "caution"
    assert wide.change == "form.spacing"


def test_a_spacing_that_sags_by_the_limit_exactly_holds() -> None:
    # 50 mm apart, eight spans; sag by bending and by shear fall with E and G together
    sag = told(built("ribs", spacing=50.0)).value("support.skin.sag").number
    stiffness = sag / 0.1
    limp: Overrides = (("mdf", "E_across", 3000.0 * stiffness), ("mdf", "G", 1200.0 * stiffness))
    check = found(built("ribs", spacing=50.0), "support.skin", limp)[0]
    assert check.value == pytest.approx(check.limit, rel=1e-9)
    assert check.status == "ok"
    limper: Overrides = (("mdf", "E_across", 2990.0 * stiffness), ("mdf", "G", 1196.0 * stiffness))
    assert statuses(built("ribs", spacing=50.0), "support.skin", limper) == ["caution"]


def test_strength_of_skin_and_ribs() -> None:
    stress = told(built("ribs", spacing=50.0)).value("support.skin.stress").number
    bearing = told(built("ribs", spacing=50.0)).value("support.rib.bearing").number
    key = "support.strength"
    assert statuses(built("ribs", spacing=50.0), key) == ["ok", "ok"]
    assert statuses(built("ribs", spacing=50.0), key, (("mdf", "MOR", 2.0 * stress),)) == ["ok", "ok"]
    assert statuses(built("ribs", spacing=50.0), key, (("mdf", "MOR", 1.99 * stress),)) == ["caution", "ok"]
    assert statuses(built("ribs", spacing=50.0), key, (("mdf", "MOR", 0.99 * stress),)) == ["stop", "ok"]
    assert statuses(built("ribs", spacing=50.0), key, (("mdf", "crush", bearing),)) == ["ok", "ok"]
    assert statuses(built("ribs", spacing=50.0), key, (("mdf", "crush", 0.99 * bearing),)) == ["stop", "ok"]


def test_ribs_stand_on_a_board() -> None:
    # common practice: the lower film is drawn up between ribs that stand on nothing
    assert statuses(built("ribs"), "support.baseboard") == ["ok"]
    bare = found(built("ribs", baseboard="no"), "support.baseboard")[0]
    assert bare.status == "stop"
    assert bare.change == "form.baseboard"
    assert bare.margin < 0.0


def test_walls_of_a_box() -> None:
    key = "support.box"
    assert set(statuses(built("box", skin=40.0), key)) == {"ok"}
    assert "stop" in statuses(built("box", skin=3.0), key)
    collapsed = told(built("box", skin=3.0))
    assert collapsed.value("support.box.reserve").number <= 1.0
    assert "support.box.bow" not in collapsed.by_key()


def test_a_box_whose_wall_bows_by_the_limit_holds() -> None:
    from scipy.optimize import brentq

    def bow(E: float) -> float:
        values = told(built("box", skin=40.0), (("mdf", "E", E), ("mdf", "E_across", E)))
        return values.value("support.box.bow").number

    at_limit = float(brentq(lambda E: bow(E) - 0.5, 2000.0, 4000.0, xtol=1e-9, rtol=1e-14))

    def said(E: float) -> list[str]:
        return statuses(built("box", skin=40.0), "support.box", (("mdf", "E", E), ("mdf", "E_across", E)))

    assert set(said(at_limit)) == {"ok"}
    assert said(0.99 * at_limit).count("caution") == 1


def test_a_box_that_buckles_at_three_times_the_pressure_holds() -> None:
    """The load at which a plate buckles grows with its modulus, the load on it with the pressure."""
    reserve = told(built("box", skin=12.0)).value("support.box.reserve").number
    at_limit: Overrides = (("mdf", "E", 3000.0 * 3.0 / reserve), ("mdf", "E_across", 3000.0))
    checks = found(built("box", skin=12.0), "support.box", at_limit)
    buckling = next(check for check in checks if check.unit == "1")
    assert buckling.value == pytest.approx(3.0, rel=1e-9)
    assert buckling.status == "ok"
    weaker: Overrides = (("mdf", "E", 2990.0 * 3.0 / reserve), ("mdf", "E_across", 3000.0))
    worse = next(c for c in found(built("box", skin=12.0), "support.box", weaker) if c.unit == "1")
    assert worse.status == "stop"


@pytest.mark.parametrize("build", ["stacked", "ribs", "box"])
def test_each_rule_speaks_of_its_own_build_only(build: str) -> None:
    keys = {"ribs": {"support.baseboard", "support.strength", "support.skin"}, "box": {"support.box"}}
    speaking = {
        check.key
        for check in told(built(build)).checks
        if check.key.startswith("support.") and check.status != "not applicable"
    }
    assert speaking == keys.get(build, set())


def test_the_caul_follows_as_deep_a_place_as_the_pressure_closes() -> None:
    asked: Asked = {"panel": {"length": 420.0, "width": 300.0}}
    depth = told(asked).value("support.caul_follows").number
    assert closing_pressure(E=3000.0, t=9.0, d=depth, L=100.0) == pytest.approx(0.08, rel=1e-12)


@given(spacing=st.floats(20.0, 150.0), wider=st.floats(0.0, 100.0), skin=st.floats(3.0, 20.0))
@settings(max_examples=20, deadline=None)
def test_a_thicker_skin_never_prints_more(spacing: float, wider: float, skin: float) -> None:
    def rank(thickness: float) -> int:
        worst = found(built("ribs", spacing=spacing, skin=thickness), "support.skin")[0]
        return STATUSES.index(worst.status)

    assert rank(skin + 1.0) >= rank(skin)
    narrow = told(built("ribs", spacing=spacing, skin=skin)).value("support.skin.sag").number
    far = told(built("ribs", spacing=spacing + wider, skin=skin)).value("support.skin.sag").number
    # fewer spans carry over less: a strip over two ribs never sags less than one over many
    assert far >= narrow * (1.0 - 1e-9) or spacing + wider > 100.0
