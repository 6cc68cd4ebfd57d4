"""The radius of a face of the bend, its text level and where there is room for it."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import chain
from typing import TYPE_CHECKING

from ...model.plan import Plan
from ...model.units import Mm
from ..drawing.curves import Edge, polar
from ..drawing.primitives import Leader, RadiusDimension, Reach
from ..drawing.sheet import View, view_on_paper
from .clear_lanes import on_paper
from .cut import centre_at, radius_at, spot
from .faces import Face, area_of, stands_in
from .pointers import pointers
from .room import room
from .words import units_of, written

if TYPE_CHECKING:
    from shapely.geometry import Polygon

INSIDE: tuple[Mm, ...] = (*range(5, 100, 2),)
OUTSIDE: tuple[Mm, ...] = (*range(6, 60, 4), *range(60, 400, 20))
"""How far on paper from the face the text is looked for, on the form and elsewhere, in the order of trying."""


def radius_size(
    plan: Plan, view: View, face: Face, spots: Sequence[Mm], outline: Sequence[Edge]
) -> RadiusDimension | Leader:
    """Radius of a face, with its text inside the form where there is room, else where there is; on the form if nowhere.

    Parameters
    ----------
    view
        What is drawn, the form's outline too.
    spots
        Places t of one arc, or one place of another curve, where the arrow may stand, in the order of trying.
    outline
        Outline of the form; empty where none is drawn.
    """
    found = radius_with_room(plan, view, face, spots, outline)
    return found or _with_text(_at(plan, face, spots[0]), -INSIDE[0] / view.scale.ratio)


def radius_with_room(
    plan: Plan, view: View, face: Face, spots: Sequence[Mm], outline: Sequence[Edge]
) -> RadiusDimension | Leader | None:
    """Radius of a face where there is room for it, else None; the parameters are those of ``radius_size``."""
    unit, drawn = 1.0 / view.scale.ratio, room(view_on_paper(view))
    form = area_of(outline, unit)
    plain = [_at(plan, face, spot) for spot in spots]
    if form is not None:
        for choice in (_with_text(one, -reach * unit) for reach in INSIDE for one in plain):
            if not _begins_in(choice, view, form):
                continue
            shown = on_paper(view, [choice])
            if stands_in(shown.texts, form) and drawn.admits(shown):
                return choice
    ways: Iterator[RadiusDimension | Leader] = chain(
        (_with_text(one, way * reach * unit) for way in (1.0, -1.0) for reach in OUTSIDE for one in plain),
        pointers(plan, face, plain[0].text, unit),
    )
    leaders = on_paper(view, [item for item in view.items if isinstance(item, Leader)])
    for way in ways:
        shown = on_paper(view, [way])
        if drawn.admits(shown) and not (isinstance(way, Leader) and shown.crosses(leaders)):
            return way
    return None


def _begins_in(choice: RadiusDimension, view: View, form: "Polygon") -> bool:
    """Whether the elbow lies in the box around the form: a quick look before a close one."""
    assert choice.elbow is not None
    (x, y), (x0, y0, x1, y1) = view.on_paper(choice.elbow), form.bounds
    return bool(x0 < x < x1 and y0 < y < y1)


def _at(plan: Plan, face: Face, t: Mm) -> RadiusDimension:
    """Radius with its arrow at a place of the sheet."""
    sheet, lift = plan.stack.sheet, plan.base.lift
    radius, sign = radius_at(sheet, face.height, t)
    centre, tip = centre_at(sheet, lift, t), spot(sheet, lift, t, face.height)
    least = "" if sheet.profile.is_arc_at(t) else "least "
    return RadiusDimension(
        centre=centre,
        radius=radius,
        angle=math.atan2(tip[1] - centre[1], tip[0] - centre[0]),
        text=f"{face.name} {least}R {written(radius, units_of(plan))}",
        reach=Reach.OUTSIDE if sign > 0.0 else Reach.INSIDE,
    )


def _with_text(plain: RadiusDimension, above: Mm) -> RadiusDimension:
    """Give the radius with its text so far above the face."""
    outward = 1.0 if plain.reach is Reach.OUTSIDE else -1.0
    return replace(plain, elbow=polar(plain.centre, plain.radius + outward * above, plain.angle))
