"""The preview of a plan: what its page says."""

from collections import Counter
from collections.abc import Iterator

from ..model.bag.film_cut import FilmCut
from ..model.bag.size import Term
from ..model.bag.words import most_across, most_along
from ..model.checks.rule import Check
from ..model.plan import Plan
from ..model.report import Report
from ..model.scene import Scene
from ..model.shape.pathed import Pathed
from ..model.wording import both, both_size, in_inches, in_mm
from .film_words import AROUND, film_short
from .page import CheckRow, Content, LayerRow, Line, SizeRow, preview_html
from .page.content import Status
from .page.svg_views import View, views
from .page.thickness import Uprights, flat_uprights
from .safety import cautions
from .uprights import bent_uprights

SEATS = {
    "caul": "over the breather, above the caul",
    "tail": "beside the work, on a tail of breather",
    "bare work": "on the work, with no caul below it",
}


def preview(
    plan: Plan,
    report: Report,
    scene: Scene,
    air: tuple[View, ...] = (),
    drawn: tuple[View, ...] | None = None,
) -> bytes:
    """Self-contained page of a plan, without a date: the same plan gives the same bytes.

    ``air`` are maps of the air, where it was asked for; ``drawn`` the views of ``drawn_views``, made where they are not
    at hand.
    """
    return preview_html(scene, content(plan, report, scene), _uprights(plan, scene), air, drawn)


def drawn_views(plan: Plan, scene: Scene) -> tuple[View, ...]:
    """Drawn views of the 3-D model, for the preview and the report: from the corner, spread apart, and cut."""
    numbers = {row.key: row.number for row in _layers(plan, scene)}
    return views(scene, numbers, _uprights(plan, scene))


def _uprights(plan: Plan, scene: Scene) -> Uprights:
    return bent_uprights(plan, scene) if plan.layup.is_bent else flat_uprights(scene)


def content(plan: Plan, report: Report, scene: Scene) -> Content:
    """Put everything that the page says into words."""
    status, summary = verdict(report)
    return Content(
        title=plan.layup.title,
        date="",
        status=status,
        summary=summary,
        checks=tuple(check_row(check) for check in report.checks),
        sizes=tuple(_sizes(plan)),
        bag=tuple(_bag(plan)),
        valve=tuple(_valve(plan)),
        layers=tuple(_layers(plan, scene)),
        cautions=cautions(plan, report),
        notes=tuple(_notes(plan)),
    )


def verdict(report: Report) -> tuple[Status, str]:
    """Worst status of all checks, and how many there are of what is not fine, in words."""
    stops, warnings = (
        sum(check.status == status for check in report.checks) for status in ("stop", "caution")
    )
    return "stop" if stops else "caution" if warnings else "ok", _summary(stops, warnings)


def _summary(stops: int, warnings: int) -> str:
    if stops:
        return f"{_counted(stops, 'stop')}, {_counted(warnings, 'caution')}: do not press this as it is"
    return f"{_counted(warnings, 'caution')}, no stop" if warnings else "all checks hold"


def _counted(number: int, word: str) -> str:
    return f"{number or 'no'} {word}{'' if number == 1 else 's'}"


def check_row(check: Check) -> CheckRow:
    """Put a check into words."""
    change = f"{check.change}: {check.remedy}" if check.change else check.remedy
    return CheckRow(status=check.status, title=check.title, message=check.message, change=change)


def _sizes(plan: Plan) -> Iterator[SizeRow]:
    for number, layer in enumerate(plan.stack.layers, 1):
        if layer.role != "adhesive":
            blank = layer.blank
            yield SizeRow(
                number=str(number),
                name=layer.name,
                material=layer.material_name,
                mm=f"{in_mm(blank.length).removesuffix(' mm')} × {in_mm(blank.width)}",
                inches=f"{in_inches(blank.length)} × {in_inches(blank.width)}",
                thickness=both(layer.thickness),
                quantity=str(blank.quantity),
            )


UNDERCUT = Line(label="Bag and valve", text="undercut, not designed")
"""What is told where the form would reach around under itself."""


def _bag(plan: Plan) -> Iterator[Line]:
    bag = plan.bag
    if plan.is_undercut:
        yield UNDERCUT
        return
    if bag.is_owned:
        yield Line(label="Your bag, inside", text=both_size(bag.length, bag.width))
    needed = " needed" if bag.is_owned else ""
    yield Line(label=f"Inside length{needed}, lying flat", text=both(bag.needed_length))
    yield from _terms(bag.length_terms)
    yield Line(label=f"Inside width{needed}", text=both(bag.needed_width))
    yield from _terms(bag.width_terms)
    for label, place in (most_along(plan.along), most_across(plan.across)):
        yield Line(label=label.capitalize(), text=place)
    if plan.film is not None:
        yield from _film(plan, plan.film)


def _film(plan: Plan, cut: FilmCut) -> Iterator[Line]:
    """Pieces of film, and the roll that they come off."""
    for piece, count in Counter((p.length, p.width) for sheet in cut.sheets for p in sheet.pieces).items():
        times = f"{count} × " if count > 1 else ""
        yield Line(label=f"Cut of {plan.chosen.film.name}", text=times + both_size(*piece))
    yield Line(label="of it a tube" if cut.is_tube else "of it off a roll", text=f"{both(cut.roll)} wide")


def _terms(terms: tuple[Term, ...]) -> Iterator[Line]:
    yield from (Line(label=f"of it {term.name}", text=in_mm(term.amount)) for term in terms)


def _valve(plan: Plan) -> Iterator[Line]:
    valve = plan.valve
    if plan.is_undercut:
        return
    yield Line(label="Where", text=SEATS[valve.over])
    yield Line(label="From the closed end", text=both(valve.from_closed_end))
    yield Line(label="From the left seam, seen from the open end", text=both(valve.from_left_seam))
    if plan.layup.valve.from_closed_end is not None:
        yield Line(label="Middle of the work, from the closed end", text=both(valve.work_from_closed_end))
        yield Line(label="Middle of the work, from the left seam", text=both(valve.work_from_left_seam))


def _layers(plan: Plan, scene: Scene) -> Iterator[LayerRow]:
    numbers = {layer.key: str(number) for number, layer in enumerate(plan.stack.layers, 1)}
    heights = {layer.key: f"{in_mm(layer.height)} above the {plan.base.kind}" for layer in plan.stack.layers}
    for part in scene.parts:
        yield LayerRow(
            key=part.key,
            number=numbers.get(part.key, ""),
            name=part.name,
            material=part.material,
            note=part.note,
            place=heights.get(part.key, ""),
        )


def _notes(plan: Plan) -> Iterator[str]:
    if plan.is_undercut:
        yield "The form of this bend is undercut; neither form nor bag is designed here."
    elif plan.taper is not None:
        yield "The film is drawn as if the larger end of the taper ran through, which is what its bag is sized for."
    else:
        yield from _drawn_film(plan)
    yield "Sizes are to be read from the numbers, not from the picture."


def _drawn_film(plan: Plan) -> Iterator[str]:
    along, across = plan.bag.film_short
    if along or across:
        yield film_short(both(along) if along else "", both(across) if across else "")
    else:
        yield "The film is drawn as it lies under vacuum, without the folds that gather at its corners."
    if isinstance(plan.outline, Pathed):
        yield AROUND
