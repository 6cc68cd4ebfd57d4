"""The parts list of a form: what each board is, of what, how thick, how large and how many."""

from dataclasses import dataclass

from ...model.plan import Plan
from ...model.units import Mm
from ...model.wording import in_inches, in_mm
from ..drawing.primitives import Align
from ..drawing.table import Column
from .words import Units, written_size

COLUMNS = (
    Column(heading="No.", width=11.0, align=Align.CENTRE),
    Column(heading="Part", width=34.0),
    Column(heading="Material", width=30.0),
    Column(heading="Thick", width=17.0, align=Align.RIGHT),
    Column(heading="Size", width=62.0, align=Align.RIGHT),
    Column(heading="Qty", width=10.0, align=Align.CENTRE),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class FormRow:
    """One row: equal boards, or a sheet of the skin.

    Parameters
    ----------
    key
        Key of the board or sheet.
    mark
        Number on the drawing, F1 and so on from below.
    """

    key: str
    mark: str
    name: str
    material: str
    thickness: Mm
    size: tuple[Mm, Mm]
    quantity: int


def form_rows(plan: Plan) -> tuple[FormRow, ...]:
    """Every kind of board of a form from below, its skin last; none where the form is not built of boards."""
    if plan.form is None or plan.form.built is None:
        return ()
    built = plan.form.built
    rows = [
        (part.key, part.name, part.material_name, part.thickness, part.size, part.quantity)
        for part in built.parts
    ]
    rows += [
        (skin.key, skin.name, skin.material_name, skin.thickness, (skin.length, skin.width), 1)
        for skin in plan.form.skins
    ]
    return tuple(
        FormRow(
            key=key,
            mark=f"F{number}",
            name=name,
            material=material,
            thickness=thickness,
            size=size,
            quantity=quantity,
        )
        for number, (key, name, material, thickness, size, quantity) in enumerate(rows, 1)
    )


def cells(row: FormRow, units: Units) -> tuple[str, ...]:
    """Cells of a row for the table."""
    length, width = row.size
    return (
        row.mark,
        row.name,
        row.material,
        in_inches(row.thickness) if units is Units.INCH else in_mm(row.thickness),
        written_size(length, width, units),
        str(row.quantity),
    )
