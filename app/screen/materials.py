"""The materials as a list by what they are for, and one of them with every value and its source."""

from collections.abc import Iterator, Mapping

from ...model.data.fact import Fact
from ...model.data.tables import Name
from ...model.materials import Material, facts_of, notes_of, sources_of
from ...model.materials.override import units_of
from ...model.materials.shelf import column_of
from ...model.source import Source
from ...model.telling import tell_other, tell_property
from ..columns import ends, left, width, wrap
from .ink import Ink

GROUPS = {
    "woods": "WOODS, for veneers and cores",
    "panels": "BOARDS, for cores, cauls, platens and forms",
    "adhesives": "ADHESIVES",
    "films": "FILMS, for the bag",
    "breathers": "BREATHERS",
    "papers": "ABSORBENTS AND CUSHIONS",
    "releases": "RELEASE SHEETS",
}
"""Heading of each table, in the order in which they are listed."""

NAME, VALUE = 24, 20
"""Columns of a value's name and number."""
LISTED = 27
"""Columns of a name in the list."""
SAID_ELSEWHERE = ("key", "name", "given")


def material_list(names: tuple[Name, ...], facts: Mapping[str, tuple[Fact, ...]], ink: Ink) -> str:
    """All materials, a group for each table, with the documents that the values of the group come from.

    Parameters
    ----------
    facts
        Every value of a table, by its name.
    """
    lines: list[str] = []
    for table, heading in GROUPS.items():
        lines.append(ink(heading, "heading"))
        for item in names:
            lines += _item(item) if item.table == table else ()
        documents = "; ".join(_documents(fact.source for fact in facts[table]))
        lines += [*(ink(line, "quiet") for line in wrap(documents, "    ", "  Sources: ")), ""]
    lines += wrap("A layup file takes any of these names. underbag materials NAME tells every value of one.")
    return "\n".join(line.rstrip() for line in lines) + "\n"


def material_page(item: Name, material: Material, ink: Ink) -> str:
    """One material: its names, and every value with its usual range and source."""
    lines = [ink(ends(item.name, GROUPS[item.table].lower()), "heading")]
    if item.aliases:
        lines += wrap(", ".join(item.aliases), "  ", "  also: ")
    lines += ["", *_values(material, ink), ""]
    lines += (ink(line, "quiet") for note in notes_of(material) for line in wrap(note, "    ", "  - "))
    lines += wrap(f"Numbers of your own go into a table [values.{item.key}] of the layup file.", "  ")
    return "\n".join(line.rstrip() for line in lines) + "\n"


def _item(item: Name) -> Iterator[str]:
    indent, aliases = " " * (LISTED + 3), ", ".join(item.aliases)
    if width(item.name) > LISTED:
        yield f"  {item.name}"
        yield from wrap(aliases, indent)
    else:
        yield from wrap(aliases, indent, f"  {left(item.name, LISTED)} ") or [f"  {item.name}"]


def _documents(sources: Iterator[Source]) -> list[str]:
    """Documents with all the bases that they are cited on."""
    bases: dict[str, set[str]] = {}
    for source in sources:
        bases.setdefault(source.document, set()).add(source.basis)
    return [
        f"{document} ({', '.join(sorted(bases[document]))})" if document else "common practice"
        for document in sorted(bases)
    ]


def _values(material: Material, ink: Ink) -> Iterator[str]:
    kind = type(material)
    units, sources = units_of(kind), sources_of(material)
    facts = {fact.name: fact for fact in facts_of(material)}
    for name in kind.__dataclass_fields__:
        value = getattr(material, name)
        if name in SAID_ELSEWHERE or value is None or value == ():
            continue
        unit = units.get(name, "")
        said = tell_property(value, unit) if unit else tell_other(value)
        column = column_of(kind, name)
        usual = _range(facts.get(column), unit) if column == name else ""
        if width(said) > VALUE:
            yield from wrap(said, " " * (NAME + 3), f"  {left(name, NAME)} ")
        else:
            yield f"  {left(name, NAME)} {left(said, VALUE)}{usual}"
        if name in sources:
            yield from (ink(line, "quiet") for line in wrap(str(sources[name]), " " * 8, " " * 6))


def _range(fact: Fact | None, unit: str) -> str:
    if fact is None or fact.low is None or fact.high is None or not unit:
        return ""
    return f"usually {tell_property(fact.low, unit).partition(' ')[0]} to {tell_property(fact.high, unit)}"
