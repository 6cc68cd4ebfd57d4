"""Rules of staying flat: bow, cup and twist through the seasons."""

from ..layup.sections import NO_MATERIAL
from ..mechanics.laminate import PLATE
from ..plan import Plan
from ..values.flatness import SEASONS
from ..wording import both, percent
from .judge import at_most
from .rule import Facts, Finding, Place, Rule

SHAPES = {"bow": "bows {} along its length", "cup": "cups {} across its width", "twist": "twists by {}"}


def _flat(plan: Plan, facts: Facts) -> tuple[Finding, ...]:
    """Largest warp in the air that the panel lives in, against what it may do."""
    if plan.layup.is_bent:
        return ()
    panel = plan.layup.panel
    season, shape = max(
        ((season, shape) for season in SEASONS for shape in SHAPES),
        key=lambda pair: abs(facts[_key(*pair)].number),
    )
    largest = abs(facts[_key(season, shape)].number)
    return (
        at_most(
            largest,
            panel.flat_within,
            "mm",
            broken="caution",
            message=_message(plan, facts, season, largest),
            change="back.material" if plan.layup.back.material == NO_MATERIAL else "back.thickness",
            remedy=_remedy(plan, facts),
            place=Place("back" if plan.stack.find("back") else "face"),
        ),
    )


def _key(season: str, shape: str) -> str:
    return f"flatness.{season}.{shape}"


def _message(plan: Plan, facts: Facts, season: str, largest: float) -> str:
    """Say what the panel does in the worse season."""
    if largest == 0.0:
        return "Both faces are alike: the panel stays flat in every air."
    air = percent(plan.layup.panel.driest if season == "driest" else plan.layup.panel.dampest)
    seen = [
        words.format(both(abs(facts[_key(season, shape)].number)))
        for shape, words in SHAPES.items()
        if abs(facts[_key(season, shape)].number) > 0.05 * largest
    ]
    told = f"In the {season} air ({air}) the panel {' and '.join(seen)} at the most{_saddle(facts)}."
    if "flatness.roll" in facts:
        told += (
            " That is more than its thickness, where the linear theory ends: expect a roll that bows about "
            f"{both(abs(facts['flatness.roll'].number))}."
        )
    return told


def _saddle(facts: Facts) -> str:
    if facts["flatness.greater"].number * facts["flatness.lesser"].number >= 0.0:
        return ""
    return ", a saddle" if "flatness.roll" in facts else ", a saddle (a large panel snaps into a roll)"


def _remedy(plan: Plan, facts: Facts) -> str:
    """Say which back veneer would keep it flat, or which air."""
    told = "Veneer both faces alike: the same wood, thickness and grain."
    if plan.layup.back.material != NO_MATERIAL and "flatness.balancing_back" in facts:
        best, left = facts["flatness.balancing_back"].number, facts["flatness.balanced"].number
        if left <= plan.layup.panel.flat_within:
            told += f" Or make this back {both(best)} thick, which leaves {both(left)} through the seasons."
    if "flatness.band.driest" in facts:
        low, high = facts["flatness.band.driest"].number, facts["flatness.band.dampest"].number
        told += f" As it is it stays within the limit at {low:.0f} to {high:.0f} % humidity."
    return told


def _between(plan: Plan, facts: Facts) -> tuple[Finding, ...]:
    """Bow or cup of a panel that waits for its second veneer, against what the finished one may do."""
    if "between.bow" not in facts:
        return ()
    first, second = ("face", "back") if plan.layup.laid == ("face",) else ("back", "face")
    bow, cup = abs(facts["between.bow"].number), abs(facts["between.cup"].number)
    return (
        at_most(
            max(bow, cup),
            plan.layup.panel.flat_within,
            "mm",
            broken="caution",
            message=f"With the {first} alone and its glue dry, the panel bows {both(bow)} along its length and cups "
            f"{both(cup)} across its width at the most.",
            change="press.faces",
            remedy=f"Press both faces at once; or lay the {second} within the hour, or keep the panel flat under weight "
            "until then.",
            place=Place(first),
        ),
    )


RULES = (
    Rule(
        key="flatness.between",
        title="flatness between two pressings",
        why="One face dries and pulls the panel before the other is laid; a bowed panel is hard to press flat again.",
        source=PLATE,
        find=_between,
    ),
    Rule(
        key="flatness.season",
        title="flatness through the seasons",
        why="Each ply swells and shrinks by its own measure; unlike faces bend the panel.",
        source=PLATE,
        find=_flat,
    ),
)
