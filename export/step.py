"""STEP: one assembly with a named, coloured part for every layer, the base, the film and the valve.

The same plan gives the same bytes. A STEP header must hold a time: it is a fixed one (``STAMP``), never the clock.
"""

from collections.abc import Sequence
from io import BytesIO
from typing import Any

from ..model.errors import ExportError
from ..model.plan import Plan
from .kernel import kernel
from .opacity import opacity_of
from .solids import NamedSolid, solids
from .step_text import canonical, quoted

AUTHOR = "underbag"
STAMP = "1970-01-01T00:00:00"
"""Time in the header of every file, so that the same plan gives the same bytes."""

SCHEMA = "AUTOMOTIVE_DESIGN { 1 0 10303 214 1 1 1 1 }"
UNTITLED = "layup"


def step(plan: Plan) -> bytes:
    """Write the solids of a plan as a STEP file, lengths in mm.

    Raises
    ------
    ExportError
        The kernel is missing, or cannot build or write a solid.
    """
    title = " ".join(plan.layup.title.split()) or UNTITLED
    return step_of(solids(plan), title)


def step_of(parts: Sequence[NamedSolid], title: str) -> bytes:
    """Write named solids as one assembly with a title."""
    return canonical(_written(_document(parts, title)), _header(title)).encode("ascii")


def _header(title: str) -> str:
    """Header with what is true of the file: title, author, unit and tools."""
    description = "Solids of a veneer layup; lengths in mm; the valve is schematic; sheets that hang over an edge end at it; a tail of breather is left out"
    tool = "Open CASCADE Technology"
    return "\n".join(
        (
            "ISO-10303-21;",
            "HEADER;",
            f"FILE_DESCRIPTION(({quoted(description)}),'2;1');",
            f"FILE_NAME({quoted(title)},{quoted(STAMP)},({quoted(AUTHOR)}),(''),{quoted(tool)},{quoted(AUTHOR)},'');",
            f"FILE_SCHEMA(({quoted(SCHEMA)}));",
            "ENDSEC;",
        )
    )


def _document(parts: Sequence[NamedSolid], title: str) -> Any:
    """Document of the kernel: an assembly of the parts, in their order."""
    k = kernel()
    document = k.TDocStd.TDocStd_Document(k.TCollection.TCollection_ExtendedString("XmlXCAF"))
    shapes = k.XCAFDoc.XCAFDoc_DocumentTool.ShapeTool_s(document.Main())
    colours = k.XCAFDoc.XCAFDoc_DocumentTool.ColorTool_s(document.Main())
    assembly = shapes.NewShape()
    _name(assembly, title)
    for part in parts:
        label = shapes.AddShape(part.solid, False)
        _name(label, part.name)
        _name(shapes.AddComponent(assembly, label, k.TopLoc.TopLoc_Location()), part.name)
        red, green, blue = (value / 255.0 for value in part.colour)
        colour = k.Quantity.Quantity_Color(
            red, green, blue, k.Quantity.Quantity_TypeOfColor.Quantity_TOC_sRGB
        )
        paint = k.Quantity.Quantity_ColorRGBA(colour, opacity_of(part.translucent))
        colours.SetColor(label, paint, k.XCAFDoc.XCAFDoc_ColorType.XCAFDoc_ColorSurf)
    shapes.UpdateAssemblies()
    return document


def _name(label: Any, name: str) -> None:
    k = kernel()
    # True: the bytes of the name are UTF-8
    k.TDataStd.TDataStd_Name.Set_s(label, k.TCollection.TCollection_ExtendedString(name, True))


def _written(document: Any) -> str:
    """Text of the file as the kernel writes it."""
    k = kernel()
    writer, stream = k.STEPCAFControl.STEPCAFControl_Writer(), BytesIO()
    k.Interface.Interface_Static.SetIVal_s("write.surfacecurve.mode", 0)
    if not writer.Transfer(document):
        raise ExportError("the CAD kernel cannot turn the solids into STEP; make the other formats")
    if writer.WriteStream(stream) != k.IFSelect.IFSelect_ReturnStatus.IFSelect_RetDone:
        raise ExportError("the CAD kernel cannot write the STEP file; make the other formats")
    return stream.getvalue().decode("utf-8")
