"""How wet every ply is when the glue sets: the air that it lay in, and its share of the glue's water.

A glue line gives its water to the plies on both sides by what each can still take up. All of a veneer takes part, of
a core only the skin that water reaches before the glue has set.
"""

from dataclasses import dataclass

import numpy as np

from .mechanics.glue import moisture_gain, uptake_capacity, veneer_share
from .mechanics.moisture import equilibrium_moisture
from .plan import Plan
from .plies import Ply
from .shape.profile import Floats
from .units import GramPerMm2, Mm, Percent

FIBRE_SATURATION: Percent = 28.0
"""Moisture content at which the cell walls of wood are full; FPL-GTR-282, chapter 4 (handbook)."""

REACHED: Mm = 1.5
"""Depth of a core that water reaches while glue sets: 1 to 2 mm (common practice)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Moisture:
    """Moisture contents, percent.

    Parameters
    ----------
    shop
        What solid wood comes to in the air of the shop.
    laid
        ``(n,)`` moisture content of each ply when it is laid.
    at_set
        ``(n,)`` the same when the glue has set: as wet as this the panel is flat.
    """

    shop: Percent
    laid: Floats
    at_set: Floats


def moisture_of(plan: Plan) -> Moisture:
    """Moisture of the plies in the press, from below."""
    return moisture_in(plan, plan.plies)


def moisture_in(plan: Plan, plies: tuple[Ply, ...]) -> Moisture:
    """Moisture of plies that lie on each other, from below, with a glue line between any two of them."""
    press, own = plan.layup.press, plan.layup.substrate.moisture
    shop = equilibrium_moisture(T=press.temperature, h=press.humidity / 100.0)
    laid = [
        own if own is not None and ply.side == "core" else max(shop - ply.below_wood, 0.0) for ply in plies
    ]
    gained = _gains(plan, plies, laid)
    return Moisture(shop=shop, laid=np.array(laid), at_set=np.array(laid) + gained)


def _gains(plan: Plan, plies: tuple[Ply, ...], laid: list[Percent]) -> Floats:
    """Rise of each ply's moisture content by the water of the glue lines beside it."""
    water = plan.layup.adhesive.spread * plan.chosen.adhesive.water_fraction
    taken = [0.0] * len(laid)
    for lower in range(len(laid) - 1):
        room = [room_in(plan, ply, laid[lower + side]) for side, ply in enumerate(plies[lower : lower + 2])]
        share = veneer_share(q_v=room[0], q_s=room[1]) if room[0] + room[1] > 0.0 else 0.0
        for side, part in enumerate((share, 1.0 - share)):
            taken[lower + side] += min(water * part, room[side])
    return np.array(
        [
            moisture_gain(q=q, rho=ply.dry_density, t=ply.thickness)
            for q, ply in zip(taken, plies, strict=True)
        ]
    )


def room_in(plan: Plan, ply: Ply, laid: Percent) -> GramPerMm2:
    """Water that a ply can still take from one glue line."""
    if ply.side == "core" and not core_drinks(plan):
        return 0.0
    reached = min(ply.thickness, REACHED) if ply.side == "core" else ply.thickness
    return uptake_capacity(rho=ply.dry_density, t=reached, M=laid, M_s=FIBRE_SATURATION)


def core_drinks(plan: Plan) -> bool:
    """Whether the core lets water in: every wood does."""
    return getattr(plan.chosen.substrate, "lets_water", True)
