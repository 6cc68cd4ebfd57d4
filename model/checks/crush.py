"""Rules of crushing: the pressure against what core and plates bear through their thickness."""

from ..plan import Plan
from ..source import Source
from ..values.crush import pressed_parts
from ..wording import pressure, strength
from .judge import at_most
from .rule import Facts, Finding, Place, Rule


def _crush(plan: Plan, facts: Facts) -> tuple[Finding, ...]:
    """Gauge reading against the strength at once (stop) and for hours (caution)."""
    gauge, found = plan.layup.vacuum.gauge, []
    for key, material in pressed_parts(plan):
        lasting = facts[f"crush.{key}.lasting"].number
        is_crushed = gauge > material.crush
        bound = material.crush if is_crushed else lasting
        for_hours = "" if lasting == material.crush else f", and {strength(lasting)} for hours"
        part = "core" if key == "substrate" else key
        found.append(
            at_most(
                gauge,
                bound,
                "MPa",
                broken="stop" if is_crushed else "caution",
                message=f"The gauge is to read {pressure(gauge)}; the {part} of {material.name} bears "
                f"{strength(material.crush)} through its thickness{for_hours}.",
                change="vacuum.gauge",
                remedy=f"Aim for {pressure(lasting)} or less, or use a {part} that bears more.",
                place=Place(key),
            )
        )
    return tuple(found)


RULES = (
    Rule(
        key="crush.core",
        title="crushing of core and plates",
        why="A core that is crushed stays thin; foam and honeycomb give way slowly, while the glue sets.",
        source=Source("textbook", "statics", "pressure against strength through the thickness"),
        find=_crush,
    ),
)
