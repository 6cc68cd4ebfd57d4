"""The checks as people read them: what is wrong, and what to change where."""

from collections.abc import Iterator, Mapping

from ...model.checks.rule import Check, Status
from ..columns import WIDTH, ends, wrap
from ..examine import Examined
from .ink import Ink, Style

STYLES: Mapping[Status, Style] = {
    "stop": "stop",
    "caution": "caution",
    "ok": "ok",
    "not applicable": "quiet",
}


def verdict_line(examined: Examined) -> str:
    """Say in one line how a layup stands."""
    stops = _number(examined, "stop")
    cautions = _number(examined, "caution")
    held = _number(examined, "ok")
    if stops:
        rest = f", {_counted(cautions, 'caution')}" if cautions else ""
        return f"STOP: {_counted(stops, 'check')} say{'s' if stops == 1 else ''} stop{rest}. Do not press this as it is."
    if cautions:
        return f"CAUTION: {_counted(cautions, 'caution')}, no stop. {_counted(held, 'check')} hold."
    return f"OK: all {_counted(held, 'check')} hold. Nothing to change."


def open_checks(examined: Examined, lines: Mapping[str, int], ink: Ink) -> Iterator[str]:
    """Tell the checks that say stop or caution, worst first, each with what to change."""
    for check in examined.checks:
        if check.status in ("stop", "caution"):
            yield ""
            yield from _at_length(check, lines, ink)


def kept_checks(examined: Examined, ink: Ink) -> Iterator[str]:
    """Tell the checks that hold, with what was found, and name those that do not apply."""
    yield from ("", ink("CHECKS THAT HOLD", "heading"))
    for check in examined.checks:
        if check.status == "ok":
            yield from wrap(check.message, "     ", "  ok ")
    aside = [check.title for check in examined.checks if check.status == "not applicable"]
    if aside:
        yield from wrap(", ".join(aside), "     ", "  not applicable: ")


def _at_length(check: Check, lines: Mapping[str, int], ink: Ink) -> Iterator[str]:
    word = check.status.upper()
    rest = ends(f"  {check.title}", _where(check.change, lines), WIDTH - len(word))
    yield ink(word, STYLES[check.status]) + rest
    yield from wrap(check.message, "  ")
    if check.remedy:
        yield from wrap(check.remedy, "     ", "  -> ")
    yield from (ink(line, "quiet") for line in wrap(f"Why: {check.why}", "     "))


def _where(change: str, lines: Mapping[str, int]) -> str:
    """Say which key to change, and where it stands."""
    table, _, key = change.partition(".")
    if not key:
        return ""
    return f"[{table}] {key}, line {lines[change]}" if change in lines else f"[{table}] {key}, a default"


def _number(examined: Examined, status: Status) -> int:
    return sum(check.status == status for check in examined.checks)


def _counted(number: int, word: str) -> str:
    return f"{number} {word}{'' if number == 1 else 's'}"
