"""The skin of a ribbed form: one sheet or a few, bent over the ribs."""

from dataclasses import dataclass

from ..layup.layup import Layup
from ..materials import Board
from ..shape.loop import Loop
from ..shape.sheet import Sheet
from ..units import Mm, Mm2


@dataclass(frozen=True, slots=True, kw_only=True)
class Skin:
    """One sheet of the skin.

    Parameters
    ----------
    key, name
        Key and what the trade calls it.
    low, high
        Heights of its two sides above the form's face, so that none is above zero.
    length, width
        Its blank, flat: the length at mid-thickness.
    outline
        Edge of the blank where it is no rectangle of that size.
    """

    key: str
    name: str
    material_name: str
    low: Mm
    high: Mm
    length: Mm
    width: Mm
    outline: Loop | None = None

    @property
    def area(self) -> Mm2:
        """Area of the blank."""
        return self.length * self.width if self.outline is None else abs(self.outline.area)

    @property
    def thickness(self) -> Mm:
        """Thickness of the sheet."""
        return self.high - self.low


def skins_of(layup: Layup, board: Board, sheet: Sheet, half: Mm, width: Mm) -> tuple[Skin, ...]:
    """Sheets of the skin from below, equally thick, from −half to half of the sheet's own length."""
    count = layup.form.skins
    found = []
    for number in range(count):
        # divided last, so that neighbours have the very same height between them
        low, high = (-layup.form.skin * (count - step) / count for step in (number, number + 1))
        found.append(
            Skin(
                key=f"skin-{number + 1}" if count > 1 else "skin",
                name=f"skin {number + 1}" if count > 1 else "skin",
                material_name=board.name,
                low=low,
                high=high,
                length=sheet.length(0.5 * (low + high), -half, half),
                width=width,
            )
        )
    return tuple(found)
