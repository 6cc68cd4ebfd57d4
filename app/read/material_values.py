"""Values of materials that a layup file replaces: ``[values.black-walnut]`` and its keys."""

from collections.abc import Iterator
from typing import cast

from ...model.data.tables import Name, names
from ...model.errors import LayupError
from ...model.materials import Material, Wood
from ...model.materials.find import plain
from ...model.materials.kinds import KINDS
from ...model.materials.override import replace_values, units_of
from ...model.materials.shelf import take
from ..material_unit import read_property
from ..number import told
from .position import join
from .spelling import did_you_mean, listed

Override = tuple[str, str, float]
"""Key of a material, its property, and a number in internal units."""

EXAMPLE = "tables such as [values.black-walnut] with keys such as MOR"


def read_material_values(tables: object) -> tuple[Override, ...]:
    """Read the table ``values`` of a file.

    Raises
    ------
    LayupError
        It names no material or no property, or a value can't be.
    """
    if not isinstance(tables, dict):
        raise LayupError("values", told(tables), EXAMPLE)
    return tuple(one for name, table in tables.items() for one in _of_material(name, table))


def _of_material(name: str, table: object) -> Iterator[Override]:
    place = join("values", name)
    if not isinstance(table, dict):
        raise LayupError(place, told(table), EXAMPLE)
    material = material_of(_find(name, place))
    for word, value in table.items():
        yield material.key, word, _number(material, word, value, join(place, word))


def _number(material: Material, word: str, value: object, key: str) -> float:
    units = units_of(type(material))
    try:
        number = read_property(word, units[word], value) if word in units else 0.0
        replace_values(cast(Wood, material), {word: number})
    except LayupError as error:
        raise LayupError(key, error.found, error.allowed, error.hint) from None
    return number


def find_materials(name: str) -> tuple[Name, ...]:
    """Every material that goes by a name, be it its key, its name or another name for it."""
    spelled = plain(name)
    return tuple(item for item in names() if spelled in map(plain, _words(item)))


def material_of(item: Name) -> Material:
    """Material that a row of the names stands for."""
    return take(cast(type[Wood], KINDS[item.table]), item.key)


def nearest_material(name: str) -> str:
    """Ask for the nearest name that there is; nothing where none is near."""
    return did_you_mean(name, [word for item in names() for word in _words(item)])


def _words(item: Name) -> tuple[str, ...]:
    return item.key, item.name, *item.aliases


def _find(name: str, place: str) -> Name:
    """Material that a file means; a key goes before a name that others share."""
    found = find_materials(name)
    found = tuple(item for item in found if item.key == plain(name)) or found
    if len(found) > 1:
        keys = listed(item.key for item in found)
        raise LayupError(place, f"the name {told(name)}", keys, "Several materials go by that name.")
    if not found:
        allowed = "a name that underbag materials lists"
        raise LayupError(place, f"the material {told(name)}", allowed, nearest_material(name))
    return found[0]
