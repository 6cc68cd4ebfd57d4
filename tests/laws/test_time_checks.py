"""The rules of the clock through the whole road: each kept, broken and at its limit; the day's schedule; laws."""

from collections.abc import Mapping
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from underbag.model.bench import falls_of, schedule_of
from underbag.model.checks.rule import Check
from underbag.model.checks.rules import RULES
from underbag.model.layup.settle import settle
from underbag.model.plan import plan
from underbag.model.report import Report, report
from underbag.model.value import Value

Asked = dict[str, dict[str, Any]]

FLAT: Asked = {"panel": {"length": 420.0, "width": 300.0}}
ARC: Asked = {"panel": {"width": 150.0}, "bend": {"chord": 600.0, "rise": 60.0}}
BARE: Asked = FLAT | {"face": {"material": "none"}, "back": {"material": "none"}}
MINUTE, HOUR = 60.0, 3600.0


def reported(asked: Asked) -> Report:
    return report(plan(settle(asked)))


def facts(asked: Asked) -> Mapping[str, Value]:
    return reported(asked).by_key()


def found(asked: Asked, key: str) -> Check:
    (check,) = [check for check in reported(asked).checks if check.key == key]
    return check


def with_dry_run(part: float) -> Asked:
    """Layup whose dry run makes the wet work take a part of the open time."""
    values = facts(FLAT)
    rest = values["time.spreading"].number + values["pump.time"].number
    return FLAT | {"press": {"dry_run": part * values["time.open"].number - rest}}


def test_the_open_time_is_the_first_check_of_all() -> None:
    assert RULES[0].key == "time.open"


@pytest.mark.parametrize("asked", [FLAT, ARC, {"panel": {"length": 600.0, "width": 300.0}}])
def test_a_file_of_four_lines_has_nothing_to_change(asked: Asked) -> None:
    assert {check.status for check in reported(asked).checks} <= {"ok", "not applicable"}


def test_open_time_kept_at_its_limit_and_broken() -> None:
    # common practice: a fifth of the open time is kept; past all of it the glue has skinned over
    parts = ((0.5, "ok"), (0.8, "ok"), (0.81, "caution"), (1.0, "caution"), (1.01, "stop"))
    for part, expected in parts:
        assert found(with_dry_run(part), "time.open").status == expected, part
    broken = found(with_dry_run(1.01), "time.open")
    assert broken.change == "press.dry_run"
    assert broken.margin < 0.0


def test_a_table_top_is_too_large_for_one_person_with_white_glue() -> None:
    large = {"panel": {"length": 2400.0, "width": 1200.0}}
    broken = found(large, "time.open")
    assert (broken.status, broken.change) == ("stop", "press.hands")
    assert "dry run" in broken.remedy
    assert found(large | {"adhesive": {"material": "epoxy"}}, "time.open").status == "ok"


def test_the_wet_work_is_the_sum_of_its_parts() -> None:
    values = facts(FLAT)
    parts = ("time.spreading", "time.laying", "time.closing", "pump.time")
    assert values["time.wet"].number == pytest.approx(sum(values[key].number for key in parts))
    assert values["time.spare"].number == pytest.approx(
        values["time.open"].number - values["time.wet"].number
    )
    # a roller covers two faces of 420 × 300 mm at two minutes for a square metre (common practice)
    assert values["time.spreading"].number == pytest.approx(2 * 0.42 * 0.3 * 120.0)


def test_glue_on_both_sides_takes_twice_as_long_to_spread_and_two_people_half() -> None:
    one = facts(FLAT)["time.spreading"].number
    both = facts(FLAT | {"adhesive": {"spread_on": "both"}})
    assert both["time.spreading"].number == pytest.approx(2.0 * one)
    assert both["glue.mass"].number == facts(FLAT)["glue.mass"].number
    assert facts(FLAT | {"press": {"hands": 2}})["time.spreading"].number == pytest.approx(0.5 * one)


def test_glue_that_is_too_cold_never_sets() -> None:
    # common practice: white glue from 10 °C on, urea from 20 °C
    def status(asked: Asked, temperature: float) -> str:
        return found(asked | {"press": {"temperature": temperature}}, "time.cold").status

    assert [status(FLAT, T) for T in (20.0, 10.0, 9.9)] == ["ok", "ok", "stop"]
    assert [status(ARC, T) for T in (20.0, 19.9)] == ["ok", "stop"]
    assert found(FLAT | {"press": {"temperature": 5.0}}, "time.cold").change == "press.temperature"


def test_white_glue_stays_under_the_film_for_about_eight_hours() -> None:
    # common practice: eight hours in a warm shop, between eight and ten at the 18 °C of a bench
    assert facts(FLAT)["time.safe"].number == pytest.approx(8 * HOUR)
    bench = facts(FLAT | {"press": {"temperature": 18.0}})["time.safe"].number
    assert 8 * HOUR < bench < 10 * HOUR


def test_ten_degrees_halve_both_open_and_press_time() -> None:
    # an adhesive maker's rule of ten degrees (literature), printed for up to 49 °C; hotter counts as that
    cool, warm, hot, hotter = (facts(FLAT | {"press": {"temperature": T}}) for T in (15.0, 25.0, 49.0, 80.0))
    for key in ("time.open", "time.least", "time.safe"):
        assert cool[key].number == pytest.approx(2.0 * warm[key].number)
        assert hotter[key].number == hot[key].number


def test_without_glue_there_is_nothing_to_time() -> None:
    assert found(BARE, "time.open").status == "not applicable"
    assert found(BARE, "time.cold").status == "not applicable"
    assert schedule_of(plan(settle(BARE)), facts(BARE)) == ()


@pytest.mark.parametrize("asked", [FLAT, ARC, FLAT | {"press": {"dry_run": 150.0}}])
def test_the_day_at_the_bench(asked: Asked) -> None:
    # common practice: a dry run first, looks within five minutes and at half an hour, then rest with air on both faces
    planned, values = plan(settle(asked)), facts(asked)
    steps = schedule_of(planned, values)
    by_key = {step.key: step for step in steps}
    names = [step.key for step in steps]
    assert names[:5] == ["dry run", "spreading", "laying", "closing", "pumping"]
    assert {"least release", "safe release", "rest"} <= set(names)
    assert by_key["pumping"].end == pytest.approx(values["time.wet"].number)
    assert by_key["closing"].latest == pytest.approx(values["time.closed_by"].number)
    looks = [step.start - by_key["pumping"].end for step in steps if step.key == "look"]
    assert looks == pytest.approx([5 * MINUTE, 30 * MINUTE])
    under = by_key["safe release"].start - by_key["pumping"].end
    assert under == pytest.approx(values["time.safe"].number)
    assert all(step.in_time for step in steps) == (values["time.spare"].number >= 0.0)
    assert by_key["rest"].end - by_key["rest"].start == pytest.approx(24 * HOUR)


def test_the_table_of_falls_says_what_the_values_say() -> None:
    planned, values = plan(settle(FLAT)), facts(FLAT)
    five, half_an_hour = falls_of(planned, values)
    assert five.linear == values["leak.fall_5"].number
    assert half_an_hour.linear == values["leak.fall_30"].number
    # leaking evenly, half an hour takes six times what five minutes take
    assert half_an_hour.linear == pytest.approx(6.0 * five.linear)
    assert five.linear < five.exponential


@settings(max_examples=15, deadline=None)
@given(st.floats(10.0, 48.0), st.floats(0.1, 20.0))
def test_warmer_glue_never_stays_open_longer(temperature: float, warmer: float) -> None:
    cool, warm = (facts(FLAT | {"press": {"temperature": T}}) for T in (temperature, temperature + warmer))
    for key in ("time.open", "time.least", "time.safe"):
        assert warm[key].number <= cool[key].number


@settings(max_examples=15, deadline=None)
@given(st.floats(150.0, 1500.0), st.floats(1.0, 2.0), st.integers(1, 6))
def test_larger_panels_take_longer_and_more_hands_never_do(length: float, more: float, hands: int) -> None:
    def wet(size: float, people: int) -> float:
        return facts({"panel": {"length": size, "width": 200.0}, "press": {"hands": people}})[
            "time.wet"
        ].number

    assert wet(length * more, hands) >= wet(length, hands)
    assert wet(length, hands + 1) <= wet(length, hands)
