"""Bodies of the form of a taper: its ribs or sheets with their bevelled edge, the sheets of its skin, or the whole of it.

A board lies between two planes across the width. Its upper edge is a strip of the surface that the skin or the lowest
layer lies on; all else of it is plane.
"""

import numpy as np

from ..model.form.design import FormDesign
from ..model.form.meshes import placed_names
from ..model.form.part import FormPart
from ..model.form.taper_form import DRAWN, Carcase, TaperRibs
from ..model.shape.plane_cut import plane_places
from ..model.units import Mm
from .brep import (
    Walk,
    face_within,
    plane_through,
    solid_of,
    turned_round,
)
from .form_bodies import board
from .kernel import Solid
from .lofted import lofted
from .loop_spans import TOWARD, loop_spans
from .taper_edges import Rim, rims_along
from .taper_levels import Rims, Work, faces_of, level_at
from .tapered import end_between, post_between


def taper_form_bodies(design: FormDesign, work: Work) -> dict[str, Solid]:
    """Bodies of the form of a taper by the keys of its scene."""
    form = design.carcase
    assert form is not None
    if design.taper is None:
        half = 0.5 * form.width
        around = [form.core(y, 0.0).around() for y in (-half, half)]
        return {"form": lofted(work, _cuts(work, form, 0.0, (-half, half)), 0.0, (-half, half), around)}
    found: dict[str, Solid] = {}
    under = design.skins[0].low if design.skins else 0.0
    for part in design.taper.parts:
        for key, _, place in placed_names(part):
            found[key] = (
                board(part, loop_spans(part.outline, part.plane, place), place)
                if part.sides is None
                else _bevelled(work, form, part, place, under)
            )
    if isinstance(design.taper, TaperRibs):
        for skin in design.taper.skins:
            found[f"form-{skin.key}"] = _skin(work, form, (skin.low, skin.high))
    return found


def _bevelled(work: Work, form: Carcase, part: FormPart, place: Mm, under: Mm) -> Solid:
    """A board between both of its sides, with its holes."""
    assert part.sides is not None
    planes = (place, place + part.thickness)
    around = []
    for side, y in zip(part.sides, planes, strict=True):
        curve = form.points(y, under, DRAWN).curve
        around.append([(x, z) for x, z, _ in side.corners[len(curve) :]])
    return lofted(work, _cuts(work, form, under, planes), under, planes, around, part.holes)


def _skin(work: Work, form: Carcase, bounds: tuple[Mm, Mm]) -> Solid:
    """A sheet of the skin, its sides in the planes of those of the form."""
    half = 0.5 * form.width
    low, high = (level_at(work, _cuts(work, form, height, (-half, half)), height) for height in bounds)
    posts = [
        [post_between(*rows, 0, 0), post_between(*rows, len(rows[0].corners) - 1, len(rows[1].corners) - 1)]
        for rows in zip(low.rows, high.rows, strict=True)
    ]
    faces = [*faces_of(low, False), *faces_of(high, True)]
    near = np.array(TOWARD)
    for side, normal in ((0, near), (1, -near)):
        below, above = low.rows[side], high.rows[side]
        loop: list[Walk] = [
            *below.walks,
            (posts[side][1], True),
            *turned_round(above.walks),
            (posts[side][0], False),
        ]
        plane = plane_through(below.points[0].tolist(), normal.tolist())
        faces.append(face_within(plane, True, [loop if side == 0 else turned_round(loop)]))
    faces += [end_between(low, high, end, posts) for end in (0, -1)]
    return solid_of(faces)


def _cuts(work: Work, form: Carcase, height: Mm, planes: tuple[Mm, Mm]) -> Rims:
    """Where two planes across the width cut the sheet at a height."""
    sheet = form.sheet
    half = 0.5 * sheet.profile.length + form.past

    def cut(y: Mm) -> tuple[Rim, ...]:
        return rims_along(
            lambda u: plane_places(sheet, y, height, u),
            sheet.width,
            (-half, half),
            np.zeros(0),
            work.panes,
            (height - sheet.reference,),
        )

    return cut(planes[0]), cut(planes[1])
