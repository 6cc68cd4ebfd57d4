"""Changing one key of a layup file while its comments, its order and everything else stay as they are."""

from collections.abc import Mapping
from typing import Any

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
    return set_path(text, (table, key), value)


def unset_key(text: str, table: str, key: str) -> str:
    """Take one key out of a table, so that its default holds; a table that is left empty stays.

    Raises
    ------
    LayupError
        The text is no layup file, or is written in a way that does not let the key be taken out alone.
    """
    return unset_path(text, (table, key))


def set_path(text: str, path: tuple[str, ...], value: Written) -> str:
    """Set one key by its path: the names of the tables around it, then its own.

    Raises
    ------
    LayupError
        The text is no layup file, or is written in a way that does not let the key be set alone.
    """
    wanted = parse(text)
    inner: Any = wanted
    for name in path[:-1]:
        inner = inner.setdefault(name, {})
        _demand_table(name, inner)
    inner[path[-1]] = value
    document = _document(text)
    place: Any = document
    for name in path[:-1]:
        if name not in place:
            place.append(name, tomlkit.table())
        place = place[name]
    place[path[-1]] = value
    return _kept(document.as_string(), wanted, path)


def unset_path(text: str, path: tuple[str, ...]) -> str:
    """Take one key out by its path; a text without it is given as it is.

    Raises
    ------
    LayupError
        The text is no layup file, or is written in a way that does not let the key be taken out alone.
    """
    wanted = parse(text)
    inner: Any = wanted
    for name in path[:-1]:
        if name not in inner:
            return text
        inner = inner[name]
        _demand_table(name, inner)
    if path[-1] not in inner:
        return text
    del inner[path[-1]]
    document = _document(text)
    place: Any = document
    for name in path[:-1]:
        place = place[name]
    del place[path[-1]]
    return _kept(document.as_string(), wanted, path)


def _document(text: str) -> tomlkit.TOMLDocument:
    try:
        return tomlkit.parse(text)
    except (TOMLKitError, RecursionError) as error:
        raise LayupError("", f"a text that can't be changed here ({error})", "a layup file") from None


def _demand_table(name: str, table: object) -> None:
    if not isinstance(table, Mapping):
        raise LayupError(name, "no table", f"a table [{name}] with its keys below it")


def _kept(text: str, wanted: dict[str, Any], path: tuple[str, ...]) -> str:
    """Text, once it says what it should and nothing else."""
    if parse(text) != wanted:
        hint = "Change it by hand, or write its table in brackets, each key on a line of its own."
        key = ".".join(path)
        raise LayupError(key, "a table written in an unusual way", "a key that can be changed alone", hint)
    return text
