"""The length along a face of the bend, where there is room for it: around an arc, or in words beside any other curve."""

import math
from collections.abc import Iterator, Sequence

from ...model.plan import Plan
from ...model.units import Mm
from ..drawing.curves import Edge
from ..drawing.primitives import ArcDimension, Item, Leader
from ..drawing.sheet import View, view_on_paper
from .clear_lanes import on_paper
from .cut import centre_at, radius_at, upward
from .faces import Face, area_of, stands_in
from .pointers import pointers
from .room import Room, room
from .words import units_of, written

FIRST: Mm = 7.0
"""Distance on paper of the dimension line from the film, or from the face where it stands on the form."""
PLACES: tuple[Mm, ...] = (*range(60), *range(60, 400, 5))
"""How far on paper beyond the first place others are looked for."""
ON_FORM = 6
"""How many places on the form are tried."""
SMALLEST: Mm = 4.0
"""Least radius of a dimension line, on paper."""


def arc_size(
    plan: Plan, view: View, face: Face, solid: Sequence[Item], form: Sequence[Edge]
) -> ArcDimension | Leader:
    """Length along a face: on the form where that is given and has room, else above the work.

    Parameters
    ----------
    view
        What is drawn.
    solid
        Items of the view that the dimension line must not cross.
    form
        Outline of the form that the text may stand on.
    """
    unit = 1.0 / view.scale.ratio
    drawn = room(view_on_paper(view))
    shut = on_paper(view, [*solid, *(item for item in view.items if isinstance(item, Leader))])
    area = area_of(form, unit)
    below: list[ArcDimension] = []
    above: list[ArcDimension] = []
    # only around a single arc does a dimension line run evenly
    if plan.stack.sheet.profile.is_even:
        below += _choices(plan, face, -FIRST * unit - face.height, -unit)
        above += _choices(plan, face, plan.stack.height - face.height + FIRST * unit, unit)

    def is_free(shown: Room) -> bool:
        return drawn.admits(shown) and not shown.is_tangled and not shown.crosses(shut)

    if area is not None:
        for choice in below[:ON_FORM]:
            shown = on_paper(view, [choice])
            if stands_in(shown.texts, area) and is_free(shown):
                return choice
    # a tight hollow has no room above
    choices: list[ArcDimension | Leader] = [*above, *below, *pointers(plan, face, _words(plan, face), unit)]
    return next((choice for choice in choices if is_free(on_paper(view, [choice]))), choices[0])


def _choices(plan: Plan, face: Face, first: Mm, unit: Mm) -> Iterator[ArcDimension]:
    """Dimensions with their lines farther and farther from the face; upward, or downward for a negative unit."""
    sheet, lift, half = plan.stack.sheet, plan.base.lift, 0.5 * plan.outline.length
    radius, sign = radius_at(sheet, face.height)
    start = upward(sheet, -half) + (0.0 if sign > 0.0 else math.pi)
    length, centre = sheet.length(face.height, -half, half), centre_at(sheet, lift)
    for away in PLACES:
        line = radius + sign * (first + away * unit)
        if line > SMALLEST * abs(unit):
            yield ArcDimension(
                centre=centre,
                radius=radius,
                start=start,
                sweep=-sign * length / radius,
                line_radius=line,
                text=_words(plan, face),
            )


def _words(plan: Plan, face: Face) -> str:
    half, sheet = 0.5 * plan.outline.length, plan.stack.sheet
    curve = "arc" if sheet.profile.is_even else "along the curve"
    return f"{face.name} {curve} {written(sheet.length(face.height, -half, half), units_of(plan))}"
