"""Where the values of a material come from, for reports and for the list of materials."""

from ..data.fact import Fact
from ..data.tables import facts_in, note_on
from ..source import GIVEN, Source
from .kinds import TABLES, Material
from .shelf import column_of


def facts_of(material: Material) -> tuple[Fact, ...]:
    """Rows of the table that a material was made of, without what the user replaced."""
    kind = type(material)
    replaced = {column_of(kind, name) for name in material.given}
    return tuple(fact for fact in facts_in(TABLES[kind], material.key) if fact.name not in replaced)


def sources_of(material: Material) -> dict[str, Source]:
    """Source of every field of a material that has one; ``given`` for what the user replaced."""
    kind = type(material)
    by_property = {fact.name: fact.source for fact in facts_in(TABLES[kind], material.key)}
    found = {name: by_property.get(column_of(kind, name)) for name in kind.__dataclass_fields__}
    return {name: source for name, source in found.items() if source} | dict.fromkeys(material.given, GIVEN)


def notes_of(material: Material) -> tuple[str, ...]:
    """Remarks of the table on a material and on its values, in the order of the table."""
    general = note_on(TABLES[type(material)], material.key)
    remarks = [f"{fact.name}: {fact.note}" for fact in facts_of(material) if fact.note]
    return (general, *remarks) if general else tuple(remarks)
