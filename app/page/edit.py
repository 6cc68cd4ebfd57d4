"""Changing the text of a layup by what was typed on the page."""

import re
from collections.abc import Mapping

from ...model.errors import LayupError
from ...model.layup.sections import SECTIONS
from ...model.layup.setting import Setting, settings_of
from ..number import quoted
from ..phrase import row_text
from ..read.entry import ROWS
from ..read.layup_file import BARE_UNITS
from ..read.syntax import parse
from ..read.write_back import Written, set_path, unset_path

Changes = Mapping[str, str | None]
"""What was typed, by dotted key; nothing where the default is to hold again."""

PLAIN_NUMBER = re.compile(r"-?[0-9]{1,9}(\.[0-9]{1,9})?")
OTHER_SYSTEM = re.compile(r"(?<=\S) \([^()]*\)$")
"""What the page itself shows behind a size, such as ``600 mm (23 5/8")``: the same once more in the other system."""
BARE = ("length", "angle", "share", "count", "number")
"""Quantities whose number may stand in the file without a unit."""


def edited(text: str, changes: Changes) -> str:
    """Text with changes made; everything else in it stays as it is.

    Raises
    ------
    LayupError
        There is no such key, or the text does not let it be changed alone.
    """
    for key, typed in changes.items():
        path = tuple(key.split("."))
        if typed is None or not typed.strip():
            text = unset_path(text, _known(path))
        else:
            text = _set(text, _known(path), typed.strip())
    # a table of the bend with nothing in it would still ask for a bend
    for table in ("taper", "bend"):
        if parse(text).get(table) == {}:
            text = unset_path(text, (table,))
    return text


def setting_at(path: tuple[str, ...]) -> Setting | None:
    """Setting of a key in one of the sections."""
    if len(path) == 2 and path[0] in SECTIONS:
        return settings_of(SECTIONS[path[0]]).get(path[1])
    return None


def _known(path: tuple[str, ...]) -> tuple[str, ...]:
    is_value = len(path) == 3 and path[0] == "values" and all(path)
    if path in (("title",), ("unit",)) or is_value or setting_at(path) is not None:
        return path
    raise LayupError("", f"the key {quoted('.'.join(path))}", "a key of the layup file")


def _set(text: str, path: tuple[str, ...], typed: str) -> str:
    if path == ("unit",):
        return _in_unit(text, typed)
    return set_path(text, path, _written(path, typed))


def _written(path: tuple[str, ...], typed: str) -> Written:
    """Take a plain number as a number where it needs no unit, everything else as a text."""
    setting = setting_at(path)
    if setting is None or setting.quantity not in ("text", "choice", "chain", "lengths", "points"):
        typed = OTHER_SYSTEM.sub("", typed)
    is_bare = (setting is None and path[0] == "values") or (setting is not None and setting.quantity in BARE)
    if is_bare and PLAIN_NUMBER.fullmatch(typed):
        return float(typed) if "." in typed else int(typed)
    return typed


def _in_unit(text: str, unit: str) -> str:
    """Let bare numbers mean another unit; lengths that were bare keep their size by naming the old one."""
    tables = parse(text)
    old = tables.get("unit", BARE_UNITS[0])
    if unit == old:
        return text
    for name, section in SECTIONS.items():
        table = tables.get(name)
        for word, setting in settings_of(section).items():
            value = table.get(word) if isinstance(table, dict) else None
            if setting.quantity == "length" and value is not None and not _names_unit(value):
                text = set_path(text, (name, word), f"{value} {old}")
            if setting.quantity in ROWS and value is not None:
                text = set_path(text, (name, word), row_text(ROWS[setting.quantity](value, old)))
    return set_path(text, ("unit",), unit)


def _names_unit(value: object) -> bool:
    """Whether a length says its own unit: a letter or an inch or foot mark is in it."""
    return (
        isinstance(value, str)
        and re.search(r"""[A-Za-z"'\u2032\u2033\u2019\u201d\u02ba]""", value) is not None
    )
