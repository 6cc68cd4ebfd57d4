"""The clock at the bench: the work with wet glue against its open time, and the time under pressure.

Times count from the first glue. Both open time and press time follow the temperature of glue, core and plates; the
maker's data sheet has the last word.
"""

from collections.abc import Iterator
from dataclasses import replace

from ..bag.size import CLOSED_KINDS
from ..data.bench import usual
from ..data.limits import limit
from ..mechanics.schedule import (
    TEN_DEGREES,
    closed_by,
    laying_time,
    open_time_spare,
    spreading_time,
    time_at,
    wet_time,
)
from ..plan import Plan
from ..source import COMMON_PRACTICE, GEOMETRY
from ..units import Celsius, Mm, Mm2, Ratio, Second
from ..value import Value, formula
from .water import has_way_out

SQUARE_METRE: Mm2 = 1e6
METRE: Mm = 1e3
STATED_AT: Celsius = 20.0
"""Temperature that the glues' times are told for."""


@formula("t", "time to lay one sheet", "t_1 + t_2 * A / 1e6", COMMON_PRACTICE)
def sheet_time(t_1: Second, t_2: Second, A: Mm2) -> Second:
    """Time to lay a sheet of area A: t_1 for any, and t_2 more for each square metre."""
    return t_1 + t_2 * A / SQUARE_METRE


@formula("t", "time to close the bag", "t_1 + t_2 * b / 1000", COMMON_PRACTICE)
def closing_time(t_1: Second, t_2: Second, b: Mm) -> Second:
    """Time to get the stack into a bag and close it along the length b: t_1, and t_2 for each metre."""
    return t_1 + t_2 * b / METRE


@formula("l", "length of the closure", "b", GEOMETRY)
def closed_end(b: Mm) -> Mm:
    """Length that is closed at the open end of a bag b wide."""
    return b


@formula("l", "length of the closure", "2 * (a + b)", GEOMETRY)
def closed_round(a: Mm, b: Mm) -> Mm:
    """Length that is taped down round a sheet a long and b wide."""
    return 2.0 * (a + b)


@formula("t", "laying and closing, as the dry run took", "t_d", COMMON_PRACTICE)
def dry_run_time(t_d: Second) -> Second:
    """Time from the first sheet that lies on glue to the closed bag, seen in a dry run."""
    return t_d


@formula("t", "time under pressure", "k * t_0 * 2 ** ((T_0 - T) / d)", TEN_DEGREES)
def press_time(k: Ratio, t_0: Second, T_0: Celsius, T: Celsius, d: Celsius) -> Second:
    """Time that takes t_0 at T_0, at the temperature T; d more degrees halve it.

    k is how many times longer it takes where the water has no way out; 1 elsewhere.
    """
    return float(k * t_0 * 2.0 ** ((T_0 - T) / d))


open_time = replace(time_at, name="open time of the glue at the temperature of the work")
least_time = replace(press_time, name="least time under pressure: a thin, open face in a warm shop")
safe_time = replace(press_time, name="safe time under pressure: when in doubt")


def time_values(plan: Plan, pumping: Second) -> Iterator[Value]:
    """Spreading, laying and closing, the open time that is left, and least and safe time under pressure."""
    glue, warmth = plan.chosen.adhesive, working_temperature(plan)
    if plan.stack.of_role("adhesive"):
        opened = open_time.value(
            "time.open", t_0=glue.open_time, T=warmth, T_0=STATED_AT, d=glue.rate_doubles_per
        )
        spreading = _spreading(plan)
        by_hand = tuple(_laying_and_closing(plan))
        yield from (opened, spreading, *by_hand)
        numbers = {value.key: value.number for value in by_hand}
        wet = wet_time.value(
            "time.wet",
            t_s=spreading.number,
            t_l=numbers["time.laying"],
            t_c=numbers.get("time.closing", 0.0),
            t_p=pumping,
        )
        yield wet
        yield open_time_spare.value("time.spare", t_o=opened.number, t_w=wet.number)
        yield closed_by.value("time.closed_by", t_o=opened.number, t_p=pumping)
    yield from _pressing(plan, warmth)


def working_temperature(plan: Plan) -> Celsius:
    """Temperature that sets the pace of the glue, no higher than the rule of ten degrees is known for."""
    return min(plan.layup.press.temperature, limit("time.hottest"))


def _spreading(plan: Plan) -> Value:
    """Time to spread every glue line, on one side or on both."""
    lines = plan.stack.of_role("adhesive")
    sides = 2 if plan.layup.adhesive.spread_on == "both" else 1
    return spreading_time.value(
        "time.spreading",
        n=sides * len(lines),
        A=sum(line.blank.area for line in lines) / len(lines),
        A_1=SQUARE_METRE,
        t_1=usual("spread.metre"),
        m=plan.layup.press.hands,
    )


def _laying_and_closing(plan: Plan) -> Iterator[Value]:
    """Time to lay every sheet above the first glue and to close the bag, or what a dry run took."""
    if plan.layup.press.dry_run is not None:
        yield dry_run_time.value("time.laying", t_d=plan.layup.press.dry_run)
        return
    layers = plan.stack.layers
    first = next(index for index, layer in enumerate(layers) if layer.role == "adhesive")
    laid = [layer for layer in layers[first:] if layer.role != "adhesive"]
    sheet = sheet_time.value(
        "time.sheet",
        t_1=usual("lay.sheet"),
        t_2=usual("lay.metre"),
        A=sum(layer.blank.area for layer in laid) / len(laid),
    )
    yield sheet
    yield laying_time.value("time.laying", n=len(laid), t_1=sheet.number)
    if plan.bag.kind in CLOSED_KINDS:
        length = closed_end.value("time.closure", b=plan.bag.width)
    else:
        length = closed_round.value("time.closure", a=plan.bag.length, b=plan.bag.width)
    yield length
    yield closing_time.value(
        "time.closing", t_1=usual("close.bag"), t_2=usual("close.metre"), b=length.number
    )


def _pressing(plan: Plan, warmth: Celsius) -> Iterator[Value]:
    """Least and safe time under pressure."""
    glue, slow = plan.chosen.adhesive, 1.0 if has_way_out(plan) else limit("time.closed")
    stated = (
        (glue.press_time_least_bent, glue.press_time_safe_bent)
        if plan.layup.is_bent
        else (glue.press_time_least_flat, glue.press_time_safe_flat)
    )
    pace = {"k": slow, "T_0": STATED_AT, "T": warmth, "d": glue.rate_doubles_per}
    yield least_time.value("time.least", t_0=stated[0], **pace)
    yield safe_time.value("time.safe", t_0=stated[1], **pace)
