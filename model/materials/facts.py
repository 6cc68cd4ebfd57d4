"""Where the values of a material come from, for reports and for the list of materials."""

from ..data.tables import Fact
from ..source import GIVEN, Source
from .shelf import COLLECTED, FROM_PRINT, facts_by_key
from .types import Material, Wood


def facts_of(material: Material) -> tuple[Fact, ...]:
    """Rows of the table that a material was made of, without what the user replaced."""
    replaced = {FROM_PRINT[name][0] if _is_from_print(material, name) else name for name in material.given}
    return tuple(fact for fact in facts_by_key(type(material))[material.key] if fact.property not in replaced)


def sources_of(material: Material) -> dict[str, Source]:
    """Source of every field of a material; ``given`` for what the user replaced."""
    by_property = {fact.property: fact.source for fact in facts_by_key(type(material))[material.key]}
    sources = {}
    for name in material.__dataclass_fields__:
        column = FROM_PRINT[name][0] if _is_from_print(material, name) else COLLECTED.get(name, name)
        if name in material.given:
            sources[name] = GIVEN
        elif column in by_property:
            sources[name] = by_property[column]
    return sources


def notes_of(material: Material) -> tuple[str, ...]:
    """Remarks of the table on a material, in its order."""
    return tuple(f"{fact.property}: {fact.note}" for fact in facts_of(material) if fact.note)


def _is_from_print(material: Material, name: str) -> bool:
    return isinstance(material, Wood) and name in FROM_PRINT
