"""What can hurt a person at this job, in sentences, for papers and pages."""

from collections.abc import Iterator

from ..model.plan import Plan
from ..model.report import Report
from ..model.units import Gram
from ..model.wording import force, mass

HEAVY: Gram = 25_000.0
"""Mass from which a load is not for one person; common practice."""


def cautions(plan: Plan, report: Report) -> tuple[str, ...]:
    """Say what can hurt a person, the gravest first; what makers and local codes say goes before."""
    return tuple(_cautions(plan, report))


def _cautions(plan: Plan, report: Report) -> Iterator[str]:
    values = report.by_key()
    pressed = force(values["press.force"].number)
    yield f"The air presses with {pressed}: keep hands and face away while the bag goes down."
    if plan.base.kind == "form" and plan.layup.form.build != "stacked":
        yield "A closed hollow in the form can be crushed with force enough to hurt: vent every one of them."
    yield "Film can suffocate: keep it away from children and animals, and never put it over a head."
    yield from (f"{caution}." for caution in plan.chosen.adhesive.cautions)
    yield "Air the room and wear what the maker's safety data sheet asks for; it goes before anything said here."
    weight = values["panel.mass"].number
    if weight > HEAVY:
        yield f"The panel alone has a mass of {mass(weight)}: lift it with help."
    yield "Knives, saws and routers cut people as well as veneer: follow their makers' rules and local codes."
