"""Rules of the veneer's overhang."""

from collections.abc import Iterator

from ..layup.sections import Veneer
from ..plan import Plan
from ..source import Source
from ..stack import Layer
from ..values.overhang import is_lower
from ..wording import both
from .judge import at_most
from .limits import limit, limits
from .rule import Facts, Finding, Place, Rule


def _free_edges(plan: Plan, facts: Facts) -> Iterator[tuple[Layer, Veneer, float]]:
    for layer in plan.stack.of_role("veneer"):
        veneer = plan.layup.face if layer.side == "face" else plan.layup.back
        if veneer.overhang > 0.0:
            yield layer, veneer, facts[f"overhang.{layer.key}.free"].number


def _bound(plan: Plan, facts: Facts) -> tuple[Finding, ...]:
    """Free overhang against the bounds of the trade: plenty, and past all hope."""
    found = []
    for layer, _, free in _free_edges(plan, facts):
        outer = limit("overhang.outer")
        is_past = free > outer
        bound = outer if is_past else limit("overhang.plenty")
        found.append(
            at_most(
                free,
                bound,
                "mm",
                broken="stop" if is_past else "caution",
                message=f"The {layer.name} stands {both(free)} free past the core.",
                change=f"{layer.key}.overhang",
                remedy=f'Cut the overhang to {both(limit("overhang.plenty"))} or less; 6 mm (1/4") is plenty.',
                place=Place(layer.key, 0.5 * layer.outline.length, 0.0),
            )
        )
    return tuple(found)


def _bending(plan: Plan, facts: Facts) -> tuple[Finding, ...]:
    """Free overhang against the bending strength, where a break would run into the panel."""
    found = []
    for layer, veneer, free in _free_edges(plan, facts):
        is_mosaic = veneer.pieces > 1
        # a face of many pieces has end grain and side grain at every edge: its weakest direction governs
        longest = facts[f"overhang.{layer.key}.{'side_grain' if is_mosaic else 'end_grain'}"].number
        edges = "edge of its weakest piece" if is_mosaic else "end-grain edges"
        along = veneer.grain == "along length"
        place = (
            Place(layer.key, 0.5 * layer.outline.length, 0.0)
            if along
            else Place(layer.key, 0.0, 0.5 * layer.outline.width)
        )
        found.append(
            at_most(
                free,
                longest,
                "mm",
                broken="caution",
                message=f"The {layer.name} stands {both(free)} free; the {edges} can bear {both(longest)}.",
                change=f"{layer.key}.overhang",
                remedy=_remedy(plan, layer),
                place=place,
            )
        )
    return tuple(found)


def _remedy(plan: Plan, layer: Layer) -> str:
    if is_lower(plan, layer):
        return "Let the platen or form reach past the veneer, or cut the overhang shorter."
    if plan.layup.is_bent:
        return "Cut the overhang shorter, or pack the edges with waste of the core's thickness."
    return (
        "Cut the overhang shorter, press this side down on the platen, or let the caul reach past the veneer."
    )


RULES = (
    Rule(
        key="overhang.bound",
        title="veneer overhang",
        why="An edge that stands free is broken off by the film; a split can run on into the panel.",
        source=limits()["overhang.outer"].source,
        find=_bound,
    ),
    Rule(
        key="overhang.bending",
        title="strength of the overhang",
        why="A break at an end-grain edge or a corner splits the veneer into the panel.",
        source=Source("textbook", "beam theory", "cantilever under uniform load: a = t·√(f / 3p)"),
        find=_bending,
    ),
)
