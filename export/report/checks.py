"""Checks in a report: what asks for a change at length, what holds in a table, the rest by name."""

import math
from collections.abc import Iterator

from ...model.checks.rule import Check
from ...model.report import Report
from ...model.telling import tell_number
from ...model.wording import decimal
from ..document.pieces import Cell, Column, Piece, Remark, Sentences, Subtitle, Table

COLUMNS = (
    Column(name="Check", share=22),
    Column(name="What was found", share=44),
    Column(name="Limit", share=17),
    Column(name="Margin", share=17),
)


def check_pieces(report: Report) -> tuple[Piece, ...]:
    """All checks of a report, worst first."""
    return tuple(_pieces(report.checks))


def _pieces(checks: tuple[Check, ...]) -> Iterator[Piece]:
    yield from (remark(check) for check in checks if check.status in ("stop", "caution"))
    held = tuple(check for check in checks if check.status == "ok")
    if held:
        yield Subtitle(text=f"{len(held)} checks hold")
        yield Table(about="", columns=COLUMNS, rows=tuple(_row(check) for check in held))
    aside = dict.fromkeys(check.title for check in checks if check.status == "not applicable")
    if aside:
        yield Subtitle(text="Not applicable")
        yield Sentences(texts=("; ".join(aside) + ".",))


def remark(check: Check) -> Remark:
    """One check at length."""
    change = f"{check.change}: {check.remedy}" if check.change else check.remedy
    numbers = (("Found", check.value), ("limit", check.limit), ("margin", check.margin))
    told = "; ".join(f"{word} {_told(number, check.unit, word)}" for word, number in numbers)
    return Remark(
        status=check.status,
        title=check.title,
        message=check.message,
        numbers=f"{told}." if check.unit else "",
        change=change,
        why=check.why,
        source=str(check.source),
    )


def _row(check: Check) -> tuple[Cell, ...]:
    limit, margin = (
        (_told(check.limit, check.unit, "limit"), _told(check.margin, check.unit, "margin"))
        if check.unit
        else ("", "")
    )
    return (
        Cell(text=check.title, below=str(check.source)),
        Cell(text=check.message),
        Cell(text=limit),
        Cell(text=margin),
    )


def _told(number: float, unit: str, word: str) -> str:
    if not math.isfinite(number):
        return "none"
    # what is left between two temperatures is a difference: it has no zero to shift by
    is_difference = unit == "°C" and word == "margin"
    return f"{decimal(number, 1)} °C" if is_difference else tell_number(number, unit)
