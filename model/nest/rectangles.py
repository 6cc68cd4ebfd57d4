"""Rectangles that are cut from a sheet of stock, and where they lie on it.

x runs along the stock's length, which is its grain where it has one; y runs across. All from one corner, in mm.
"""

from dataclasses import dataclass

from ..units import Mm, Mm2, Ratio


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """One rectangle to cut.

    Parameters
    ----------
    mark, name
        Number of its layer, and what it is.
    length, width
        Extent along and across the stock's grain.
    may_turn
        Whether it may also lie across: it has no grain.
    """

    mark: str
    name: str
    length: Mm
    width: Mm
    may_turn: bool = False

    @property
    def area(self) -> Mm2:
        """Length times width."""
        return self.length * self.width

    def turned(self) -> "Piece":
        """Give the same piece lying across."""
        return Piece(
            mark=self.mark, name=self.name, length=self.width, width=self.length, may_turn=self.may_turn
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """A piece as it lies, already turned where it is, and its corner nearest to the stock's own."""

    piece: Piece
    x: Mm
    y: Mm


@dataclass(frozen=True, slots=True, kw_only=True)
class Laid:
    """A sheet of stock, or a length off a roll, with the pieces on it."""

    length: Mm
    width: Mm
    places: tuple[Place, ...]

    @property
    def area(self) -> Mm2:
        """Area of the stock."""
        return self.length * self.width

    @property
    def used(self) -> Mm2:
        """Area of the pieces."""
        return sum(place.piece.area for place in self.places)

    @property
    def yielded(self) -> Ratio:
        """Share of the stock that becomes pieces."""
        return self.used / self.area
