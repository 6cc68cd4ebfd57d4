"""Names of views, above them."""

from ...model.plan import Plan
from ...model.units import Mm
from ..drawing.boxes import extent
from ..drawing.primitives import Align, Item, Text
from ..drawing.sheet import View, view_on_paper

LETTER: Mm = 5.0
"""Lettering height of the names of views."""
AIR: Mm = 4.0
"""Distance on paper of a name from its view."""


def titled(view: View, name: str, note: str = "") -> View:
    """Give a view with its name above it, in the middle, and a note under the name."""
    box = extent(view_on_paper(view))
    x, y = box.centre[0], box.high[1] + AIR
    items: list[Item] = []
    if note:
        items.append(Text(text=note, position=view.in_view((x, y)), height=2.5, align=Align.CENTRE))
        y += 4.5
    items.append(Text(text=name, position=view.in_view((x, y)), height=LETTER, align=Align.CENTRE))
    return view.with_items(*items)


def cut_letters(plan: Plan) -> str:
    """Letters of the plane that a section is cut in: the far end of a taper has letters of its own."""
    return "B–B" if plan.end == "far" else "A–A"
