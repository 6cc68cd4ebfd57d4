"""A board of a form: flat, cut to an outline, standing or lying at its place."""

from dataclasses import dataclass
from typing import Literal

from ..shape.loop import Loop
from ..units import Mm, Mm3

Plane = Literal["along", "across", "level"]
"""How a board stands: upright along the bend (x and z), upright across it (y and z), or lying (x and y)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FormPart:
    """Equal boards of a form.

    Parameters
    ----------
    key
        Stable key, such as ``"rib"`` or ``"stretcher-1"``.
    name
        What the trade calls it.
    material_name
        What it is made of.
    thickness
        Thickness of the board.
    plane
        How it stands.
    outline, holes
        Edge and holes, in the coordinates of the form: z = 0 is its underside, x and y are zero in its middle.
    places
        For every board the coordinate of its lower face across its plane: y, x or z.
    sides
        Edge of its face at that place and of its other one, corner by corner, where its edge is bevelled from one to the
        other; None for a square edge. The outline holds both.
    """

    key: str
    name: str
    material_name: str
    thickness: Mm
    plane: Plane
    outline: Loop
    holes: tuple[Loop, ...]
    places: tuple[Mm, ...]
    sides: tuple[Loop, Loop] | None = None

    @property
    def quantity(self) -> int:
        """Number of equal boards."""
        return len(self.places)

    @property
    def size(self) -> tuple[Mm, Mm]:
        """Length and width of the blank that it is cut from."""
        (x0, y0), (x1, y1) = self.outline.box
        return x1 - x0, y1 - y0

    @property
    def volume(self) -> Mm3:
        """Wood in one of them."""
        open_area = sum(abs(hole.area) for hole in self.holes)
        area = abs(self.outline.area)
        if self.sides is not None:
            area = 0.5 * sum(abs(side.area) for side in self.sides)
        return self.thickness * (area - open_area)
