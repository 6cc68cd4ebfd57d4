"""Rules of the film that a new bag is cut from."""

from ..plan import Plan
from ..source import COMMON_PRACTICE
from ..wording import both
from .judge import at_least, holds
from .rule import Facts, Finding, Place, Rule


def _seam(plan: Plan, facts: Facts) -> tuple[Finding, ...]:
    """Width of the seams against what the film takes."""
    if plan.film is None:
        return ()
    film = plan.chosen.film
    return (
        at_least(
            plan.film.seam,
            film.least_seam,
            "mm",
            broken="caution",
            message=f"The seams are {both(plan.film.seam)} wide; {film.name} is {film.seaming}.",
            change="bag.seam",
            remedy=f"Make them {both(film.least_seam)} or more.",
            place=Place("film", 0.0, 0.5 * plan.base.outline.width),
        ),
    )


def _stock(plan: Plan, facts: Facts) -> tuple[Finding, ...]:
    """A tube against the widths in which tubes are sold."""
    if plan.film is None or plan.bag.kind != "tube":
        return ()
    film, given = plan.chosen.film, plan.layup.bag.roll
    needed = plan.bag.needed_width
    if plan.bag.tube is not None:
        words = f"A tube {both(plan.bag.tube)} wide is {both(plan.bag.tube - needed)} wider than needed."
    elif given is not None:
        words = f"The tube is {both(given)} wide, and {both(needed)} are needed."
    elif film.stock_tubes:
        words = (
            f"The widest tube of {film.name} is {both(max(film.stock_tubes))}, and {both(needed)} are needed."
        )
    else:
        words = f"There is no tube of {film.name}."
    return (
        holds(
            plan.bag.tube is not None,
            broken="caution",
            message=words if plan.bag.tube else f"{words} Two sheets are joined instead.",
            change="bag.kind",
            remedy='Say kind = "joined sheets", or roll if you have a wider tube.',
            place=Place("film", 0.0, 0.5 * plan.base.outline.width),
        ),
    )


RULES = (
    Rule(
        key="bag.seam",
        title="width of the seams",
        why="A narrow seam peels open under the pull of the film, and one pinhole in it spoils the vacuum.",
        source=COMMON_PRACTICE,
        find=_seam,
    ),
    Rule(
        key="bag.stock",
        title="film that can be bought",
        why="A tube has no seams at its sides, but only comes in a few widths.",
        source=COMMON_PRACTICE,
        find=_stock,
    ),
)
