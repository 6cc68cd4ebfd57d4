"""Glue: how much to mix."""

from collections.abc import Iterator

from ..mechanics.glue import glue_mass
from ..plan import Plan
from ..value import Value


def glue_values(plan: Plan) -> Iterator[Value]:
    """Wet glue for all glue lines; it covers the core and nothing of the overhang."""
    lines = plan.stack.of_role("adhesive")
    if not lines:
        return
    area = sum(line.blank.area for line in lines) / len(lines)
    yield glue_mass.value(
        "glue.mass",
        s=plan.layup.adhesive.spread,
        A=area,
        n=len(lines),
        w=plan.layup.adhesive.waste / 100.0,
    )
