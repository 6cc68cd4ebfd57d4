"""Several panels pressed at once in one bag: the bag, where each lies, and the clock of all of them.

Each panel lies on its own platen or form, with its own stack. The film comes down between them; strips of breather
lead from panel to panel to the one valve. Glue is spread on all of them before the first may have lost its open time.
"""

from dataclasses import dataclass

from .bag.film_cut import FilmCut, cut_film
from .bag.lay import GAP, fits_on_caul, seat_on_caul
from .bag.side_by_side import Arrangement, arrangements
from .bag.size import CLOSED_KINDS, BagSize, Term, next_tube
from .bag.valve import ValvePlace, valve_room
from .data.bench import usual
from .errors import LayupError
from .mechanics.evacuation import drawdown_time, slack_time, slack_volume
from .plan import Plan
from .report import Report
from .source import COMMON_PRACTICE, Source
from .units import Mm, Second
from .value import Value, formula
from .values.time import closing_time

TOGETHER = Source("derived", "sum over the panels in one bag")


@formula("g", "gap between two panels", "max(g_0, H)", COMMON_PRACTICE)
def panel_gap(g_0: Mm, H: Mm) -> Mm:
    """Gap in which the film comes down to the bench between stacks up to H high; g_0 at the least."""
    return max(g_0, H)


@formula("t", "from the first glue to the gauge reading, all panels", "t_w + t_c + t_1 + t_2", TOGETHER)
def wet_together(t_w: Second, t_c: Second, t_1: Second, t_2: Second) -> Second:
    """Spreading and laying of all panels t_w, closing t_c, film down t_1 and drawing down t_2."""
    return t_w + t_c + t_1 + t_2


@formula("t", "open time that is left, the shortest of all panels", "t_o - t_w", TOGETHER)
def spare_together(t_o: Second, t_w: Second) -> Second:
    """Open time t_o less the work with wet glue t_w."""
    return t_o - t_w


@dataclass(frozen=True, slots=True, kw_only=True)
class Laid:
    """A panel in the bag: its middle by ruler from the closed end and from the left seam; whether it is turned."""

    title: str
    from_closed_end: Mm
    from_left_seam: Mm
    turned: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Together:
    """Several panels in one bag.

    Parameters
    ----------
    size
        The bag, with the terms of its length and width.
    film
        How a new bag is cut; None for one that is owned.
    valve
        Its valve.
    laid
        The panels in the order given.
    values
        Gap, times, and what the strips of breather take.
    """

    size: BagSize
    film: FilmCut | None
    valve: ValvePlace
    laid: tuple[Laid, ...]
    values: tuple[Value, ...]

    @property
    def fits(self) -> bool:
        """Whether the bag holds all of them."""
        return (
            self.size.width >= self.size.needed_width - 1e-9
            and self.size.length >= self.size.needed_length - 1e-9
        )


def together(
    plans: tuple[Plan, ...], reports: tuple[Report, ...], owned: tuple[Mm, Mm] | None = None
) -> Together:
    """Lay several panels out in one bag: of least film, or a bag that is owned by its inside length and width.

    Raises
    ------
    LayupError
        The bags of the layups are of different kinds or films, or there are too many panels.
    """
    _demand_one_bag(plans)
    gap = panel_gap.value(
        "together.gap",
        g_0=usual("panels.between"),
        H=max(max(p.along.height, p.across.height) for p in plans),
    )
    panels = tuple((p.bag.length_terms[0].amount, p.bag.width_terms[0].amount) for p in plans)
    found = [(one, _size(plans, one, owned)) for one in arrangements(panels, gap.number)]
    arrangement, size = min(found, key=lambda pair: _cost(pair[1]))
    laid, valve = _lay(plans, arrangement, size)
    first = plans[0]
    return Together(
        size=size,
        film=cut_film(size, first.chosen.film, first.layup.bag.roll, valve),
        valve=valve,
        laid=laid,
        values=(gap, *_clock(plans, reports, size)),
    )


def _demand_one_bag(plans: tuple[Plan, ...]) -> None:
    makes = {(plan.bag.kind, plan.chosen.film.name) for plan in plans}
    if len(makes) > 1:
        told = "; ".join(f"{kind} of {film}" for kind, film in sorted(makes))
        raise LayupError("bag.kind", told, "one kind of bag and one film for all panels in it")


def _size(plans: tuple[Plan, ...], one: Arrangement, owned: tuple[Mm, Mm] | None) -> BagSize:
    """Bag around an arrangement."""
    first = plans[0].layup.bag
    clearance, closure, room = _beside(plans)
    length_terms = [
        Term("film over the panels along, with gaps", one.length),
        Term("clearance at both ends", 2.0 * clearance),
    ]
    if room > 0.0:
        length_terms.append(Term("room for the valve beside the work", room))
    if closure > 0.0:
        length_terms.append(Term(f"{first.closed_by} at the open end", closure))
    width_terms = (
        Term("film over the panels across, with gaps", one.width),
        Term("clearance on both sides", 2.0 * clearance),
    )
    needed = one.width + 2.0 * clearance
    tubes = plans[0].chosen.film.stock_tubes if first.roll is None else (first.roll,)
    return BagSize(
        kind=first.kind,
        width_terms=width_terms,
        length_terms=tuple(length_terms),
        owned_width=None if owned is None else owned[1],
        owned_length=None if owned is None else owned[0],
        seam=max(plan.bag.seam for plan in plans),
        tube=next_tube(needed, tubes) if first.kind == "tube" and owned is None else None,
    )


def _beside(plans: tuple[Plan, ...]) -> tuple[Mm, Mm, Mm]:
    """Clearance, closure and room for the valve: the largest that a panel asks for."""
    clearance = max(plan.layup.bag.side_clearance for plan in plans)
    is_closed = plans[0].bag.kind in CLOSED_KINDS
    closure = max(plan.layup.bag.closure for plan in plans) if is_closed else 0.0
    on_caul = any(fits_on_caul(plan.layup, plan.stack) for plan in plans)
    room = 0.0 if on_caul else max(valve_room(plan.layup, plan.stack) for plan in plans)
    return clearance, closure, room


def _cost(size: BagSize) -> tuple[float, ...]:
    """New bags by their film, those of a tube that is sold first; owned bags by what is left in them."""
    if size.is_owned:
        return (-min(size.width - size.needed_width, size.length - size.needed_length),)
    no_tube = size.kind == "tube" and size.tube is None
    return (float(no_tube), round(size.film_length * size.film_width), -size.length)


def _lay(plans: tuple[Plan, ...], one: Arrangement, size: BagSize) -> tuple[tuple[Laid, ...], ValvePlace]:
    """Where every panel and the valve lie, on the flat bag; what is left over stays at the open end."""
    clearance, _, room = _beside(plans)
    before, left = clearance + room, 0.5 * (size.width - one.width)
    laid = tuple(
        Laid(
            title=plan.layup.title,
            from_closed_end=before + spot.middle[0],
            from_left_seam=left + spot.middle[1],
            turned=spot.turned,
        )
        for plan, spot in zip(plans, one.spots, strict=True)
    )
    radius = max(0.5 * plan.layup.valve.diameter for plan in plans)
    middle = (before + 0.5 * one.length, 0.5 * size.width)
    able = [n for n, plan in enumerate(plans) if fits_on_caul(plan.layup, plan.stack)]
    if able:
        nearest = min(able, key=lambda n: _distance(laid[n], middle))
        t, w = seat_on_caul(plans[nearest].layup, plans[nearest].stack) or (0.0, 0.0)
        t, w = (-w, t) if laid[nearest].turned else (t, w)
        u, v = laid[nearest].from_closed_end + t, laid[nearest].from_left_seam + w
    else:
        u, v = before - GAP - radius, middle[1]
    return laid, ValvePlace(
        over="caul" if able else "tail",
        t=u - middle[0],
        w=v - middle[1],
        radius=radius,
        from_closed_end=u,
        from_left_seam=v,
        work_from_closed_end=middle[0],
        work_from_left_seam=middle[1],
    )


def _distance(laid: Laid, middle: tuple[Mm, Mm]) -> Mm:
    return abs(laid.from_closed_end - middle[0]) + abs(laid.from_left_seam - middle[1])


def _clock(plans: tuple[Plan, ...], reports: tuple[Report, ...], size: BagSize) -> tuple[Value, ...]:
    """Wet glue against the shortest open time, and the longest time under pressure."""
    numbers = [{value.key: value.number for value in report.values} for report in reports]
    flow = _flow(plans[0])
    hose = usual("hose.air") * (len(plans) - 1)
    beside = sum(one["air.beside"] + max(one["air.spanned"], 0.0) for one in numbers)
    closure = _beside(plans)[1]
    slack = slack_volume(A=size.width * max(size.length - closure, 0.0), h=usual("film.lift"))
    down = slack_time.value("together.time_down", V=slack + beside, S=flow)
    outside = numbers[0]["air.pressure"]
    lowest = max(one["pump.lowest"] for one in numbers)
    aim = min(one["pump.aim"] for one in numbers)
    voids = sum(one["air.voids"] for one in numbers) - hose
    found: list[Value] = [down]
    drawn = 0.0
    if lowest < outside - aim < outside:
        draw = drawdown_time.value(
            "together.time_draw", V=voids, S=flow, p_0=outside, p=outside - aim, p_u=lowest
        )
        drawn = draw.number
        found.append(draw)
    around = size.width if size.kind in CLOSED_KINDS else 2.0 * (size.width + size.length)
    closing = closing_time.value(
        "together.closing", t_1=usual("close.bag") * len(plans), t_2=usual("close.metre"), b=around
    )
    work = sum(one.get("time.spreading", 0.0) + one.get("time.laying", 0.0) for one in numbers)
    wet = wet_together.value("together.wet", t_w=work, t_c=closing.number, t_1=down.number, t_2=drawn)
    found += [closing, wet]
    opened = [one["time.open"] for one in numbers if "time.open" in one]
    if opened:
        found.append(spare_together.value("together.spare", t_o=min(opened), t_w=wet.number))
    return tuple(found)


def _flow(plan: Plan) -> float:
    """Air that the pump takes in a second, by motor or by hand."""
    pump = plan.layup.pump
    return pump.stroke / usual("pump.stroke") if pump.kind == "hand" else pump.flow
