"""Changing one key of a layup file while its comments, its order and everything else stay as they are."""

from typing import Any, cast

import tomlkit
from tomlkit.exceptions import TOMLKitError

from ...model.errors import LayupError
from .syntax import parse

Written = str | int | float | bool
"""What a key may be set to: a text, or a number in the unit that the file names."""


def set_key(text: str, table: str, key: str, value: Written) -> str:
    """Set one key of a table; a table that is not there yet is put behind the others.

    Raises
    ------
    LayupError
        The text is no layup file, or is written in a way that does not let the key be set alone.
    """
    wanted = parse(text)
    inner = wanted.setdefault(table, {})
    _demand_table(table, inner)
    inner[key] = value
    document = _document(text)
    if table not in document:
        document.append(table, tomlkit.table())
    cast(dict[str, Any], document[table])[key] = value
    return _kept(document.as_string(), wanted, f"{table}.{key}")


def unset_key(text: str, table: str, key: str) -> str:
    """Take one key out of a table, so that its default holds; a table that is left empty stays.

    Raises
    ------
    LayupError
        The text is no layup file, or is written in a way that does not let the key be taken out alone.
    """
    wanted = parse(text)
    if key not in wanted.get(table, {}):
        return text
    _demand_table(table, wanted[table])
    del wanted[table][key]
    document = _document(text)
    del cast(dict[str, Any], document[table])[key]
    return _kept(document.as_string(), wanted, f"{table}.{key}")


def _document(text: str) -> tomlkit.TOMLDocument:
    try:
        return tomlkit.parse(text)
    except (TOMLKitError, RecursionError) as error:
        raise LayupError("", f"a text that can't be changed here ({error})", "a layup file") from None


def _demand_table(name: str, table: object) -> None:
    if not isinstance(table, dict):
        raise LayupError(name, "no table", f"a table [{name}] with its keys below it")


def _kept(text: str, wanted: dict[str, Any], key: str) -> str:
    """Text, once it says what it should and nothing else."""
    if parse(text) != wanted:
        hint = "Change it by hand, or write its table in brackets, each key on a line of its own."
        raise LayupError(key, "a table written in an unusual way", "a key that can be changed alone", hint)
    return text
