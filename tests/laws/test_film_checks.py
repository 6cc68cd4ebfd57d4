"""The film's rules through the whole road: each kept, broken and at its limit; and what grows with what."""

from collections.abc import Iterable
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from underbag.model.checks.rule import Check
from underbag.model.layup.settle import settle
from underbag.model.plan import Plan, plan
from underbag.model.report import Report, report
from underbag.model.values.film import hollow_of

Asked = dict[str, dict[str, Any]]
Override = tuple[str, str, float]

FLAT: Asked = {"panel": {"length": 420.0, "width": 300.0}}
HOLLOW: Asked = {
    "panel": {"width": 120.0},
    "bend": {"radius": 300.0, "angle": 3.0, "show_face": "inside"},
}


def planned(asked: Asked, overrides: Iterable[Override] = ()) -> Plan:
    return plan(settle(asked, overrides=overrides))


def reported(asked: Asked, overrides: Iterable[Override] = ()) -> Report:
    return report(planned(asked, overrides))


def found(asked: Asked, key: str, overrides: Iterable[Override] = ()) -> list[Check]:
    return [check for check in reported(asked, overrides).checks if check.key == key]


def statuses(asked: Asked, key: str, overrides: Iterable[Override] = ()) -> list[str]:
    return sorted(check.status for check in found(asked, key, overrides))


def test_soft_film_reaches_into_a_hollow() -> None:
    assert statuses(HOLLOW, "film.hollow") == ["ok", "ok"]


def test_flat_and_crowned_work_has_no_hollow() -> None:
    crown = {"panel": {"width": 120.0}, "bend": {"radius": 300.0, "angle": 3.0}}
    for asked in (FLAT, crown):
        assert hollow_of(planned(asked)) is None
        assert statuses(asked, "film.hollow") == ["not applicable"]
        assert "film.hollow.pinned" not in reported(asked).by_key()


def test_film_may_stretch_by_a_quarter_of_what_breaks_it() -> None:
    # common practice; exactly a quarter holds, a hair less is a caution
    pinned = reported(HOLLOW).value("film.hollow.pinned").number
    assert statuses(HOLLOW, "film.hollow", [("pvc-film", "elongation", 4.0 * pinned)]) == ["ok", "ok"]
    broken = found(HOLLOW, "film.hollow", [("pvc-film", "elongation", 3.99 * pinned)])[0]
    assert (broken.status, broken.change) == ("caution", "bag.material")
    assert broken.margin < 0.0
    assert "pleats" in broken.remedy
    assert broken.why.endswith(".")


def test_stretched_film_takes_its_pull_from_the_pressure_in_the_hollow() -> None:
    # Boiler formula (textbook): T·k of the pull T is missing at the bottom; half of the gauge may be.
    values = reported(HOLLOW).by_key()
    pull, contact = values["film.hollow.pull"], values["film.hollow.contact"]
    bend = next(item.number for item in contact.inputs if item.symbol == "k")
    modulus = next(item.number for item in pull.inputs if item.symbol == "E")
    gauge = next(item.number for item in contact.inputs if item.symbol == "p")
    assert bend < 0.0
    assert contact.number == pytest.approx(gauge + pull.number * bend)
    at_limit = modulus * 0.5 * gauge / (pull.number * -bend)
    assert statuses(HOLLOW, "film.hollow", [("pvc-film", "modulus", at_limit * (1 - 1e-9))]) == ["ok", "ok"]
    broken = found(HOLLOW, "film.hollow", [("pvc-film", "modulus", 1.01 * at_limit)])[0]
    assert broken.status == "caution"
    assert broken.unit == "MPa"


def test_film_without_stretch_bridges_the_hollow_and_the_pleat_is_what_it_lacks() -> None:
    stiff = [("pvc-film", "modulus", 5000.0)]
    asked, hollow = reported(HOLLOW, stiff), hollow_of(planned(HOLLOW))
    assert hollow is not None
    assert asked.value("film.hollow.pleat").number == pytest.approx(hollow.girth - hollow.span)
    gap = asked.value("film.hollow.gap").number
    assert 0.5 * hollow.depth < gap < hollow.depth
    assert any("bridges the hollow" in check.message for check in found(HOLLOW, "film.hollow", stiff))


def test_a_half_round_hollow_needs_more_than_half_as_much_film_again() -> None:
    # Half-round groove (textbook): π/2 − 1 = 57 %; the rims stand above the ends of the arc, which adds to it.
    pinned = reported(HOLLOW | {"bend": {"radius": 300.0, "angle": 3.1, "show_face": "inside"}})
    assert 0.5708 < pinned.value("film.hollow.pinned").number < 0.75


def test_film_in_cold_and_heat() -> None:
    # common practice: soft PVC stiffens below 10 °C; waxed paper gives off its wax above 45 °C
    def at(temperature: float) -> list[str]:
        return statuses(FLAT | {"press": {"temperature": temperature}}, "film.temperature")

    assert [at(20.0), at(10.0), at(45.0)] == [["ok", "ok"]] * 3
    assert [at(9.9), at(45.1)] == [["caution", "ok"]] * 2


@settings(max_examples=15, deadline=None)
@given(st.floats(0.2, 3.0), st.floats(1.01, 1.5))
def test_a_deeper_hollow_never_needs_less_stretch(angle: float, more: float) -> None:
    def pinned(turn: float) -> float:
        asked = HOLLOW | {"bend": {"radius": 400.0, "angle": turn, "show_face": "inside"}}
        hollow = hollow_of(planned(asked))
        return 0.0 if hollow is None else hollow.stretch

    assert pinned(min(angle * more, 3.0)) >= pinned(angle) * (1 - 1e-9)


@settings(max_examples=10, deadline=None)
@given(st.floats(0.02, 0.09), st.floats(1.01, 1.5))
def test_more_pressure_presses_the_film_into_a_smaller_corner(gauge: float, more: float) -> None:
    def radius(p: float) -> float:
        return reported(FLAT | {"vacuum": {"gauge": p}}).value("film.corner_radius").number

    assert radius(min(gauge * more, 0.1)) < radius(gauge)
