"""The report of a layup as one document, to be written as a page of HTML or as PDF."""

from collections.abc import Mapping, Sequence

from ...model.nest.nesting import Nesting
from ...model.plan import Plan
from ...model.report import Report
from ...model.scene import Scene
from ..document.pieces import Chapter, Document, Measures, Picture, Piece, Sentences, Size, Subtitle
from ..page import Content
from ..page.svg_views import View
from ..preview import content, drawn_views
from .checks import check_pieces
from .materials import material_pieces
from .settings import setting_pieces
from .sizes import blanks_table, stack_table
from .stock import place_table, solid_stock, stock_table
from .values import value_pieces

PAPERS: Mapping[str, Size] = {"ISO": "A4", "North American": "Letter"}
"""Paper of what is read, by that of the drawings."""


def report_document(
    plan: Plan,
    report: Report,
    scene: Scene,
    nestings: Sequence[Nesting],
    more: Sequence[Chapter] = (),
    drawn: Sequence[View] | None = None,
) -> Document:
    """Everything about a layup.

    Parameters
    ----------
    scene
        The parts in space, for the pictures.
    nestings
        The pieces laid onto stock.
    more
        Chapters on what is costly to find and only shown when asked for, such as the map of the air; they stand
        behind the bag and the valve.
    drawn
        The views of ``drawn_views``, made where they are not at hand.
    """
    said = content(plan, report, scene)
    return Document(
        title=plan.layup.title or "Layup",
        kind="Report on a layup for the vacuum bag",
        status=said.status,
        summary=said.summary,
        chapters=(
            Chapter(key="cautions", title="Take care", pieces=(Sentences(texts=said.cautions),)),
            Chapter(key="checks", title="Checks, worst first", pieces=check_pieces(report)),
            Chapter(
                key="pictures",
                title="Pictures",
                pieces=_pictures(drawn_views(plan, scene) if drawn is None else drawn),
            ),
            Chapter(key="stack", title="The stack", pieces=(stack_table(plan),)),
            Chapter(key="blanks", title="Sizes to cut", pieces=(blanks_table(plan),)),
            Chapter(key="stock", title="Stock and yield", pieces=_stock(plan, nestings)),
            Chapter(key="bag", title="Bag and valve", pieces=_bag(said)),
            *more,
            Chapter(key="materials", title="Materials", pieces=material_pieces(plan)),
            Chapter(key="values", title="Values with their working", pieces=value_pieces(report)),
            Chapter(key="settings", title="What was asked for", pieces=setting_pieces(plan.layup)),
            Chapter(key="notes", title="Notes", pieces=(Sentences(texts=said.notes),)),
        ),
        size=PAPERS[plan.layup.drawing.paper],
    )


def _stock(plan: Plan, nestings: Sequence[Nesting]) -> tuple[Piece, ...]:
    return (*stock_table(nestings), *solid_stock(plan), *place_table(nestings))


def _pictures(drawn: Sequence[View]) -> tuple[Picture, ...]:
    """The drawn views of the 3-D model."""
    return tuple(Picture(name=view.name, svg=view.svg, caption=view.caption) for view in drawn)


def _bag(said: Content) -> tuple[Subtitle | Measures, ...]:
    """Sizes of bag and valve; past the half round the bag says that neither is designed, and the valve is left out."""
    return tuple(
        piece
        for title, lines in (("Bag", said.bag), ("Valve", said.valve))
        if lines
        for piece in (Subtitle(text=title), Measures(lines=lines))
    )
