"""Bending: how tight every ply is bent at its own height, and how tight it may be."""

from collections.abc import Iterator
from dataclasses import dataclass

from ..bends import Bends, bends_of
from ..mechanics.bending import (
    OFFSET,
    TightestBend,
    least_radius,
    nominal_strain,
    strain_at_radius,
    strain_limit,
    tightest_bend,
)
from ..mechanics.radii import PublishedRadius, published_radius
from ..plan import Plan
from ..plies import Ply, board_ply
from ..source import Source
from ..units import Mm, PerMm, Ratio
from ..value import Value, formula

SAFETY: Ratio = 1.0
"""None: strength over modulus of the bending test gives walnut the radius that the aircraft table gives the thinnest
plywood (57 thicknesses), and the true strain at failure is larger."""

PUBLISHED = Source("handbook", "FAA AC 43.13-1B", "Table 1-2: plywood bent cold on a form, 10 % moisture")


@formula(
    "R", "radius at the inside of the ply, where it is bent hardest on the form", "abs(1 / k + d)", OFFSET
)
def inside_radius(k: PerMm, d: Mm) -> Mm:
    """Radius of the concave face, at d above the curve that was asked for, whose curvature on the form is k."""
    return abs(1.0 / k + d)


@formula(
    "R_p", "least radius that is published for plywood of this thickness", "method: table lookup", PUBLISHED
)
def plywood_radius(t: Mm, R: Mm) -> Mm:
    """Radius R of the table for the thickness t, on a straight line between logarithms."""
    return R


def bend_values(plan: Plan) -> Iterator[Value]:
    """Radius and strain of every ply, and the least radius of each kind of ply."""
    if not plan.layup.is_bent:
        return
    plies = bent_plies(plan)
    for ply in plies:
        yield from _bent(plan, ply)
    for part, ply in {part_of(ply): ply for ply in plies}.items():
        yield from _limits(part, ply)


def bent_plies(plan: Plan) -> tuple[Ply, ...]:
    """Everything that is bent over the form: the plies of the work, and a caul that has to follow them."""
    caul, board = plan.stack.find("caul"), plan.chosen.caul
    if caul is None or board is None:
        return plan.plies
    return (*plan.plies, board_ply(caul, board, caul.height))


def part_of(ply: Ply) -> str:
    """Table of the layup file that a ply belongs to: face, back, substrate or caul."""
    return ply.key.partition("-")[0]


@dataclass(frozen=True, slots=True, kw_only=True)
class HardestBend:
    """Where a ply is bent hardest: at which end of a taper, at what place along the sheet, and how."""

    end: str
    at: Mm
    k: PerMm
    bend: TightestBend


def hardest_bend(plan: Plan, ply: Ply) -> HardestBend:
    """Where a ply is bent hardest on the form."""
    low = ply.height - plan.stack.sheet.reference
    tightest = [(bends, tightest_bend(bends.t, bends.k, low, ply.thickness)) for bends in bends_of(plan)]
    bends, found = min(tightest, key=_radius)
    return HardestBend(
        end=bends.end, at=plan.stack.sheet.profile.middled(found.at), k=bends.at(found.at), bend=found
    )


def _radius(one: tuple[Bends, TightestBend]) -> Mm:
    return one[1].radius


def _bent(plan: Plan, ply: Ply) -> Iterator[Value]:
    """Radius and strain of one ply where it is bent hardest."""
    hardest, low = hardest_bend(plan, ply), ply.height - plan.stack.sheet.reference
    radius = inside_radius.value(
        f"bend.{ply.key}.radius",
        k=hardest.k,
        d=low if hardest.bend.convex else low + ply.thickness,
    )
    yield radius
    yield strain_at_radius.value(f"bend.{ply.key}.strain", t=ply.thickness, R=radius.number)


def _limits(part: str, ply: Ply) -> Iterator[Value]:
    """Strain and radius that a kind of ply stands, and the radius that is published for plywood."""
    if ply.strength is None:
        return
    nominal = nominal_strain.value(f"bend.{part}.nominal", f=ply.strength, E=ply.test_modulus)
    allowed = strain_limit.value(f"bend.{part}.allowed", eps_0=nominal.number, t=ply.thickness, n=SAFETY)
    yield nominal
    yield allowed
    yield least_radius.value(f"bend.{part}.least", t=ply.thickness, eps_a=allowed.number)
    published = published_for(ply)
    if published is not None:
        yield plywood_radius.value(f"bend.{part}.published", t=ply.thickness, R=published.radius)


def published_for(ply: Ply) -> PublishedRadius | None:
    """Published radius of a plywood; one that is made to bend has its limp direction first, and no table."""
    if ply.kind != "plywood" or ply.E_1 < ply.E_2 or ply.key == "caul":
        return None
    return published_radius("aircraft plywood", "dry", "along" if ply.runs_along else "across", ply.thickness)
