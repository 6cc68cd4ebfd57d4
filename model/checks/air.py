"""Rules of the vacuum that the place can give."""

from ..plan import Plan
from ..source import Source
from ..wording import duration, pressure
from .judge import at_most
from .limits import limit
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


def _open(plan: Plan, facts: Facts) -> tuple[Finding, ...]:
    """Time of the air's way through the breather, or through paper alone, at a quick look."""
    if "air.way" not in facts:
        return ()
    time, breather = facts["air.way"].number, plan.chosen.breather
    is_there = breather is not None and plan.stack.find("breather") is not None
    through = f"the {breather.name}" if breather is not None and is_there else "paper alone"
    return (
        at_most(
            time,
            limit("breather.way"),
            "s",
            broken="caution",
            message=f"Through {through}, the air of the far corner takes about {duration(time)} to the valve.",
            change="breather.material",
            remedy="Lay netting, which stays open under the film, or strips of it to the far ends; "
            "underbag air shows the way.",
            place=Place(
                "breather" if is_there else "absorbent", 0.5 * plan.outline.length, 0.5 * plan.outline.width
            ),
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
    Rule(
        key="breather.open",
        title="way of the air",
        why="A breather that is pressed shut or clogged leaves air over the work, though the gauge shows none.",
        source=Source(
            "derived", "slow flow through the breather", "quick look; underbag air follows it exactly"
        ),
        find=_open,
    ),
)
