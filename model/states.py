"""The two states of the same sheet: pressed on its form, and released when the glue has set.

Off the form a bend opens: the whole loses a share of its turn, the springback, while every length stays. So the form
is bent tighter than the panel that is wanted. Sizes that describe the form's own face are those of a form that is
there already: then the panel opens instead.
"""

from dataclasses import dataclass

from .data.limits import limit
from .draft import Draft
from .layup.layup import Layup
from .mechanics.springback import PlyBundle, bundle
from .plies import Ply
from .shape.profile import flat_profile
from .shape.sheet import Sheet
from .units import Mm, Ratio

FORM_FACE = "form face"
"""Surface of the bend whose sizes are those of the form, not of the panel."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Spring:
    """Springback of a bend.

    Parameters
    ----------
    plies
        The plies of the bend; thin glue lines add nothing.
    used
        Share of its turn that the sheet loses, as the form allows for it: the one a trial has shown, else the computed
        one, and none where so much would be lost that no form makes sense.
    """

    plies: PlyBundle
    used: Ratio


@dataclass(frozen=True, slots=True, kw_only=True)
class States:
    """The sheet of a layup on its form and off it; ``spring`` is None for a flat panel, which keeps its shape."""

    pressed: Sheet
    released: Sheet
    spring: Spring | None


def states_of(layup: Layup, drafts: tuple[Draft, ...], plies: tuple[Ply, ...]) -> States:
    """Sheet of a layup in both states; its profile lies at the surface that the bend's sizes describe."""
    if layup.bend is None or layup.curve is None:
        flat = Sheet(profile=flat_profile(layup.panel.length), reference=0.0)
        return States(pressed=flat, released=flat, spring=None)
    spring = spring_of(layup, plies)
    # turned over about its length, crowns become hollows and the order of the pieces stays
    lie = 1.0 if layup.press.lay == "convex" else -1.0
    tighter = 1.0 if layup.bend.curve == FORM_FACE else 1.0 / (1.0 - spring.used)
    pressed = Sheet(profile=layup.curve.scaled(lie * tighter), reference=reference_of(layup, drafts))
    return States(pressed=pressed, released=pressed.sprung(spring.used), spring=spring)


def spring_of(layup: Layup, plies: tuple[Ply, ...]) -> Spring:
    """Springback of the plies of a bend."""
    glued = bundle([ply.thickness for ply in plies], [ply.E_length for ply in plies])
    if layup.form.springback is not None:
        return Spring(plies=glued, used=layup.form.springback / 100.0)
    return Spring(plies=glued, used=glued.ratio if glued.ratio <= limit("springback.usable") else 0.0)


def reference_of(layup: Layup, drafts: tuple[Draft, ...]) -> Mm:
    """Height above the form of the surface that the bend's sizes describe."""
    assert layup.bend is not None
    work = [index for index, draft in enumerate(drafts) if draft.side != "press"]
    below = sum(draft.thickness for draft in drafts[: work[0]])
    depth = sum(drafts[index].thickness for index in work)
    core = [index for index in work if drafts[index].side == "core"]
    if layup.bend.curve == FORM_FACE:
        return 0.0
    if layup.bend.curve == "substrate middle":
        under = sum(draft.thickness for draft in drafts[: core[0]])
        return under + 0.5 * sum(drafts[index].thickness for index in core)
    return below + depth if layup.face_is_up else below
