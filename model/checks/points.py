"""Rule of a bend through points: whether the curve keeps to what the points say."""

from ..plan import Plan
from ..shape.bulge import worst_bulge
from ..shape.curve import CurvePiece
from ..shape.profile import Profile
from ..shape.sheet import aside
from ..shape.spline import SplineCourse
from ..source import Source
from ..wording import both
from .judge import at_most
from .limits import limit
from .rule import Facts, Finding, Place, Rule


def _bulge(plan: Plan, facts: Facts) -> tuple[Finding, ...]:
    """The span in which a curve leaves its points most; of a taper at either end that has points of its own."""
    layup = plan.layup
    found = []
    if layup.bend is not None and layup.bend.shape == "points":
        found.append(_finding(layup.curve, "bend.ordinates", ""))
    if layup.taper is not None and layup.taper.shape == "points":
        found.append(_finding(layup.far, "taper.ordinates", " at the far end"))
    return tuple(one for one in found if one is not None)


def _finding(curve: Profile | None, key: str, where: str) -> Finding | None:
    """The worst span of one curve; None for one that has no points of its own."""
    piece = None if curve is None else curve.pieces[0]
    if not isinstance(piece, CurvePiece) or not isinstance(piece.course, SplineCourse):
        return None
    found = worst_bulge(piece, piece.course)
    place = found.at - 0.5 * piece.length
    shown = "straight" if found.bend == 0.0 else f"bent to {both(1.0 / abs(found.bend))}"
    told = "straight" if found.told == 0.0 else f"{both(1.0 / found.told)} at the tightest"
    return at_most(
        found.excess,
        limit("points.bulge"),
        "1",
        broken="caution",
        message=f"Between points {found.span + 1} and {found.span + 2} from the left, {aside(place)}, the curve{where} is "
        f"{shown}; the points around say {told}.",
        change=key,
        remedy="Measure these points again, or one more between them.",
        place=Place("form", t=place),
    )


RULES = (
    Rule(
        key="bend.points",
        title="curve between the points",
        why="A smooth curve bulges where a point is a little off, and the form would be cut with the bulge.",
        source=Source(
            "derived", "circle through three points", "bend of the curve against that of its points"
        ),
        find=_bulge,
    ),
)
