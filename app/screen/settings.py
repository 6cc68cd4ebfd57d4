"""What holds in a layup: what its file says, and what is a default, with the reason of each."""

from collections.abc import Iterator
from itertools import groupby

from ...model.layup.layup import Layup, Settled
from ...model.layup.panel_edge import GIVEN_BY
from ...model.layup.phrase import phrase
from ...model.layup.sections import NO_MATERIAL, SECTIONS
from ...model.layup.setting import Setting, settings_of
from ..columns import WIDTH, ends, left, tied, width, wrap
from .ink import Ink

TABLE = 12
"""Columns of the name of a table."""

IDLE = {
    f"panel.{key}": tuple(name for name, keys in GIVEN_BY.items() if key in keys)
    for key in ("corner", "exponent", "fillet")
}
"""Keys with a starting value that says nothing but of some outlines."""


def setting_lines(layup: Layup, ink: Ink) -> Iterator[str]:
    """Every setting in a few lines a table; a star marks a default."""
    yield ink(ends("SETTINGS", "* default: not in the file"), "heading")
    for table, group in groupby(_telling(layup), key=_table):
        words = [_kept(f"{_name(one)} {_said(one)}{'' if one.given else '*'}") for one in group]
        yield from wrap(", ".join(words), " " * TABLE, "  " + left(table, TABLE - 2))


def setting_reasons(layup: Layup, ink: Ink) -> Iterator[str]:
    """Every setting on a line of its own, with its reason where it is a default."""
    yield ink(ends("SETTINGS", "* default: not in the file"), "heading")
    for table, group in groupby(_telling(layup), key=_table):
        yield f"  [{table}]"
        for one in group:
            mark = " " if one.given else "*"
            yield from wrap(f"{_name(one)} = {_said(one)}", "        ", f"   {mark}")
            if not one.given:
                reason = f"{one.reason} ({one.basis})"
                yield from (ink(line, "quiet") for line in wrap(reason, "        "))


def _kept(words: str) -> str:
    """Words kept in one line, but for a chain of pieces that no line holds."""
    return tied(words) if width(words) <= WIDTH - TABLE else words


def _telling(layup: Layup) -> Iterator[Settled]:
    """Take the settings that say something: no corners of a square panel, no details of a layer that is left out."""
    by_key = {one.key: one for one in layup.settled}
    for one in layup.settled:
        material = by_key.get(f"{_table(one)}.material")
        is_left_out = material is not None and material.value == NO_MATERIAL
        is_idle = one.key in IDLE and layup.panel.outline not in IDLE[one.key]
        is_stranger = _table(one) == ("platen" if layup.is_bent else "form")
        if one.value is not None and not is_idle and not is_stranger and (one is material or not is_left_out):
            yield one


def _said(one: Settled) -> str:
    assert one.value is not None
    return phrase(_setting(one).quantity, one.value)


def _setting(one: Settled) -> Setting:
    return settings_of(SECTIONS[_table(one)])[_name(one)]


def _table(one: Settled) -> str:
    return one.key.partition(".")[0]


def _name(one: Settled) -> str:
    return one.key.partition(".")[2]
