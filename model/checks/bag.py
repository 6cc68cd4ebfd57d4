"""Rules of the bag and its valve."""

from math import inf

from ..bag.size import CLOSED_KINDS
from ..plan import Plan
from ..source import COMMON_PRACTICE
from ..wording import both
from .judge import at_least, holds
from .limits import limit
from .rule import Facts, Finding, Place, Rule


def _fit(plan: Plan, facts: Facts) -> tuple[Finding, ...]:
    """An owned bag against what the layup needs, across and along."""
    bag = plan.bag
    if not bag.is_owned:
        return ()
    return (
        at_least(
            bag.width,
            bag.needed_width,
            "mm",
            broken="stop",
            message=f"The bag is {both(bag.width)} wide inside; this layup needs {both(bag.needed_width)}.",
            change="bag.width",
            remedy="Use a wider bag, or make the platen or form smaller.",
            place=Place("film", 0.0, 0.5 * plan.base.outline.width),
        ),
        at_least(
            bag.length,
            bag.needed_length,
            "mm",
            broken="stop",
            message=f"The bag is {both(bag.length)} long inside; this layup needs {both(bag.needed_length)}.",
            change="bag.length",
            remedy="Use a longer bag, or make the platen or form smaller.",
            place=Place("film", 0.5 * plan.base.outline.length, 0.0),
        ),
    )


def _room(plan: Plan, facts: Facts) -> tuple[Finding, ...]:
    """Clearance to the seams and film for the closure."""
    bag = plan.layup.bag
    found = [
        at_least(
            bag.side_clearance,
            limit("clearance.side_least"),
            "mm",
            broken="caution",
            message=f"There is {both(bag.side_clearance)} from the layup to each seam.",
            change="bag.side_clearance",
            remedy='Leave 75 to 100 mm (3 to 4") beside the work on every side.',
            place=Place("film", 0.0, 0.5 * plan.base.outline.width),
        )
    ]
    if bag.kind in CLOSED_KINDS:
        found.append(
            at_least(
                bag.closure,
                limit(f"closure.{bag.closed_by}"),
                "mm",
                broken="caution",
                message=f"The closure, {bag.closed_by}, has {both(bag.closure)} of film.",
                change="bag.closure",
                remedy="Leave out closure for what is usual, or give more film to the open end.",
                place=Place("film", 0.5 * plan.base.outline.length, 0.0),
            )
        )
    return tuple(found)


def _valve_clearance(plan: Plan, facts: Facts) -> tuple[Finding, ...]:
    """Flat film around the valve, to every seam and to the closure."""
    valve, bag = plan.valve, plan.bag
    closure = plan.layup.bag.closure if bag.kind in CLOSED_KINDS else 0.0
    distances = {
        "closed end": valve.from_closed_end,
        "left seam": valve.from_left_seam,
        "right seam": bag.width - valve.from_left_seam,
        "closure": bag.length - closure - valve.from_closed_end,
    }
    if plan.film is not None and not plan.film.is_tube:
        place = valve.from_left_seam if plan.film.run == "along" else valve.from_closed_end
        for joint in plan.film.sheets[0].joints:
            distances["seam across the film"] = min(
                abs(joint - plan.film.seam - place), distances.get("seam across the film", inf)
            )
    nearest = min(distances, key=lambda side: distances[side])
    left = distances[nearest] - valve.radius
    least = plan.layup.valve.clearance
    return (
        at_least(
            left,
            least,
            "mm",
            broken="caution",
            message=f"There is {both(left)} of flat film from the valve to the {nearest}.",
            change="bag.length" if bag.is_owned else "valve.clearance",
            remedy="Set the valve farther in, or make the bag larger.",
            place=Place("valve", valve.t, valve.w),
        ),
    )


def _valve_seat(plan: Plan, facts: Facts) -> tuple[Finding, ...]:
    """The valve above a caul or beside the work, never on bare veneer."""
    valve = plan.valve
    words = {
        "caul": "The valve sits over the breather, above the caul.",
        "tail": "The valve sits beside the work, on a tail of breather.",
        "bare work": "The valve would sit on the work with no caul below it.",
    }
    return (
        holds(
            valve.over != "bare work",
            broken="stop",
            message=words[valve.over],
            change="valve.from_closed_end",
            remedy="Lay a caul under the valve, or use a bag whose valve lies beside the work.",
            place=Place("valve", valve.t, valve.w),
        ),
        holds(
            plan.chosen.breather is not None,
            broken="stop",
            message="There is breather under the valve."
            if plan.chosen.breather
            else "There is no breather under the valve.",
            change="breather.material",
            remedy="Lay netting or felt under the whole base of the valve and on to the work.",
            place=Place("valve", valve.t, valve.w),
        ),
    )


RULES = (
    Rule(
        key="bag.fit",
        title="bag large enough",
        why="A bag that is too small cannot come down to the work, or cannot be closed over it.",
        source=COMMON_PRACTICE,
        find=_fit,
    ),
    Rule(
        key="bag.room",
        title="room beside the work",
        why="Film without room pulls at its seams before it lies on the work.",
        source=COMMON_PRACTICE,
        find=_room,
    ),
    Rule(
        key="valve.clearance",
        title="flat film around the valve",
        why="A valve near a seam or a fold does not seal.",
        source=COMMON_PRACTICE,
        find=_valve_clearance,
    ),
    Rule(
        key="valve.seat",
        title="what the valve sits on",
        why="A valve on bare veneer leaves its mark; a valve without breather seals itself off.",
        source=COMMON_PRACTICE,
        find=_valve_seat,
    ),
)
