"""How far apart the ribs of a form stand: as far as the skin stays flat and whole, or as asked."""

import math
from dataclasses import dataclass

from ..data.carcase import carcase
from ..data.limits import limit
from ..materials import Board
from ..mechanics.skin import bending_sag, rib_bearing, sag, shear_sag, skin_coefficients, skin_stress
from ..units import Mm, MPa

MOST_SPANS = 12
"""Further ribs change nothing in the spans at the ends, which sag most."""

ROUNDING = 1e-9
"""A width of so many spacings is not one bay more for the last digit."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Load:
    """What a skin over ribs has to bear, and what it is.

    Parameters
    ----------
    width
        Extent of the form across, mm; the outermost ribs stand flush with it.
    skin, rib
        Thickness of the skin and of a rib, mm.
    board
        What both are made of.
    pressure
        What the film presses with.
    """

    width: Mm
    skin: Mm
    rib: Mm
    board: Board
    pressure: MPa

    @property
    def run(self) -> Mm:
        """Distance of the middles of the outermost ribs."""
        return self.width - self.rib


def bays_for_spacing(load: Load, spacing: Mm) -> int:
    """Fewest equal bays that are no wider than a spacing."""
    return min(most_bays(load), max(1, math.ceil(load.run / spacing - ROUNDING)))


def most_bays(load: Load) -> int:
    """Most bays that can be built: between ribs there is room for a vent. None where two ribs are too many."""
    return math.floor(load.run / (load.rib + carcase("vent")) + ROUNDING)


def bays_for_skin(load: Load) -> int:
    """Fewest equal bays over which the skin keeps its limits of sag and stress, and the ribs theirs of bearing.

    Where no ribs would do, as many as can be built.
    """
    most = most_bays(load)
    return next((bays for bays in range(1, most + 1) if _is_carried(load, bays)), most)


def _is_carried(load: Load, bays: int) -> bool:
    board, p, t, s = load.board, load.pressure, load.skin, load.run / bays
    over = skin_coefficients(min(bays, MOST_SPANS))
    bent = bending_sag(p=p, s=s, t=t, E=board.E_across, k=over.k)
    sheared = shear_sag(p=p, s=s, t=t, G=limit("skin.shear") * board.G)
    if sag(w_b=bent, w_s=sheared) > limit("skin.sag"):
        return False
    if board.MOR is not None and skin_stress(p=p, s=s, t=t, m=over.m) > limit("skin.stress") * board.MOR:
        return False
    return rib_bearing(p=p, s=s, b=load.rib, r=max(over.shares)) <= board.crush
