"""Rules of the glue's water and of glue that comes through: paper over the face, pores, and a way out."""

from ..plan import Plan
from ..source import COMMON_PRACTICE
from ..values.water import bleed_limit, drawing_paper, gives_water, has_way_out, paper_draws
from ..wording import both, percent, spread
from .judge import at_least, at_most, holds
from .limits import limit
from .rule import Facts, Finding, Place, Rule


def _sheets(plan: Plan, facts: Facts) -> tuple[Finding, ...]:
    """Sheets of paper over the upper veneer: for its water, and for a sheet of many pieces."""
    layup, upper = plan.layup, plan.plies[-1]
    is_cut_off = drawing_paper(plan) is not None and layup.absorbent.sheets > 0 and not paper_draws(plan)
    if upper.key not in ("face", "back") or not gives_water(plan) or is_cut_off:
        return ()
    pieces = (layup.face if upper.key == "face" else layup.back).pieces
    many = int(limit("paper.many")) if pieces >= limit("paper.pieces") else 0
    through = facts[f"water.{upper.key}.through"].number
    needed = int(facts["paper.sheets"].number) if "paper.sheets" in facts else int(through > 0.0)
    laid = layup.absorbent.sheets if drawing_paper(plan) is not None else 0
    over = f"{laid} sheet{'' if laid == 1 else 's'} of paper lie{'s' if laid == 1 else ''} over it"
    if many > needed:
        message = f"The {upper.name} is joined of {pieces} pieces; {over}."
        remedy = "Lay five or six sheets of blank newsprint: water and glue come through the joints."
    else:
        message = f"Water of {spread(through)} comes through the {upper.name}; {over}."
        remedy = f"Lay {needed} or more, behind a release that lets water through, or spread less glue."
    return (
        at_least(
            float(laid),
            float(max(needed, many)),
            "",
            broken="caution",
            message=message,
            change="absorbent.sheets" if drawing_paper(plan) is not None else "absorbent.material",
            remedy=remedy,
            place=Place("absorbent" if laid else upper.key),
        ),
    )


def _bleed(plan: Plan, facts: Facts) -> tuple[Finding, ...]:
    """Wet glue against the voids of the show face; what comes through the back harms nothing."""
    face = plan.chosen.face
    if face is None or "glue.bleed.face" not in facts:
        return ()
    filled, most = facts["glue.bleed.face"].number, bleed_limit(face)
    now, pores = plan.layup.adhesive.spread, f"{face.pores} pores" if face.pores != "none" else "no pores"
    return (
        at_most(
            filled,
            most,
            "1",
            broken="caution",
            message=f"The wet glue would fill {percent(100.0 * filled)} of the voids of {face.name} "
            f"{both(plan.layup.face.thickness)} thick; with its {pores} glue comes through above {percent(100.0 * most)}.",
            change="adhesive.spread",
            remedy=f"Spread {spread(now * most / filled)} or less, and on the core only; or seal the face's back "
            "with a thin coat that dries first, or take thicker veneer.",
            place=Place("face"),
        ),
    )


def _way_out(plan: Plan, facts: Facts) -> tuple[Finding, ...]:
    """Core or paper that takes the glue's water."""
    if not gives_water(plan):
        return ()
    return (
        holds(
            has_way_out(plan),
            broken="caution",
            message="The glue's water finds its way out of the glue lines."
            if has_way_out(plan)
            else f"The core ({plan.chosen.substrate.name}) takes no water and no paper draws it: the glue takes "
            f"{limit('time.closed'):.2g} times as long to set.",
            change="release.material",
            remedy="Lay paper behind a release that lets water through, or take a glue without water.",
            place=Place("substrate"),
        ),
    )


RULES = (
    Rule(
        key="glue.bleed",
        title="glue through the face",
        why="Glue in the pores of the show face shows under every finish.",
        source=COMMON_PRACTICE,
        find=_bleed,
    ),
    Rule(
        key="paper.sheets",
        title="sheets of paper",
        why="Water that the paper cannot hold stays in the veneer: it swells, joints open, the glue sets slowly.",
        source=COMMON_PRACTICE,
        find=_sheets,
    ),
    Rule(
        key="water.way_out",
        title="way out for the glue's water",
        why="Glue that sets by losing water cannot set while the water stays.",
        source=COMMON_PRACTICE,
        find=_way_out,
    ),
)
