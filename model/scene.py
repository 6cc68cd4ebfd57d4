"""The scene: named, coloured meshes of a plan, in mm, for pictures and mesh files.

A scene holds what a viewer or a mesh file needs and nothing else. z points up, x runs along the panel's length,
y along its width; the origin lies at the middle of the panel, at the height of the bench.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import accumulate

from .bag.drape import CHORD, ValveDisc, drape, draped_sheets, valve_disc
from .bag.drape_mesh import draped_mesh, lower_film_mesh, upper_film_mesh, valve_mesh
from .bag.tail import Tail, breather_tail, tail_mesh
from .colour import colour_of
from .form.meshes import FormMesh, form_meshes
from .form.taper_meshes import block_mesh, taper_meshes
from .plan import Plan, Taper
from .shape.laid import Region, laid, region
from .shape.mesh import Indices, Mesh, Points
from .shape.outline import Outline, Rectangle
from .shape.plate import plate
from .shape.prism import prism
from .shape.slab import raised
from .shape.slabs import slabs
from .shape.tapered_slabs import tapered_slabs
from .stack import Layer, Stack
from .tapered_blanks import tapered_outline
from .units import Mm
from .wording import both, both_size

__all__ = ["TOLERANCE", "Indices", "Mesh", "Part", "Points", "Scene", "scene"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One thing of the scene: a layer of the stack, the form, the bag or the valve.

    Parameters
    ----------
    key
        Stable key, the same as the layer's in the plan.
    name
        Name for people, such as ``"face veneer"``.
    material
        What it is made of, in words.
    colour
        ``(red, green, blue)``, 0 to 255, sRGB.
    translucent
        Whether a picture lets the parts behind it show through.
    lift
        Place in the order from below, 0, 1, 2 …; spreading the layers apart moves a part up by lift × gap.
    note
        Short line for a label or list: the blank's size or what it is.
    mesh
        The closed mesh.
    hung
        Thickness of a sheet that hangs down over an edge, which its mesh does not show at once; 0 for the others.
    """

    key: str
    name: str
    material: str
    colour: tuple[int, int, int]
    translucent: bool
    lift: int
    note: str
    mesh: Mesh
    hung: Mm = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Scene:
    """The parts of a plan from below upward, with the chordal tolerance (mm) of their meshes."""

    title: str
    tolerance: float
    parts: tuple[Part, ...]


TOLERANCE: Mm = 0.05
"""Chordal tolerance of a scene's meshes: far below what a picture or a router can tell."""


def scene(plan: Plan) -> Scene:
    """Meshes of every part of a plan, from the lower film upward, as they lie under vacuum.

    z = 0 is the bench: the upper side of the lower film, on which the platen or form stands. Where the form of a bend
    would be undercut neither form nor bag is designed, and the layers stand alone.
    """
    layers = _layer_shapes(plan)
    meshes = layers if plan.is_undercut else _bagged(plan, layers)
    return Scene(
        title=plan.layup.title,
        tolerance=TOLERANCE,
        parts=tuple(
            Part(
                key=shape.key,
                name=shape.name,
                material=shape.material,
                colour=colour_of(shape.colour),
                translucent=shape.colour in ("film", "valve"),
                lift=lift,
                note=shape.note,
                mesh=shape.mesh,
                hung=shape.hung,
            )
            for lift, shape in zip(_lifts(meshes), meshes, strict=True)
        ),
    )


def _lifts(shapes: "tuple[_Shape, ...]") -> tuple[int, ...]:
    """Places of shapes in the order from below."""
    return tuple(accumulate(0 if shape.stays or not number else 1 for number, shape in enumerate(shapes)))


@dataclass(frozen=True, slots=True)
class _Shape:
    """A part before it has its place in the order; where it ``stays`` it is not spread apart from the one before."""

    key: str
    name: str
    colour: str
    material: str
    note: str
    mesh: Mesh
    stays: bool = False
    hung: Mm = 0.0


def _bagged(plan: Plan, layers: tuple[_Shape, ...]) -> tuple[_Shape, ...]:
    """The layers on their platen or form, with the films around them and the valve on top."""
    under = plan.draped.stack
    film = drape(under, plan.draped.base, plan.bag, plan.valve, plan.layup.bag.thickness)
    disc = valve_disc(film, under, plan.bag, plan.valve)
    name, note = plan.chosen.film.name, _film_note(plan)
    across = f"{both(2.0 * plan.valve.radius)} across"
    return (
        _Shape("lower-film", "lower film", "film", name, note, lower_film_mesh(film)),
        *_base_shape(plan),
        *layers,
        *_tail_shape(plan, under, disc),
        _Shape("upper-film", "upper film", "film", name, note, upper_film_mesh(film)),
        _Shape("valve", "valve", "valve", "", across, valve_mesh(disc, TOLERANCE)),
    )


def _tail_shape(plan: Plan, under: Stack, disc: ValveDisc) -> tuple[_Shape, ...]:
    """The tail of breather to a valve beside the work."""
    tail, breather = tail_of(plan, under, disc), plan.chosen.breather
    if tail is None or breather is None:
        return ()
    material = breather.name
    note = f"{both(tail.width)} wide, to the valve; how the film rises over it is not drawn"
    return (_Shape("tail", "tail of the breather", "breather", material, note, tail_mesh(tail), stays=True),)


def tail_of(plan: Plan, stack: Stack, disc: ValveDisc) -> Tail | None:
    """The tail of breather under a valve beside the work, over the layers that the film is draped over."""
    beside = plan.valve.over == "tail"
    return breather_tail(stack, plan.draped.base, disc, plan.layup.breather.tail) if beside else None


def _film_note(plan: Plan) -> str:
    drawn = "" if plan.taper is None else "drawn clear of all the work, as if the longer end ran through; "
    return f"{drawn}inside {both_size(plan.bag.length, plan.bag.width)}"


def _base_shape(plan: Plan) -> tuple[_Shape, ...]:
    base = plan.base
    if base.kind == "bench":
        return ()
    if plan.form is not None and plan.form.ribs is not None:
        sheet = plan.stack.sheet
        return _boards(plan, form_meshes(plan.form.ribs, sheet, base.outline.length, base.lift, TOLERANCE))
    if plan.form is not None and plan.form.taper is not None:
        return _boards(plan, taper_meshes(plan.form.taper, TOLERANCE))
    size = both_size(base.outline.length, base.outline.width)
    if plan.form is not None and plan.form.carcase is not None:
        mesh = block_mesh(plan.form.carcase, TOLERANCE)
    elif base.kind == "form":
        mesh = prism(base.section, base.outline.width)
    else:
        mesh = raised(plate(plan.stack.sheet, base.outline, -base.lowest, 0.0, TOLERANCE), base.lift)
    return (_Shape(base.kind, base.kind, base.kind, base.material_name, size, mesh),)


def _boards(plan: Plan, meshes: Iterator[FormMesh]) -> tuple[_Shape, ...]:
    """Boards of a form, each on the level of the one before it or on the next."""
    boards = list(meshes)
    return tuple(
        _Shape(
            board.key,
            board.name,
            board.colour,
            plan.base.material_name,
            both_size(*board.size),
            board.mesh,
            number > 0 and board.level == boards[number - 1].level,
        )
        for number, board in enumerate(boards)
    )


def _layer_shapes(plan: Plan) -> tuple[_Shape, ...]:
    # over a taper the sheets that hang down are not draped
    drapes = not plan.is_undercut and plan.taper is None
    hung = draped_sheets(plan.stack, plan.base, CHORD) if drapes else {}
    return tuple(
        _layer_shape(layer, draped_mesh(hung[layer.key]), layer.thickness)
        if layer.key in hung
        else _layer_shape(layer, mesh, 0.0)
        for layer, mesh in zip(plan.stack.layers, layer_meshes(plan), strict=True)
    )


def layer_meshes(plan: Plan) -> list[Mesh]:
    """Closed mesh of every layer, from below."""
    if plan.taper is not None:
        return _tapered_meshes(plan, plan.taper)
    return _bent_meshes(plan) if plan.layup.is_bent else _flat_meshes(plan)


def _tapered_meshes(plan: Plan, taper: Taper) -> list[Mesh]:
    layers = plan.stack.layers
    outlines = [tapered_outline(layer) for layer in layers]
    bounds = [(layer.height, layer.top) for layer in layers]
    return tapered_slabs(taper.states.pressed, outlines, bounds, TOLERANCE, taper.lift)


def _bent_meshes(plan: Plan) -> list[Mesh]:
    """Meshes of bent layers: all rectangles at once, the others one by one."""
    stack, lift = plan.stack, plan.base.lift
    plain = [layer for layer in stack.layers if isinstance(layer.outline, Rectangle)]
    sizes = [(layer.outline.length, layer.outline.width) for layer in plain]
    bounds = [(layer.height, layer.top) for layer in plain]
    made = slabs(stack.sheet, sizes, bounds, TOLERANCE, lift) if plain else []
    found = {layer.key: mesh for layer, mesh in zip(plain, made, strict=True)}
    rulings = stack.sheet.profile.stations(stack.height + abs(stack.sheet.reference), TOLERANCE)
    cut: dict[Outline, Region] = {}
    for layer in stack.layers:
        if layer.key not in found:
            if layer.outline not in cut:
                cut[layer.outline] = region(layer.outline, rulings, TOLERANCE)
            found[layer.key] = laid(stack.sheet, cut[layer.outline], layer.height, layer.top, lift)
    return [found[layer.key] for layer in stack.layers]


def _flat_meshes(plan: Plan) -> list[Mesh]:
    return [
        raised(plate(plan.stack.sheet, layer.outline, layer.height, layer.top, TOLERANCE), plan.base.lift)
        for layer in plan.stack.layers
    ]


def _layer_shape(layer: Layer, mesh: Mesh, hung: Mm) -> _Shape:
    sheets = f"{layer.blank.quantity} × " if layer.blank.quantity > 1 else ""
    note = (
        "wet glue" if layer.role == "adhesive" else sheets + both_size(layer.blank.length, layer.blank.width)
    )
    colour = layer.side if layer.role == "veneer" else layer.role
    return _Shape(layer.key, layer.name, colour, layer.material_name, note, mesh, hung=hung)
