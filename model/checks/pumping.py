"""Rules of the pump and of leaks."""

from ..plan import Plan
from ..source import COMMON_PRACTICE, Source
from ..wording import duration, percent, pressure
from .judge import at_most
from .limits import limit
from .rule import Facts, Finding, Place, Rule


def _reach(plan: Plan, facts: Facts) -> tuple[Finding, ...]:
    """Gauge reading against what the pump gives in this air."""
    gauge, reach = plan.layup.vacuum.gauge, max(facts["pump.reach"].number, 0.0)
    return (
        at_most(
            gauge,
            reach,
            "MPa",
            broken="caution",
            message=f"The gauge is to read {pressure(gauge)}; the pump gets to {pressure(reach)} here.",
            change="vacuum.gauge",
            remedy=f"Aim for {pressure(facts['pump.aim'].number)}, or use a pump that gets deeper.",
            place=Place("valve"),
        ),
    )


def _strokes(plan: Plan, facts: Facts) -> tuple[Finding, ...]:
    """Strokes of a hand pump until the target is read."""
    if plan.layup.pump.kind != "hand":
        return ()
    down = facts["pump.strokes_down"].number
    strokes = down + (facts["pump.strokes_draw"].number if "pump.strokes_draw" in facts else 0.0)
    return (
        at_most(
            strokes,
            limit("pump.strokes"),
            "",
            broken="caution",
            message=f"{down:.0f} strokes bring the film down, {strokes - down:.0f} more the gauge to its reading.",
            change="pump.kind",
            remedy="Press the film down by hand first and use a smaller bag, or use a powered pump.",
            place=Place("valve"),
        ),
    )


def _fall(plan: Plan, facts: Facts) -> tuple[Finding, ...]:
    """Fall of the gauge in a leak test: how long the pressure holds, or how long the pump runs."""
    fall = plan.layup.vacuum.fall
    if fall is None:
        return ()
    least, cure = facts["leak.least"].number, facts["time.safe"].number
    remedy = (
        "Look for the leak before any glue is spread: closure, valve, hose, seams, folds; then test again."
    )
    if plan.layup.pump.kind == "powered":
        duty = facts["leak.duty"].number
        return (
            at_most(
                duty,
                limit("pump.duty"),
                "1",
                broken="caution",
                message=f"The gauge fell by {pressure(fall)} in five minutes: to hold its reading, the pump runs "
                f"{percent(100.0 * duty)} of the time.",
                change="vacuum.fall",
                remedy=remedy,
                place=Place("film"),
            ),
        )
    return (
        at_most(
            fall,
            facts["leak.fall_5"].number,
            "MPa",
            broken="caution",
            message=f"The gauge fell by {pressure(fall)} in five minutes: it holds {pressure(least)} for "
            f"{duration(facts['leak.holds'].number)}, and the glue needs {duration(cure)}.",
            change="vacuum.fall",
            remedy=f"{remedy} Or pump again whenever the gauge reads less than {pressure(least)}.",
            place=Place("film"),
        ),
    )


RULES = (
    Rule(
        key="pump.reach",
        title="what the pump gives",
        why="A pump gets no deeper than its own limit, and no deeper than the vapour of the glue's water.",
        source=Source("textbook", "balance of air in a vessel that is pumped"),
        find=_reach,
    ),
    Rule(
        key="pump.strokes",
        title="strokes of the hand pump",
        why="While the arm tires the glue skins over.",
        source=COMMON_PRACTICE,
        find=_strokes,
    ),
    Rule(
        key="leak.fall",
        title="leak test",
        why="Air that leaks in takes the pressure off before the glue has set.",
        source=Source("textbook", "rate of pressure rise in a closed volume"),
        find=_fall,
    ),
)
