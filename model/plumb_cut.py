"""A panel whose outline is given in plan: pressed larger, and cut plumb when it is off its form.

Every layer of the work covers the cut, which goes straight down through all of them; the trim comes on top of that.
Seen along the normal the cut has another place on each face: the upper one carries the line to cut along.
"""

from dataclasses import dataclass, replace

from .data.limits import limit
from .draft import Draft
from .layup.layup import Layup
from .layup.sections import IN_PLAN
from .shape.loop import Loop
from .shape.outline import Outline, Rectangle
from .shape.pathed import Pathed
from .shape.plumb import Footing, footing, plumb_loops
from .shape.sheet import Sheet
from .stack import laid_outline
from .units import Mm


@dataclass(frozen=True, slots=True, kw_only=True)
class PlumbCut:
    """The cut of a panel whose outline is given in plan.

    Parameters
    ----------
    outline
        In plan, around the middle of the chord, as the panel lies in the press.
    footing
        The released sheet that stands over it.
    low, high
        Heights of the lower and the upper face of the work.
    """

    outline: Outline
    footing: Footing
    low: Mm
    high: Mm

    def line(self, height: Mm) -> tuple[Loop, ...]:
        """Edge and holes along which the cut meets the sheet at a height, on the plane of t and w."""
        return plumb_loops(self.outline, self.footing, (height,))

    def cover(self) -> Outline:
        """Narrowest outline on the plane of t and w that covers the cut at every height of the work."""
        edge, *holes = plumb_loops(self.outline, self.footing, (self.low, self.high))
        (left, front), (right, back) = edge.box
        length = 2.0 * max(-left, right)
        if isinstance(self.outline, Rectangle):
            return Rectangle(length, back - front)
        return Pathed(edge, tuple(holes), length, self.outline.width)


def plumb_cut(layup: Layup, drafts: tuple[Draft, ...], released: Sheet) -> PlumbCut | None:
    """Cut of a bent panel whose outline is given in plan; None for all others.

    Raises
    ------
    ShapeError
        The layers would cross themselves, or the released panel is too steep somewhere inside the outline.
    """
    if not layup.is_bent or layup.panel.outline_on != IN_PLAN:
        return None
    work = [number for number, draft in enumerate(drafts) if draft.side != "press"]
    low = sum(draft.thickness for draft in drafts[: work[0]])
    high = low + sum(drafts[number].thickness for number in work)
    # where layers cross, no place lies above another
    released.demand_room(low, high)
    outline = laid_outline(layup)
    (left, _), (right, _) = outline.box
    return PlumbCut(
        outline=outline,
        footing=footing(released, (left, right), (low, high), limit("plumb.steepest")),
        low=low,
        high=high,
    )


def on_sheet(layup: Layup, cut: PlumbCut) -> Layup:
    """The same job with its outline on the unrolled sheet: what is pressed so that it can be cut plumb."""
    edge = cut.cover()
    if isinstance(edge, Pathed) and not layup.face_is_up:
        # the layup tells its outline as the show face is seen
        edge = edge.turned_over
    return replace(layup, edge=edge, panel=replace(layup.panel, length=edge.length))
