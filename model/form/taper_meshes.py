"""Meshes of a form of a taper: its bevelled boards, the sheets of its skin, or the whole of a form that is no boards."""

from collections.abc import Iterator

import numpy as np

from ..shape.extrusion import lofted
from ..shape.mesh import Mesh
from ..shape.plane_cut import cut_places, plane_cut
from ..shape.prism import upright_along
from ..shape.slabs import cut_faces
from ..units import Mm
from .meshes import FormMesh, board_mesh, placed_names
from .skin import Skin
from .taper_form import Carcase, TaperRibs, TaperSheets


def taper_meshes(form: TaperRibs | TaperSheets, tolerance: Mm) -> Iterator[FormMesh]:
    """Meshes of a form of boards from below: board, stretchers and ribs, or sheets, then the skin."""
    for part in form.parts:
        role = part.key.partition("-")[0]
        for key, name, place in placed_names(part):
            level = 0 if part.plane == "level" else 1
            yield FormMesh(
                key=key,
                name=name,
                colour="rib" if role == "sheet" else role,
                level=level,
                size=part.size,
                mesh=board_mesh(part, place, tolerance),
            )
    for number, skin in enumerate(form.skins if isinstance(form, TaperRibs) else ()):
        yield FormMesh(
            key=f"form-{skin.key}",
            name=f"form {skin.name}",
            colour="skin",
            level=2 + number,
            size=(skin.length, skin.width),
            mesh=_skin_mesh(form.carcase, skin, tolerance),
        )


def _skin_mesh(form: Carcase, skin: Skin, tolerance: Mm) -> Mesh:
    """Sheet of the skin as it lies over the ribs, its sides flush with those of the form."""
    u = cut_places(form.sheet, form.past, abs(skin.low - form.sheet.reference), tolerance)
    rows = []
    for height in (skin.low, skin.high):
        for side in (-1.0, 1.0):
            y = side * 0.5 * form.width
            x, z = plane_cut(form.sheet, y, height, u).T
            rows.append(np.column_stack((x, np.full(len(u), y), z + form.lift)))
    triangles, creases = cut_faces(len(u))
    return Mesh(points=np.concatenate(rows), triangles=triangles, creases=creases)


def block_mesh(form: Carcase, tolerance: Mm) -> Mesh:
    """The whole of a form as one body between its face and its foot: exact, as its face is straight along each ruling."""
    half = 0.5 * form.width
    near, far = (_ring(form, y, tolerance) for y in (half, -half))
    return upright_along(lofted(near, far, (), -half, half))


def _ring(form: Carcase, y: Mm, tolerance: Mm) -> np.ndarray:
    core = form.points(y, 0.0, tolerance)
    return np.array([*(corner[:2] for corner in core.curve), *core.around()])
