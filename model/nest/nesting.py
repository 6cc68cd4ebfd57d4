"""All stock of a layup: of each the size that wastes least, and where every piece lies on it."""

from dataclasses import dataclass

from ..plan import Plan
from ..units import Mm2, Ratio
from .needs import Need, excess, needs_of
from .rectangles import Laid, Piece
from .rolls import lay_on_roll
from .sheets import lay_on_sheets


@dataclass(frozen=True, slots=True, kw_only=True)
class Nesting:
    """One stock with the pieces laid onto it.

    Parameters
    ----------
    need
        What was to be laid.
    sheets
        Sheets, leaves, or the one length off a roll; empty where no size of the stock takes every piece.
    """

    need: Need
    sheets: tuple[Laid, ...]

    @property
    def area(self) -> Mm2:
        """Area of the stock that is taken."""
        return sum(sheet.area for sheet in self.sheets)

    @property
    def used(self) -> Mm2:
        """Area of the pieces on it."""
        return sum(sheet.used for sheet in self.sheets)

    @property
    def yielded(self) -> Ratio:
        """Share of the stock that becomes pieces; 0 where nothing could be laid."""
        return self.used / self.area if self.sheets else 0.0

    @property
    def too_large(self) -> tuple[Piece, ...]:
        """Pieces that no size of the stock takes; empty where everything is laid."""
        if self.sheets:
            return ()
        pieces = tuple(dict.fromkeys(self.need.pieces))
        return tuple(one for one in pieces if not self.need.sizes or excess(self.need, one) > 0.0) or pieces


def nest(plan: Plan) -> tuple[Nesting, ...]:
    """Lay every piece of a plan onto its stock; lippings are cut from solid wood that is chosen by eye."""
    return tuple(Nesting(need=need, sheets=_laid(need, need.pieces)) for need in needs_of(plan))


def _laid(need: Need, pieces: tuple[Piece, ...]) -> tuple[Laid, ...]:
    """Sheets of the size that takes least area, then fewest sheets; empty where none takes all pieces."""
    found: list[tuple[Laid, ...]] = []
    for length, width in need.sizes:
        if need.kind == "roll":
            roll = lay_on_roll(pieces, width)
            found += [] if roll is None else [(roll,)]
        else:
            sheets = lay_on_sheets(pieces, length, width, need.kerf, need.edge)
            found += [] if sheets is None else [sheets]
    return min(found, key=lambda sheets: (round(sum(one.area for one in sheets), 3), len(sheets)), default=())
