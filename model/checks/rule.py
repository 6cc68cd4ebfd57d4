"""Rules, what they find, and the checks that people read.

A rule is a frozen record and one small pure function; the function compares a value of the plan with a limit and
gives findings, none where the rule does not apply. The mechanics computes; a rule compares.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Literal

from ..plan import Plan
from ..source import Source
from ..units import Mm
from ..value import Value

Status = Literal["stop", "caution", "ok", "not applicable"]
STATUSES: tuple[Status, ...] = ("stop", "caution", "ok", "not applicable")
"""Worst first."""

Facts = Mapping[str, Value]
"""The values of a plan by key."""


@dataclass(frozen=True, slots=True)
class Place:
    """Where in the layup something is: a layer, and a place on its sheet (mm from the middle)."""

    layer: str
    t: Mm = 0.0
    w: Mm = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """What a rule finds at one place.

    Parameters
    ----------
    status
        Verdict.
    value, limit, margin
        The number, what it is held against, and how much is left (below zero: missing); internal units.
    unit
        Symbol of their unit; empty where nothing is measured.
    message
        What is so, in one sentence.
    change
        Key of the layup file to change; empty where nothing needs to be.
    remedy
        What to do, in one sentence; empty where nothing needs to be done.
    place
        Where it is.
    """

    status: Status
    value: float
    limit: float
    margin: float
    unit: str
    message: str
    change: str
    remedy: str
    place: Place


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """One rule of the trade or of mechanics.

    Parameters
    ----------
    key
        Stable dotted key.
    title
        What it looks at, in a few words.
    why
        What happens where it is broken, in one sentence.
    source
        On what ground it stands.
    find
        The function that holds a plan against it.
    """

    key: str
    title: str
    why: str
    source: Source
    find: Callable[[Plan, Facts], tuple[Finding, ...]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Check:
    """One finding with its rule: what people and programs read."""

    key: str
    title: str
    status: Status
    value: float
    limit: float
    margin: float
    unit: str
    message: str
    why: str
    change: str
    remedy: str
    place: Place
    source: Source


NOT_APPLICABLE = Finding(
    status="not applicable",
    value=0.0,
    limit=0.0,
    margin=0.0,
    unit="",
    message="",
    change="",
    remedy="",
    place=Place(""),
)


OF_FORM_AND_BAG = ("bag.", "base.", "edge.easing", "form.", "valve.")
"""Beginnings of the keys of rules that judge form or bag, which are not designed past the half round."""


def _found(rule: Rule, plan: Plan, facts: Facts) -> tuple[Finding, ...]:
    if plan.is_undercut and rule.key.startswith(OF_FORM_AND_BAG):
        return (NOT_APPLICABLE,)
    return rule.find(plan, facts) or (NOT_APPLICABLE,)


def run_rules(rules: tuple[Rule, ...], plan: Plan, facts: Facts) -> tuple[Check, ...]:
    """Hold a plan against all rules; worst first, then in the order of the rules."""
    checks = [
        Check(
            key=rule.key,
            title=rule.title,
            status=finding.status,
            value=finding.value,
            limit=finding.limit,
            margin=finding.margin,
            unit=finding.unit,
            message=finding.message,
            why=rule.why,
            change=finding.change,
            remedy=finding.remedy,
            place=finding.place,
            source=rule.source,
        )
        for rule in rules
        for finding in _found(rule, plan, facts)
    ]
    return tuple(sorted(checks, key=lambda check: STATUSES.index(check.status)))
