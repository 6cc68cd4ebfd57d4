"""A sheet as DXF: full-size geometry in model space, and a layout with frame, title block and a viewport per view.

Every view stands in model space at full size (1 unit = 1 mm): the first where its own origin is, the others to its
right. Dimensions are DIMENSION entities that measure the geometry itself (factor 1), hatches are HATCH entities with
the families of their pattern, and the widths and dashes of lines come with the layers.
"""

import math
from collections.abc import Iterator
from io import StringIO
from typing import TYPE_CHECKING, Any

from ...model.errors import ExportError
from ...model.units import Mm
from .boxes import extent
from .curves import Point
from .dimension import ARROW, GAP, OVERSHOOT, lift
from .dxf_entities import Pencil
from .lettering import CONDENSED, shown
from .paper import Box
from .pens import PENS, Pen
from .primitives import ArcDimension, LinearDimension, RadiusDimension
from .sheet import Sheet, View, furniture, placed, view_on_paper

if TYPE_CHECKING:
    from ezdxf.document import Drawing

APPLICATION = "UNDERBAG"
"""Name under which the name of a part is kept with an entity."""

OWN_LAYERS = ("text", "dimensions", "callouts", "hatch")
"""Layers beside those of the pens."""

VIEWPORTS = "viewports"
"""Layer of the viewports' borders, which is not plotted."""

BLACK_OR_WHITE = 7
"""Colour number that stands out against any background."""


def write_dxf(sheet: Sheet) -> bytes:
    """Write a sheet as DXF (release 2010), in millimetres; the same sheet gives the same bytes.

    Raises
    ------
    ExportError
        Two views have one name.
    """
    import ezdxf

    names = [view.name for view in sheet.views]
    if len(set(names)) != len(names):
        raise ExportError(f"sheet {sheet.name}: found views named {names}; each needs a name of its own")
    # The only way that the library offers to leave clock and random identifiers out of a file.
    options = ezdxf.options  # type: ignore[attr-defined]
    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        doc = _document(sheet)
        out = StringIO()
        doc.write(out)
    finally:
        options.write_fixed_meta_data_for_testing = before
    return out.getvalue().encode("utf-8")


def _document(sheet: Sheet) -> "Drawing":
    from ezdxf.filemanagement import new

    doc = new("R2010", units=4)
    doc.header["$MEASUREMENT"] = 1
    # Dashes are lengths on paper in every viewport.
    doc.header["$PSLTSCALE"] = 1
    doc.header["$LWDISPLAY"] = 1
    doc.appids.add(APPLICATION)
    _styles(doc)
    layout: Any = doc.layout("Layout1")
    doc.layouts.rename("Layout1", _layout_name(sheet.name))
    paper = sheet.paper
    layout.page_setup(
        size=(paper.width, paper.height),
        units="mm",
        scale=(1, 1),
        name=paper.name.replace(" ", "_"),
        device="",
    )
    pencil = Pencil(doc=doc, space=layout, ratio=1.0, style="", application=APPLICATION)
    for item in (*furniture(sheet), *sheet.items):
        pencil.draw(item)
    for view, box, shift in _spread(sheet):
        _draw_view(doc, layout, view, box, shift)
    # The library would add them in the order of a set, which changes from run to run.
    for name in sorted(doc.entitydb.dxf_types_in_use()):
        doc.classes.add_class(name)
    return doc


def _layout_name(name: str) -> str:
    return "".join("-" if letter in '<>/\\":;?*|=,`' else letter for letter in shown(name)) or "sheet"


def _styles(doc: "Drawing") -> None:
    """Line types, layers and text styles."""
    for pen in PENS:
        if pen.dashes:
            signed = [length if i % 2 == 0 else -length for i, length in enumerate(pen.dashes)]
            doc.linetypes.add(pen.name.upper(), pattern=[sum(pen.dashes), *signed], description=pen.says)
        _layer(doc, pen.name.upper(), pen)
    for name in OWN_LAYERS:
        _layer(doc, name.upper(), None)
    _layer(doc, VIEWPORTS.upper(), None).dxf.plot = 0
    # Free fonts with the widths that were measured; what a program takes instead is hardly ever wider.
    doc.styles.add("LETTERING", font="DejaVuSans.ttf", dxfattribs={"width": CONDENSED})
    doc.styles.add("LETTERING_BOLD", font="DejaVuSans-Bold.ttf", dxfattribs={"width": CONDENSED})


def _layer(doc: "Drawing", name: str, pen: Pen | None) -> Any:
    linetype = pen.name.upper() if pen and pen.dashes else "Continuous"
    width = round(100 * pen.width) if pen else 25
    return doc.layers.add(name, color=BLACK_OR_WHITE, linetype=linetype, lineweight=width)


def _spread(sheet: Sheet) -> Iterator[tuple[View, Box, Point]]:
    """Pair views with their extent on paper and their shift in model space, so that none covers another there."""
    right: Mm | None = None
    for view in sheet.views:
        items = view_on_paper(view)
        if not items:
            continue
        box = extent(items).grown(1.0)
        low, high = view.in_view(box.low), view.in_view(box.high)
        # Whole hundreds, so that a draughtsman finds round coordinates.
        shift = 0.0 if right is None else math.ceil((right - low[0]) / 100.0 + 1.0) * 100.0
        right = high[0] + shift
        yield view, box, (shift, 0.0)


def _draw_view(doc: "Drawing", layout: Any, view: View, box: Box, shift: Point) -> None:
    ratio, middle = view.scale.ratio, view.in_view(box.centre)
    layout.add_viewport(
        center=box.centre,
        size=(box.width, box.height),
        view_center_point=(middle[0] + shift[0], middle[1] + shift[1]),
        view_height=box.height / ratio,
        status=2,
        dxfattribs={"layer": VIEWPORTS.upper()},
    )
    for item in view.items:
        style = ""
        if isinstance(item, LinearDimension | RadiusDimension | ArcDimension):
            style = _dimension_style(doc, view, item.height)
        pencil = Pencil(doc=doc, space=doc.modelspace(), ratio=ratio, style=style, application=APPLICATION)
        pencil.draw(placed(item, 1.0, shift))


def _dimension_style(doc: "Drawing", view: View, height: Mm) -> str:
    """Dimension style of a scale and lettering height, made when it is first needed."""
    name = f"DIM_{view.scale.paper}_{view.scale.thing}_{height:g}".replace(".", "_")
    if name not in doc.dimstyles:
        doc.dimstyles.add(
            name,
            dxfattribs={
                "dimscale": 1.0 / view.scale.ratio,
                "dimlfac": 1.0,
                "dimtxt": height,
                "dimtxsty": "LETTERING",
                "dimasz": ARROW,
                "dimexe": OVERSHOOT,
                "dimexo": GAP,
                "dimgap": lift(height),
                "dimtad": 1,
                "dimtih": 0,
                "dimtoh": 0,
                "dimtmove": 2,
                "dimdec": 1,
                "dimzin": 8,
                "dimdsep": ord("."),
                # The text says "arc" itself.
                "dimarcsym": 2,
                "dimlwd": 25,
                "dimlwe": 25,
            },
        )
    return name
