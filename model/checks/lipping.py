"""Rules of the lipping: whether its joint shows through the veneer."""

from ..plan import Plan
from ..values.lipping import SWELLING
from ..wording import both, percent
from .judge import at_most
from .limits import limit
from .rule import Facts, Finding, Place, Rule


def _step(plan: Plan, facts: Facts) -> tuple[Finding, ...]:
    """Step that the seasons raise at the joint, against what the veneer hides."""
    wood, panel = plan.chosen.lipping, plan.layup.panel
    if wood is None:
        return ()
    step, has_crossband = facts["lipping.step"].number, plan.chosen.crossband is not None
    hidden = limit("lipping.step-under-crossband" if has_crossband else "lipping.step")
    return (
        at_most(
            step,
            hidden,
            "mm",
            broken="caution",
            message=f"From {percent(panel.driest)} to {percent(panel.dampest)} humidity the core of "
            f"{plan.chosen.substrate.name} and its lipping of {wood.name} move apart by {both(step)} at each face; the "
            f"veneer{' with its crossband' * has_crossband} hides {both(hidden)}.",
            change="lipping.material" if has_crossband else "crossband.material",
            remedy=("Lip the panel" if has_crossband else "Lay a crossband over it, or lip the panel")
            + " after veneering; let a lipped core rest until the glue's water has left before it is flushed.",
            place=Place("substrate"),
        ),
    )


RULES = (
    Rule(
        key="lipping.step",
        title="lipping under the veneer",
        why="Board and solid wood swell unlike through their thickness; the joint shows as a line in the finish.",
        source=SWELLING,
        find=_step,
    ),
)
