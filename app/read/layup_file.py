"""A layup file: its text, and the layup that it asks for."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from os import scandir
from os.path import basename, dirname, isdir
from typing import Any

from ...model.errors import LayupError
from ...model.layup.layup import BareUnit, Layup
from ...model.layup.sections import SECTIONS
from ...model.layup.setting import Entry, settings_of
from ...model.layup.settle import settle
from ...model.shape.pathed import Pathed
from ...model.shape.profile import Profile
from ..number import told
from .entry import read_entry
from .material_values import read_material_values
from .position import join, nearest, positions
from .spelling import demand_known, did_you_mean
from .syntax import decoded, parse

UNTITLED = "untitled layup"
LONGEST_TITLE = 120
LARGEST_FILE = 1_000_000
"""Bytes that a layup file may have; a hand-written one has a thousandth of it."""
_ENDLESS_NAME = re.compile(r"(?<![\w\"'-])(?:[\w\"'-]+[ \t]*\.[ \t]*){40}")
"""A name of so many parts with dots between them is no key; the library takes minutes over thousands of them."""
BARE_UNITS: tuple[BareUnit, ...] = ("mm", "in")
TOP = ("title", "unit", *SECTIONS, "values")
"""What may stand at the top of a file."""


@dataclass(frozen=True, slots=True)
class LayupFile:
    """A layup with the text that asks for it."""

    text: str
    layup: Layup

    def lines(self) -> Mapping[str, int]:
        """Line of every key that stands in the file, counted from 1."""
        return {key: place.line for key, place in positions(self.text).items()}


def read_file(path: str) -> LayupFile:
    """Read the layup file of a path.

    Raises
    ------
    LayupError
        There is no such file, it can't be read, or it asks for no layup; the error knows the line.
    """
    return read_bytes(_bytes(path), dirname(path) or ".")


def read_bytes(data: bytes, folder: str | None = None) -> LayupFile:
    """Read the bytes of a layup file; drawings that it names lie in its folder, None where it has none yet.

    Raises
    ------
    LayupError
        They ask for no layup; the error knows the line.
    """
    if len(data) > LARGEST_FILE:
        raise LayupError("", "a very large file", f"a layup file of up to {LARGEST_FILE // 1000} kB")
    text = decoded(data)
    return LayupFile(text, read_text(text, folder))


def read_text(text: str, folder: str | None = None) -> Layup:
    """Read the layup that a text asks for; drawings that it names lie in the folder.

    Raises
    ------
    LayupError
        The text asks for no layup; the error knows the line.
    """
    endless = _ENDLESS_NAME.search(text)
    if endless:
        line = text.count("\n", 0, endless.start()) + 1
        raise LayupError("", "a name of very many parts", "names such as [panel] and length", "", line)
    tables = parse(text)
    try:
        return _layup(tables, folder)
    except LayupError as error:
        raise located(error, text) from None


def located(error: LayupError, text: str) -> LayupError:
    """Give an error the line of the text that its key stands in, or that the table around it begins in."""
    place = nearest(positions(text), error.key)
    return error.at_line(place.line) if place else error


def _layup(tables: Mapping[str, Any], folder: str | None) -> Layup:
    for name in tables:
        key = join("", name)
        demand_known(
            name, TOP, key, f"the {'table' if isinstance(tables[name], dict) else 'key'} {told(name)}"
        )
    unit = _unit(tables.get("unit", "mm"))
    asked = {name: _section(name, tables[name], unit) for name in SECTIONS if name in tables}
    return settle(
        asked,
        title=_title(tables.get("title", UNTITLED)),
        unit=unit,
        overrides=read_material_values(tables.get("values", {})),
        drawn=_curve(asked.get("bend", {}), folder),
        drawn_edge=_outline(asked.get("panel", {}), folder),
    )


def _outline(panel: Mapping[str, Entry], folder: str | None) -> Pathed | None:
    """Outline of the drawing that the panel names; None where it names none."""
    if "outline_file" not in panel:
        return None
    from .drawn_file import read_outline

    return read_outline(panel["outline_file"], panel.get("outline_file_unit"), folder)


def _curve(bend: Mapping[str, Entry], folder: str | None) -> Profile | None:
    """Curve of the drawing that the bend names; None where it names none."""
    if "file" not in bend:
        return None
    # a drawing takes libraries that no other layup needs
    from .drawn_file import read_curve

    return read_curve(bend["file"], bend.get("file_unit"), folder)


def _title(title: object) -> str:
    if not isinstance(title, str) or not title.isprintable() or len(title) > LONGEST_TITLE:
        allowed = f"a text in quotes, in one line, of up to {LONGEST_TITLE} characters"
        raise LayupError("title", told(title), allowed)
    return title.strip() or UNTITLED


def _unit(unit: object) -> BareUnit:
    for known in BARE_UNITS:
        if unit == known:
            return known
    hint = did_you_mean(unit, BARE_UNITS) if isinstance(unit, str) else ""
    raise LayupError("unit", told(unit), '"mm" or "in"', hint or "It says what a bare number means.")


def _section(name: str, table: object, unit: BareUnit) -> dict[str, Entry]:
    """Read one table of the file into internal units."""
    if not isinstance(table, dict):
        raise LayupError(name, told(table), f"a table [{name}] with its keys below it")
    settings = settings_of(SECTIONS[name])
    asked: dict[str, Entry] = {}
    for word, value in table.items():
        key = join(name, word)
        demand_known(word, settings, key, f"the key {told(word)}")
        asked[word] = read_entry(key, settings[word], value, unit)
    return asked


def _bytes(path: str) -> bytes:
    """Bytes of a file, a few more than allowed at the most."""
    if isdir(path):
        raise LayupError("", "a folder", "a layup file", "Name the file in it.")
    try:
        with open(path, "rb") as stream:
            return stream.read(LARGEST_FILE + 1)
    except FileNotFoundError:
        hint = _near_by(path) or "underbag start writes a file to begin with."
        raise LayupError("", "no file of that name", "a layup file", hint) from None
    except (OSError, ValueError) as error:
        # a null character in a path is a ValueError
        found = getattr(error, "strerror", None) or "a name that no file can have"
        raise LayupError("", found[0].lower() + found[1:], "a layup file that can be read") from None


def _near_by(path: str) -> str:
    """Nearest name in the folder of a path."""
    try:
        with scandir(dirname(path) or ".") as entries:
            return did_you_mean(basename(path), [entry.name for entry in entries if entry.is_file()])
    except (OSError, ValueError):
        return ""
