"""Settings in a report: what the layup file says, and what holds by default, with the reason of each default."""

from collections.abc import Iterator
from itertools import groupby

from ...model.layup.layup import Layup, Settled
from ...model.layup.phrase import phrase
from ...model.layup.sections import SECTIONS
from ...model.layup.setting import settings_of
from ..document.pieces import Cell, Column, Piece, Subtitle, Table

COLUMNS = (
    Column(name="Key", share=20),
    Column(name="Holds", share=30),
    Column(name="From", share=50),
)


def setting_pieces(layup: Layup) -> tuple[Piece, ...]:
    """Every key of a layup, a table for each section of its file."""
    return tuple(_pieces(layup))


def _pieces(layup: Layup) -> Iterator[Piece]:
    for section, group in groupby(layup.settled, key=lambda one: one.key.partition(".")[0]):
        rows = tuple(_row(one) for one in group if one.value is not None)
        if rows:
            yield Subtitle(text=f"[{section}]")
            yield Table(about="", columns=COLUMNS, rows=rows)


def _row(one: Settled) -> tuple[Cell, ...]:
    section, _, name = one.key.partition(".")
    quantity = settings_of(SECTIONS[section])[name].quantity
    assert one.value is not None
    origin = "the layup file" if one.given else f"default: {one.reason} ({one.basis})"
    return (Cell(text=name), Cell(text=phrase(quantity, one.value)), Cell(text=origin))
