"""What the press sheet says beside the order of laying: glue, clock, gauge, leak, valve and afterwards."""

from ...model.handling import handling, told_load
from ...model.plan import Plan
from ...model.report import Report
from ...model.units import Mm, Second
from ...model.wording import duration, in_inches, in_inhg, in_kpa, in_mm, mass, spread, temperature

Pair = tuple[str, str]
Row = tuple[str, ...]

LOOKS: tuple[int, ...] = (5, 30)
"""Minutes after which the gauge is read."""
TO_FILL = ""
"""What is left to be filled in by hand."""


def _number(report: Report, key: str) -> float | None:
    """Number of a value; None where the report has none of that key."""
    facts = report.by_key()
    return facts[key].number if key in facts else None


def _time(seconds: Second | None) -> str:
    return TO_FILL if seconds is None else duration(max(seconds, 0.0))


def glue_words(plan: Plan, report: Report) -> tuple[Pair, ...]:
    """Mass, spread and side of the glue, and its mixing."""
    found = _number(report, "glue.mass")
    asked = plan.layup.adhesive
    return (
        (
            f"Mix {plan.chosen.adhesive.name}, waste {asked.waste:g} % within",
            TO_FILL if found is None else mass(found),
        ),
        ("On each glue line", spread(asked.spread)),
        ("Side; mix as the data sheet says", SIDES[asked.spread_on]),
    )


SIDES = {"core": "on the core", "veneer": "on the veneer", "both": "half on either side"}


def clock_fields(report: Report) -> tuple[Pair, ...]:
    """How long the glue stays open, when the bag must be closed, and what spreading, laying and pumping will take."""
    spare = _number(report, "time.spare")
    return (
        ("Glue open; gauge reached within", _time(_number(report, "time.open"))),
        ("Bag closed within", _time(_number(report, "time.closed_by"))),
        ("Expected: spread to gauge", _time(_number(report, "time.wet"))),
        ("To spare", "none: too slow" if spare is not None and spare <= 0.0 else _time(spare)),
    )


def press_fields(plan: Plan, report: Report) -> tuple[Pair, ...]:
    """Gauge, temperature and release times."""
    gauge = plan.layup.vacuum.gauge
    return (
        ("Gauge target", f"{in_kpa(gauge)}\n{in_inhg(gauge)}"),
        ("Glue, core and plates at", temperature(plan.layup.press.temperature)),
        ("Release: not before", _time(_number(report, "time.least"))),
        ("Release: safe after", _time(_number(report, "time.safe"))),
    )


def leak_rows(plan: Plan, report: Report) -> list[Row]:
    """Lowest reading allowed at each look, and room to write down what is read."""
    gauge = plan.layup.vacuum.gauge
    found = [(minutes, _number(report, f"leak.fall_{minutes}")) for minutes in LOOKS]
    return [
        (
            f"{minutes} min",
            "" if fall is None else f"{in_kpa(gauge - fall)} ({in_inhg(gauge - fall)})",
            "",
        )
        for minutes, fall in found
    ]


def valve_fields(plan: Plan) -> tuple[Pair, ...]:
    """Ruler measurements on the flat, empty bag."""
    valve = plan.valve
    return (
        ("Valve from closed end", _on_two_lines(valve.from_closed_end)),
        ("Valve from left seam", _on_two_lines(valve.from_left_seam)),
        ("Work's middle from closed end", _on_two_lines(valve.work_from_closed_end)),
        ("Work's middle from left seam", _on_two_lines(valve.work_from_left_seam)),
    )


ON_THE_SHEET = ("lift", "slide", "folds")
"""What is read with the stack in hand; how the bag is closed and stored is known at the bench."""


def handling_words(plan: Plan, report: Report) -> tuple[str, ...]:
    """Who carries the stack, how it comes into the bag, and where folds go."""
    said = [one.words for one in handling(plan) if one.key in ON_THE_SHEET]
    return (f"{told_load(report)}.", *said)


def _on_two_lines(length: Mm) -> str:
    """Length in both systems, a line each: a mixed number must not be torn apart."""
    return f"{in_mm(length)}\n{in_inches(length)}"


def afterwards(plan: Plan) -> tuple[str, ...]:
    """What is done once the pump is off."""
    trim = "trim" if plan.cut is None else "cut it plumb along the line of its upper face"
    rest = f"Stand the panel so that air reaches both of its faces alike; {trim} when it has rested."
    opens = "Take it off the form only after the safe time; it opens a little and keeps opening for a day."
    flat = "Peel release and paper off while they still come away; do not lay the panel flat on a bench."
    return (
        opens if plan.layup.is_bent else flat,
        rest,
        "Wipe film, valve and seal clean before glue sets on them.",
    )
