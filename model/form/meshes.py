"""Meshes of a ribbed form: its boards where they stand, and the sheets of its skin."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from ..shape.extrusion import extruded, lofted
from ..shape.mesh import Mesh
from ..shape.prism import upright_across, upright_along
from ..shape.sheet import Sheet
from ..shape.slabs import slabs
from ..units import Mm
from .part import FormPart
from .ribs import RibForm


@dataclass(frozen=True, slots=True, kw_only=True)
class FormMesh:
    """One board of a form as a mesh.

    Parameters
    ----------
    key
        Stable key, such as ``"form-rib-3"``.
    name
        Name for people.
    colour
        Role that its colour goes by.
    level
        Place in the order from below within the form.
    size
        Length and width of its blank.
    """

    key: str
    name: str
    colour: str
    level: int
    size: tuple[Mm, Mm]
    mesh: Mesh


def form_meshes(ribs: RibForm, sheet: Sheet, length: Mm, lift: Mm, tolerance: Mm) -> Iterator[FormMesh]:
    """Meshes of a ribbed form from below: board, stretchers and ribs, skin.

    Parameters
    ----------
    length
        Length of the form's face along the sheet.
    lift
        What turns heights of the sheet into z.
    tolerance
        Chordal tolerance.
    """
    for part in ribs.parts:
        role = part.key.partition("-")[0]
        for key, name, place in placed_names(part):
            level = 0 if part.plane == "level" else 1
            mesh = board_mesh(part, place, tolerance)
            yield FormMesh(key=key, name=name, colour=role, level=level, size=part.size, mesh=mesh)
    sizes = [(length, skin.width) for skin in ribs.skins]
    bounds = [(skin.low, skin.high) for skin in ribs.skins]
    for number, (skin, mesh) in enumerate(
        zip(ribs.skins, slabs(sheet, sizes, bounds, tolerance, lift), strict=True)
    ):
        yield FormMesh(
            key=f"form-{skin.key}",
            name=f"form {skin.name}",
            colour="skin",
            level=2 + number,
            size=(skin.length, skin.width),
            mesh=mesh,
        )


def placed_names(part: FormPart) -> Iterator[tuple[str, str, Mm]]:
    """Key, name and place of every one of equal boards."""
    for number, place in enumerate(part.places, 1):
        count = f"-{number}" if part.quantity > 1 else ""
        told = f" {number}" if part.quantity > 1 else ""
        yield f"form-{part.key}{count}", f"form {part.name}{told}", place


def board_mesh(part: FormPart, place: Mm, tolerance: Mm) -> Mesh:
    """Mesh of one board where it stands."""
    holes = [hole.flattened(tolerance) for hole in part.holes]
    if part.sides is not None:
        low, high = (np.array(side.corners)[:, :2] for side in part.sides)
        # stood up along the length, the far side comes first
        return upright_along(lofted(high, low, holes, -place - part.thickness, -place))
    outer = part.outline.flattened(tolerance)
    if part.plane == "along":
        return upright_along(extruded(outer, holes, -place - part.thickness, -place))
    mesh = extruded(outer, holes, place, place + part.thickness)
    return upright_across(mesh) if part.plane == "across" else mesh
