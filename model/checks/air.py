"""Rules of the vacuum that the place can give."""

from ..plan import Plan
from ..source import Source
from ..wording import pressure
from .judge import at_most
from .rule import Facts, Finding, Place, Rule


def _possible(plan: Plan, facts: Facts) -> tuple[Finding, ...]:
    """Gauge reading against the air outside."""
    gauge, deepest = plan.layup.vacuum.gauge, facts["air.deepest_gauge"].number
    return (
        at_most(
            gauge,
            deepest,
            "MPa",
            broken="stop",
            message=f"The gauge is to read {pressure(gauge)}; the air at this altitude gives {pressure(deepest)} at the most.",
            change="vacuum.gauge",
            remedy=f"Aim for {pressure(0.85 * deepest)} or less, or correct the altitude.",
            place=Place("film"),
        ),
    )


RULES = (
    Rule(
        key="vacuum.possible",
        title="vacuum at this altitude",
        why="No pump pulls deeper than the air outside is heavy.",
        source=Source("standard", "ISO 2533", "standard atmosphere"),
        find=_possible,
    ),
)
