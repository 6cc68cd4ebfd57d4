"""The plan of one layup: everything placed and sized, as one frozen record."""

from dataclasses import dataclass

from .bag.section import FilmSection, across_section, along_section
from .bag.size import BagSize, size_bag
from .bag.valve import ValvePlace, place_valve, valve_room
from .base import Base, base_of, base_turn, is_undercut
from .chosen import Chosen, choose
from .errors import ShapeError
from .layup.layup import Layup
from .shape.outline import Outline
from .shape.profile import arc_profile, flat_profile
from .shape.sheet import Sheet
from .stack import Draft, Stack, draft_layers, panel_outline, stack_layers
from .units import Mm


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """A layup with every layer placed, every blank sized, and the bag around it.

    Parameters
    ----------
    layup
        What was asked for.
    chosen
        The materials.
    outline
        Edge of the finished panel.
    stack
        All layers between the base and the upper film.
    base
        Platen, bench or form.
    along, across
        Sections of the layup as the film meets them.
    bag, valve
        The bag and its valve.
    is_undercut
        Whether the form would reach around under itself: then form and bag are not designed.
    """

    layup: Layup
    chosen: Chosen
    outline: Outline
    stack: Stack
    base: Base
    along: FilmSection
    across: FilmSection
    bag: BagSize
    valve: ValvePlace
    is_undercut: bool


def plan(layup: Layup) -> Plan:
    """Place and size everything of a layup.

    Raises
    ------
    ShapeError
        The layers would cross themselves on the inside of the bend.
    """
    chosen = choose(layup)
    drafts = draft_layers(layup, chosen)
    sheet = _sheet(layup, drafts)
    height = sum(draft.thickness for draft in drafts)
    sheet.demand_room(0.0, height)
    stack = Stack(layers=stack_layers(drafts, sheet), sheet=sheet)
    base = base_of(layup, chosen, sheet)
    along, across = along_section(stack, base), across_section(stack, base)
    size = size_bag(layup, along, across, valve_room(layup, stack), chosen.film.least_seam)
    return Plan(
        layup=layup,
        chosen=chosen,
        outline=panel_outline(layup),
        stack=stack,
        base=base,
        along=along,
        across=across,
        bag=size,
        valve=place_valve(layup, stack, base, size, along, across),
        is_undercut=is_undercut(layup),
    )


def _sheet(layup: Layup, drafts: tuple[Draft, ...]) -> Sheet:
    """Sheet of a layup: its profile lies at the surface that the bend's sizes describe."""
    if layup.bend is None:
        return Sheet(profile=flat_profile(layup.panel.length), reference=0.0)
    return Sheet(
        profile=arc_profile(layup.panel.length, base_turn(layup)), reference=_reference(layup, drafts)
    )


def _reference(layup: Layup, drafts: tuple[Draft, ...]) -> Mm:
    """Height above the form of the surface that the bend's sizes describe."""
    assert layup.bend is not None
    work = [index for index, draft in enumerate(drafts) if draft.side != "press"]
    below = sum(draft.thickness for draft in drafts[: work[0]])
    depth = sum(drafts[index].thickness for index in work)
    core = [index for index in work if drafts[index].side == "core"]
    if layup.bend.curve == "form face":
        return 0.0
    if layup.bend.curve == "substrate middle":
        under = sum(draft.thickness for draft in drafts[: core[0]])
        return under + 0.5 * sum(drafts[index].thickness for index in core)
    return below + depth if layup.face_is_up else below


__all__ = ["Plan", "ShapeError", "plan"]
