"""Rules of springback: whether a bend holds, and whether its opening can be foretold."""

from ..plan import Plan
from ..source import COMMON_PRACTICE
from ..wording import percent
from .judge import at_most
from .limits import limit
from .rule import Facts, Finding, Place, Rule


def _springback(plan: Plan, facts: Facts) -> tuple[Finding, ...]:
    """Computed springback against what the glue holds for certain; a trial overrules it."""
    if plan.spring is None:
        return ()
    ratio, glue = facts["springback.ratio"].number, plan.chosen.adhesive
    if "springback.trial" in facts:
        tried = facts["springback.trial"].number
        return (_judged(plan, tried, limit("springback.usable"), "A trial showed that the bend loses"),)
    usable = limit("springback.usable")
    is_lost = ratio > usable
    certain = usable if is_lost else limit(f"springback.{glue.creep.replace(' ', '-')}")
    return (_judged(plan, ratio, certain, f"Glued with {glue.name} the bend loses"),)


def _judged(plan: Plan, ratio: float, certain: float, opening: str) -> Finding:
    is_lost = ratio > limit("springback.usable")
    told = "no form is bent to make up for so much" if is_lost else "the form is bent tighter by as much"
    creeps = plan.chosen.adhesive.creep != "none"
    return at_most(
        ratio,
        certain,
        "1",
        broken="stop" if is_lost else "caution",
        message=f"{opening} {percent(100.0 * ratio)} of its turn off the form; {told}.",
        change="substrate.laminations",
        remedy="Use more and thinner plies"
        + (", or a glue that does not creep" if creeps and not is_lost else "")
        + ("." if is_lost else "; or press a trial piece and enter what it loses as form.springback."),
        place=Place("form"),
    )


RULES = (
    Rule(
        key="springback.certain",
        title="springback of the bend",
        why="A bend of few plies or of creeping glue opens further than can be computed, and goes on opening.",
        source=COMMON_PRACTICE,
        find=_springback,
    ),
)
