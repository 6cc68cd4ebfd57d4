"""Rules of cover: every sheet reaches past the one that it serves."""

from ..plan import Plan
from ..source import COMMON_PRACTICE
from ..values.overhang import base_reach, caul_reach
from ..wording import both
from .judge import at_least, at_most, holds
from .limits import limit
from .rule import Facts, Finding, Place, Rule


def _release(plan: Plan, facts: Facts) -> tuple[Finding, ...]:
    """Release past the veneer, on both sides of the work."""
    if plan.chosen.release is None:
        return (
            holds(
                False,
                broken="caution",
                message="There is no release sheet; glue that is squeezed out or bleeds through sticks to the plates.",
                change="release.material",
                remedy="Lay release on both sides of the work, or use plates that glue does not stick to.",
                place=Place("face"),
            ),
        )
    margin = plan.layup.release.margin
    return (
        at_least(
            margin,
            limit("release.past_veneer"),
            "mm",
            broken="stop",
            message=f"The release reaches {both(margin)} past the veneer.",
            change="release.margin",
            remedy='Let the release reach 12 mm (1/2") past the veneer.',
            place=Place("release-above"),
        ),
    )


def _breather_reach(plan: Plan, facts: Facts) -> tuple[Finding, ...]:
    """Breather past every edge of the caul or of the work."""
    if plan.chosen.breather is None:
        return (
            holds(
                False,
                broken="stop",
                message="There is no breather; the film seals itself to the work and air stays behind.",
                change="breather.material",
                remedy="Lay netting or felt over the whole of the work, from past its edges to the valve.",
                place=Place("face"),
            ),
        )
    margin = plan.layup.breather.margin
    over = "caul" if plan.chosen.caul is not None else "veneer"
    return (
        at_least(
            margin,
            limit("breather.past_edge"),
            "mm",
            broken="caution",
            message=f"The breather reaches {both(margin)} past the {over}.",
            change="breather.margin",
            remedy=f"Let it reach {both(limit('breather.past_edge'))} or more past every edge.",
            place=Place("breather"),
        ),
    )


def _breather_drape(plan: Plan, facts: Facts) -> tuple[Finding, ...]:
    """Breather long enough to drape over the edge of a caul down to the platen."""
    breather = plan.stack.find("breather")
    if breather is None or plan.chosen.caul is None:
        return ()
    drop = breather.height
    return (
        at_least(
            plan.layup.breather.margin,
            drop,
            "mm",
            broken="caution",
            message=f"The breather hangs {both(plan.layup.breather.margin)} down an edge of {both(drop)}.",
            change="breather.margin",
            remedy="Cut it large enough to drape over the edges down to the platen.",
            place=Place("breather"),
        ),
    )


def _caul(plan: Plan, facts: Facts) -> tuple[Finding, ...]:
    """Caul about the size of the work."""
    if plan.chosen.caul is None:
        return ()
    margin = caul_reach(plan)
    if margin < limit("caul.short_of_panel"):
        return (
            at_least(
                margin,
                limit("caul.short_of_panel"),
                "mm",
                broken="caution",
                message=f"The caul ends {both(-margin)} short of the core's edge.",
                change="caul.margin",
                remedy="Make the caul as large as the core, or up to 3 mm larger.",
                place=Place("caul"),
            ),
        )
    return (
        at_most(
            margin,
            limit("caul.past_panel_most"),
            "mm",
            broken="caution",
            message=f"The caul reaches {both(margin)} past the core.",
            change="caul.margin",
            remedy="Make the caul about as large as the core; it bows over the edges otherwise.",
            place=Place("caul"),
        ),
    )


def _base(plan: Plan, facts: Facts) -> tuple[Finding, ...]:
    """Platen or form past the veneer that lies on it."""
    if plan.base.kind == "bench":
        return ()
    reach = base_reach(plan)
    lower = "back" if plan.layup.face_is_up else "face"
    overhangs = {"face": plan.layup.face.overhang, "back": plan.layup.back.overhang}
    overhang = overhangs[lower] if lower in plan.layup.laid else 0.0
    least = overhang + (limit("form.past_panel") if plan.base.kind == "form" else limit("platen.past_veneer"))
    key = "form.margin" if plan.base.kind == "form" else "platen.margin"
    return (
        at_least(
            reach,
            least,
            "mm",
            broken="stop" if reach < 0.0 else "caution",
            message=f"The {plan.base.kind} reaches {both(reach)} past the core; {both(least)} is the least.",
            change=key,
            remedy=f"Make the {plan.base.kind} larger, or cut the overhang of the lower veneer shorter.",
            place=Place(plan.base.kind),
        ),
    )


def _absorbent(plan: Plan, facts: Facts) -> tuple[Finding, ...]:
    """Paper draws water only through a release that lets it through."""
    paper, release = plan.chosen.absorbent, plan.chosen.release
    is_there = plan.stack.find("absorbent") is not None and paper is not None and paper.kind == "absorbent"
    if not is_there or release is None or plan.chosen.adhesive.water_fraction <= 0.1:
        return ()
    return (
        holds(
            release.lets_water,
            broken="caution",
            message=f"The paper lies behind {release.name}, which lets {'' if release.lets_water else 'no '}water through.",
            change="release.material",
            remedy="Use waxed or parchment paper or perforated film as release, or count the paper as a cushion only.",
            place=Place("absorbent"),
        ),
    )


RULES = (
    Rule(
        key="release.cover",
        title="release past the veneer",
        why="Squeezed-out glue sticks the work to the plates where no release lies.",
        source=COMMON_PRACTICE,
        find=_release,
    ),
    Rule(
        key="breather.reach",
        title="breather past the edges",
        why="The film seals itself against an edge that has no breather, and air stays behind.",
        source=COMMON_PRACTICE,
        find=_breather_reach,
    ),
    Rule(
        key="breather.drape",
        title="breather down the edges",
        why="The film seals itself to the edge of the caul and air stays behind.",
        source=COMMON_PRACTICE,
        find=_breather_drape,
    ),
    Rule(
        key="caul.size",
        title="size of the caul",
        why="A small caul starves the edges of pressure; a large one bows over them.",
        source=COMMON_PRACTICE,
        find=_caul,
    ),
    Rule(
        key="base.size",
        title="support under the work",
        why="Work that ends at the edge of what it lies on is bent down by the film.",
        source=COMMON_PRACTICE,
        find=_base,
    ),
    Rule(
        key="absorbent.behind_release",
        title="paper behind the release",
        why="Paper behind a tight release draws no water; the veneer keeps it.",
        source=COMMON_PRACTICE,
        find=_absorbent,
    ),
)
