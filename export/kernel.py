"""The only door to the CAD kernel.

The kernel takes seconds to load, so nothing here touches it before ``kernel()`` is called. Solids and STEP need
it; drawings, papers, meshes and the preview do not. Its own types stay behind this door: outside they are
``Solid`` and ``Curve``.
"""

from functools import lru_cache
from importlib import import_module
from types import SimpleNamespace
from typing import Any

from ..model.errors import ExportError

Solid = Any
"""A solid of the kernel."""

Curve = Any
"""A curve of the kernel."""

MODULES = (
    "BRep",
    "BRepBuilderAPI",
    "BRepCheck",
    "BRepPrimAPI",
    "Geom",
    "Geom2d",
    "GeomAbs",
    "GeomConvert",
    "IFSelect",
    "Interface",
    "Message",
    "Quantity",
    "STEPCAFControl",
    "TColStd",
    "TColgp",
    "TCollection",
    "TDataStd",
    "TDocStd",
    "TopAbs",
    "TopLoc",
    "TopoDS",
    "XCAFDoc",
    "gp",
)
"""The kernel's modules that solids and STEP files are made with."""


@lru_cache(maxsize=1)
def kernel() -> Any:
    """Open the CAD kernel: an object with the kernel's modules as attributes.

    Raises
    ------
    ExportError
        The kernel is not installed or does not load.
    """
    try:
        modules = {name: import_module(f"OCP.{name}") for name in MODULES}
    except ImportError as error:
        raise ExportError(
            f"the CAD kernel does not load ({error}): install it with `pip install cadquery`; "
            "only STEP needs it, every other file can be made without"
        ) from None
    opened = SimpleNamespace(**modules)
    # the kernel tells its progress on the standard output, which belongs to the results
    for printer in opened.Message.Message.DefaultMessenger_s().Printers():
        printer.SetTraceLevel(opened.Message.Message_Gravity.Message_Fail)
    return opened
