"""Materials in a report: what each is for, and every value with its source; a star marks the job's own numbers."""

from collections.abc import Iterator
from string import ascii_lowercase
from typing import Any

from ...model.materials import Material, facts_of, notes_of, sources_of
from ...model.materials.override import units_of
from ...model.materials.shelf import column_of
from ...model.plan import Plan
from ...model.telling import tell_other, tell_property
from ..document.pieces import Cell, Column, Piece, Sentences, Subtitle, Table

COLUMNS = (
    Column(name="Value", share=34),
    Column(name="Number", share=30),
    Column(name="Usual range", share=26),
    Column(name="Source", share=10),
)
USES = {
    "face": "face veneer",
    "back": "back veneer",
    "crossband": "crossbands",
    "lipping": "lipping",
    "substrate": "core",
    "adhesive": "glue",
    "release": "release",
    "absorbent": "absorbent",
    "caul": "caul",
    "breather": "breather",
    "platen": "platen",
    "form": "form",
    "film": "bag film",
}
"""What each material of a layup is for."""
SAID_ELSEWHERE = ("key", "name", "given", "cautions")


def material_pieces(plan: Plan) -> tuple[Piece, ...]:
    """Every material of a plan once, in the order of the layup file."""
    used: dict[str, tuple[Material, list[str]]] = {}
    for name, use in USES.items():
        material: Material | None = getattr(plan.chosen, name)
        if material is not None:
            key = f"{type(material).__name__} {material.key}"
            used.setdefault(key, (material, []))[1].append(use)
    return tuple(piece for material, uses in used.values() for piece in _pieces(material, uses))


def _pieces(material: Material, uses: list[str]) -> Iterator[Piece]:
    yield Subtitle(text=f"{material.name}: {', '.join(uses)}")
    letters = _letters(material)
    own = "* from the layup file, in place of the table's number" if material.given else ""
    yield Table(about=own, columns=COLUMNS, rows=tuple(_rows(material, letters)))
    sources = "; ".join(f"{letter}: {source}" for source, letter in letters.items())
    yield Sentences(texts=(f"Sources: {sources}.", *notes_of(material)))


def _letters(material: Material) -> dict[str, str]:
    """A letter for every source of a material, in the order in which they are cited."""
    cited = dict.fromkeys(map(str, sources_of(material).values()))
    return dict(zip(cited, ascii_lowercase, strict=False))


def _rows(material: Material, letters: dict[str, str]) -> Iterator[tuple[Cell, ...]]:
    kind = type(material)
    units, sources = units_of(kind), sources_of(material)
    facts = {fact.name: fact for fact in facts_of(material)}
    for name in kind.__dataclass_fields__:
        value: Any = getattr(material, name)
        if name in SAID_ELSEWHERE or value is None or value == ():
            continue
        unit, fact = units.get(name, ""), facts.get(column_of(kind, name))
        usual = ""
        if fact is not None and unit and fact.low is not None and fact.high is not None and fact.name == name:
            usual = f"{tell_property(fact.low, unit).partition(' ')[0]} to {tell_property(fact.high, unit)}"
        yield (
            Cell(text=f"{name}{' *' if name in material.given else ''}"),
            Cell(text=tell_property(value, unit) if unit else tell_other(value)),
            Cell(text=usual),
            Cell(text=letters[str(sources[name])] if name in sources else ""),
        )
