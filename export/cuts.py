"""What is to be cut, part by part, from below upward: the base, every sheet of the stack, lippings, the film."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace

from ..model.nest.splits import Split, leaf_sheet, platen_split, split_of
from ..model.plan import Plan
from ..model.shape.outline import Outline, Oval, RoundedRectangle
from ..model.shape.pathed import Pathed
from ..model.stack import Layer
from ..model.strips import strips
from ..model.units import Mm
from ..model.wording import both, both_size

PLATEN, FORM, FILM = "P", "F", "B"
"""Letters of what is no layer, as on every drawing."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Cut:
    """One row of what is to be cut.

    Parameters
    ----------
    number
        Number of the layer or letter of what is none, as in every other paper; empty for a lipping.
    grain
        Which way the grain runs; empty where there is none.
    pieces
        How many of them.
    thickness
        Thickness of one.
    note
        How its edge departs from a rectangle, and what else is to be heeded.
    """

    number: str
    part: str
    material: str
    grain: str
    pieces: int
    length: Mm
    width: Mm
    thickness: Mm
    note: str


def cuts(plan: Plan) -> Iterator[Cut]:
    """Everything that is to be cut for a plan, from below upward."""
    yield from _base(plan)
    for number, layer in enumerate(plan.stack.layers, 1):
        if layer.role != "adhesive":
            yield from _layer(plan, number, layer)
        if layer.lipping:
            yield from _lipping(plan, layer)
    yield from _film(plan)


def _base(plan: Plan) -> Iterator[Cut]:
    base = plan.base
    # past the half round neither form nor bag is designed
    if base.kind == "bench" or plan.is_undercut:
        return
    if base.kind == "form":
        yield from _form(plan)
        return
    whole = Cut(
        number=PLATEN,
        part="platen",
        material=base.material_name,
        grain="",
        pieces=1,
        length=base.outline.length,
        width=base.outline.width,
        thickness=base.lowest,
        note=_edge(base.outline),
    )
    yield from _joined(whole, platen_split(plan))


def _form(plan: Plan) -> Iterator[Cut]:
    """Boards of the form and its skin; the block around it where it is not built of boards that are known."""
    base, design = plan.base, plan.form
    if design is None or design.built is None:
        left, right = base.foot
        size = (right - left, base.outline.width, base.highest)
        yield _of_form(
            "form", base.material_name, 1, size, "block around the form; its face is on the drawing"
        )
        return
    for part in design.parts:
        note = "its outline is on the drawing of the form"
        yield _of_form(part.name, part.material_name, part.quantity, (*part.size, part.thickness), note)
    for skin in design.skins:
        size = (skin.length, skin.width, skin.thickness)
        yield _of_form(skin.name, skin.material_name, 1, size, "bent over the ribs, measured flat")


def _of_form(part: str, material: str, pieces: int, size: tuple[Mm, Mm, Mm], note: str) -> Cut:
    length, width, thickness = size
    return Cut(
        number=FORM,
        part=part,
        material=material,
        grain="",
        pieces=pieces,
        length=length,
        width=width,
        thickness=thickness,
        note=note,
    )


def _layer(plan: Plan, number: int, layer: Layer) -> Iterator[Cut]:
    blank = layer.blank
    whole = Cut(
        number=str(number),
        part=layer.name,
        material=layer.material_name,
        grain=layer.grain,
        pieces=blank.quantity,
        length=blank.length,
        width=blank.width,
        thickness=layer.thickness / blank.quantity,
        note=_edge(layer.outline),
    )
    leaves = leaf_sheet(plan, layer)
    if leaves is not None:
        note = f"joined of {leaves.note}" if leaves.note else ""
        yield replace(whole, note="; ".join(filter(None, (whole.note, note))))
        return
    yield from _joined(whole, split_of(plan, layer))


def _joined(whole: Cut, split: Split | None) -> Iterator[Cut]:
    """Pieces of what no stock takes in one, those that are alike in one row."""
    if split is None:
        yield whole
        return
    size = both_size(whole.length, whole.width)
    note = "; ".join(filter(None, (f"one of {split.note}, together {size}", whole.note)))
    for (length, width), count in Counter(split.pieces).items():
        yield replace(whole, length=length, width=width, pieces=count * whole.pieces, note=note)


def _lipping(plan: Plan, core: Layer) -> Iterator[Cut]:
    """Strips of the lipping: the long ones go past the ends of the short ones."""
    assert plan.chosen.lipping is not None
    for strip in strips(core):
        yield Cut(
            number="",
            part=f"lipping along the {strip.side}",
            material=plan.chosen.lipping.name,
            grain=f"along {strip.side}",
            pieces=2,
            length=strip.length,
            width=core.lipping,
            thickness=core.thickness,
            note="grain along the strip; glued on and flushed before veneering",
        )


def _film(plan: Plan) -> Iterator[Cut]:
    """Pieces of film, those that are alike in one row."""
    cut = plan.film
    if cut is None or plan.is_undercut:
        return
    roll = f"off a {'tube' if cut.is_tube else 'roll'} {both(cut.roll)} wide"
    note = f"{roll}, lying flat" if cut.is_tube else f"{roll}, seams included"
    if cut.count > 1:
        note += f"; {cut.count} strips to a sheet, lapped by {both(cut.seam)}"
    sizes = Counter((piece.length, piece.width) for sheet in cut.sheets for piece in sheet.pieces)
    for (length, width), pieces in sizes.items():
        yield Cut(
            number=FILM,
            part="bag film",
            material=plan.chosen.film.name,
            grain="",
            pieces=pieces,
            length=length,
            width=width,
            thickness=plan.layup.bag.thickness,
            note=note,
        )


def _edge(outline: Outline) -> str:
    """Say how the edge departs from a rectangle of the size that is given."""
    match outline:
        case Oval(margin=0.0):
            return "ellipse within this size"
        case Oval():
            return "oval within this size, at a constant distance from the panel's ellipse"
        case RoundedRectangle(corner=corner):
            return f"corners rounded to {both(corner)}"
        case Pathed():
            return "cut to its outline within this size, as the blanks are drawn: as they lie, from above"
    return ""
