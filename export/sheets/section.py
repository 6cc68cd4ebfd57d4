"""The section sheet: the layup in its bag, cut along its length, with details, parts list and notes.

Source: ISO 5455 (scales), ISO 128 (views, cuts, lines), ISO 129-1 (dimensions), ISO 7200 (title block), as the
drawing primitives follow them.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from ...model.errors import ExportError
from ...model.plan import Plan
from ...model.report import Report
from ...model.units import Mm
from ..drawing.dxf import write_dxf
from ..drawing.paper import Paper
from ..drawing.pdf import write_pdf
from ..drawing.scale import SCALES, Scale
from ..drawing.sheet import Sheet
from ..drawing.svg import write_svg
from .crown_view import crown_scale, crown_view, half_width, middle_of
from .cut import spot
from .edge_view import edge_view, left_end, right_end
from .layout import Arrangement, Placed, Sized, arranged, sized
from .section_view import Mark, section_view
from .side import WIDTH, Side, side
from .titles import About, papers_of, title
from .valve_view import valve_view

ABOUT = About(name="section", subtitle="Section of the layup in its bag", document="Section drawing")

LARGEST, LARGEST_DETAIL = Scale(1, 1), Scale(10, 1)
"""Largest scales of the section and of the detail of its edge."""
BESIDE: Mm = 50.0
"""What a view takes at least beside what it shows: flanges or balloons, dimensions and margins."""

FLAT: tuple[Arrangement, ...] = (
    Arrangement(rows=(("section",), ("edge",)), corner=("valve",)),
    Arrangement(rows=(("section",), ("edge", "valve"))),
    Arrangement(rows=(("section", "valve"), ("edge",))),
    Arrangement(rows=(("section",), ("valve",), ("edge",))),
    Arrangement(rows=(("section", "edge", "valve"),)),
)
BENT: tuple[Arrangement, ...] = (
    Arrangement(rows=(("section",), ("edge",)), corner=("middle", "valve")),
    Arrangement(rows=(("section", "middle"), ("edge", "valve"))),
    Arrangement(rows=(("section", "valve"), ("edge",)), corner=("middle",)),
    Arrangement(rows=(("section", "middle", "valve"), ("edge",))),
    Arrangement(rows=(("section",), ("edge", "valve")), corner=("middle",)),
    Arrangement(rows=(("section",), ("edge", "middle", "valve"))),
    Arrangement(rows=(("section",), ("middle", "valve"), ("edge",))),
    Arrangement(rows=(("section", "edge", "middle", "valve"),)),
)
"""Ways to arrange the views, the best first."""

LARGEST_CIRCLE: Mm = 14.0
"""Largest radius on paper of the circle that marks a detail."""
SMALLEST, SMALLEST_DETAIL = 25.0, 12.0
"""Length on paper below which section and detail are not drawn at all."""
SHORTEST: Mm = 110.0
"""Length and height on paper of the layup below which a larger paper is taken, where there is one."""


def section_sheets(plan: Plan, report: Report) -> tuple[Sheet, ...]:
    """Section sheet of a plan, or one for each end of a taper.

    Raises
    ------
    ExportError
        Not even the largest paper carries it.
    """
    if plan.taper is None:
        return (section_sheet(plan, report),)
    return tuple(_sheet(end, report, _at_end(name), plan) for name, end in plan.taper.ends)


def _at_end(name: str) -> About:
    return About(
        name=f"section {name}",
        subtitle=f"Section at the {name} end",
        document=ABOUT.document,
    )


def section_sheet(plan: Plan, report: Report) -> Sheet:
    """Section sheet of a plan that is the same all through its width."""
    return _sheet(plan, report, ABOUT, plan)


def _sheet(plan: Plan, report: Report, about: About, whole: Plan) -> Sheet:
    """Section sheet: the smallest paper that carries it well, at the largest scale that fits.

    Parameters
    ----------
    whole
        The plan whose parts are listed, where the section shows one end of it.
    """
    column = side(plan, report, whole)
    placed = _placed(plan, column)
    main = next(view for view in placed.views if view.name == "section")
    return Sheet(
        name=about.name,
        paper=placed.paper,
        title=title(plan, report, about, str(main.scale)),
        views=placed.views,
        items=column.at(placed.corner),
    )


def section_dxf(plan: Plan, report: Report) -> bytes:
    """Section sheet as DXF."""
    return write_dxf(section_sheet(plan, report))


def section_svg(plan: Plan, report: Report) -> bytes:
    """Section sheet as SVG."""
    return write_svg(section_sheet(plan, report))


def section_pdf(plan: Plan, report: Report) -> bytes:
    """Section sheet as PDF."""
    return write_pdf([section_sheet(plan, report)])


def _placed(plan: Plan, column: Side) -> Placed:
    """Place on the smallest lying paper that carries the views well; on the upright one where that costs no scale."""
    views = _Views(plan=plan, sections={}, edges={}, others=_others(plan))
    size, ways = (WIDTH, column.height), BENT if plan.layup.is_bent else FLAT
    poor: Placed | None = None
    papers = papers_of(plan)
    for paper in papers[1:]:
        for shown in views.choices(paper):
            placed = arranged(paper, shown, size, ways)
            if placed is not None:
                if views.are_legible(shown):
                    return arranged(papers[0], shown, size, ways) or placed
                poor = poor or placed
                break
    if poor is not None:
        return poor
    raise ExportError(
        f"section of {plan.layup.title or 'the layup'}: found no paper up to {papers[-1].name} on which views and "
        "parts list fit; give the layup fewer laminations"
    )


def _others(plan: Plan) -> dict[str, Sized]:
    """Details of one scale only: where a bend is tightest, and at the valve where the bag is designed."""
    found = {"middle": sized(crown_view(plan, crown_scale(plan)))} if plan.layup.is_bent else {}
    return found if plan.is_undercut else found | {"valve": sized(valve_view(plan))}


@dataclass(frozen=True, slots=True, kw_only=True)
class _Views:
    """Views of one plan by their scales, made when first asked for."""

    plan: Plan
    sections: dict[Scale, Sized]
    edges: dict[Scale, Sized]
    others: dict[str, Sized]

    def choices(self, paper: Paper) -> Iterator[dict[str, Sized]]:
        """Views that a paper might carry, the largest section first, then the largest detail of the edge."""
        edge_span = right_end(self.plan) - left_end(self.plan)
        for main in _scales(LARGEST, self.plan.along.foot, paper, SMALLEST):
            for detail in _scales(LARGEST_DETAIL, edge_span, paper, SMALLEST_DETAIL):
                if detail.ratio > main.ratio:
                    yield {"section": self.section(main), "edge": self.edge(detail), **self.others}

    def section(self, scale: Scale) -> Sized:
        """The whole section."""
        if scale not in self.sections:
            self.sections[scale] = sized(section_view(self.plan, scale, tuple(_marks(self.plan, scale))))
        return self.sections[scale]

    def edge(self, scale: Scale) -> Sized:
        """The detail of the edge."""
        if scale not in self.edges:
            self.edges[scale] = sized(edge_view(self.plan, scale))
        return self.edges[scale]

    def are_legible(self, shown: dict[str, Sized]) -> bool:
        """Whether the section is long enough and the detail not smaller than the thing."""
        along, section, edge = self.plan.along, shown["section"].view.scale, shown["edge"].view.scale
        return (along.foot + along.height) * section.ratio >= SHORTEST and edge.ratio >= 1.0


def _scales(largest: Scale, span: Mm, paper: Paper, least: Mm) -> Iterator[Scale]:
    """Scales from the largest down at which a view of something so long can stand on a paper and still be seen."""
    room = paper.space.width - BESIDE
    least = min(least, span * largest.ratio)
    return (scale for scale in SCALES if scale.ratio <= largest.ratio and least <= span * scale.ratio <= room)


def _marks(plan: Plan, scale: Scale) -> Iterator[Mark]:
    """Circles around the right edge and, on a bend, around what its middle detail shows; none larger than need be."""
    sheet, lift, end = plan.stack.sheet, plan.base.lift, 0.5 * plan.outline.length
    most, height = LARGEST_CIRCLE / scale.ratio, plan.stack.height
    low, high = end + left_end(plan), end + right_end(plan)
    radius = 0.5 * math.hypot(high - low, height) + 2.0
    # where the whole does not fit, what is nearest to the panel's end
    place = 0.5 * (low + high) if radius <= most else end
    middle = spot(sheet, lift, place, 0.5 * height)
    yield Mark(letter="Z", middle=middle, radius=min(radius, most))
    if plan.layup.is_bent:
        half = half_width(plan, crown_scale(plan))
        middle = spot(sheet, lift, middle_of(plan), 0.5 * height)
        yield Mark(letter="Y", middle=middle, radius=min(math.hypot(half, 0.5 * height), most))
