"""One invented sheet in all three formats, read back by other programs' readers.

DXF with ezdxf, SVG with an XML parser and path lengths, PDF with pypdf and pdfplumber. Run as a program, this file
writes the checksums of the three files, for the comparison between processes.
"""

import hashlib
import io
import math
import os
import re
import subprocess
import sys
from collections.abc import Callable, Iterator
from typing import Any
from xml.etree import ElementTree

import ezdxf
import numpy as np
import pdfplumber
import pypdf
import pytest

from underbag.export.drawing.boxes import boxes_of, collisions
from underbag.export.drawing.callout import balloon_column
from underbag.export.drawing.curves import Arc, Circle, Line, Spline, flattened, polar, spline_through
from underbag.export.drawing.dxf import write_dxf
from underbag.export.drawing.lanes import Wanted, stack_dimensions
from underbag.export.drawing.lettering import text_width
from underbag.export.drawing.paper import A3, A4
from underbag.export.drawing.patterns import PATTERNS
from underbag.export.drawing.pdf import write_pdf
from underbag.export.drawing.pens import CENTRE, NARROW, PHANTOM, WIDE
from underbag.export.drawing.primitives import (
    Align,
    ArcDimension,
    Ending,
    Hatch,
    Item,
    Leader,
    RadiusDimension,
    Reach,
    Side,
    Stroke,
    Text,
    filled,
    outline,
)
from underbag.export.drawing.scale import Scale
from underbag.export.drawing.sheet import Sheet, View, placed
from underbag.export.drawing.svg import write_svg
from underbag.export.drawing.table import Column, paragraph, table
from underbag.export.drawing.title_block import TitleBlock
from underbag.model.errors import ExportError

RADIUS, THICKNESS, HALF = 400.0, 18.0, math.radians(40)
CHORD = 2 * RADIUS * math.sin(HALF)
RISE = RADIUS * (1 - math.cos(HALF))
ARC_LENGTH = 2 * HALF * (RADIUS + THICKNESS)
LAYERS = (
    ("platen", "metal", 6.0, 0.0),
    ("release film", "solid", 0.2, 8.0),
    ("back veneer", "wood across", 0.9, 5.0),
    ("substrate", "wood along", 4.0, 0.0),
    ("face veneer", "wood across", 0.9, 5.0),
    ("absorbent", "textile", 1.6, 9.0),
    ("caul", "form", 3.0, 0.0),
    ("breather", "net", 3.0, 14.0),
    ("cushion", "foam", 4.0, 3.0),
    ("board", "panel", 5.0, 0.0),
)


def example() -> Sheet:
    """A bent strip at 1:5 with an enlarged stack at 5:1, with every kind of item."""
    block = TitleBlock(
        title="Drawer front",
        subtitle="Section",
        owner="Elder Lane",
        number="EL-12",
        sheet=1,
        sheets=2,
        date="2024-05-01",
        status="STOP: see checks",
        scale="1:5 (5:1)",
        units="mm [in]",
    )
    cells = [(str(n), name, f"{t:g} mm") for n, (name, _, t, _) in enumerate(LAYERS, 1)]
    columns = [
        Column(heading="No", width=10, align=Align.RIGHT),
        Column(heading="Part", width=40),
        Column(heading="Thickness", width=25, align=Align.RIGHT),
    ]
    parts = table((25, 105), columns, cells)
    note, _ = paragraph((110, 100), "Thin sheets are drawn black: θ = 80°, ⌀ 3 ≥ ½ × 5″ & <6.", 60, 2.5)
    titles = (
        Text(text="A–A (1:5)", position=(120, 270), height=5.0, align=Align.CENTRE),
        Text(text="Z (5:1)", position=(300, 275), height=5.0, align=Align.CENTRE),
    )
    return Sheet(
        name="section",
        paper=A3,
        title=block,
        views=(_bent(), _stack()),
        items=(*parts.items, *note, *titles),
    )


def _bent() -> View:
    centre = (0.0, 0.0)
    start, end = math.pi / 2 + HALF, math.pi / 2 - HALF
    inner = Arc(centre=centre, radius=RADIUS, start=start, sweep=end - start)
    outer = Arc(centre=centre, radius=RADIUS + THICKNESS, start=end, sweep=start - end)
    edges = (
        inner,
        Line(start=inner.at(end), end=outer.at(end)),
        outer,
        Line(start=outer.at(start), end=inner.at(start)),
    )
    left, right, top = inner.at(start), inner.at(end), (0.0, RADIUS)
    film = spline_through([(-200, 560), (-100, 570), (0, 562), (120, 575), (200, 560)])
    detail = Stroke(curve=Circle(centre=polar(centre, RADIUS, start), radius=40), pen=NARROW, part="detail")
    radius = RadiusDimension(centre=centre, radius=RADIUS, angle=1.2, text="R 400 [15 3/4]")
    view = View(name="section", scale=Scale(1, 5), origin=(120, 130))
    view = view.with_items(
        detail,
        radius,
        Hatch(boundary=edges, pattern="wood along", part="strip"),
        *(Stroke(curve=edge, part="strip") for edge in edges),
        Stroke(curve=Line(start=(0, RADIUS - 20), end=(0, RADIUS + 60)), pen=CENTRE),
        Stroke(curve=film, pen=PHANTOM, part="film"),
        RadiusDimension(
            centre=centre, radius=RADIUS + THICKNESS, angle=2.0, text="R 418", reach=Reach.OUTSIDE
        ),
        ArcDimension(
            centre=centre,
            radius=RADIUS + THICKNESS,
            start=start,
            sweep=end - start,
            line_radius=RADIUS + THICKNESS + 90,
            text=f"⌒ {ARC_LENGTH:.1f}",
        ),
        Leader(
            points=(polar(centre, RADIUS + 9, 1.75), (-60, 300), (-90, 300)), text="strip", ending=Ending.DOT
        ),
    )
    across = [
        Wanted(start=left, end=right, text=f"{CHORD:.1f} [20 1/4]"),
        Wanted(start=outer.at(start), end=left, text="11.6"),
        Wanted(start=right, end=outer.at(end), text="11.6"),
    ]
    up = [Wanted(start=right, end=top, text=f"{RISE:.1f} [3 11/16]")]
    obstacles = boxes_of(placed(item, view.scale.ratio, view.origin) for item in (detail, radius))
    below = stack_dimensions(view, across, Side.BELOW, left[1], obstacles)
    return view.with_items(*below, *stack_dimensions(view, up, Side.RIGHT, outer.at(end)[0] + 50))


def _stack() -> View:
    view = View(name="detail Z", scale=Scale(5, 1), origin=(265, 100))
    y, tips, items = 0.0, [], list[Item]()
    for number, (name, pattern, thickness, over) in enumerate(LAYERS, 1):
        corners = ((-4.0, y), (8 + over / 3, y), (8 + over / 3, y + thickness), (-4.0, y + thickness))
        items.append(filled(*corners, pattern=pattern, part=name))
        items.append(outline(*corners, pen=WIDE if thickness > 1 else NARROW, part=name))
        tips.append(((6 + over / 3, y + thickness / 2), str(number)))
        y += thickness
    view = view.with_items(*items, *balloon_column(view, tips, 350, 90, 265))
    heights = [
        Wanted(start=(-4, 0), end=(-4, y), text=f"{y:.1f} [1 1/8]"),
        Wanted(start=(-4, 7.1), end=(-4, 11.1), text="4"),
    ]
    widths = [
        Wanted(start=(8, 0), end=(8 + 5 / 3, 0), text="1.7 [1/16]"),
        Wanted(start=(8, 0), end=(8 + 14 / 3, 0), text="4.7 [3/16]"),
        Wanted(start=(8 + 5 / 3, 0), end=(8 + 8 / 3, 0), text="1"),
    ]
    left = stack_dimensions(view, heights, Side.LEFT, -4)
    return view.with_items(*left, *stack_dimensions(view, widths, Side.BELOW, 0, obstacles=boxes_of(left)))


SHEET = example()
SECOND = Sheet(name="list", paper=A4, title=TitleBlock(title="List of parts", sheet=2, sheets=2))
STRIP_EDGE = 2 * HALF * (2 * RADIUS + THICKNESS) + 2 * THICKNESS
"""Length around the strip: two arcs and two ends."""


def test_nothing_on_the_sheet_collides() -> None:
    assert collisions(SHEET) == ()
    assert collisions(SECOND) == ()


# DXF


@pytest.fixture(scope="module")
def dxf() -> Any:
    return ezdxf.read(io.StringIO(write_dxf(SHEET).decode()))


def _part(entity: Any) -> str:
    return entity.get_xdata("UNDERBAG")[0].value if entity.has_xdata("UNDERBAG") else ""


def test_dxf_is_free_of_errors_and_metric(dxf: Any) -> None:
    audit = dxf.audit()
    assert (audit.errors, audit.fixes) == ([], [])
    assert dxf.dxfversion == "AC1024"
    assert (dxf.header["$INSUNITS"], dxf.header["$MEASUREMENT"]) == (4, 1)


def test_dxf_model_space_is_full_size(dxf: Any) -> None:
    """Arcs and lines of the strip add up to its edge, to 0.01 mm."""
    length = 0.0
    for entity in dxf.modelspace().query("LINE ARC"):
        if _part(entity) == "strip":
            if entity.dxftype() == "ARC":
                assert entity.dxf.radius in (RADIUS, RADIUS + THICKNESS)
                turn = math.radians((entity.dxf.end_angle - entity.dxf.start_angle) % 360)
                length += entity.dxf.radius * turn
            else:
                length += math.dist(entity.dxf.start, entity.dxf.end)
    assert length == pytest.approx(STRIP_EDGE, abs=0.01)


def test_dxf_stack_is_full_size_beside_the_section(dxf: Any) -> None:
    (platen,) = (e for e in dxf.modelspace().query("LWPOLYLINE") if _part(e) == "platen")
    xs, ys = zip(*(point[:2] for point in platen.get_points()), strict=True)
    assert max(xs) - min(xs) == pytest.approx(12)
    assert max(ys) - min(ys) == pytest.approx(6)
    # Moved by whole hundreds, clear of everything of the first view.
    assert (min(xs) + 4) % 100 == pytest.approx(0)
    assert min(xs) > 400


def test_dxf_spline_keeps_poles_and_knots(dxf: Any) -> None:
    (film,) = dxf.modelspace().query("SPLINE")
    (stroke,) = (i for i in SHEET.views[0].items if isinstance(i, Stroke) and isinstance(i.curve, Spline))
    assert isinstance(stroke.curve, Spline)
    assert np.array(film.control_points)[:, :2] == pytest.approx(np.array(stroke.curve.poles))
    assert list(film.knots) == pytest.approx(stroke.curve.knots)


EXPECTED = {
    "<> [20 1/4]": [CHORD],
    "<> [3 11/16]": [RISE],
    "<> [1 1/8]": [sum(thickness for _, _, thickness, _ in LAYERS)],
    "<>": [1.0, 4.0, THICKNESS * math.sin(HALF), THICKNESS * math.sin(HALF)],
    "<> [1/16]": [5 / 3],
    "<> [3/16]": [14 / 3],
    "R <> [15 3/4]": [RADIUS],
    "R <>": [RADIUS + THICKNESS],
}
"""What each text of a DIMENSION has to measure; ``<>`` stands for the number that the reader measures itself."""


def test_dxf_dimensions_measure_the_geometry(dxf: Any) -> None:
    """The reader's own measurement of each DIMENSION is the geometry's, at every scale, with the factor 1."""
    measured: dict[str, list[float]] = {}
    for dimension in dxf.modelspace().query("DIMENSION"):
        style = dxf.dimstyles.get(dimension.dxf.dimstyle)
        assert style.dxf.dimlfac == 1
        # Letters of 3.5 mm on paper at 1:5 and at 5:1.
        assert round(style.dxf.dimscale * style.dxf.dimtxt, 9) in (17.5, 0.7)
        measured.setdefault(dimension.dxf.text, []).append(dimension.get_measurement())
        assert dimension.dxf.geometry in dxf.blocks
    assert {text: sorted(values) for text, values in measured.items()} == {
        text: pytest.approx(values, abs=1e-6) for text, values in EXPECTED.items()
    }


def test_dxf_arc_length(dxf: Any) -> None:
    """The points of the ARC_DIMENSION give back the length along the arc."""
    (entity,) = dxf.modelspace().query("ARC_DIMENSION")
    centre, ends = entity.dxf.defpoint4, (entity.dxf.defpoint2, entity.dxf.defpoint3)
    a, b = ((end - centre).angle for end in ends)
    assert (b - a) * (ends[0] - centre).magnitude == pytest.approx(ARC_LENGTH, abs=0.01)
    assert entity.dxf.actual_measurement == pytest.approx(ARC_LENGTH, abs=0.01)


def test_dxf_dimension_blocks_look_like_the_other_formats(dxf: Any) -> None:
    """Two arrows of 3 mm on paper and a text of 3.5 mm in each linear dimension's block."""
    for dimension in dxf.modelspace().query("DIMENSION[dimtype==160]"):
        block, size = (
            dxf.blocks.get(dimension.dxf.geometry),
            dxf.dimstyles.get(dimension.dxf.dimstyle).dxf.dimscale,
        )
        arrows = [entity for entity in block if entity.dxftype() == "SOLID"]
        (text,) = (entity for entity in block if entity.dxftype() == "TEXT")
        assert len(arrows) == 2
        for arrow in arrows:
            base = (arrow.dxf.vtx1 + arrow.dxf.vtx2) / 2
            assert (arrow.dxf.vtx0 - base).magnitude == pytest.approx(3 * size)
        assert text.dxf.height == pytest.approx(3.5 * size)


def test_dxf_hatches_carry_their_patterns(dxf: Any) -> None:
    """Each named part is a HATCH of its area, with the families of its pattern at the size of the view."""
    hatches = {_part(e): e for e in dxf.modelspace().query("HATCH") if _part(e)}
    assert set(hatches) == {"strip", *(name for name, *_ in LAYERS)}
    for name, pattern, thickness, over in LAYERS:
        hatch = hatches[name]
        assert _area(hatch) == pytest.approx((12 + over / 3) * thickness)
        families = PATTERNS[pattern].families
        assert hatch.dxf.solid_fill == (not families)
        lines = hatch.pattern.lines if families else []
        for line, family in zip(lines, families, strict=True):
            assert line.angle == pytest.approx(math.degrees(family.angle))
            # 5:1: a spacing on paper is a fifth of it in model space.
            across = -math.sin(family.angle) * line.offset.x + math.cos(family.angle) * line.offset.y
            along = math.cos(family.angle) * line.offset.x + math.sin(family.angle) * line.offset.y
            assert (across, along) == pytest.approx((family.spacing / 5, family.shift / 5))
            assert [abs(item) for item in line.dash_length_items] == pytest.approx(
                [d / 5 for d in family.dashes]
            )
    sector = HALF * ((RADIUS + THICKNESS) ** 2 - RADIUS**2)
    assert _area(hatches["strip"]) == pytest.approx(sector, rel=1e-5)


def _area(hatch: Any) -> float:
    from ezdxf.path import from_hatch
    from shapely.geometry import Polygon

    # The reader makes one cubic of a quarter turn: 2.7e-4 of the radius.
    return sum(Polygon([(v.x, v.y) for v in path.flattening(1e-4)]).area for path in from_hatch(hatch))


def test_dxf_layout_shows_each_view_at_its_scale(dxf: Any) -> None:
    layout = dxf.layout("section")
    assert (layout.dxf.paper_width, layout.dxf.paper_height) == (420, 297)
    views = [v for v in layout.viewports() if v.dxf.status > 1]
    assert [v.dxf.height / v.dxf.view_height for v in views] == pytest.approx([1 / 5, 5])
    for viewport, view in zip(views, SHEET.views, strict=True):
        shift = viewport.dxf.view_center_point.x - view.in_view((viewport.dxf.center.x, 0))[0]
        assert shift % 100 == pytest.approx(0, abs=1e-6) or shift % 100 == pytest.approx(100)
    assert dxf.layers.get("VIEWPORTS").dxf.plot == 0
    written = {entity.dxf.text for entity in layout.query("TEXT")}
    assert {"Drawer front", "STOP: see checks", "Elder Lane", "release film", "A–A (1:5)"} <= written


def test_dxf_layers_carry_widths_and_dashes(dxf: Any) -> None:
    """Line widths in hundredths of a mm; the dashed line type repeats after 15 widths."""
    widths = {
        name: dxf.layers.get(name).dxf.lineweight for name in ("VISIBLE", "NARROW", "FRAME", "HATCHING")
    }
    assert widths == {"VISIBLE": 50, "NARROW": 25, "FRAME": 70, "HATCHING": 18}
    hidden = dxf.linetypes.get(dxf.layers.get("HIDDEN").dxf.linetype)
    assert hidden.pattern_tags.tags[2].value == pytest.approx(15 * 0.25)


def test_dxf_needs_names_that_differ() -> None:
    view = View(name="same", origin=(50, 50), items=(Text(text="a", position=(0, 0)),))
    with pytest.raises(ExportError, match="sheet twice: found views named"):
        write_dxf(Sheet(name="twice", paper=A4, title=TitleBlock(title="t"), views=(view, view)))


def test_dxf_keeps_holes_splines_and_control_letters() -> None:
    """A round hole, an area bounded by a spline, a clockwise arc, and letters that would start a control code."""
    wave = spline_through([(0, 0), (10, 4), (20, -3), (30, 0)])
    closing = Arc(centre=(15, 0), radius=15, start=0.0, sweep=-math.pi)
    items = (
        Hatch(
            boundary=(Circle(centre=(100, 0), radius=10),),
            holes=((Circle(centre=(100, 0), radius=4),),),
            pattern="metal",
            part="ring",
        ),
        Hatch(boundary=(wave, closing), pattern="foam", part="wave"),
        Text(text="100%% ^I", position=(0, 50)),
    )
    view = View(name="v", origin=(40, 150), items=items)
    sheet = Sheet(name="odd/name", paper=A4, title=TitleBlock(title="t"), views=(view,))
    doc: Any = ezdxf.read(io.StringIO(write_dxf(sheet).decode()))
    assert doc.audit().errors == []
    assert "odd-name" in doc.layout_names()
    hatches = {_part(entity): entity for entity in doc.modelspace().query("HATCH")}
    assert len(hatches["ring"].paths) == 2
    assert _area(hatches["ring"]) == pytest.approx(math.pi * (100 + 16), rel=1e-3)
    from shapely.geometry import Polygon

    loop = np.concatenate([flattened(wave, 1e-4), flattened(closing, 1e-4)])
    assert _area(hatches["wave"]) == pytest.approx(Polygon(loop).area, rel=1e-3)
    (path,) = hatches["wave"].paths
    _, arc_edge = path.edges
    # The reader keeps arcs counter-clockwise and says by a flag that this one is run through backwards.
    assert (arc_edge.ccw, arc_edge.start_angle % 360, arc_edge.end_angle % 360) == (False, 180, 0)
    (text,) = doc.modelspace().query("TEXT")
    assert text.plain_text() == "100% % ^I"


# SVG


@pytest.fixture(scope="module")
def svg() -> ElementTree.Element:
    return ElementTree.fromstring(write_svg(SHEET))


def _tag(element: ElementTree.Element) -> str:
    return element.tag.removeprefix("{http://www.w3.org/2000/svg}")


def _view(root: ElementTree.Element, name: str) -> ElementTree.Element:
    (view,) = (element for element in root if element.get("data-view") == name)
    return view


def path_length(data: str) -> float:
    """Length of path data made of M, L, A, C and Z; arcs by their chord, curves by many chords."""
    length, here, start = 0.0, (0.0, 0.0), (0.0, 0.0)
    for command, numbers in re.findall(r"([MLACZ])([^MLACZ]*)", data):
        values = [float(number) for number in numbers.split()]
        if command == "M":
            here = start = (values[0], values[1])
        elif command == "L":
            length, here = length + math.dist(here, (values[0], values[1])), (values[0], values[1])
        elif command == "A":
            radius, large, end = values[0], values[3], (values[5], values[6])
            half = math.asin(min(1.0, math.dist(here, end) / 2 / radius))
            length, here = length + radius * 2 * (math.pi - half if large and half < 1.57 else half), end
        elif command == "C":
            p = np.array([here, *zip(values[::2], values[1::2], strict=True)])
            s = np.linspace(0, 1, 400)[:, None]
            curve = (
                (1 - s) ** 3 * p[0] + 3 * (1 - s) ** 2 * s * p[1] + 3 * (1 - s) * s**2 * p[2] + s**3 * p[3]
            )
            length, here = length + float(np.hypot(*np.diff(curve, axis=0).T).sum()), (values[4], values[5])
        else:
            length, here = length + math.dist(here, start), start
    return length


def test_svg_page_is_in_true_millimetres(svg: ElementTree.Element) -> None:
    assert (svg.get("width"), svg.get("height"), svg.get("viewBox")) == ("420mm", "297mm", "0 0 420 297")
    assert svg.findtext("{http://www.w3.org/2000/svg}title") == "Drawer front – Section – section"


def test_svg_lengths_are_true_at_the_scale(svg: ElementTree.Element) -> None:
    """Lengths on paper over the scale, to 0.01 mm of the thing."""
    view = _view(svg, "section")
    assert view.get("data-scale") == "1:5"
    (pen,) = (group for group in view if group.get("data-pen") == "visible")
    assert pen.get("stroke-width") == "0.5"
    lengths = [path_length(path.get("d", "")) for path in pen if path.get("data-part") == "strip"]
    assert sum(lengths) * 5 == pytest.approx(STRIP_EDGE, abs=0.01)
    (film,) = (path for path in view.iter() if path.get("data-part") == "film")
    (stroke,) = (i for i in SHEET.views[0].items if isinstance(i, Stroke) and i.part == "film")
    expected = float(np.hypot(*np.diff(flattened(stroke.curve, 1e-4), axis=0).T).sum())
    assert path_length(film.get("d", "")) * 5 == pytest.approx(expected, abs=0.01)
    (circle,) = (path for path in view.iter() if path.get("data-part") == "detail")
    assert path_length(circle.get("d", "")) * 5 == pytest.approx(2 * math.pi * 40, abs=0.01)


def arc_centres(data: str) -> Iterator[tuple[float, float]]:
    """Centres of the arcs of path data, from their end points and flags (SVG 1.1, appendix F.6.5, for circles)."""
    here = (0.0, 0.0)
    for command, numbers in re.findall(r"([MLACZ])([^MLACZ]*)", data):
        values = [float(number) for number in numbers.split()]
        if command == "A":
            radius, large, turn, end = values[0], values[3], values[4], (values[5], values[6])
            dx, dy = (here[0] - end[0]) / 2, (here[1] - end[1]) / 2
            reach = math.sqrt(max(radius**2 / (dx**2 + dy**2) - 1, 0.0)) * (1 if large != turn else -1)
            yield (here[0] + end[0]) / 2 + reach * dy, (here[1] + end[1]) / 2 - reach * dx
        here = (values[-2], values[-1]) if values else here


def test_svg_arcs_bulge_to_the_right_side(svg: ElementTree.Element) -> None:
    """Both arcs of the strip turn about the view's origin, which lies at (120, 130) on paper, y up."""
    (pen,) = (group for group in _view(svg, "section") if group.get("data-pen") == "visible")
    centres = [c for path in pen if path.get("data-part") == "strip" for c in arc_centres(path.get("d", ""))]
    assert len(centres) == 4
    # Rounding to 5 digits moves the centre of a flat arc by up to 20 times as much.
    assert all(centre == pytest.approx((120, 297 - 130), abs=1e-3) for centre in centres)


def test_svg_enlarged_outline_is_true(svg: ElementTree.Element) -> None:
    outlines = [
        path
        for group in _view(svg, "detail Z")
        if group.get("data-pen")
        for path in group
        if path.get("data-part") == "platen"
    ]
    assert [path_length(path.get("d", "")) / 5 for path in outlines] == pytest.approx([36], abs=0.01)


def test_svg_text_is_text_of_the_measured_width(svg: ElementTree.Element) -> None:
    texts = {text.text: text for text in svg.iter() if _tag(text) == "text"}
    assert {"Drawer front", "514.2 [20 1/4]", "R 400 [15 3/4]", "arc 583.6", "10", "release film"} <= set(
        texts
    )
    assert 'theta = 80°, Ø 3 ≥ ½ × 5" & <6.' in " ".join(str(text) for text in texts)
    title = texts["Drawer front"]
    condensed = float(title.get("transform", "")[7:].split()[0])
    height = float(title.get("font-size", "")) * 1493 / 2048
    from underbag.export.drawing.lettering import Face

    expected = text_width("Drawer front", height, Face.BOLD)
    assert float(title.get("textLength", "")) * condensed == pytest.approx(expected, abs=0.02)


def test_svg_hatching_is_clipped_by_its_area(svg: ElementTree.Element) -> None:
    """Every hatched part has a clip of its own outline; black parts are filled."""
    clips = {clip.get("id"): clip[0].get("d", "") for clip in svg.iter() if _tag(clip) == "clipPath"}
    for view, name, perimeter in ((SHEET.views[0], "strip", STRIP_EDGE), (SHEET.views[1], "platen", 36.0)):
        (hatch,) = (
            group for group in svg.iter() if group.get("data-hatch") and group.get("data-part") == name
        )
        clip = clips[hatch.get("clip-path", "")[5:-1]]
        assert path_length(clip) / view.scale.ratio == pytest.approx(perimeter, abs=0.01)
    (film,) = (path for path in svg.iter() if path.get("data-part") == "release film" and path.get("fill"))
    assert film.get("fill") == "#000"


# PDF


@pytest.fixture(scope="module")
def pdf() -> bytes:
    return write_pdf([SHEET, SECOND])


def test_pdf_pages_fonts_and_title(pdf: bytes) -> None:
    reader = pypdf.PdfReader(io.BytesIO(pdf))
    sizes = [(float(page.mediabox.width), float(page.mediabox.height)) for page in reader.pages]
    assert [side * 25.4 / 72 for size in sizes for side in size] == pytest.approx(
        [420, 297, 210, 297], abs=0.001
    )
    assert reader.metadata is not None
    assert (reader.metadata.title, reader.metadata.author) == ("Drawer front", "Elder Lane")
    for page in reader.pages:
        fonts: Any = page["/Resources"]["/Font"]  # type: ignore[index]
        for font in fonts.values():
            descriptor = font.get_object()["/FontDescriptor"].get_object()
            assert "/FontFile2" in descriptor
            assert "BitstreamVeraSans" in font.get_object()["/BaseFont"]
    assert [entry.title for entry in reader.outline] == ["Drawer front: section", "List of parts: list"]  # type: ignore[union-attr]


def test_pdf_text_can_be_searched(pdf: bytes) -> None:
    text = pypdf.PdfReader(io.BytesIO(pdf)).pages[0].extract_text()
    for words in (
        "Drawer front",
        "STOP: see checks",
        "release film",
        "514.2 [20 1/4]",
        "583.6",
        "theta = 80°",
    ):
        assert words in text


def test_pdf_lengths_are_true_at_the_scale(pdf: bytes) -> None:
    """The centre line, the strip's ends and the platen, in points over the scale, to 0.01 mm of the thing."""
    with pdfplumber.open(io.BytesIO(pdf)) as document:
        page = document.pages[0]
        lines = [tuple(tuple(p) for p in line["pts"]) for line in page.lines]
        lengths = [math.dist(a, b) * 25.4 / 72 * 5 for a, b in (line[:2] for line in lines)]
        # Straight ends of the strip, 18 mm each, and the axis of 80 mm, all at 1:5.
        assert sum(abs(length - THICKNESS) < 0.01 for length in lengths) >= 2
        assert sum(abs(length - 80.0) < 0.01 for length in lengths) >= 1
        rects = [(r["width"] * 25.4 / 72 / 5, r["height"] * 25.4 / 72 / 5) for r in page.rects]
        assert [r for r in rects if r == pytest.approx((12, 6), abs=0.01)]
        curves = [curve["path"] for curve in page.curves]
    # Both arcs about the view's origin, each piece of them on its circle.
    for radius, expected in ((RADIUS, 2 * HALF * RADIUS), (RADIUS + THICKNESS, ARC_LENGTH)):
        arcs = [points for points in map(_sampled, curves) if _is_on_circle(points, radius)]
        lengths = [float(np.hypot(*np.diff(points, axis=0).T).sum()) * 5 for points in arcs]
        assert [length for length in lengths if length == pytest.approx(expected, abs=0.01)]


def _sampled(path: list[Any]) -> np.ndarray:
    """Points along a path of a PDF page, in mm."""
    s, points = np.linspace(0, 1, 200)[:, None], [np.array([path[0][1]])]
    for command, *ends in path[1:]:
        if command == "c":
            a, (b, c, d) = points[-1][-1], (np.array(end) for end in ends)
            points.append((1 - s) ** 3 * a + 3 * (1 - s) ** 2 * s * b + 3 * (1 - s) * s**2 * c + s**3 * d)
        elif command == "l":
            points.append(np.array(ends))
    return np.concatenate(points) * 25.4 / 72


def _is_on_circle(points: np.ndarray, radius: float) -> bool:
    """Whether points lie within 0.01 mm of the thing on a circle about the origin of the view at 1:5."""
    return bool((np.abs(np.hypot(*(points - (120, 297 - 130)).T) * 5 - radius) < 0.01).all())


def test_pdf_dimension_line_is_true(pdf: bytes) -> None:
    """The line of the chord's dimension is as long on paper as chord ÷ 5."""
    with pdfplumber.open(io.BytesIO(pdf)) as document:
        lengths = [abs(line["x1"] - line["x0"]) * 25.4 / 72 for line in document.pages[0].lines]
    assert min(abs(length * 5 - CHORD) for length in lengths) < 0.01


# The same bytes


WRITERS: dict[str, Callable[[], bytes]] = {
    "svg": lambda: write_svg(example()),
    "pdf": lambda: write_pdf([example(), SECOND]),
    "dxf": lambda: write_dxf(example()),
}


def _checksums() -> Iterator[str]:
    for name, write in WRITERS.items():
        yield f"{name} {hashlib.sha256(write()).hexdigest()}"


@pytest.mark.parametrize("name", WRITERS)
def test_the_same_sheet_gives_the_same_bytes(name: str) -> None:
    assert WRITERS[name]() == WRITERS[name]()


def test_other_processes_give_the_same_bytes() -> None:
    """Two fresh interpreters with other hash seeds and time zones."""
    here = list(_checksums())
    for seed, zone in (("1", "UTC"), ("2", "Asia/Tokyo")):
        environment = {**os.environ, "PYTHONHASHSEED": seed, "TZ": zone}
        run = subprocess.run(
            [sys.executable, __file__],
            capture_output=True,
            text=True,
            check=True,
            env=environment,
            timeout=120,
        )
        assert run.stdout.split("\n")[:3] == here


def test_other_libraries_are_left_as_they_were() -> None:
    before = ezdxf.options.write_fixed_meta_data_for_testing
    write_dxf(SECOND)
    assert ezdxf.options.write_fixed_meta_data_for_testing == before


def test_drawing_modules_import_no_writer_library() -> None:
    """ezdxf, reportlab and scipy are imported only when a file is written or a text measured."""
    code = (
        "import sys, underbag.export.drawing.dxf, underbag.export.drawing.pdf, underbag.export.drawing.svg\n"
        "sys.exit(bool({'ezdxf', 'reportlab', 'scipy'} & set(sys.modules)))"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


if __name__ == "__main__":
    sys.stdout.write("\n".join(_checksums()) + "\n")
