"""Rules of edges and hollows: what cuts the film, and what the vacuum crushes."""

from ..plan import Plan
from ..shape.outline import Rectangle
from ..shape.pathed import Pathed, sharp_corners
from ..source import COMMON_PRACTICE
from ..wording import both
from .judge import at_least, holds
from .limits import limit
from .rule import Facts, Finding, Place, Rule


def _easing(plan: Plan, facts: Facts) -> tuple[Finding, ...]:
    """Edges of the platen or form and of the caul rounded enough for the film."""
    layup, found = plan.layup, []
    if plan.base.kind != "bench":
        easing = layup.form.easing if plan.base.kind == "form" else layup.platen.easing
        found.append(_eased(plan.base.kind, easing, limit("easing.least")))
    if plan.chosen.caul is not None:
        # a thin caul cannot be rounded more than half its thickness
        found.append(
            _eased("caul", layup.caul.easing, min(limit("easing.least"), 0.5 * layup.caul.thickness))
        )
    return tuple(found)


def _eased(plate: str, easing: float, least: float) -> Finding:
    return at_least(
        easing,
        least,
        "mm",
        broken="caution",
        message=f"The edges of the {plate} are eased to a radius of {both(easing)}.",
        change=f"{plate}.easing",
        remedy=f"Round the edges to {both(least)} or more, or pad them with breather.",
        place=Place(plate),
    )


def _corners(plan: Plan, facts: Facts) -> tuple[Finding, ...]:
    """Corners of flat plates rounded enough for the film."""
    if plan.layup.is_bent:
        return ()
    plates = []
    if plan.base.kind == "platen":
        plates.append(("platen", plan.layup.platen.corner))
    caul = plan.stack.find("caul")
    if caul is not None and isinstance(plan.outline, Rectangle):
        plates.append(("caul", plan.layup.caul.corner))
    if caul is not None and isinstance(caul.outline, Pathed) and sharp_corners(plan.outline.loops[0]):
        # corners without room for it stay sharp
        plates.append(("caul", 0.0 if sharp_corners(caul.outline.edge) else plan.layup.caul.corner))
    least = limit("corner.least")
    return tuple(
        at_least(
            corner,
            least,
            "mm",
            broken="caution",
            message=f"The corners of the {plate} are rounded to {both(corner)}.",
            change=f"{plate}.corner",
            remedy=f"Round the corners to {both(least)} or more, or pad them with breather.",
            place=Place(plate),
        )
        for plate, corner in plates
    )


def _hollow(plan: Plan, facts: Facts) -> tuple[Finding, ...]:
    """Every hollow of the form open to the bag."""
    form = plan.layup.form
    if plan.base.kind != "form" or form.build == "stacked":
        return ()
    return (
        holds(
            form.vented == "yes",
            broken="stop",
            message=f"The form is hollow (built as {form.build}) and {'vented' if form.vented == 'yes' else 'closed'}.",
            change="form.vented",
            remedy="Drill vents into every hollow, so that it empties with the bag; a closed one can implode.",
            place=Place("form"),
        ),
    )


RULES = (
    Rule(
        key="edge.easing",
        title="eased edges",
        why="Film drawn over a sharp edge is cut, and the vacuum is lost while the glue sets.",
        source=COMMON_PRACTICE,
        find=_easing,
    ),
    Rule(
        key="edge.corner",
        title="rounded corners",
        why="Film drawn over a sharp corner is cut, and the vacuum is lost while the glue sets.",
        source=COMMON_PRACTICE,
        find=_corners,
    ),
    Rule(
        key="form.hollow",
        title="hollows of the form",
        why="A closed hollow keeps the outside air and is crushed, with force enough to hurt.",
        source=COMMON_PRACTICE,
        find=_hollow,
    ),
)
