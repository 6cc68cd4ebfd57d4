"""Rules of the ribbed form: wood under its skin, and the bend of the skin itself."""

from ..form.ribs import why_no_ribs
from ..plan import Plan
from ..source import COMMON_PRACTICE, Source
from ..units import Mm
from ..wording import both
from .judge import at_least
from .limits import limit
from .rule import Facts, Finding, Place, Rule, Status


def _foot(plan: Plan, facts: Facts) -> tuple[Finding, ...]:
    """Height of wood in a rib under the lowest point of the face."""
    if plan.form is None or plan.layup.form.build != "ribs":
        return ()
    least = limit("form.foot")
    if plan.form.ribbed is not None:
        depth = facts["form.depth"].number
        message = f"Under the skin the ribs are {both(depth)} high at their lowest place."
        return (_wood(depth, least, "caution", message),)
    return (_wood(0.0, least, "stop", why_no_ribs(plan.layup, plan.base, plan.stack.sheet)),)


def _wood(depth: Mm, least: Mm, broken: Status, message: str) -> Finding:
    return at_least(
        depth,
        least,
        "mm",
        broken=broken,
        message=message,
        change="form.base",
        remedy="Make the base higher or the skin thinner, or stack sheets instead.",
        place=Place("form"),
    )


def _skin(plan: Plan, facts: Facts) -> tuple[Finding, ...]:
    """Radius of the skin's sheets against the least that they stand."""
    if "form.skin.radius" not in facts or "form.skin.least" not in facts:
        return ()
    radius, least = facts["form.skin.radius"].number, facts["form.skin.least"].number
    form = plan.layup.form
    sheets = f"in {form.skins} sheets of {both(form.skin / form.skins)}" if form.skins > 1 else "in one sheet"
    return (
        at_least(
            radius,
            least,
            "mm",
            broken="caution",
            message=f"The skin, {both(form.skin)} {sheets}, is bent to {both(radius)}; by its strength it stands "
            f"{both(least)}.",
            change="form.skins",
            remedy="Bend it of more and thinner sheets, or of a board that is made to bend.",
            place=Place("form"),
        ),
    )


RULES = (
    Rule(
        key="form.foot",
        title="wood under the skin",
        why="A rib too low breaks where it is notched, and leaves no way for the air.",
        source=COMMON_PRACTICE,
        find=_foot,
    ),
    Rule(
        key="form.skin",
        title="bend of the form's skin",
        why="A skin that is bent too tight cracks over the ribs, and the crack prints through.",
        source=Source(
            "derived", "beam theory", "strain t/(2R + t) against strength over modulus, less for thick sheets"
        ),
        find=_skin,
    ),
)
