"""The plan of one layup: everything placed and sized, as one frozen record."""

from dataclasses import dataclass, replace

from .bag.film_cut import FilmCut, cut_film
from .bag.section import FilmSection, across_section, along_section
from .bag.size import BagSize, size_bag
from .bag.valve import ValvePlace, place_valve, valve_room
from .base import Base, base_of, is_undercut
from .chosen import Chosen, choose
from .covering import rise_over, shared_shoulders
from .draft import Draft
from .errors import ShapeError
from .form.design import FormDesign, design_form, design_taper_form, form_at_end
from .layup.layup import Layup
from .plies import Ply, plies_of
from .plumb_cut import PlumbCut, on_sheet, plumb_cut
from .shape.outline import Outline
from .shape.sheet import Sheet
from .stack import Stack, core_outline, draft_layers, laid_outline, stack_layers
from .states import Spring, States, states_of
from .tapered_blanks import tapered_layers
from .tapering import (
    ENDS,
    EndJob,
    EndName,
    TaperStates,
    demand_taper,
    end_job,
    form_lift,
    form_reach,
    taper_states,
)
from .units import Mm
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
    taper
        What a tapered bend has beside; None for all others. Of a taper ``stack``, ``outline`` and ``released`` are those
        half way between both ends, but for the blanks, which are true; ``base`` and the sections of the film are those
        of the larger end.
    end
        Which end of a taper this straight job stands for; None for a job of its own. Bag, valve, blanks and form of such
        a job are those of the taper.
    cut
        The plumb cut of a panel whose outline is given in plan; None for all others. ``layup`` and ``outline`` then
        have the outline on the sheet that covers it.
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
    taper: "Taper | None" = None
    end: EndName | None = None
    cut: PlumbCut | None = None

    @property
    def draped(self) -> "Plan":
        """What the film is drawn over: of a taper, its larger end as if it ran all through the width."""
        return self if self.taper is None else self.taper.draped

    @property
    def base_size(self) -> tuple[Mm, Mm, Mm]:
        """Length, width and height of the platen or form; of the form of a taper as it is built."""
        carcase = None if self.form is None else self.form.carcase
        if carcase is not None:
            return carcase.size
        return self.base.length, self.base.outline.width, self.base.highest


@dataclass(frozen=True, slots=True, kw_only=True)
class Taper:
    """What a tapered bend has beside all others.

    Parameters
    ----------
    states
        The tapered sheet, pressed and released.
    near, far
        Straight jobs, each as if the curve of one end ran all through the width. They stand on the same bench and lie as
        high as their end of the taper.
    draped
        The same where the form ends, on its longer side, raised until all of the other side lies under it: what the film
        is drawn over. The bag is sized for both sides as they stand.
    lift
        Height of the chord on the near side in the press above the underside of the form: what turns heights of the
        tapered sheet into z.
    """

    states: TaperStates
    near: Plan
    far: Plan
    draped: Plan
    lift: Mm

    @property
    def ends(self) -> tuple[tuple[EndName, Plan], tuple[EndName, Plan]]:
        """Both straight jobs with their names."""
        return ("near", self.near), ("far", self.far)


def plan(layup: Layup) -> Plan:
    """Place and size everything of a layup.

    Raises
    ------
    LayupError
        A value of a material that the file replaces is one that no solid has.
    ShapeError
        The layers would cross themselves on the inside of the bend, or at its straight ends; or two curves of a taper
        cannot be joined.
    """
    chosen = choose(layup)
    drafts = draft_layers(layup, chosen)
    plies = plies_of(chosen, drafts)
    if layup.is_tapered:
        return _tapered(layup, chosen, drafts, plies)
    states = states_of(layup, drafts, plies)
    cut = plumb_cut(layup, drafts, states.released)
    if cut is None:
        return _straight(layup, chosen, drafts, plies, states)
    pressed = on_sheet(layup, cut)
    return _straight(pressed, chosen, draft_layers(pressed, chosen), plies, states, cut)


def _straight(
    layup: Layup,
    chosen: Chosen,
    drafts: tuple[Draft, ...],
    plies: tuple[Ply, ...],
    states: States,
    cut: PlumbCut | None = None,
    raised: Mm = 0.0,
    shoulder: Mm = 0.0,
) -> Plan:
    """Plan of a panel that is the same all through its width."""
    sheet = states.pressed
    height = sum(draft.thickness for draft in drafts)
    sheet.demand_room(0.0, height)
    longest = max(draft.outline.length for draft in drafts)
    reach = 0.5 * (longest - sheet.profile.length)
    sheet.demand_open_ends(0.0, height, reach)
    sheet.demand_apart(0.0, height, reach)
    stack = Stack(layers=stack_layers(drafts, sheet), sheet=sheet)
    base = base_of(layup, chosen, sheet, raised)
    base = replace(base, shoulder=max(base.shoulder, shoulder))
    along, across = along_section(stack, base), across_section(stack, base)
    size = size_bag(layup, along, across, valve_room(layup, stack), chosen.film.stock_tubes)
    valve = place_valve(layup, stack, size, along)
    undercut = is_undercut(sheet, states.released)
    return Plan(
        layup=layup,
        chosen=chosen,
        outline=laid_outline(layup),
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
        cut=cut,
    )


def _tapered(layup: Layup, chosen: Chosen, drafts: tuple[Draft, ...], plies: tuple[Ply, ...]) -> Plan:
    """Plan of a panel that tapers: half way between both ends, with a bag that the larger one fits into."""
    states = taper_states(layup, drafts, plies)
    demand_taper(layup, drafts, states.pressed)
    near, far = (_end(chosen, end_job(layup, states, name)) for name in ENDS)
    longer, shorter, draped = _form_ends(layup, chosen, states)
    edges = (longer, shorter)
    along = max((end.along for end in edges), key=lambda section: section.girth)
    across = max((end.across for end in edges), key=lambda section: section.girth)
    sheet = Sheet(profile=states.pressed.profile, reference=states.pressed.reference)
    layers = tapered_layers(stack_layers(drafts, sheet), layup.panel.width, states.pressed)
    stack = Stack(layers=layers, sheet=sheet)
    size = size_bag(layup, along, across, valve_room(layup, stack), chosen.film.stock_tubes)
    valve = place_valve(layup, stack, size, along)
    undercut = any(end.is_undercut for end in (near, far))
    film = None if undercut else cut_film(size, chosen.film, layup.bag.roll, valve)
    lift = form_lift(layup, states, longer.base.board)
    form = None if undercut else design_taper_form(layup, chosen, states, longer.base, lift)

    def shown(name: EndName, end: Plan) -> Plan:
        layers = tuple(
            replace(own, blank=layer.blank) for own, layer in zip(end.stack.layers, stack.layers, strict=True)
        )
        return replace(
            end,
            end=name,
            stack=Stack(layers=layers, sheet=end.stack.sheet),
            form=None if form is None else form_at_end(form, states, name),
            bag=size,
            valve=valve,
            film=film,
        )

    return Plan(
        layup=layup,
        chosen=chosen,
        outline=laid_outline(layup),
        stack=stack,
        plies=plies,
        finished=_finished(layup, chosen, plies),
        released=Sheet(profile=states.released.profile, reference=states.released.reference),
        spring=states.spring,
        base=longer.base,
        form=form,
        along=along,
        across=across,
        bag=size,
        valve=valve,
        film=film,
        is_undercut=undercut,
        taper=Taper(states=states, near=shown("near", near), far=shown("far", far), draped=draped, lift=lift),
    )


def _form_ends(layup: Layup, chosen: Chosen, states: TaperStates) -> tuple[Plan, Plan, Plan]:
    """Straight jobs where the form ends, the longer side first, and what the film is drawn over.

    The bag has to go round the form there. Beside a hollow both sides have the shoulders that reach out farthest; the
    film is drawn over the longer side, raised until the other one lies under it.
    """
    jobs = [end_job(layup, states, name, form_reach(layup, states)) for name in ENDS]
    bare = [_end(chosen, job) for job in jobs]
    edges = [
        _end(chosen, job, shoulder=wide) if wide > end.base.shoulder else end
        for job, end, wide in zip(jobs, bare, shared_shoulders([end.base for end in bare]), strict=True)
    ]
    first, second = sorted(range(len(edges)), key=lambda number: -bare[number].base.length)
    longer, shorter = edges[first], edges[second]
    rise = rise_over(longer.stack, longer.base, shorter.stack, shorter.base)
    if rise == 0.0:
        return longer, shorter, longer
    raised = replace(jobs[first], raised=jobs[first].raised + rise)
    return longer, shorter, _end(chosen, raised, shoulder=longer.base.shoulder)


def _end(chosen: Chosen, job: EndJob, shoulder: Mm = 0.0) -> Plan:
    """Straight job of one end, with shoulders beside a hollow that are so wide at least."""
    drafts = draft_layers(job.layup, chosen)
    return _straight(
        job.layup, chosen, drafts, plies_of(chosen, drafts), job.states, raised=job.raised, shoulder=shoulder
    )


def _finished(layup: Layup, chosen: Chosen, plies: tuple[Ply, ...]) -> tuple[Ply, ...]:
    """Plies of the finished panel, from those in the press."""
    if layup.laid == layup.wanted:
        return plies
    return plies_of(chosen, draft_work(layup, chosen, core_outline(layup), layup.wanted))


__all__ = ["Plan", "ShapeError", "plan"]
