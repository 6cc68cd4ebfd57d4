"""Dimensions of the detail of the edge: overhangs and margins, upper sheets above and lower ones below."""

from collections.abc import Iterator, Sequence
from itertools import pairwise

from ...model.plan import Plan
from ...model.stack import Layer
from ...model.units import Mm
from ..drawing.lanes import Wanted
from ..drawing.primitives import Item, Side
from ..drawing.sheet import View
from .clear_lanes import clear_lanes
from .edge_bands import Band
from .film import STAND_OFF
from .words import units_of, written


def edge_sizes(plan: Plan, view: View, found: Sequence[Band]) -> tuple[Item, ...]:
    """Dimensions above and below the detail."""
    unit = 1.0 / view.scale.ratio
    levels = {band.key: (band.low * unit, band.high * unit) for band in found}
    top, foot = (found[-1].high + STAND_OFF) * unit, (found[0].low - STAND_OFF) * unit
    above = clear_lanes(view, [*_above(plan, levels)], Side.ABOVE, top, first=8.0)
    below = clear_lanes(view, [*_below(plan, levels)], Side.BELOW, foot, first=8.0)
    return (*above, *below)


Levels = dict[str, tuple[Mm, Mm]]


def _reach(plan: Plan, layer: Layer) -> Mm:
    return 0.5 * (layer.outline.length - plan.outline.length)


def _core(plan: Plan) -> Layer:
    return next(layer for layer in plan.stack.layers if layer.role == "substrate")


def _above(plan: Plan, levels: Levels) -> Iterator[Wanted]:
    """Trim, then overhang, release, caul and breather of the upper side."""
    core = _core(plan)
    index = plan.stack.layers.index(core)
    upper = plan.stack.layers[index:]
    top = [layer for layer in upper if layer.role == "substrate"][-1]
    level = levels[top.key][1]
    if plan.layup.substrate.trim > 0.0:
        yield Wanted(
            start=(0.0, level),
            end=(_reach(plan, core), level),
            text=f"trim {written(_reach(plan, core), units_of(plan))}",
        )
    chain = [layer for layer in upper if layer.role in ("veneer", "release")]
    yield from _steps(plan, levels, [top, *chain], 1)
    caul = next((layer for layer in upper if layer.role == "caul"), None)
    if caul is not None:
        yield from _steps(plan, levels, [top, caul], 1)
    breather = next((layer for layer in upper if layer.role == "breather"), None)
    if breather is not None:
        veneers = [layer for layer in plan.stack.layers if layer.role == "veneer"]
        widest = max(veneers, key=lambda layer: layer.outline.length, default=core)
        yield from _steps(plan, levels, [caul or widest, breather], 1)


def _below(plan: Plan, levels: Levels) -> Iterator[Wanted]:
    """Overhang, release and base of the lower side."""
    core = _core(plan)
    lower = plan.stack.layers[: plan.stack.layers.index(core)][::-1]
    chain = [layer for layer in lower if layer.role in ("veneer", "release")]
    yield from _steps(plan, levels, [core, *chain], 0)
    if "base" in levels:
        start, end = _reach(plan, core), 0.5 * (plan.base.outline.length - plan.outline.length)
        yield _wanted(plan, plan.base.kind, (start, levels[core.key][0]), (end, levels["base"][1]))


def _steps(plan: Plan, levels: Levels, chain: Sequence[Layer], side: int) -> Iterator[Wanted]:
    """How far each layer of a chain reaches past the one before it."""
    for one, other in pairwise(chain):
        start = _reach(plan, one), levels[one.key][side]
        end = _reach(plan, other), levels[other.key][side]
        yield _wanted(plan, "overhang" if other.role == "veneer" else other.role, start, end)


def _wanted(plan: Plan, name: str, start: tuple[Mm, Mm], end: tuple[Mm, Mm]) -> Wanted:
    return Wanted(start=start, end=end, text=f"{name} {written(abs(end[0] - start[0]), units_of(plan))}")
