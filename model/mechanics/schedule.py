"""The clock at the bench: open time against the work to be done, and when the panel may come out.

Times count from the first glue that is spread. The rule for temperature: the glue's reactions run twice as fast
for every 10 °C more (a rule of thumb for adhesives that cure by reaction, printed for about −1 to 49 °C; glues
that set by losing water follow it only roughly), so both open time and press time halve. It may be used only
inside the range given with it, for outside a glue may not set at all; the maker's data sheet always wins.
"""

from dataclasses import dataclass

from ..errors import LayupError
from ..source import COMMON_PRACTICE, Source
from ..units import Celsius, Count, Mm2, Ratio, Second
from ..value import formula

TEN_DEGREES = Source("literature", "technical note on two-part adhesives", "ten-degree rule")
BENCH = Source("derived", "sum of the times at the bench")


@dataclass(frozen=True, slots=True, kw_only=True)
class ReleaseTimes:
    """When the pressure may be taken off, counted from its being reached.

    Parameters
    ----------
    least
        Holds for a thin, open face in a warm shop.
    safe
        For when in doubt.
    """

    least: Second
    safe: Second


@dataclass(frozen=True, slots=True, kw_only=True)
class Work:
    """How long each piece of the work at the bench takes.

    Parameters
    ----------
    dry_run
        Laying everything up without glue and testing for leaks.
    spreading, laying, closing
        The work with wet glue: spreading it, laying the layers, getting the stack in and closing the bag.
    pumping
        Bringing the film down and drawing down to the target.
    rest
        Standing with air on both faces before trimming.
    """

    dry_run: Second
    spreading: Second
    laying: Second
    closing: Second
    pumping: Second
    rest: Second


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One line of the schedule; times count from the first glue spread, so the dry run's are negative.

    Parameters
    ----------
    key
        Stable key of the step, such as ``"closing"``.
    start, end
        When it begins and ends; the same where it is a moment, such as a look at the gauge.
    latest
        When it must have ended because the glue's open time does; None where nothing presses.
    """

    key: str
    start: Second
    end: Second
    latest: Second | None

    @property
    def in_time(self) -> bool:
        """Whether it ends no later than it must."""
        return self.latest is None or self.end <= self.latest


@formula("t", "time to spread the glue", "n * A * t_1 / (A_1 * m)", COMMON_PRACTICE)
def spreading_time(n: Count, A: Mm2, A_1: Mm2, t_1: Second, m: Count) -> Second:
    """Time in which m pairs of hands spread n faces of area A, one pair spreading the area A_1 in the time t_1."""
    return n * A * t_1 / (A_1 * m)


@formula("t", "time to lay the layers", "n * t_1", COMMON_PRACTICE)
def laying_time(n: Count, t_1: Second) -> Second:
    """Time to lay n layers, t_1 for each."""
    return n * t_1


@formula("t", "time from the first glue to full pressure", "t_s + t_l + t_c + t_p", BENCH)
def wet_time(t_s: Second, t_l: Second, t_c: Second, t_p: Second) -> Second:
    """Time to spread, lay, close and pump: what the open time has to cover."""
    return t_s + t_l + t_c + t_p


@formula("Δt", "open time to spare", "t_o - t_w", BENCH)
def open_time_spare(t_o: Second, t_w: Second) -> Second:
    """Say what is left of the open time t_o when full pressure is reached after t_w; negative is too late."""
    return t_o - t_w


@formula("T", "temperature that governs the glue", "min(T_g, T_s, T_p)", COMMON_PRACTICE)
def governing_temperature(T_g: Celsius, T_s: Celsius, T_p: Celsius) -> Celsius:
    """Lowest of the temperatures of glue, substrate and plates: the coldest of them sets the pace of the cure."""
    return min(T_g, T_s, T_p)


@formula("t", "time at the glue's temperature", "t_0 * 2 ** ((T_0 - T) / d)", TEN_DEGREES)
def time_at(t_0: Second, T: Celsius, T_0: Celsius, d: Celsius) -> Second:
    """Time that takes t_0 at T_0, at the temperature T, the pace doubling with every d more (10 °C)."""
    return t_0 * 2 ** ((T_0 - T) / d)


@formula("t", "time at which the bag must be closed", "t_o - t_p", BENCH)
def closed_by(t_o: Second, t_p: Second) -> Second:
    """Last moment, from the first glue, to start pumping for t_p and reach pressure within the open time t_o."""
    return t_o - t_p


def release_times(
    least: Second,
    safe: Second,
    T: Celsius,
    T_0: Celsius,
    d: Celsius,
    within: tuple[Celsius, Celsius],
    slow: Ratio,
) -> ReleaseTimes:
    """Least and safe time under pressure at the temperature T.

    Parameters
    ----------
    least, safe
        The times at T_0.
    T
        Temperature of the coldest of glue, substrate and plates.
    T_0
        Temperature that the times are stated for.
    d
        Warming that doubles the pace; see the module's text.
    within
        Lowest and highest temperature that the rule may be used for, both included.
    slow
        How many times longer it takes for other reasons, such as 2 where no face lets water out (common
        practice); 1 is none.

    Raises
    ------
    LayupError
        The temperature is outside the range, the times are not in order, or ``slow`` is less than 1.

    Source: ``time_at``.
    """
    low, high = within
    if not low <= T <= high:
        raise LayupError(
            "",
            f"{T:g} °C at the glue",
            f"{low:g} to {high:g} °C for this adhesive",
            "Warm the shop, the plates and the glue."
            if T < low
            else "Let it cool, or ask the maker's data sheet.",
        )
    if not 0 < least <= safe:
        raise LayupError(
            "", f"press times of {least:g} and {safe:g} s", "a least time above 0 and a safe one no shorter"
        )
    if not slow >= 1:
        raise LayupError("", f"{slow:g} times as long", "1 or more")
    return ReleaseTimes(
        least=slow * time_at(t_0=least, T=T, T_0=T_0, d=d), safe=slow * time_at(t_0=safe, T=T, T_0=T_0, d=d)
    )


def bench_schedule(
    work: Work, open_time: Second, release: ReleaseTimes, looks: tuple[Second, ...]
) -> tuple[Step, ...]:
    """List the steps at the bench in the order of the clock.

    Parameters
    ----------
    work
        How long each piece of work takes.
    open_time
        Open time of the glue at the temperature of the shop, from the first glue spread.
    release
        Least and safe time under pressure, from its being reached.
    looks
        When the gauge is looked at, from the pressure being reached, such as 5 and 30 minutes.

    Returns
    -------
    steps
        ``dry run``, ``spreading``, ``laying``, ``closing``, ``pumping``, one ``look`` each, ``least release``,
        ``safe release``, ``rest``; in order of start. The rest follows the safe release.

    Raises
    ------
    LayupError
        A time is negative.

    Source: sum of the times at the bench (derived); the order is common practice.
    """
    wet = (work.spreading, work.laying, work.closing, work.pumping)
    times = (work.dry_run, *wet, work.rest, open_time, *looks)
    if any(not time >= 0 for time in times):
        raise LayupError("", f"a time of {min(times):g} s in the schedule", "0 or more")
    laid_from = work.spreading
    closed_from = laid_from + work.laying
    pumped_from = closed_from + work.closing
    pressed = pumped_from + work.pumping
    last_close = closed_by(t_o=open_time, t_p=work.pumping)
    safe = pressed + release.safe
    steps = [
        Step(key="dry run", start=-work.dry_run, end=0.0, latest=None),
        Step(key="spreading", start=0.0, end=laid_from, latest=last_close - work.closing - work.laying),
        Step(key="laying", start=laid_from, end=closed_from, latest=last_close - work.closing),
        Step(key="closing", start=closed_from, end=pumped_from, latest=last_close),
        Step(key="pumping", start=pumped_from, end=pressed, latest=open_time),
        *(Step(key="look", start=pressed + look, end=pressed + look, latest=None) for look in looks),
        Step(key="least release", start=pressed + release.least, end=pressed + release.least, latest=None),
        Step(key="safe release", start=safe, end=safe, latest=None),
        Step(key="rest", start=safe, end=safe + work.rest, latest=None),
    ]
    return tuple(sorted(steps, key=lambda step: step.start))
