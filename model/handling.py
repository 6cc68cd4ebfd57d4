"""How the bag is handled: sentences of ``data/handling.csv`` that fit a layup, in the order of the work."""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache

from .bag.size import CLOSED_KINDS
from .data.bench import usual
from .data.reasoned import reasoned_rows
from .plan import Plan
from .report import Report
from .value import Value
from .values.handling import handling_values
from .wording import mass

TOPICS = {"lift": "lift", "slide": "in", "folds": "folds", "close": "close", "store": "store"}
"""What each sentence is about, by its key, in a word."""


@dataclass(frozen=True, slots=True)
class Advice:
    """One sentence: its key, and when it holds, as words that all have to fit."""

    key: str
    when: frozenset[str]
    words: str


@cache
def all_advice() -> tuple[Advice, ...]:
    """Every sentence of the table."""
    return tuple(
        Advice(row["key"], frozenset(row["when"].split("+")), row["words"])
        for row in reasoned_rows("handling")
    )


def handling(plan: Plan) -> tuple[Advice, ...]:
    """Sentences for the bag and the work of a plan; none where the bag is not designed."""
    if plan.is_undercut:
        return ()
    bag = plan.layup.bag
    fitting = {
        "closed" if plan.bag.kind in CLOSED_KINDS else "sealed",
        "bent" if plan.layup.is_bent else "flat",
        "reusable" if plan.chosen.film.reusable else "once",
        bag.closed_by,
        "no caul" if plan.stack.find("caul") is None else "caul",
        *(("hollow",) if plan.along.is_hollow else ()),
        *(("heavy",) if _people(handling_values(plan)) > usual("lift.most") else ()),
    }
    return tuple(one for one in all_advice() if one.when <= fitting)


def told_load(report: Report) -> str:
    """What has to be lifted and by how many: all that goes into the bag, or the heaviest part where it is built up."""
    values = report.by_key()
    if "handling.part" in values:
        load = f"{mass(values['handling.part'].number)} at once at the most"
    else:
        load = f"{mass(values['handling.mass'].number)} go into the bag"
    people = _people(report.values)
    if people > usual("lift.most"):
        return f"{load}: more than people can lift"
    return f"{load}: {'one person' if people == 1 else f'{people} people'}"


def _people(values: Iterable[Value]) -> int:
    """People whom the load takes."""
    return next(round(value.number) for value in values if value.key == "handling.people")
