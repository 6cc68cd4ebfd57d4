"""Scales of ISO 5455.

Source: ISO 5455:1979, recommended scales (from memory).
"""

from dataclasses import dataclass

from ...model.units import Mm, Ratio


@dataclass(frozen=True, slots=True, order=True)
class Scale:
    """Paper over thing, as in 1:5 and 10:1."""

    paper: int
    thing: int

    @property
    def ratio(self) -> Ratio:
        """Millimetres on paper for one millimetre of the thing."""
        return self.paper / self.thing

    def __str__(self) -> str:
        return f"{self.paper}:{self.thing}"


FULL_SIZE = Scale(1, 1)

SCALES: tuple[Scale, ...] = (
    *(Scale(factor, 1) for factor in (50, 20, 10, 5, 2)),
    FULL_SIZE,
    *(Scale(1, factor) for factor in (2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000, 10000)),
)
"""The recommended scales, largest picture first."""


def scale_to_fit(width: Mm, height: Mm, room_width: Mm, room_height: Mm, at_most: Scale = FULL_SIZE) -> Scale:
    """Largest scale of the series at which a thing of that size fits into the room on paper.

    Parameters
    ----------
    at_most
        Largest scale to consider; full size unless a detail is to be enlarged.
    """
    for scale in SCALES:
        fits = width * scale.ratio <= room_width and height * scale.ratio <= room_height
        if scale.ratio <= at_most.ratio and fits:
            return scale
    return SCALES[-1]
