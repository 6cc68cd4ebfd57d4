"""The solids of a plan: every layer between its two heights of the sheet, the base, the film and the valve.

Names and colours are those of the scene, and so are profile, heights and outlines. Each height between two layers
has one curve along the sheet; both neighbours are built on it, so that they touch by construction.
"""

from dataclasses import dataclass, replace

from ..model.bag.drape import drape, hung_sheets, valve_disc
from ..model.colour import Colour
from ..model.errors import ExportError
from ..model.plan import Plan
from ..model.scene import scene
from ..model.stack import Stack, blank_at
from .bodies import bent_bodies, flat_bodies, form, lower_film, plate, valve
from .film_body import upper_film
from .form_bodies import form_bodies
from .kernel import Solid
from .names import part_names
from .shapes import is_valid


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class NamedSolid:
    """One solid of a plan.

    Parameters
    ----------
    key
        Stable key, the same as the part's in the scene.
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
    """Build the solids of a plan, from the lower film to the valve: the parts of its scene, as bodies.

    Where a form would reach around under itself neither form nor bag are designed, and both are left out.

    Raises
    ------
    ExportError
        The kernel is missing, or finds a fault in a solid.
    """
    found = bodies(plan)
    parts = [part for part in scene(plan).parts if part.key in found]
    names = part_names(parts)
    for part, name in zip(parts, names, strict=True):
        if not is_valid(found[part.key]):
            cause = "; its ends cross, since the bend reaches past the half round" if plan.is_undercut else ""
            raise ExportError(
                f"the kernel finds a fault in the solid of the {name}{cause}; make the other formats"
            )
    return tuple(
        NamedSolid(
            key=part.key,
            name=name,
            colour=part.colour,
            translucent=part.translucent,
            solid=found[part.key],
        )
        for part, name in zip(parts, names, strict=True)
    )


def lying(plan: Plan) -> Stack:
    """Layers of a plan, soft sheets only as far as they lie on something: what drapes down beside it is left out."""
    if plan.is_undercut:
        return plan.stack
    edges = {hung.layer.key: hung.rows[-1].outlines[0] for hung in hung_sheets(plan.stack, plan.base)}
    layers = [
        replace(
            layer, outline=edges[layer.key], blank=blank_at(plan.stack.sheet, edges[layer.key], layer.middle)
        )
        if layer.key in edges
        else layer
        for layer in plan.stack.layers
    ]
    return replace(plan.stack, layers=tuple(layers))


def bodies(plan: Plan) -> dict[str, Solid]:
    """Build the bodies of a plan by the keys of its scene, from below."""
    stack, base, lift = lying(plan), plan.base, plan.base.lift
    ribs = None if plan.form is None else plan.form.ribs
    skins = () if ribs is None else ribs.skins
    reach = (min((skin.low for skin in skins), default=0.0), stack.height)
    made = bent_bodies(stack, lift, reach) if plan.layup.is_bent else flat_bodies(stack, lift)
    layers = {layer.key: body for layer, body in zip(stack.layers, made, strict=True)}
    if plan.is_undercut:
        return layers
    film = drape(plan.stack, base, plan.bag, plan.valve, plan.layup.bag.thickness)
    disc = valve_disc(film, plan.stack, plan.bag, plan.valve)
    found = {"lower-film": lower_film(film)}
    if base.kind == "platen":
        found["platen"] = plate(base.outline, 0.0, base.lowest)
    if ribs is not None:
        found |= form_bodies(ribs, stack.sheet, base.outline.length, lift, reach)
    elif base.kind == "form":
        found["form"] = form(base, stack.sheet, reach)
    return found | layers | {"upper-film": upper_film(film), "valve": valve(disc)}
