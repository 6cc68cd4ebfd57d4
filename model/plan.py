"""The plan of one layup: everything placed and sized, as one frozen record."""

from dataclasses import dataclass

from .bag.film_cut import FilmCut, cut_film
from .bag.section import FilmSection, across_section, along_section
from .bag.size import BagSize, size_bag
from .bag.valve import ValvePlace, place_valve, valve_room
from .base import Base, base_of, is_undercut
from .chosen import Chosen, choose
from .errors import ShapeError
from .form.design import FormDesign, design_form
from .layup.layup import Layup
from .plies import Ply, plies_of
from .shape.outline import Outline
from .shape.sheet import Sheet
from .stack import Stack, core_outline, draft_layers, panel_outline, stack_layers
from .states import Spring, states_of
from .work import draft_work


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
        All layers between the base and the upper film, on the sheet as it is pressed.
    plies
        Veneers, crossbands and sheets of the core that lie in the press, from below.
    finished
        The same of the finished panel: with the veneer that is laid in a later pressing, if there is one.
    released
        The same sheet off its form.
    spring
        How it springs back; None for a flat panel.
    base
        Platen, bench or form.
    form
        The form as it is built; None for flat work, and where the bend is undercut.
    along, across
        Sections of the layup as the film meets them.
    bag, valve
        The bag and its valve.
    film
        How the film of a new bag is cut off the roll; None for one that is owned or not designed.
    is_undercut
        Whether the form would reach around under itself: then form and bag are not designed.
    """

    layup: Layup
    chosen: Chosen
    outline: Outline
    stack: Stack
    plies: tuple[Ply, ...]
    finished: tuple[Ply, ...]
    released: Sheet
    spring: Spring | None
    base: Base
    form: FormDesign | None
    along: FilmSection
    across: FilmSection
    bag: BagSize
    valve: ValvePlace
    film: FilmCut | None
    is_undercut: bool


def plan(layup: Layup) -> Plan:
    """Place and size everything of a layup.

    Raises
    ------
    LayupError
        A value of a material that the file replaces is one that no solid has.
    ShapeError
        The layers would cross themselves on the inside of the bend, or at its straight ends.
    """
    if layup.is_tapered:
        raise ShapeError("a tapered bend is read, but not planned yet; take the table [taper] out")
    chosen = choose(layup)
    drafts = draft_layers(layup, chosen)
    plies = plies_of(chosen, drafts)
    states = states_of(layup, drafts, plies)
    sheet = states.pressed
    height = sum(draft.thickness for draft in drafts)
    sheet.demand_room(0.0, height)
    longest = max(draft.outline.length for draft in drafts)
    reach = 0.5 * (longest - sheet.profile.length)
    sheet.demand_open_ends(0.0, height, reach)
    sheet.demand_apart(0.0, height, reach)
    stack = Stack(layers=stack_layers(drafts, sheet), sheet=sheet)
    base = base_of(layup, chosen, sheet)
    along, across = along_section(stack, base), across_section(stack, base)
    size = size_bag(layup, along, across, valve_room(layup, stack), chosen.film.stock_tubes)
    valve = place_valve(layup, stack, size, along)
    undercut = is_undercut(sheet, states.released)
    return Plan(
        layup=layup,
        chosen=chosen,
        outline=panel_outline(layup),
        stack=stack,
        plies=plies,
        finished=_finished(layup, chosen, plies),
        released=states.released,
        spring=states.spring,
        base=base,
        form=None if undercut else design_form(layup, chosen, base, sheet),
        along=along,
        across=across,
        bag=size,
        valve=valve,
        film=None if undercut else cut_film(size, chosen.film, layup.bag.roll, valve),
        is_undercut=undercut,
    )


def _finished(layup: Layup, chosen: Chosen, plies: tuple[Ply, ...]) -> tuple[Ply, ...]:
    """Plies of the finished panel, from those in the press."""
    if layup.laid == layup.wanted:
        return plies
    return plies_of(chosen, draft_work(layup, chosen, core_outline(layup), layup.wanted))


__all__ = ["Plan", "ShapeError", "plan"]
