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
from .interfaces import Reach
from .kernel import Solid
from .names import part_names
from .shapes import is_valid
from .taper_form_bodies import taper_form_bodies
from .taper_levels import Work
from .taper_work import taper_work
from .tapered import tapered_bodies

AT_ITS_EDGE = ", ends at the edge that it hangs over"
"""What the name of a solid says where a soft sheet is built only as far as it lies on something."""


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

    Where a form would reach around under itself neither form nor bag are designed, and both are left out. So is the
    tail of breather to a valve beside the work: the film rises over it, and without that they would overlap.

    Raises
    ------
    ExportError
        The kernel is missing, or finds a fault in a solid.
    """
    found = bodies(plan)
    parts = [part for part in scene(plan).parts if part.key in found]
    names = [
        f"{name}{AT_ITS_EDGE if part.hung else ''}"
        for part, name in zip(parts, part_names(parts), strict=True)
    ]
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
    reach = _reach(plan)
    work = None if plan.taper is None else taper_work(plan, plan.taper)
    layers = _layers(plan, reach, work)
    if plan.is_undercut:
        return layers
    # the film over a taper is drawn as if its larger end ran all through the width
    stack = plan.draped.stack
    film = drape(stack, plan.draped.base, plan.bag, plan.valve, plan.layup.bag.thickness)
    disc = valve_disc(film, stack, plan.bag, plan.valve)
    return (
        {"lower-film": lower_film(film)}
        | _base(plan, reach, work)
        | layers
        | {"upper-film": upper_film(film), "valve": valve(disc)}
    )


def _reach(plan: Plan) -> Reach:
    """Lowest and highest height of everything that follows the sheet."""
    ribs = None if plan.form is None else plan.form.ribs
    skins = () if ribs is None else ribs.skins
    return min((skin.low for skin in skins), default=0.0), plan.stack.height


def _layers(plan: Plan, reach: Reach, work: Work | None) -> dict[str, Solid]:
    if work is not None:
        stack = plan.stack
        made = tapered_bodies(stack.layers, work)
    else:
        stack, lift = lying(plan), plan.base.lift
        made = bent_bodies(stack, lift, reach) if plan.layup.is_bent else flat_bodies(stack, lift)
    return {layer.key: body for layer, body in zip(stack.layers, made, strict=True)}


def _base(plan: Plan, reach: Reach, work: Work | None) -> dict[str, Solid]:
    base, sheet = plan.base, plan.stack.sheet
    if base.kind == "platen":
        return {"platen": plate(base.outline, 0.0, base.lowest)}
    if plan.form is not None and work is not None:
        return taper_form_bodies(plan.form, work)
    if plan.form is not None and plan.form.ribs is not None:
        return form_bodies(plan.form.ribs, sheet, base.outline.length, base.lift, reach)
    return {"form": form(base, sheet, reach)} if base.kind == "form" else {}
