"""A form of sheets: all cut to one profile, glued to a solid stack across the bend."""

from dataclasses import dataclass

from ..base import Base
from ..layup.layup import Layup
from ..materials import Board
from ..shape.loop import LoopPoint, along, closed
from ..shape.sheet import Sheet
from .part import FormPart


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetForm:
    """A form of stacked sheets; ``sheet`` is cut as many times as it has places."""

    sheet: FormPart

    @property
    def parts(self) -> tuple[FormPart, ...]:
        """The sheets, all equal."""
        return (self.sheet,)


def sheet_form(layup: Layup, board: Board, base: Base, sheet: Sheet) -> SheetForm:
    """Design the sheets of a stacked form."""
    curve = along(sheet, 0.0, 0.5 * base.outline.length, base.lift)
    left, right = base.upper[0], base.upper[-1]
    around: list[LoopPoint] = [(float(right[0]), float(right[1])), (float(right[0]), 0.0)]
    around += [(float(left[0]), 0.0), (float(left[0]), float(left[1]))]
    thickness = layup.form.rib
    count = round(base.outline.width / thickness)
    return SheetForm(
        sheet=FormPart(
            key="sheet",
            name="sheet of the stack",
            material_name=board.name,
            thickness=thickness,
            plane="along",
            outline=closed((*curve, *((x, z, 0.0) for x, z in around))),
            holes=(),
            places=tuple(-0.5 * base.outline.width + number * thickness for number in range(count)),
        )
    )
