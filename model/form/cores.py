"""Several sections under a skin taken together: what a board has to keep to that runs through all of them."""

from dataclasses import dataclass

from ..units import Mm
from .core import Core


@dataclass(frozen=True, slots=True, kw_only=True)
class Cores:
    """Sections of a taper on one foot."""

    sections: tuple[Core, ...]

    @property
    def foot(self) -> Mm:
        """Height of their underside."""
        return self.sections[0].foot

    @property
    def ends(self) -> tuple[Mm, Mm]:
        """Leftmost and rightmost x that all of them reach."""
        ends = [section.ends for section in self.sections]
        return max(left for left, _ in ends), min(right for _, right in ends)

    @property
    def both_ends(self) -> tuple[tuple[Mm, Mm], tuple[Mm, Mm]]:
        """Leftmost and rightmost x of the first one and of the last one."""
        return self.sections[0].ends, self.sections[-1].ends

    def depth(self, low: Mm, high: Mm) -> Mm:
        """Least height of wood over the underside between two places x, in any of them."""
        return min(section.depth(low, high) for section in self.sections)
