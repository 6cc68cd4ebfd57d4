"""The bench: air, pump, clock and leaks, each from what the one before has found."""

from collections.abc import Iterator

from ..plan import Plan
from ..value import Value
from .air import air_of, air_values
from .breather import breather_values
from .leak import leak_values
from .pump import pump_values
from .time import time_values


def bench_values(plan: Plan) -> Iterator[Value]:
    """Air in the bag, strokes or minutes of the pump, the clock, and the falls of the gauge that are allowed."""
    found = {value.key: value for value in air_values(plan)}
    air = air_of(found)
    numbers = {key: value.number for key, value in found.items()}
    found |= {value.key: value for value in breather_values(plan, numbers)}
    found |= {value.key: value for value in pump_values(plan, air)}
    found |= {value.key: value for value in time_values(plan, found["pump.time"].number)}
    yield from found.values()
    yield from leak_values(plan, air, found["pump.lowest"].number, found["time.safe"].number)
