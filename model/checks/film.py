"""Rules of the film: whether it reaches into a hollow, and whether it bears the temperature."""

from ..plan import Plan
from ..source import COMMON_PRACTICE
from ..wording import both, percent, pressure, temperature
from .judge import at_least, at_most
from .limits import limit
from .rule import Facts, Finding, Place, Rule


def _hollow(plan: Plan, facts: Facts) -> tuple[Finding, ...]:
    """Film that is caught at the rims of a hollow: its stretch, and the pressure that it leaves to the work."""
    if "film.hollow.pinned" not in facts:
        return ()
    film, gauge = plan.chosen.film, plan.layup.vacuum.gauge
    stretch, usable = facts["film.hollow.pinned"].number, facts["film.usable"].number
    contact, gap = facts["film.hollow.contact"].number, facts["film.hollow.gap"].number
    remedy = (
        f"Lay {both(facts['film.hollow.pleat'].number)} of extra film into the hollow as pleats before pumping "
        "(the bag is sized for it), or take a film that stretches more easily."
    )
    pressed = f"presses its bottom with {pressure(max(contact, 0.0))} of {pressure(gauge)}"
    if gap > 0.0:
        pressed = f"bridges the hollow and leaves a gap of {both(gap)}"
    return (
        at_most(
            stretch,
            usable,
            "1",
            broken="caution",
            message=f"Caught at the rims of the hollow, the film has to stretch by {percent(100.0 * stretch)}; "
            f"{film.name} may stretch by {percent(100.0 * usable)}.",
            change="bag.material",
            remedy=remedy,
            place=Place("film"),
        ),
        at_least(
            contact,
            gauge * limit("film.contact"),
            "MPa",
            broken="caution",
            message=f"Caught at the rims of the hollow, the film {pressed}.",
            change="bag.material",
            remedy=remedy,
            place=Place("film"),
        ),
    )


def _temperature(plan: Plan, facts: Facts) -> tuple[Finding, ...]:
    """Temperature of the work against what film and release bear."""
    now, film = plan.layup.press.temperature, plan.chosen.film
    hottest = {film.name: film.highest_temperature}
    if plan.chosen.release is not None:
        hottest[plan.chosen.release.name] = plan.chosen.release.highest_temperature
    weakest = min(hottest, key=lambda name: hottest[name])
    return (
        at_least(
            now,
            film.stiffens_below,
            "°C",
            broken="caution",
            message=f"The film ({film.name}) stiffens below {temperature(film.stiffens_below)}; "
            f"the work is at {temperature(now)}.",
            change="press.temperature",
            remedy="Warm the film before it is drawn over the work, or take a film that stays soft.",
            place=Place("film"),
        ),
        at_most(
            now,
            hottest[weakest],
            "°C",
            broken="caution",
            message=f"The work is at {temperature(now)}; {weakest} bears up to {temperature(hottest[weakest])}.",
            change="press.temperature",
            remedy="Heat it less, by a thermostat, or take film and release that bear the heat.",
            place=Place("film"),
        ),
    )


RULES = (
    Rule(
        key="film.hollow",
        title="film in the hollow",
        why="Film that bridges a hollow leaves the work below it without pressure, whatever the gauge says.",
        source=COMMON_PRACTICE,
        find=_hollow,
    ),
    Rule(
        key="film.temperature",
        title="film in cold and heat",
        why="Cold film is stiff and tears at folds; film or release that gets too hot melts or gives off wax.",
        source=COMMON_PRACTICE,
        find=_temperature,
    ),
)
