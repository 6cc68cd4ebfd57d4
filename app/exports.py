"""Every file that can be made of a plan, by the name that ``underbag make --only`` knows it by.

An exporter is loaded when its file is asked for: the CAD kernel alone takes longer than all the rest. To add one,
write a function and put a row into ``EXPORTS``.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from ..model.errors import ExportError
from .examine import Examined, Planned

if TYPE_CHECKING:
    from ..export.drawing.sheet import Sheet
    from ..export.page.svg_views import View
    from ..model.air_answer import AirAnswer
    from ..model.nest.nesting import Nesting
    from ..model.plan import Plan
    from ..model.report import Report
    from ..model.scene import Scene

AIR = "air"
NO_AIR = "There is no breather in this layup, so that the air finds no way to the valve; no map can be drawn."

Files = Iterator[tuple[str, bytes]]
"""Names of files, within the folder of the set, and what is in them."""


@dataclass(frozen=True)
class Job:
    """What exporters take from: a layup that has a plan, and what was found about its air where that was asked for.

    Scene and drawing are made once, when first asked for.
    """

    examined: Examined
    planned: Planned
    air: "AirAnswer | None" = None

    @property
    def plan(self) -> "Plan":
        """Everything placed and sized."""
        return self.planned.plan

    @property
    def report(self) -> "Report":
        """Values and checks."""
        return self.planned.report

    @cached_property
    def scene(self) -> "Scene":
        """Named, coloured meshes."""
        from ..model.scene import scene

        return scene(self.plan)

    @cached_property
    def nestings(self) -> "tuple[Nesting, ...]":
        """The pieces laid onto stock."""
        from ..model.nest.nesting import nest

        return nest(self.plan)

    @cached_property
    def drawings(self) -> "tuple[Sheet, ...]":
        """Every sheet of the drawings, of which all formats are written."""
        from ..export.sheets.drawings import drawings

        return drawings(self.plan, self.report, self.nestings)

    @cached_property
    def drawn_views(self) -> "tuple[View, ...]":
        """Drawn views of the stack, which preview and report show."""
        from ..export.preview import drawn_views

        return drawn_views(self.plan, self.scene)

    @cached_property
    def air_views(self) -> "tuple[View, ...]":
        """Maps of the air; none where it was not asked for."""
        from ..export.air_map import air_views

        return () if self.air is None else air_views(self.air)


@dataclass(frozen=True, slots=True)
class Export:
    """One kind of file.

    Parameters
    ----------
    name
        What it is asked for by.
    about
        What it is, in a few words.
    files
        Makes it.
    """

    name: str
    about: str
    files: Callable[[Job], Files]


def _plan(job: Job) -> Files:
    from .document import as_text, document

    yield "plan.json", as_text(document(job.examined)).encode()


def _cut_list(job: Job) -> Files:
    from ..export.cut_list import cut_list

    yield "cut-list.csv", cut_list(job.plan, job.report)


def _cut_page(job: Job) -> Files:
    from ..export.cut_page import cut_page
    from ..export.document.html import write_html
    from ..export.document.pdf import write_pdf

    document = cut_page(job.plan, job.report, job.nestings)
    yield "cut-list.html", write_html(document)
    yield "cut-list.pdf", write_pdf(document)


def _svg(job: Job) -> Files:
    from ..export.drawing.svg import write_svg

    for sheet in job.drawings:
        yield _drawing(sheet, "svg"), write_svg(sheet)


def _pdf(job: Job) -> Files:
    from ..export.drawing.pdf import write_pdf

    for sheet in job.drawings:
        yield _drawing(sheet, "pdf"), write_pdf([sheet])


def _dxf(job: Job) -> Files:
    from ..export.drawing.dxf import write_dxf

    for sheet in job.drawings:
        yield _drawing(sheet, "dxf"), write_dxf(sheet)


def _drawing(sheet: "Sheet", ending: str) -> str:
    """Place of one sheet of the drawings in one format."""
    return f"drawings/{sheet.name.replace(' ', '-')}.{ending}"


def _drawings(job: Job) -> Files:
    from ..export.drawing.pdf import write_pdf

    yield "drawings.pdf", write_pdf(job.drawings)


def _press_sheet(job: Job) -> Files:
    from ..export.drawing.pdf import write_pdf
    from ..export.papers.press_sheet import press_sheet

    yield "press-sheet.pdf", write_pdf(press_sheet(job.plan, job.report))


def _preview(job: Job) -> Files:
    from ..export.preview import preview

    yield "preview.html", preview(job.plan, job.report, job.scene, job.air_views, job.drawn_views)


def _report(job: Job) -> Files:
    from ..export.document.html import write_html
    from ..export.document.pdf import write_pdf
    from ..export.report.air import air_chapter
    from ..export.report.report import report_document

    more = () if job.air is None else (air_chapter(job.air_views),)
    document = report_document(job.plan, job.report, job.scene, job.nestings, more, job.drawn_views)
    yield "report.html", write_html(document)
    yield "report.pdf", write_pdf(document)


def _air(job: Job) -> Files:
    from ..export.air_map import air_picture

    if job.air is None:
        from ..model.air_answer import TAPERED

        raise ExportError(NO_AIR if job.plan.taper is None else TAPERED)
    yield "air.svg", air_picture(job.air)


def _glb(job: Job) -> Files:
    from ..export.glb import glb

    yield "layup.glb", glb(job.scene)


def _stl(job: Job) -> Files:
    from ..export.stl import stl_part, stl_whole

    yield "stl/whole.stl", stl_whole(job.scene)
    for part in job.scene.parts:
        yield f"stl/{part.key}.stl", stl_part(job.scene, part)


def _step(job: Job) -> Files:
    from ..export.step import step

    yield "layup.step", step(job.plan)


def _threemf(job: Job) -> Files:
    from ..export.threemf import threemf

    yield "layup.3mf", threemf(job.scene)


def _outlines(job: Job) -> Files:
    from ..export.outline_dxf import outline_dxf
    from ..model.template import templates

    for template in templates(job.plan):
        yield f"outlines/{template.key}.dxf", outline_dxf(template)


def _templates(job: Job) -> Files:
    from ..export.template_pages import template_pages, templates_pdf

    if template_pages(job.plan):
        yield "templates.pdf", templates_pdf(job.plan)


EXPORTS: tuple[Export, ...] = (
    Export("plan", "all values and checks, for programs", _plan),
    Export("cut-list", "what to cut, as a table", _cut_list),
    Export("cut-page", "what to cut, as a page to hang in the shop and tick off", _cut_page),
    Export("preview", "a page to look at, offline", _preview),
    Export(
        "press-sheet", "one or two pages for the wall by the bench, to tick off and fill in", _press_sheet
    ),
    Export("drawings", "all sheets of the drawings as one document, to print", _drawings),
    Export("svg", "every sheet of the drawings, for screens", _svg),
    Export("pdf", "every sheet of the drawings, for paper", _pdf),
    Export("dxf", "every sheet of the drawings, for CAD", _dxf),
    Export("templates", "what is curved at full size, on pages to glue together", _templates),
    Export("outlines", "every blank and board at full size, for cutting machines", _outlines),
    Export("report", "everything about the layup, to read and to print", _report),
    Export(AIR, "map of the air; the preview and the report show it too", _air),
    Export("glb", "the parts as one coloured mesh", _glb),
    Export("stl", "a mesh of every part, and of the whole", _stl),
    Export("3mf", "the parts as one package of coloured meshes, with their unit", _threemf),
    Export("step", "solids for CAD, one named part a layer", _step),
)
"""In the order in which they are made: what takes longest comes last."""

BY_DEFAULT: tuple[Export, ...] = tuple(export for export in EXPORTS if export.name != AIR)
"""What is made where nothing is asked for by name: following the air takes longer than it is worth every time."""
