"""How the bag is handled: what it takes to carry the stack, and a few words on every step."""

from collections.abc import Iterator

from ...model.handling import TOPICS, handling, told_load
from ...model.plan import Plan
from ...model.report import Report
from ..columns import ends, left, wrap
from .ink import Ink

TOPIC = 8


def handling_lines(plan: Plan, report: Report, ink: Ink) -> Iterator[str]:
    """Mass, people and advice."""
    yield ink(ends("HANDLING", told_load(report)), "heading")
    for advice in handling(plan):
        yield from wrap(advice.words, " " * (TOPIC + 2), "  " + left(TOPICS[advice.key], TOPIC))
