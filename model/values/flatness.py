"""Staying flat: how far a panel bows, cups and twists in the air that it lives in.

The panel is flat as long as every ply is as wet as it was when the glue set. Then the glue's water leaves, and the
seasons come: each ply swells or shrinks by its own measure, and what is not the same on both faces bends the whole.
The numbers are an upper bound, as wood and glue give way in time. A crown of the show face counts positive.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from ..mechanics.laminate import PLATE, bow_over_thickness
from ..mechanics.moisture import equilibrium_moisture
from ..plan import Plan
from ..source import Source
from ..units import Mm, Percent, PerMm, Radian, Ratio
from ..value import Value, formula
from ..wetting import Moisture, moisture_in
from .balance import ROOM, balance_values
from .warping import Warping, warping_of

SEASONS = ("driest", "dampest")
SWELLING = Source(
    "derived", "plane geometry", "a curve that swells along and through its thickness turns otherwise"
)


@formula(
    "b", "bow along the length (positive: show face crowned)", "(k_g + k_w * (M_r - M_s)) * L ** 2 / 8", PLATE
)
def bow_in_room(k_g: PerMm, k_w: PerMm, M_r: Percent, M_s: Percent, L: Mm) -> Mm:
    """Bow of a panel whose wood comes to M_r percent of moisture in the room.

    In the air of the shop, with M_s, it has the curvature k_g, which the glue's water has left; each percent adds k_w.
    """
    return (k_g + k_w * (M_r - M_s)) * L**2 / 8.0


@formula(
    "c", "cup across the width (positive: show face crowned)", "(k_g + k_w * (M_r - M_s)) * B ** 2 / 8", PLATE
)
def cup_in_room(k_g: PerMm, k_w: PerMm, M_r: Percent, M_s: Percent, B: Mm) -> Mm:
    """Cup of a panel across its width; the letters are those of the bow."""
    return (k_g + k_w * (M_r - M_s)) * B**2 / 8.0


@formula(
    "w",
    "twist: lift of the fourth corner when three lie on the bench",
    "(k_g + k_w * (M_r - M_s)) * L * B / 2",
    PLATE,
)
def twist_in_room(k_g: PerMm, k_w: PerMm, M_r: Percent, M_s: Percent, L: Mm, B: Mm) -> Mm:
    """Twist of a panel; the letters are those of the bow."""
    return (k_g + k_w * (M_r - M_s)) * L * B / 2.0


@formula(
    "dtheta",
    "turn that the bend gains in the room (positive: it closes)",
    "theta * (e_g + e_w * (M_r - M_s)) + L * (k_g + k_w * (M_r - M_s))",
    SWELLING,
)
def turn_in_room(
    theta: Radian, e_g: Ratio, e_w: Ratio, k_g: PerMm, k_w: PerMm, M_r: Percent, M_s: Percent, L: Mm
) -> Radian:
    """Change of a bend's turn theta.

    e is how much more it swells along the curve than through its thickness, k the curvature that unlike faces add, each
    by the glue's water (g) and by each percent of moisture (w).
    """
    return theta * (e_g + e_w * (M_r - M_s)) + L * (k_g + k_w * (M_r - M_s))


@dataclass(frozen=True, slots=True, kw_only=True)
class Season:
    """One end of the air that a panel lives in: its name and what wood comes to in it."""

    name: str
    moisture: Percent


def flatness_values(plan: Plan) -> Iterator[Value]:
    """Moisture of the wood in shop and room; bow, cup and twist of a flat panel, or the turn that a bend gains."""
    panel, press = plan.layup.panel, plan.layup.press
    yield equilibrium_moisture.value("moisture.shop", T=press.temperature, h=press.humidity / 100.0)
    wet, seasons = moisture_in(plan, plan.finished), []
    for name, humidity in zip(SEASONS, (panel.driest, panel.dampest), strict=True):
        value = equilibrium_moisture.value(f"moisture.{name}", T=ROOM, h=humidity / 100.0)
        yield value
        seasons.append(Season(name=name, moisture=value.number))
    warping = warping_of(plan.finished, wet, plan.layup.face_is_up)
    if plan.layup.is_bent:
        yield from _turns(plan, warping, wet, seasons)
        return
    warps = [value for season in seasons for value in _warps(plan, warping, wet, season)]
    yield from warps
    yield bow_over_thickness.value(
        "flatness.over_thickness",
        b=max((value.number for value in warps), key=abs),
        h=sum(ply.thickness for ply in plan.finished),
    )
    if not warping.is_balanced:
        changes = [season.moisture - wet.shop for season in seasons]
        yield from balance_values(plan, warping, wet, changes)


def _warps(plan: Plan, warping: Warping, wet: Moisture, season: Season) -> Iterator[Value]:
    """Bow, cup and twist of a flat panel in one season."""
    key, L, B = f"flatness.{season.name}", plan.outline.length, plan.outline.width
    left, each = warping.left.tolist(), warping.each.tolist()
    M_r, M_s = season.moisture, wet.shop
    yield bow_in_room.value(f"{key}.bow", k_g=left[0], k_w=each[0], M_r=M_r, M_s=M_s, L=L)
    yield cup_in_room.value(f"{key}.cup", k_g=left[1], k_w=each[1], M_r=M_r, M_s=M_s, B=B)
    yield twist_in_room.value(f"{key}.twist", k_g=left[2], k_w=each[2], M_r=M_r, M_s=M_s, L=L, B=B)


def _turns(plan: Plan, warping: Warping, wet: Moisture, seasons: list[Season]) -> Iterator[Value]:
    """Turn that a bend gains in each season; its cup and twist are held by its own shape."""
    assert plan.layup.bend is not None
    # a crown of the show face closes a bend that has it outside, and opens one that has it inside; a curve that is
    # a hollow on the whole is the other way round
    outside = 1.0 if plan.layup.bend.show_face == "outside" else -1.0
    side = outside * (1.0 if plan.layup.bend.angle >= 0.0 else -1.0)
    for season in seasons:
        yield turn_in_room.value(
            f"flatness.{season.name}.turn",
            theta=abs(plan.released.profile.turn),
            e_g=warping.stretch_left,
            e_w=warping.stretch_each,
            k_g=side * float(warping.left[0]),
            k_w=side * float(warping.each[0]),
            M_r=season.moisture,
            M_s=wet.shop,
            L=plan.released.profile.length,
        )
