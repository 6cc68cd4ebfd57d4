"""The numbered parts of a layup, for balloons and the parts list.

A layer has the number that it has in every other paper: its place in the stack from below. What is no layer has a
letter: P the platen, F the form, B the bag, V the valve.
"""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from ...model.nest.splits import split_of
from ...model.plan import Plan
from ...model.shape.outline import Outline, Oval, RoundedRectangle
from ...model.shape.pathed import Pathed
from ...model.stack import Layer
from ...model.strips import strips
from ...model.units import Mm
from ...model.wording import decimal
from .words import Units, bare_inches, bare_size, bare_size_in_inches

NOTHING = "–"
FILM, VALVE, PLATEN, FORM = "B", "V", "P", "F"

FILM_WORDS = {
    "tube": ("bag film, a tube", 1),
    "joined sheets": ("bag film, two sheets", 2),
    "taped sheets": ("bag film, two sheets", 2),
    "sheet on board": ("bag film, one sheet", 1),
}
"""How the film of each kind of bag is listed, and of how many pieces it is."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One row of the parts list.

    Parameters
    ----------
    keys
        Keys of the layers that it stands for; empty for what is no layer.
    marks
        Numbers or letter.
    size
        Length and width of the blank; None where nothing is cut.
    quantity
        Number of sheets, or of glue lines.
    """

    keys: tuple[str, ...]
    marks: tuple[str, ...]
    name: str
    material: str
    grain: str = ""
    thickness: Mm | None = None
    size: tuple[Mm, Mm] | None = None
    quantity: int


def marks_of(plan: Plan) -> dict[str, str]:
    """Number of every layer by its key."""
    return {layer.key: str(number) for number, layer in enumerate(plan.stack.layers, 1)}


def base_mark(plan: Plan) -> str:
    """Letter of the platen or form; empty for a bench."""
    return {"platen": PLATEN, "form": FORM, "bench": ""}[plan.base.kind]


def parts_of(plan: Plan) -> tuple[Part, ...]:
    """Every part from the uppermost down, as they lie; equal layers share a row."""
    groups: dict[tuple[object, ...], list[Layer]] = {}
    for layer in plan.stack.layers:
        groups.setdefault(_likeness(layer), []).append(layer)
    marks = marks_of(plan)
    layers = [
        part for group in groups.values() for part in (*_lipping(plan, group[0]), _layers(plan, group, marks))
    ]
    # past the half round neither bag nor form is designed
    bag = () if plan.is_undercut else (_valve(plan), *_film(plan))
    return (*bag, *reversed(layers), *_base(plan))


def _likeness(layer: Layer) -> tuple[object, ...]:
    """What makes two layers one row: glue lines are alike, other sheets where their blanks are."""
    if layer.role == "adhesive":
        return layer.role, layer.material, layer.thickness
    name = layer.role if layer.role == "substrate" else layer.key
    return name, layer.material, layer.thickness, layer.outline, _rounded(layer.blank.length), layer.grain


def _rounded(length: Mm) -> int:
    """Length in millionths of a millimetre."""
    return round(length * 1e6)


def _layers(plan: Plan, group: list[Layer], marks: dict[str, str]) -> Part:
    first = group[0]
    is_glue = first.role == "adhesive"
    name = first.name if len(group) == 1 or is_glue else "lamination"
    splits = [split for layer in group if (split := split_of(plan, layer)) is not None]
    counts = sorted({len(split.pieces) for split in splits})
    of = f", of {' or '.join(map(str, counts))} {splits[0].kind}" if splits else ""
    return Part(
        keys=tuple(layer.key for layer in group),
        marks=tuple(marks[layer.key] for layer in group),
        name=name + _edge(first.outline) * (not is_glue) + of,
        material=first.material_name,
        grain=first.grain.removeprefix("along "),
        thickness=first.thickness / first.blank.quantity,
        size=None if is_glue else (first.blank.length, first.blank.width),
        quantity=sum(layer.blank.quantity for layer in group),
    )


def _lipping(plan: Plan, core: Layer) -> Iterator[Part]:
    """Strips of the lipping around a core; nothing where it has none."""
    if plan.chosen.lipping is None or not core.lipping:
        return
    for strip in strips(core):
        yield Part(
            keys=(),
            marks=(),
            name="lipping",
            material=plan.chosen.lipping.name,
            grain=strip.side,
            thickness=core.thickness,
            size=(strip.length, core.lipping),
            quantity=2,
        )


def _edge(outline: Outline) -> str:
    """Say how an edge departs from the rectangle of its size."""
    match outline:
        case Oval():
            return ", oval"
        case RoundedRectangle(corner=corner):
            return f", corners R {decimal(corner, 1)}"
        case Pathed():
            return ", to outline"
    return ""


def _valve(plan: Plan) -> Part:
    name = f"valve, Ø {decimal(2.0 * plan.valve.radius, 1)}"
    return Part(keys=(), marks=(VALVE,), name=name, material="", quantity=1)


def _film(plan: Plan) -> Iterator[Part]:
    """Sheets of the film, or the strips that they are made of, those that are alike in one row."""
    name, pieces = FILM_WORDS[plan.bag.kind]
    found = {(plan.bag.film_length, plan.bag.film_width): pieces}
    if plan.film is not None and plan.film.count > 1:
        name = f"{name} of {plan.film.count} strips"
        found = Counter((piece.length, piece.width) for sheet in plan.film.sheets for piece in sheet.pieces)
    for size, quantity in found.items():
        yield Part(
            keys=(),
            marks=(FILM,),
            name=name,
            material=plan.chosen.film.name,
            thickness=plan.layup.bag.thickness,
            size=size,
            quantity=quantity,
        )


def _base(plan: Plan) -> Iterator[Part]:
    base = plan.base
    if base.kind == "bench" or plan.is_undercut:
        return
    left, right = base.foot
    yield Part(
        keys=(),
        marks=(base_mark(plan),),
        name=base.kind + _edge(base.outline),
        material=base.material_name,
        thickness=base.highest,
        size=(right - left, base.outline.width),
        quantity=1,
    )


def row(part: Part, units: Units) -> tuple[str, ...]:
    """Cells of a part: no., part, material, grain, thickness, blank in each unit, quantity."""
    metric = customary = NOTHING
    if part.size is not None:
        metric, customary = bare_size(*part.size), bare_size_in_inches(*part.size)
    sizes = {Units.METRIC: (metric,), Units.INCH: (customary,), Units.BOTH: (metric, customary)}[units]
    return (
        listed(part.marks),
        part.name,
        part.material or NOTHING,
        part.grain or NOTHING,
        _thickness(part.thickness, units),
        *sizes,
        str(part.quantity),
    )


def _thickness(thickness: Mm | None, units: Units) -> str:
    if thickness is None:
        return NOTHING
    return (
        bare_inches(thickness) if units is Units.INCH else decimal(thickness, 2 if thickness < 100.0 else 1)
    )


def listed(marks: tuple[str, ...]) -> str:
    """Numbers of a row: two or three as they are, more as the first two and the last where the steps are equal."""
    if len(marks) <= 3:
        return ", ".join(marks)
    steps = {int(b) - int(a) for a, b in pairwise(marks)}
    if len(steps) == 1:
        return f"{marks[0]}, {marks[1]} … {marks[-1]}"
    return ", ".join(marks)
