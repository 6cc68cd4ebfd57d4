"""The glue's water: what the veneers take of it, what comes through them, and the paper that holds it.

A glue line gives its water to both sides by what each can still take up. What a veneer cannot hold comes through to
the release; only the paper above the upper veneer, behind a release that lets water through, takes it from there.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from ..data.limits import limit
from ..materials import Paper, Wood
from ..mechanics.glue import (
    bleed_ratio,
    dry_line,
    moisture_gain,
    paper_capacity,
    paper_sheets,
    uptake_capacity,
    veneer_share,
    water_load,
    water_through,
    wet_line,
)
from ..plan import Plan
from ..plies import Ply
from ..source import Source
from ..units import GramPerMm2, Percent, Ratio
from ..value import Value, formula
from ..wetting import FIBRE_SATURATION, core_drinks, moisture_of, room_in

DRY: Ratio = 0.1
"""Glue with no more water than this in its mass gives none to speak of."""

LEAST_CAPACITY: GramPerMm2 = 1e-7
"""Paper that holds less than a tenth of a gram in a square metre is a cushion."""

LEAST_VOIDS: Ratio = 1e-3
"""Voids of the densest wood, so that glue can be told as so many times of them."""

OPEN_VOIDS: Ratio = 1.0
"""All of a veneer's voids count as open to the glue; how easily it goes through lies in the limit by its pores."""

BALANCE = Source("textbook", "balance of masses")


@formula("q", "water of one glue line", "s * w", BALANCE)
def line_water(s: GramPerMm2, w: Ratio) -> GramPerMm2:
    """Water in wet glue spread at s, w being the water's part of its mass."""
    return s * w


sheets_for_through = replace(
    paper_sheets, name="sheets of paper for the water that comes through the upper veneer"
)
sheets_for_all = replace(
    paper_sheets, name="sheets of paper that would hold all the water of the upper glue line"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Wetted:
    """A veneer beside a glue line: its moisture when it is laid, and the room for water that it shares the line with.

    Parameters
    ----------
    ply
        The veneer.
    laid
        Its moisture content when it is laid.
    room, beyond
        Water that still fits into it, and into what lies on the other side of its glue line.
    """

    ply: Ply
    laid: Percent
    room: GramPerMm2
    beyond: GramPerMm2

    @property
    def share(self) -> Ratio:
        """Part of the line's water that it takes; all of it where neither side has room."""
        return 1.0 if self.room + self.beyond <= 0.0 else veneer_share(q_v=self.room, q_s=self.beyond)


def gives_water(plan: Plan) -> bool:
    """Whether the glue brings water into the bag."""
    return plan.chosen.adhesive.water_fraction > DRY and bool(plan.stack.of_role("adhesive"))


def drawing_paper(plan: Plan) -> Paper | None:
    """Paper of the layup if it takes up water; a cushion does not."""
    paper = plan.chosen.absorbent
    return None if paper is None or paper.capacity < LEAST_CAPACITY else paper


def paper_draws(plan: Plan) -> bool:
    """Whether such paper lies above the work, behind a release that lets water through."""
    release = plan.chosen.release
    is_laid = drawing_paper(plan) is not None and plan.layup.absorbent.sheets > 0
    return is_laid and (release is None or release.lets_water)


def has_way_out(plan: Plan) -> bool:
    """Whether the glue's water can go farther than into a thin veneer: into the core or into paper."""
    return not gives_water(plan) or core_drinks(plan) or paper_draws(plan)


def water_values(plan: Plan) -> Iterator[Value]:
    """Thickness of a glue line, glue that comes through, water and where it goes, and sheets of paper."""
    lines = plan.stack.of_role("adhesive")
    if not lines:
        return
    spread, glue = plan.layup.adhesive.spread, plan.chosen.adhesive
    wet = wet_line.value("glue.wet_line", s=spread, rho=glue.density)
    yield wet
    yield dry_line.value("glue.dry_line", s=spread, w=glue.water_fraction, rho=glue.density)
    veneers = veneers_of(plan)
    for wetted in veneers:
        ply, voids = wetted.ply, max(wood_of(plan, wetted.ply).void_fraction, LEAST_VOIDS)
        yield bleed_ratio.value(
            f"glue.bleed.{ply.key}", h=wet.number, t=ply.thickness, phi=voids, c=OPEN_VOIDS
        )
    if not gives_water(plan):
        return
    mass = spread * sum(line.blank.area for line in lines)
    yield water_load.value("water.load", m=mass, w=glue.water_fraction)
    water = line_water.value("water.line", s=spread, w=glue.water_fraction)
    yield water
    for wetted in veneers:
        yield from _into_veneer(wetted, water.number)
    if veneers and veneers[-1].ply is plan.plies[-1]:
        yield from _onto_paper(plan, veneers[-1], water.number)


def veneers_of(plan: Plan) -> tuple[Wetted, ...]:
    """Veneers of a plan from below, each with what its glue line lies on."""
    laid, plies = moisture_of(plan).laid.tolist(), plan.plies
    last = len(plies) - 1
    return tuple(
        Wetted(
            ply=plies[one],
            laid=laid[one],
            room=room_in(plan, plies[one], laid[one]),
            beyond=room_in(plan, plies[other], laid[other]),
        )
        for one, other in ((0, 1), (last, last - 1))
        if plies[one].key in ("face", "back")
    )


def wood_of(plan: Plan, ply: Ply) -> Wood:
    """Species of a veneer."""
    wood = plan.chosen.face if ply.key == "face" else plan.chosen.back
    assert wood is not None
    return wood


def bleed_limit(wood: Wood) -> Ratio:
    """How full of glue the voids of a veneer may be, by its pores."""
    return limit(f"bleed.{wood.pores}")


def _into_veneer(wetted: Wetted, water: GramPerMm2) -> Iterator[Value]:
    """Room, share and gain of one veneer, and the water that comes through it."""
    ply, key = wetted.ply, f"water.{wetted.ply.key}"
    yield uptake_capacity.value(
        f"{key}.room", rho=ply.dry_density, t=ply.thickness, M=wetted.laid, M_s=FIBRE_SATURATION
    )
    if wetted.room + wetted.beyond > 0.0:
        yield veneer_share.value(f"{key}.share", q_v=wetted.room, q_s=wetted.beyond)
    taken = min(water * wetted.share, wetted.room)
    yield moisture_gain.value(f"{key}.gain", q=taken, rho=ply.dry_density, t=ply.thickness)
    yield water_through.value(f"{key}.through", q_w=water, k=wetted.share, q_v=wetted.room)


def _onto_paper(plan: Plan, upper: Wetted, water: GramPerMm2) -> Iterator[Value]:
    """Sheets of paper for what comes through the upper veneer, and for all the water of its glue line."""
    paper, area = drawing_paper(plan), plan.stack.of_role("adhesive")[-1].blank.area
    if paper is None:
        return
    sheet = {"b": paper.basis_weight, "A": area, "a": paper.absorbency, "u": paper.usable_fraction}
    through = water_through(q_w=water, k=upper.share, q_v=upper.room)
    yield sheets_for_through.value("paper.sheets", m_w=through * area, **sheet)
    yield sheets_for_all.value("paper.sheets_for_all", m_w=water * area, **sheet)
    if paper_draws(plan):
        yield paper_capacity.value("paper.capacity", n=plan.layup.absorbent.sheets, **sheet)
