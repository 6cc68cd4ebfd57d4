"""Support: what platen, form and caul carry, the skin between ribs, and the walls of a hollow form."""

import math
from collections.abc import Iterator

from ..data.limits import limit
from ..form.bays import MOST_SPANS
from ..form.ribs import RibForm
from ..form.taper_form import TaperRibs
from ..materials import Board
from ..mechanics.plate import BUCKLING, THIN_PLATE, BoxWall, hollow_box
from ..mechanics.pressure import rib_load
from ..mechanics.skin import (
    CLAMPED,
    bending_sag,
    rib_bearing,
    sag,
    shear_sag,
    skin_coefficients,
    skin_stress,
    spacing_for_sag,
)
from ..plan import Plan
from ..source import Source
from ..units import Mm, Mm2, MPa, Newton, Ratio
from ..value import Value, formula

STATICS = Source("textbook", "statics", "force = pressure × area")
THROUGH = Source(
    "from memory", "", "boards shear through their thickness at a small part of their modulus in the plane"
)

LOW_PLACE: Mm = 100.0
"""Width of the low place that a caul is tried on: a hand's breadth."""


@formula("Q", "load that the platen, bench or form hands on to the air below it", "p * A", STATICS)
def carried_load(p: MPa, A: Mm2) -> Newton:
    """Load on what the work lies on; air presses as much from below, so that the bench bears only the weight."""
    return p * A


@formula(
    "d",
    "depth of a low place as wide as a hand that the caul still presses into",
    "p * L ** 4 / (32 * E * t ** 3)",
    CLAMPED,
)
def followed_depth(p: MPa, L: Mm, E: MPa, t: Mm) -> Mm:
    """Depth at which a caul over a low place L wide just reaches its bottom; it bridges a deeper one."""
    return p * L**4 / (32.0 * E * t**3)


@formula("G_s", "shear modulus of the skin through its thickness", "G * c", THROUGH)
def through_shear(G: MPa, c: Ratio) -> MPa:
    """Modulus for shear through the thickness: the part c of that in the plane."""
    return G * c


@formula("w", "bow of the box's worst wall", "method: thin plates with thrust along their plane", THIN_PLATE)
def wall_bow(w: Mm) -> Mm:
    """Deflection of the wall that gives most; none is told where a wall buckles."""
    return w


@formula(
    "sigma", "stress in the box's worst wall", "method: thin plates with thrust along their plane", THIN_PLATE
)
def wall_stress(sigma: MPa) -> MPa:
    """Greatest stress by bending and thrust together."""
    return sigma


@formula(
    "u",
    "times that the pressure may grow before a wall buckles",
    "method: plate pressed along both sides",
    BUCKLING,
)
def wall_reserve(u: Ratio) -> Ratio:
    """Least reserve of all walls."""
    return u


def support_values(plan: Plan) -> Iterator[Value]:
    """What the caul follows, and skin, ribs or walls of a built form."""
    pressure, caul = plan.layup.vacuum.gauge, plan.chosen.caul
    if caul is not None:
        yield followed_depth.value(
            "support.caul_follows", p=pressure, L=LOW_PLACE, E=caul.E, t=plan.layup.caul.thickness
        )
    if plan.chosen.form is None:
        return
    if plan.form is not None and plan.form.ribbed is not None:
        yield from _ribs(plan.form.ribbed)
    elif plan.layup.form.build == "box":
        yield from _box(plan, plan.chosen.form, pressure)


def _ribs(ribs: RibForm | TaperRibs) -> Iterator[Value]:
    """Skin that spans from rib to rib across the panel, and the ribs that bear it."""
    board, p, t, spacing = ribs.load.board, ribs.load.pressure, ribs.load.skin, ribs.spacing
    over = skin_coefficients(min(MOST_SPANS, ribs.bays))
    shear = through_shear.value("support.skin.shear", G=board.G, c=limit("skin.shear"))
    bent = bending_sag.value("support.skin.bending_sag", p=p, s=spacing, t=t, E=board.E_across, k=over.k)
    sheared = shear_sag.value("support.skin.shear_sag", p=p, s=spacing, t=t, G=shear.number)
    yield shear
    yield bent
    yield sheared
    yield sag.value("support.skin.sag", w_b=bent.number, w_s=sheared.number)
    yield spacing_for_sag.value(
        "support.skin.spacing",
        w=limit("skin.sag"),
        p=p,
        t=t,
        E=board.E_across,
        G=shear.number,
        k=over.k,
    )
    yield skin_stress.value("support.skin.stress", p=p, s=spacing, t=t, m=over.m)
    share = max(over.shares)
    yield rib_load.value("support.rib.load", p=p, s=spacing, r=share)
    yield rib_bearing.value("support.rib.bearing", p=p, s=spacing, b=ribs.load.rib, r=share)


def _box(plan: Plan, board: Board, p: MPa) -> Iterator[Value]:
    """Walls of a hollow box as long, wide and high as the form, pressed by the film from all sides."""
    walls = box_walls(plan, board, p)
    bow = max(wall.deflection for wall in walls)
    if math.isfinite(bow):
        yield wall_bow.value("support.box.bow", w=bow)
        yield wall_stress.value("support.box.stress", sigma=max(wall.stress for wall in walls))
    yield wall_reserve.value("support.box.reserve", u=min(wall.reserve for wall in walls))


def box_walls(plan: Plan, board: Board, p: MPa) -> tuple[BoxWall, ...]:
    """Walls of a form that is built as a box; its face counts as flat, which is safe."""
    length, width, height = plan.base_size
    return hollow_box(
        length=length,
        width=width,
        height=height,
        t=plan.layup.form.skin,
        E=min(board.E, board.E_across),
        nu=board.nu,
        p=p,
    )
