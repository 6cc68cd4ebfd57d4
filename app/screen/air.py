"""What is told of the air: the valve's place, a small map of times, and what to do where it takes too long."""

import math
from collections.abc import Iterator
from itertools import pairwise
from typing import Any

from ...model.air_answer import AirAnswer
from ...model.bag.air import ENOUGH, block_edges, block_times
from ...model.bag.ground import Spot
from ...model.units import Second
from ...model.wording import both, by_size, duration, flow, in_inches, in_mm, pressure
from ..columns import ends, left, right, wrap

ROWS, COLUMNS, NAME, WIDE = 5, 5, 25, 11
"""Blocks of the map that fit on a terminal, and columns of what stands before them and of each."""
LABEL = 44

NO_BREATHER = "\n".join(
    wrap(
        "There is no breather in this layup: the film closes on the work round the valve, and the air behind it finds "
        "no way. No time can be told. Lay netting or felt over the work or the caul, with a tail to the valve."
    )
)


def air_sheet(answer: AirAnswer) -> str:
    """Sheet for a terminal."""
    final = answer.pumping.outside - answer.pumping.final
    lines = [
        answer.plan.layup.title,
        "",
        _line("final gauge reading", pressure(final)),
        _line("pump takes in", flow(answer.pumping.flow)),
        _line("film down, where all times below begin", f"about {duration(answer.film_down)}"),
        _line("the pump alone would need", duration(answer.pumping.alone)),
        _line(f"every place at {ENOUGH:.0%} of the reading after", _time(answer.first.slowest)),
        "",
        "VALVE, middle, on the flat bag",
        *_valve(answer, answer.first.spots[0]),
        *wrap(_chosen(answer), "  "),
        "",
        *_map(answer),
        "",
        *wrap(_verdict(answer)),
        *_more(answer),
        *_strips(answer),
    ]
    return "\n".join(lines) + "\n"


def air_document(answer: AirAnswer) -> dict[str, Any]:
    """Document for programs: mm, s and MPa; null where a place is never reached or is off the breather."""
    first, enough = answer.first, answer.enough
    return {
        "schema": 1,
        "title": answer.plan.layup.title,
        "within": answer.within,
        "film_down": answer.film_down,
        "pump": {"flow": answer.pumping.flow, "alone": answer.pumping.alone},
        "pressure": {"final": answer.pumping.final, "target": answer.pumping.target},
        "slowest": _finite(first.slowest),
        "valve": _place(answer, first.spots[0]),
        "last": dict(zip(("along", "across"), first.last, strict=True)),
        "enough": None if enough is None else [_place(answer, spot) for spot in enough.spots],
        "strips": None
        if answer.strips is None
        else [{"run": one.run, "at": one.at, "width": one.width} for one in answer.strips.strips],
        "map": {
            "cell": first.grid.breather.cell,
            "corner": list(first.grid.corner),
            "reached": [[_finite(time) for time in row] for row in first.map.reached.tolist()],
        },
    }


def _place(answer: AirAnswer, spot: Spot) -> dict[str, float]:
    u, v = answer.on_flat_bag(spot)
    return {"along": spot[0], "across": spot[1], "from_closed_end": u, "from_left_seam": v}


def _finite(time: float) -> float | None:
    return time if math.isfinite(time) else None


def _valve(answer: AirAnswer, spot: Spot) -> Iterator[str]:
    u, v = answer.on_flat_bag(spot)
    yield _line("from the closed end", both(u))
    yield _line("from the left seam, seen from the open end", both(v))


def _chosen(answer: AirAnswer) -> str:
    if answer.choices == 1:
        return "It is the only place that the layup and the bag leave for it."
    return (
        f"Of {answer.choices} places where its base lies flat over breather, clear of edges, seams and closure, "
        "this one draws the farthest point down first."
    )


def _map(answer: AirAnswer) -> Iterator[str]:
    """Latest times of blocks of the map, the closed end at the left."""
    found = answer.first.map.reached
    down, right_on = block_edges(found.shape[0], ROWS), block_edges(found.shape[1], COLUMNS)
    cell, (s, w) = answer.first.grid.breather.cell, answer.first.grid.corner
    middles = [s + 0.5 * (a + b) * cell for a, b in pairwise(right_on)]
    yield ends("SECONDS UNTIL ALL OF A PART IS DRAWN DOWN", "from the middle of the work")
    yield left("  across | along", NAME) + "".join(right(in_mm(round(x)), WIDE) for x in middles)
    yield left("", NAME) + "".join(right(in_inches(x), WIDE) for x in middles)
    for (a, b), row in zip(pairwise(down), block_times(found, down, right_on).tolist(), strict=True):
        y = round(w + 0.5 * (a + b) * cell)
        label = f"  {in_mm(y)} ({in_inches(y)})"
        yield (left(label, NAME) + "".join(right(_cell(time), WIDE) for time in row)).rstrip()


def _cell(time: float) -> str:
    if math.isnan(time):
        return ""
    return by_size(time) if math.isfinite(time) else "never"


def _time(time: Second) -> str:
    return duration(time) if math.isfinite(time) else "more time than was waited"


def _verdict(answer: AirAnswer) -> str:
    within, pumping, first = answer.within, answer.pumping, answer.first
    if first.slowest <= within:
        return f"YES: one valve draws every place down within {duration(within)}."
    if pumping.alone > within:
        return (
            f"NO: the pump is too small for {duration(within)}, wherever its valves sit. It would take one that "
            f"takes in more than {flow(pumping.flow_within(within))}, or fewer voids to empty."
        )
    times = (first.slowest - pumping.alone) / (within - pumping.alone) if within > pumping.alone else math.inf
    factor = f" about {by_size(times, 2)} times as open" if math.isfinite(times) else " far more open"
    return (
        f"NO: the breather is too poor for {duration(within)}. The pump alone would be done in "
        f"{duration(pumping.alone)}; the way through the breather holds up the rest. More sheets of the same do not "
        f"help, for they hold as much more air: lay one{factor} under the vacuum, or strips of netting to the far ends."
    )


def _more(answer: AirAnswer) -> Iterator[str]:
    found = answer.enough
    if found is None or len(found.spots) == 1:
        return
    yield from wrap(
        f"{len(found.spots)} valves would do: every place is drawn down after {duration(found.slowest)}. "
        "Their middles, from the closed end and from the left seam:"
    )
    for spot in found.spots:
        u, v = answer.on_flat_bag(spot)
        yield f"  {left(both(u), 30)}{both(v)}"


def _strips(answer: AirAnswer) -> Iterator[str]:
    found = answer.strips
    if found is None:
        return
    count, width = len(found.strips), found.strips[0].width
    valve = answer.plan.valve
    yield from wrap(
        f"Or with one valve: {count} strip{'s' if count > 1 else ''} of netting {both(width)} wide over the breather, "
        f"from edge to edge; every place is drawn down after {duration(found.drawn.slowest)}. Middle lines:"
    )
    for strip in found.strips:
        along = strip.run == "along"
        from_edge = (valve.work_from_left_seam if along else valve.work_from_closed_end) + strip.at
        edge = "left seam" if along else "closed end"
        yield f"  {left(f'{strip.run}, from the {edge}', 44)}{both(from_edge)}"


def _line(label: str, text: str) -> str:
    return f"  {left(label, LABEL)}{text}"
