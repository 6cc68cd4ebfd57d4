"""Values in a report, by subject, each with its working and its source."""

from collections.abc import Iterator

from ...model.report import Report
from ...model.telling import tell
from ...model.value import Value
from ...model.working import working_lines
from ..document.pieces import Piece, Sentences, Subtitle, Working

SUBJECTS = {
    "panel": "The panel",
    "stack": "The stack",
    "blank": "Blanks",
    "press": "Pressure and force",
    "crush": "Crushing",
    "support": "Support",
    "bend": "Bending the plies",
    "springback": "Springback",
    "moisture": "Moisture of wood and air",
    "flatness": "Flat in use",
    "overhang": "Overhang",
    "glue": "Glue",
    "water": "Water from the glue",
    "paper": "Absorbent sheets",
    "bag": "Size of the bag",
    "handling": "Carrying and laying",
    "valve": "Place of the valve",
    "film": "The film",
    "air": "Air in the bag",
    "pump": "Pump",
    "time": "Times at the bench",
    "leak": "Leak test",
}
"""Heading of each subject, by the first word of its keys; a subject without one is told by that word."""


def value_pieces(report: Report) -> tuple[Piece, ...]:
    """Every value of a report."""
    return tuple(_pieces(report.values))


def _pieces(values: tuple[Value, ...]) -> Iterator[Piece]:
    yield Sentences(texts=("Numbers in workings are in mm, N, MPa, s, °C and g, to six digits.",))
    subjects: dict[str, list[Value]] = {}
    for value in values:
        subjects.setdefault(value.key.partition(".")[0], []).append(value)
    for subject, group in subjects.items():
        yield Subtitle(text=SUBJECTS.get(subject, subject.capitalize()))
        yield from (_working(value) for value in group)


def _working(value: Value) -> Working:
    return Working(
        name=value.name, key=value.key, told=tell(value), lines=working_lines(value), source=str(value.source)
    )
