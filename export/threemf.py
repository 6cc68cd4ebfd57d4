"""3MF of a scene: the parts in millimetres with their names and colours, as one package.

Source: 3MF Core Specification 1.3 (from memory): an Open Packaging container with content types, one start
relationship and one model part; base materials with display colours; meshes that are closed, their triangles
anticlockwise from outside; all items in the octant of positive coordinates.
"""

from io import BytesIO
from xml.sax.saxutils import escape, quoteattr
from zipfile import ZIP_DEFLATED, ZipFile, ZipInfo

import numpy as np

from ..model.scene import Part, Scene
from .names import part_names
from .opacity import opacity_of

CORE = "http://schemas.microsoft.com/3dmanufacturing/core/2015/02"
MODEL_PART = "3D/3dmodel.model"
STAMP = (1980, 1, 1, 0, 0, 0)
"""Time of every entry, the earliest that the container can say, so that the same scene gives the same bytes."""

PLACES = 6
"""Decimals of a coordinate, mm."""

HEAD = '<?xml version="1.0" encoding="UTF-8"?>\n'
CONTENT_TYPES = (
    HEAD + '<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">'
    '<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
    '<Default Extension="model" ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"/>'
    "</Types>"
)
RELATIONSHIPS = (
    HEAD + '<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">'
    f'<Relationship Target="/{MODEL_PART}" Id="rel0" '
    'Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"/></Relationships>'
)


def threemf(scene: Scene) -> bytes:
    """Write all parts of a scene; each stands where it is in the scene, moved as a whole to positive coordinates."""
    package = BytesIO()
    with ZipFile(package, "w", ZIP_DEFLATED) as archive:
        for name, text in (
            ("[Content_Types].xml", CONTENT_TYPES),
            ("_rels/.rels", RELATIONSHIPS),
            (MODEL_PART, _model(scene)),
        ):
            entry = ZipInfo(name, STAMP)
            entry.compress_type = ZIP_DEFLATED
            archive.writestr(entry, text.encode("utf-8"))
    return package.getvalue()


def _model(scene: Scene) -> str:
    low = np.min([part.mesh.points.min(axis=0) for part in scene.parts], axis=0)
    shift = " ".join(f"{-value:.{PLACES}f}" for value in np.minimum(low, 0.0))
    names = part_names(scene.parts)
    bases = "".join(
        f"<base name={quoteattr(part.material or part.name)} displaycolor={quoteattr(_colour(part))}/>"
        for part in scene.parts
    )
    objects = "".join(
        _object(part, name, number)
        for number, (part, name) in enumerate(zip(scene.parts, names, strict=True))
    )
    items = "".join(
        f'<item objectid="{number + 2}" transform="1 0 0 0 1 0 0 0 1 {shift}"/>'
        for number in range(len(names))
    )
    return (
        f'{HEAD}<model unit="millimeter" xml:lang="en-GB" xmlns="{CORE}">'
        f'<metadata name="Title">{escape(scene.title or "layup")}</metadata>'
        '<metadata name="Application">underbag</metadata>'
        f'<resources><basematerials id="1">{bases}</basematerials>{objects}</resources><build>{items}</build></model>'
    )


def _colour(part: Part) -> str:
    red, green, blue = part.colour
    return f"#{red:02X}{green:02X}{blue:02X}{round(255 * opacity_of(part.translucent)):02X}"


def _object(part: Part, name: str, number: int) -> str:
    points = np.round(part.mesh.points, PLACES) + 0.0
    vertices = "".join(f'<vertex x="{x:.10g}" y="{y:.10g}" z="{z:.10g}"/>' for x, y, z in points.tolist())
    triangles = "".join(f'<triangle v1="{a}" v2="{b}" v3="{c}"/>' for a, b, c in part.mesh.triangles.tolist())
    return (
        f'<object id="{number + 2}" type="model" name={quoteattr(name)} pid="1" pindex="{number}">'
        f"<mesh><vertices>{vertices}</vertices><triangles>{triangles}</triangles></mesh></object>"
    )
