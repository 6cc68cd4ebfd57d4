"""Rules of the clock: wet glue against its open time, and the temperature at which it sets."""

from ..plan import Plan
from ..source import COMMON_PRACTICE
from ..wording import duration, temperature
from .judge import at_least, at_most
from .limits import limit
from .rule import Facts, Finding, Place, Rule


def _open(plan: Plan, facts: Facts) -> tuple[Finding, ...]:
    """Spreading, laying, closing and pumping against the open time of the glue."""
    if "time.wet" not in facts:
        return ()
    wet, opened = facts["time.wet"].number, facts["time.open"].number
    is_past = wet > opened
    return (
        at_most(
            wet,
            opened if is_past else limit("time.used") * opened,
            "s",
            broken="stop" if is_past else "caution",
            message=f"Spreading, laying, closing and pumping take {duration(wet)}; at "
            f"{temperature(plan.layup.press.temperature)} the glue stays open for {duration(opened)}.",
            change="press.hands" if plan.layup.press.dry_run is None else "press.dry_run",
            remedy=_remedy(plan),
            place=Place(plan.stack.of_role("adhesive")[0].key),
        ),
    )


def _remedy(plan: Plan) -> str:
    """Say what shortens the work or keeps the glue open."""
    told = "Work with more hands, press in two parts, work cooler, or take a glue that stays open longer"
    if plan.layup.press.dry_run is None:
        return f"{told}; or time a dry run and enter it as [press] dry_run."
    return f"{told}."


def _cold(plan: Plan, facts: Facts) -> tuple[Finding, ...]:
    """Temperature of glue, core and plates against the lowest at which the glue sets."""
    glue, now = plan.chosen.adhesive, plan.layup.press.temperature
    if not plan.stack.of_role("adhesive"):
        return ()
    return (
        at_least(
            now,
            glue.lowest_temperature,
            "°C",
            broken="stop",
            message=f"Glue, core and plates are at {temperature(now)}; {glue.name} sets from "
            f"{temperature(glue.lowest_temperature)} on.",
            change="press.temperature",
            remedy="Warm glue, core and plates, not only the air, or take a glue for cold shops.",
            place=Place(plan.stack.of_role("adhesive")[0].key),
        ),
    )


RULES = (
    Rule(
        key="time.open",
        title="open time of the glue",
        why="Glue that skins over before it is under pressure does not bond.",
        source=COMMON_PRACTICE,
        find=_open,
    ),
    Rule(
        key="time.cold",
        title="temperature of the glue",
        why="Too cold, glue dries to powder or never reaches its strength, however long it is pressed.",
        source=COMMON_PRACTICE,
        find=_cold,
    ),
)
