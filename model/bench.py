"""What the papers for the bench are made of: the clock, and the falls of the gauge that are allowed."""

from .checks.rule import Facts
from .data.bench import usual
from .mechanics.leak import AllowedFall, fall_table
from .mechanics.schedule import ReleaseTimes, Step, Work, bench_schedule
from .plan import Plan
from .values.leak import LOOKS


def schedule_of(plan: Plan, facts: Facts) -> tuple[Step, ...]:
    """Steps of the day at the bench in the order of the clock; none where nothing is glued.

    Times count from the first glue that is spread, so those of the dry run lie before zero. Where a dry run was timed,
    laying holds the time of both laying and closing.

    Parameters
    ----------
    plan
        The plan.
    facts
        Values of its report by key.
    """
    if "time.wet" not in facts:
        return ()
    closing = facts["time.closing"].number if "time.closing" in facts else 0.0
    work = Work(
        dry_run=usual("dry.run"),
        spreading=facts["time.spreading"].number,
        laying=facts["time.laying"].number,
        closing=closing,
        pumping=facts["pump.time"].number,
        rest=usual("rest"),
    )
    release = ReleaseTimes(least=facts["time.least"].number, safe=facts["time.safe"].number)
    return bench_schedule(work, facts["time.open"].number, release, LOOKS)


def falls_of(plan: Plan, facts: Facts) -> tuple[AllowedFall, ...]:
    """Falls of the gauge that are allowed at each look, evenly and by a leak that weakens with the gauge."""
    return fall_table(
        g=plan.layup.vacuum.gauge,
        g_l=facts["leak.least"].number,
        t_c=facts["time.safe"].number,
        looks=LOOKS,
    )
