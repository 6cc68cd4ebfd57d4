"""A tapered bend taken apart: the tapered sheet in both states, and a straight job for each end of its width.

What is true of a tapered job lies between what is true of two straight ones, each as if the curve of one end ran all
through the width: every section of the ruled surface is made of shares of both curves at equal tangent direction. So
its perimeter and its height lie between theirs, and what a bag, a film or a form has to bear at most is found at an end.
"""

from dataclasses import dataclass, replace
from typing import Literal

from .base import DRAWN_CHORD, sheets_across
from .draft import Draft
from .layup.layup import Layup
from .plies import Ply
from .shape.end_sheet import end_sheet
from .shape.outline import Rectangle
from .shape.plane_cut import cut_places, past_ends, plane_cut
from .shape.taper import TaperedSheet
from .states import FORM_FACE, Spring, States, reference_of, spring_of
from .units import Mm

EndName = Literal["near", "far"]
ENDS: tuple[EndName, EndName] = ("near", "far")
SIDES = (-1.0, 1.0)
"""Sides of the middle, across the width."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TaperStates:
    """The tapered sheet of a layup on its form and off it.

    Parameters
    ----------
    sides
        Which side of the middle each end lies on in the press, across the width: −1 or 1.
    """

    pressed: TaperedSheet
    released: TaperedSheet
    spring: Spring
    sides: dict[EndName, float]


def taper_states(layup: Layup, drafts: tuple[Draft, ...], plies: tuple[Ply, ...]) -> TaperStates:
    """Tapered sheet of a layup in both states; its curves lie at the surface that the sizes describe.

    Raises
    ------
    ShapeError
        No flat sheet takes that shape without a stretch.
    """
    assert layup.bend is not None
    assert layup.curve is not None
    assert layup.far is not None
    assert layup.taper is not None
    spring = spring_of(layup, plies)
    is_over = layup.press.lay == "concave"
    written = TaperedSheet(
        near=layup.curve,
        far=layup.far,
        width=layup.panel.width,
        lift=layup.taper.lift,
        reference=reference_of(layup, drafts),
    )
    asked = written.turned_over if is_over else written
    lost = 0.0 if layup.bend.curve == FORM_FACE else spring.used
    pressed = asked.sprung(1.0 - 1.0 / (1.0 - lost)) if lost else asked
    return TaperStates(
        pressed=pressed,
        released=pressed.sprung(spring.used),
        spring=spring,
        sides={"near": 1.0, "far": -1.0} if is_over else {"near": -1.0, "far": 1.0},
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class EndJob:
    """A straight job as if the curve of one end ran all through the width.

    Its face lies ``raised`` above its base, at the level where it lies in the taper.
    """

    layup: Layup
    states: States
    raised: Mm


def end_job(layup: Layup, states: TaperStates, name: EndName, past: Mm = 0.0) -> EndJob:
    """Straight job of one end of the panel, or of a plane ``past`` farther out, as where the form ends."""
    side = states.sides[name]
    pressed = end_sheet(states.pressed, side, past)
    low, _ = face_levels(layup, states, side, past)
    job = replace(
        layup,
        panel=replace(layup.panel, length=pressed.profile.length, width=states.pressed.width),
        edge=Rectangle(pressed.profile.length, states.pressed.width),
        curve=pressed.profile,
        taper=None,
        far=None,
    )
    return EndJob(
        raised=low - lowest_level(layup, states),
        layup=job,
        states=States(pressed=pressed, released=end_sheet(states.released, side, past), spring=states.spring),
    )


def form_margin(layup: Layup) -> Mm:
    """How far the form reaches past the finished panel on all sides, at least."""
    return layup.substrate.trim + layup.form.margin


def form_width(layup: Layup, width: Mm) -> Mm:
    """Extent of the form across, for a panel so wide on it; only whole sheets can be stacked."""
    needed, form = width + 2.0 * form_margin(layup), layup.form
    return form.rib * sheets_across(needed, form.rib) if form.build == "stacked" else needed


def form_reach(layup: Layup, states: TaperStates) -> Mm:
    """How far the form reaches past the panel across the width."""
    width = states.pressed.width
    return 0.5 * (form_width(layup, width) - width)


def form_lift(layup: Layup, states: TaperStates, board: Mm) -> Mm:
    """What turns heights of the sheet into z, so that the face is nowhere lower than the base is high."""
    return board + layup.form.base - lowest_level(layup, states)


def lowest_level(layup: Layup, states: TaperStates) -> Mm:
    """Lowest level of the form's face, over the near chord."""
    reach = form_reach(layup, states)
    return min(face_levels(layup, states, side, past)[0] for side in SIDES for past in (0.0, reach))


def face_levels(layup: Layup, states: TaperStates, side: float, past: Mm) -> tuple[Mm, Mm]:
    """Lowest and highest level of the form's face in the plane of one end, or ``past`` farther out; over the near chord."""
    sheet = states.pressed
    u = cut_places(sheet, past_ends(sheet, form_margin(layup)), sheet.reference, DRAWN_CHORD)
    z = plane_cut(sheet, side * (0.5 * sheet.width + past), 0.0, u)[:, 1]
    return float(z.min()), float(z.max())


def demand_taper(layup: Layup, drafts: tuple[Draft, ...], sheet: TaperedSheet) -> None:
    """Refuse a tapered sheet whose layers would cross, or whose rulings would meet within layers or form.

    Raises
    ------
    ShapeError
        They would; the text tells where.
    """
    height = sum(draft.thickness for draft in drafts)
    u = sheet.places()
    # the form ends in planes across the width, layers at a distance square to their edge: along a ruling both is farther
    steep, askew = 1.0 / sheet.frames(u).along[:, 1].min(), 1.0 / sheet.rates(u).g.min()
    past = float(
        max(
            steep * 0.5 * (form_width(layup, sheet.width) - sheet.width),
            *(askew * 0.5 * (draft.outline.width - layup.panel.width) for draft in drafts),
        )
    )
    reach = 0.5 * (max(draft.outline.length for draft in drafts) - layup.panel.length)
    sheet.demand_room(0.0, height, past)
    sheet.demand_open_ends(0.0, height, reach)
    sheet.demand_apart(0.0, height, reach)
