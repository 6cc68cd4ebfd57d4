"""Sizes in a report: the stack as it lies, and every blank to cut."""

from collections.abc import Iterable

from ...model.plan import Plan
from ...model.wording import in_inches, in_mm
from ..cuts import Cut, cuts
from ..document.pieces import Cell, Column, Table

STACK = (
    Column(name="No.", share=7),
    Column(name="Layer", share=46),
    Column(name="Thickness", share=22),
    Column(name="Lies at", share=25),
)
BLANKS = (
    Column(name="No.", share=6),
    Column(name="Part", share=40),
    Column(name="Pieces", share=9),
    Column(name="Length", share=15),
    Column(name="Width", share=15),
    Column(name="Thickness", share=15),
)


def stack_table(plan: Plan) -> Table:
    """Table of every layer, the uppermost first, with the height at which it begins."""
    layers = plan.stack.layers
    rows = tuple(
        (
            Cell(text=str(number)),
            Cell(text=layer.name, below=_joined(layer.material_name, _grain(layer.grain))),
            Cell(text=in_mm(layer.thickness), below=in_inches(layer.thickness)),
            Cell(text=in_mm(layer.height), below=in_inches(layer.height)),
        )
        for number, layer in reversed(list(enumerate(layers, 1)))
    )
    base = {"platen": "the platen", "form": "the form's face", "bench": "the bench"}[plan.base.kind]
    return Table(
        about=f"As it lies, the uppermost first; heights of the lower surfaces above {base}.",
        columns=STACK,
        rows=rows,
        head=1,
    )


def blanks_table(plan: Plan) -> Table:
    """Table of everything to cut, from below upward."""
    middle = " Blanks of a bend are measured flat, at mid-thickness." if plan.layup.is_bent else ""
    return Table(
        about=f"From below upward.{middle}",
        columns=BLANKS,
        rows=tuple(_rows(cuts(plan))),
        head=1,
    )


def _rows(found: Iterable[Cut]) -> Iterable[tuple[Cell, ...]]:
    for cut in found:
        yield (
            Cell(text=cut.number),
            Cell(text=cut.part, below=_joined(cut.material, _grain(cut.grain), cut.note)),
            Cell(text=str(cut.pieces)),
            *(
                Cell(text=in_mm(length), below=in_inches(length))
                for length in (cut.length, cut.width, cut.thickness)
            ),
        )


def _grain(grain: str) -> str:
    return f"grain {grain}" if grain else ""


def _joined(*parts: str) -> str:
    return "; ".join(part for part in parts if part)
