"""From a layup to what a command tells: its plan, its report and its checks.

A shape that cannot exist has no plan. It is a stop like any other, so that whoever reads the checks learns what to
change; nothing else can be told of it.
"""

from dataclasses import dataclass
from typing import Literal

from ..model.checks.rule import Check, Place
from ..model.errors import LayupError, ShapeError
from ..model.layup.layup import Layup
from ..model.plan import Plan, plan
from ..model.report import Report, report
from ..model.source import GEOMETRY
from .read.layup_file import LayupFile, located

Verdict = Literal["stop", "caution", "ok"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Planned:
    """A plan with its report."""

    plan: Plan
    report: Report


@dataclass(frozen=True, slots=True, kw_only=True)
class Examined:
    """A layup and what was found about it.

    Parameters
    ----------
    layup
        What was asked for.
    planned
        Its plan and report; None where the shape cannot exist.
    checks
        All checks, worst first.
    """

    layup: Layup
    planned: Planned | None
    checks: tuple[Check, ...]

    @property
    def verdict(self) -> Verdict:
        """Worst that a check says."""
        said = {check.status for check in self.checks}
        return "stop" if "stop" in said else "caution" if "caution" in said else "ok"


def examine_file(file: LayupFile) -> Examined:
    """Plan the layup of a file and hold it against every rule.

    Raises
    ------
    LayupError
        A value that the file gives a material is one that no material has; the error knows the line.
    """
    try:
        return examine(file.layup)
    except LayupError as error:
        raise located(error, file.text) from None


def examine(layup: Layup) -> Examined:
    """Plan a layup and hold it against every rule.

    Raises
    ------
    LayupError
        A value that replaces that of a material is one that no material has.
    """
    try:
        found = plan(layup)
    except ShapeError as error:
        return Examined(layup=layup, planned=None, checks=(_impossible(layup, str(error)),))
    told = report(found)
    return Examined(layup=layup, planned=Planned(plan=found, report=told), checks=told.checks)


def bagged(examined: Examined) -> Planned | str:
    """Give the plan of a layup whose bag is designed, or say why there is none."""
    planned = examined.planned
    if planned is None:
        return examined.checks[0].message
    if planned.plan.is_undercut:
        return "The form of this bend is undercut; neither form nor bag is designed here."
    return planned


def _impossible(layup: Layup, text: str) -> Check:
    """Say that no such layup can be built."""
    change = _change(layup)
    return Check(
        key="shape.possible",
        title="shape that can exist",
        status="stop",
        value=0.0,
        limit=1.0,
        margin=-1.0,
        unit="",
        message=f"{text[:1].upper()}{text[1:]}{'' if text.endswith('.') else '.'}",
        why="Such a layup cannot be built, so there is nothing to cut, to draw or to size.",
        change=change,
        remedy=REMEDIES[change],
        place=Place(""),
        source=GEOMETRY,
    )


def _change(layup: Layup) -> str:
    """Key whose value leaves no shape: a margin that eats its plate up, else the bend."""
    smallest = min(layup.panel.length, layup.panel.width) + 2.0 * layup.substrate.trim
    for key, margin in (("caul.margin", layup.caul.margin), ("platen.margin", layup.platen.margin)):
        # an edge that is no rectangle may fold back on itself long before nothing is left of it
        if margin < 0.0 and (layup.panel.outline not in STRAIGHT or smallest + 2.0 * margin <= 0.0):
            return key
    if layup.is_tapered:
        return "taper"
    return layup.bend_key if layup.is_bent else "panel.length"


STRAIGHT = ("rectangle", "rounded rectangle")
"""Outlines that shrink until nothing is left of them."""

REMEDIES = {
    "caul.margin": "Let the caul end less far inside the panel.",
    "platen.margin": "Let the platen end less far inside the panel.",
    "bend.radius": "Make the radius larger or the stack thinner.",
    "bend.chain": "Make the radius larger there or the stack thinner.",
    "bend.ordinates": "Make the curve wider there or the stack thinner.",
    "bend.file": "Draw the curve wider there or make the stack thinner.",
    "bend.rise": "Make the rise smaller or the stack thinner.",
    "taper": "Give both ends the same turns in the same order, larger radii, or a thinner stack.",
    "panel.length": "Correct the size that is named.",
}
"""What to do, by the key that is to be changed."""
