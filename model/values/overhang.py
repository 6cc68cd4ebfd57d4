"""Overhang of the veneers: how far their edges stand free, and how far they may."""

import math
from collections.abc import Iterator

from ..materials import Wood
from ..mechanics.overhang import longest_by_strength
from ..plan import Plan
from ..source import Source
from ..stack import Layer
from ..units import Mm
from ..value import Value, formula

CAPPED = Source("derived", "beam theory", "moment at the core's edge of the part that the caul leaves bare")
CARRIED = Source("textbook", "plane geometry", "what lies on a plate is not free")


@formula("a_f", "free overhang, on the platen or form", "max(a - s, 0)", CARRIED)
def free_above_plate(a: Mm, s: Mm) -> Mm:
    """Part of an overhang a that a plate below, reaching s past the core, does not carry."""
    return max(a - s, 0.0)


@formula("a_f", "free overhang, below the caul", "sqrt(max(a ** 2 - max(s, 0) ** 2, 0))", CAPPED)
def free_below_caul(a: Mm, s: Mm) -> Mm:
    """Overhang without a caul that is loaded as much as an overhang a below a caul that reaches s past the core."""
    return math.sqrt(max(a * a - max(s, 0.0) ** 2, 0.0))


def overhang_values(plan: Plan) -> Iterator[Value]:
    """Free overhang of each veneer, and the longest that holds at end-grain and at side edges."""
    for layer in plan.stack.of_role("veneer"):
        wood = plan.chosen.face if layer.side == "face" else plan.chosen.back
        assert wood is not None
        yield _free(plan, layer)
        yield from _longest(plan, layer, wood)


def is_lower(plan: Plan, layer: Layer) -> bool:
    """Whether a veneer lies on the side of the platen or form."""
    return (layer.side == "face") != plan.layup.face_is_up


def _free(plan: Plan, layer: Layer) -> Value:
    layup = plan.layup
    veneer = layup.face if layer.side == "face" else layup.back
    key = f"overhang.{layer.key}.free"
    if is_lower(plan, layer):
        return free_above_plate.value(key, a=veneer.overhang, s=base_reach(plan))
    return free_below_caul.value(key, a=veneer.overhang, s=caul_reach(plan))


def base_reach(plan: Plan) -> Mm:
    """How far the platen or form reaches past the core; a bench reaches past everything."""
    if plan.base.kind == "bench":
        return max(plan.layup.face.overhang, plan.layup.back.overhang)
    return plan.layup.form.margin if plan.base.kind == "form" else plan.layup.platen.margin


def caul_reach(plan: Plan) -> Mm:
    """How far the caul reaches past the core; 0 without a caul."""
    return 0.0 if plan.chosen.caul is None else plan.layup.caul.margin


def _longest(plan: Plan, layer: Layer, wood: Wood) -> Iterator[Value]:
    pressure, thickness = plan.layup.vacuum.gauge, layer.thickness
    yield longest_by_strength.value(f"overhang.{layer.key}.end_grain", p=pressure, t=thickness, f=wood.MOR)
    yield longest_by_strength.value(
        f"overhang.{layer.key}.side_grain", p=pressure, t=thickness, f=wood.tension_perp
    )
