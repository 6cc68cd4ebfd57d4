"""Strips of open netting over a poor breather: the fewest that bring every place within a time.

One strip runs along the panel through the valve. More of them are a strip across, at the valve, and the others along
in the middle of equal shares of the width, which lead to it.
"""

from dataclasses import dataclass, replace

from ..units import Count, Mm, Mm2, Second
from .air import Drawn, Pumping, drawn
from .ground import Ground, Spot, Strip

MOST_STRIPS: Count = 6


@dataclass(frozen=True, slots=True, kw_only=True)
class Netting:
    """What strips are cut of: width, permeability, thickness and air space under pressure."""

    width: Mm
    permeability: Mm2
    thickness: Mm
    voids: float


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Stripped:
    """Strips and when the air is gone with them."""

    strips: tuple[Strip, ...]
    drawn: Drawn


def strips_within(
    ground: Ground, spot: Spot, pumping: Pumping, cell: Mm, netting: Netting, time: Second
) -> Stripped | None:
    """Fewest strips, up to six, with which one valve draws every place down within a time; None where none do."""
    # strips of what the breather is made of anyway bring nothing
    if pumping.alone > time or netting.permeability <= ground.permeability:
        return None
    for count in range(1, MOST_STRIPS + 1):
        strips = pattern(ground, spot, netting, count)
        found = drawn(replace(ground, strips=strips), (spot,), pumping, cell)
        if found.slowest <= time:
            return Stripped(strips=strips, drawn=found)
    return None


def pattern(ground: Ground, spot: Spot, netting: Netting, count: Count) -> tuple[Strip, ...]:
    """So many strips: one along through the valve, or one across at the valve and the others along."""
    half = 0.5 * netting.width

    def strip(run: str, at: Mm, extent: Mm) -> Strip:
        room = max(0.5 * extent - half, 0.0)
        return Strip(
            run=run,
            at=min(max(at, -room), room),
            width=netting.width,
            conductance=netting.permeability * netting.thickness,
            storage=netting.voids * netting.thickness,
        )

    if count == 1:
        return (strip("along", spot[1], ground.width),)
    shares = count - 1
    along = [spot[1]] if shares == 1 else [ground.width * ((n + 0.5) / shares - 0.5) for n in range(shares)]
    return (
        strip("across", spot[0], ground.length),
        *(strip("along", at, ground.width) for at in along),
    )
