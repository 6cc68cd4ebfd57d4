"""Rules of the bend's geometry."""

import math

import numpy as np

from ..bends import bends_of, spot_of
from ..plan import Plan
from ..source import COMMON_PRACTICE, Source
from ..units import Mm
from ..wording import angle, both
from .judge import at_least, at_most
from .limits import limit, limits
from .place import place_at
from .rule import Facts, Finding, Place, Rule


def _depth(plan: Plan, facts: Facts) -> tuple[Finding, ...]:
    """Radius of the bend against the depth of the stack on its inside."""
    if not plan.layup.is_bent:
        return ()
    radius, depth, end, place = _hardest(plan)
    spot = spot_of(plan, end, place)
    where = f" {spot}" if spot else ""
    return (
        at_least(
            radius,
            depth,
            "mm",
            broken="stop",
            message=f"On its form the radius is {both(radius)}{where}; the stack reaches {both(depth)} to its inside.",
            change=plan.layup.bend_key,
            remedy="Make the radius larger or the stack thinner.",
            place=place_at(plan, "form", end, place),
        ),
    )


def _hardest(plan: Plan) -> tuple[Mm, Mm, str, Mm]:
    """Where the stack leaves least of the radius: that radius, how far the stack reaches to its inside, end and place t."""
    sheet, height = plan.stack.sheet, plan.stack.height
    found = []
    for bends in bends_of(plan):
        bent = bends.k != 0.0
        t, k = bends.t[bent], bends.k[bent]
        depths = np.maximum(np.where(k > 0.0, sheet.reference, height - sheet.reference), 0.0)
        radii = 1.0 / np.abs(k)
        least = int((radii - depths).argmin())
        place = sheet.profile.middled(float(t[least]))
        found.append((float(radii[least]), float(depths[least]), bends.end, place))
    return min(found, key=lambda one: one[0] - one[1])


def _undercut(plan: Plan, facts: Facts) -> tuple[Finding, ...]:
    """Panels past the half round, and forms that lean in farther than the work springs open."""
    if not plan.layup.is_bent:
        return ()
    pressed, released = plan.stack.sheet.profile.swing, plan.released.profile.swing
    is_closed = released > math.pi
    turn, most = (released, math.pi) if is_closed else (pressed, math.pi + limit("form.lean"))
    subject = "The panel" if is_closed else "The bend on its form"
    ending = " Its form is undercut, and neither form nor bag is designed here." if plan.is_undercut else ""
    return (
        at_most(
            turn,
            most,
            "rad",
            broken="stop",
            message=f"{subject} turns through {angle(turn)}; {angle(most)} is the most.{ending}",
            change="bend.angle" if plan.layup.bend_key == "bend.radius" else plan.layup.bend_key,
            remedy="Press it in parts of up to a half round each; the blanks given here are right.",
            place=Place("form"),
        ),
    )


def _laminations(plan: Plan, facts: Facts) -> tuple[Finding, ...]:
    """Enough plies to hold a bend."""
    if not plan.layup.is_bent:
        return ()
    number = plan.layup.substrate.laminations
    return (
        at_least(
            float(number),
            limit("laminations.least"),
            "",
            broken="caution",
            message=f"The core is built of {number} lamination{'s' if number > 1 else ''}.",
            change="substrate.laminations",
            remedy="Use three laminations at least; five are normal, seven or more where it is tight.",
            place=Place("substrate" if number == 1 else "substrate-1"),
        ),
    )


RULES = (
    Rule(
        key="bend.depth",
        title="radius against the stack",
        why="Where the stack reaches past the middle of the bend its layers cross each other.",
        source=Source("derived", "sheet on rulings", "1 + d·θ′ > 0"),
        find=_depth,
    ),
    Rule(
        key="bend.undercut",
        title="form of the bend",
        why="A form that reaches around under itself cannot be drawn out of the work.",
        source=COMMON_PRACTICE,
        find=_undercut,
    ),
    Rule(
        key="bend.laminations",
        title="number of laminations",
        why="A bend of few plies springs back far.",
        source=limits()["laminations.least"].source,
        find=_laminations,
    ),
)
