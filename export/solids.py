"""The solids of a plan: every layer between its two heights of the sheet, the base, the film and the valve.

They follow the same profile, heights and outlines as the meshes of the scene. Each height between two layers has
one curve along the sheet; both neighbours are built on it, so that they touch by construction.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from ..model.bag.drape import drape, valve_disc
from ..model.colour import Colour, colour_of
from ..model.errors import ExportError
from ..model.plan import Plan
from .bodies import bent_bodies, flat_bodies, form, lower_film, plate, upper_film, valve
from .kernel import Solid
from .shapes import is_valid


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class NamedSolid:
    """One solid of a plan.

    Parameters
    ----------
    key
        Stable key, the same as the layer's in the plan.
    name
        Name and material for people, such as ``"face veneer · black walnut"``.
    colour
        ``(red, green, blue)``, 0 to 255, sRGB.
    translucent
        Whether what is behind it shows through.
    solid
        The kernel's solid, mm.
    """

    key: str
    name: str
    colour: Colour
    translucent: bool
    solid: Solid


def solids(plan: Plan) -> tuple[NamedSolid, ...]:
    """Build the solids of a plan, from the lower film to the valve.

    Where a form would reach around under itself neither form nor bag are designed, and both are left out.

    Raises
    ------
    ExportError
        The kernel is missing, or finds a fault in a solid.
    """
    made = tuple(_layers(plan) if plan.is_undercut else _whole(plan))
    for part in made:
        if not is_valid(part.solid):
            raise ExportError(
                f"the kernel finds a fault in the solid of the {part.name}; make the other formats"
            )
    return made


def _whole(plan: Plan) -> Iterator[NamedSolid]:
    base, stack, film_name = plan.base, plan.stack, plan.chosen.film.name
    film = drape(stack, base, plan.bag, plan.valve, plan.layup.bag.thickness)
    yield _named("film-lower", "lower film", film_name, "film", lower_film(film))
    if base.kind == "platen":
        yield _named(
            base.kind, base.kind, base.material_name, base.kind, plate(base.outline, 0.0, base.lowest)
        )
    if base.kind == "form":
        yield _named(base.kind, base.kind, base.material_name, base.kind, form(base, stack.sheet))
    yield from _layers(plan)
    yield _named("film-upper", "upper film, schematic", film_name, "film", upper_film(film))
    yield _named("valve", "valve", "", "valve", valve(valve_disc(film, stack, plan.bag, plan.valve)))


def _layers(plan: Plan) -> Iterator[NamedSolid]:
    layers = plan.stack.layers
    bodies = bent_bodies if plan.layup.is_bent else flat_bodies
    names = [layer.name for layer in layers]
    for number, (layer, body) in enumerate(zip(layers, bodies(plan.stack, plan.base.lift), strict=True)):
        # glue lines share one name: count them from below
        count = f" {names[:number].count(layer.name) + 1}" if names.count(layer.name) > 1 else ""
        yield _named(layer.key, layer.name + count, layer.material_name, layer.role, body, layer.side)


def _named(key: str, name: str, material: str, role: str, solid: Solid, side: str = "") -> NamedSolid:
    return NamedSolid(
        key=key,
        name=f"{name} · {material}" if material else name,
        colour=colour_of(role, side),
        translucent=role == "film",
        solid=solid,
    )
