"""The plies of the work: every veneer, crossband and sheet of the core, with what bending and moisture ask of it.

A ply has two directions of its own: 1 along its grain or stiff direction, 2 across it. Glue lines are no plies: they
are thin, and what they add is left out of springback and of the panel's flatness.
"""

from dataclasses import dataclass

from .chosen import Chosen
from .draft import Draft, Side
from .errors import LayupError
from .materials import Board, Wood
from .stack import Layer
from .units import GramPerMm3, Mm, MPa, Percent, PerPercent, Ratio

ALONG = "along length"
"""Grain of a ply that the bend of a panel bends along its fibres."""

PANEL_KINDS = ("wood panel", "plywood")
BELOW_WOOD: Percent = 1.5
"""How far the moisture content of wood-based panels lies below that of solid wood in the same air: 1 to 2 %, from a
panel association's booklet (literature)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Ply:
    """One ply of the work.

    Parameters
    ----------
    key, name, side
        Those of its layer.
    kind
        ``"wood"``, or the kind of board.
    height, thickness
        Height of its lower face above the platen or form, and its thickness.
    runs_along
        Whether its direction 1 runs along the panel's length.
    E_1, E_2, G, nu
        Moduli, shear modulus and Poisson's ratio in its plane.
    strength, test_modulus
        Strength and modulus of the bending test along the panel's length; no strength where none is known.
    C_1, C_2, C_3
        Strain for one percent of moisture content: in both directions and through the thickness.
    dry_density
        Mass without water, over volume.
    below_wood
        How far its moisture content lies below that of solid wood in the same air.
    """

    key: str
    name: str
    side: Side
    kind: str
    height: Mm
    thickness: Mm
    runs_along: bool
    E_1: MPa
    E_2: MPa
    G: MPa
    nu: Ratio
    strength: MPa | None
    test_modulus: MPa
    C_1: PerPercent
    C_2: PerPercent
    C_3: PerPercent
    dry_density: GramPerMm3
    below_wood: Percent

    @property
    def E_length(self) -> MPa:
        """Modulus along the panel's length: what resists its bend."""
        return self.E_1 if self.runs_along else self.E_2

    @property
    def is_across_wood(self) -> bool:
        """Whether the bend goes across the grain of solid wood, which practice bends further than its strain says."""
        return self.kind == "wood" and not self.runs_along

    @property
    def top(self) -> Mm:
        """Height of its upper face."""
        return self.height + self.thickness


def plies_of(chosen: Chosen, drafts: tuple[Draft, ...]) -> tuple[Ply, ...]:
    """Plies of a stack from below upward.

    Raises
    ------
    LayupError
        A value of a material that the file replaces is one that no solid has.
    """
    found, height = [], 0.0
    for draft in drafts:
        if draft.role in ("veneer", "crossband", "substrate"):
            material = chosen.solid(draft.role, draft.side)
            _refuse_impossible(material)
            make = _of_wood if isinstance(material, Wood) else board_ply
            found.append(make(draft, material, height))  # type: ignore[arg-type]
        height += draft.thickness
    return tuple(found)


def _of_wood(draft: Draft, wood: Wood, height: Mm) -> Ply:
    """Ply of a species; flat-cut, as the cut of a veneer is seldom told and this one moves most."""
    along = draft.grain == ALONG
    return Ply(
        key=draft.key,
        name=draft.name,
        side=draft.side,
        kind="wood",
        height=height,
        thickness=draft.thickness,
        runs_along=along,
        E_1=wood.E_L,
        E_2=wood.E_T,
        G=wood.G_LT,
        nu=wood.nu_LT,
        strength=wood.MOR if along else wood.tension_perp,
        test_modulus=wood.E_bend if along else wood.E_T,
        C_1=wood.C_L,
        C_2=wood.C_T,
        C_3=wood.C_R,
        dry_density=wood.dry_density,
        below_wood=0.0,
    )


def board_ply(draft: Draft | Layer, board: Board, height: Mm) -> Ply:
    """Ply of a board; its strain at failure is taken to be the same both ways, as only one is published."""
    return Ply(
        key=draft.key,
        name=draft.name,
        side=draft.side,
        kind=board.kind,
        height=height,
        thickness=draft.thickness,
        runs_along=draft.grain == ALONG,
        E_1=board.E,
        E_2=board.E_across,
        G=board.G,
        nu=board.nu,
        strength=board.MOR,
        test_modulus=board.E,
        C_1=board.movement,
        C_2=board.movement_across,
        C_3=board.swell,
        dry_density=board.density,
        below_wood=BELOW_WOOD if board.kind in PANEL_KINDS else 0.0,
    )


MUST_BE_POSITIVE = {
    Wood: ("density", "E_L", "MOR", "tension_perp", "compression_perp", "ET_EL", "GLT_EL"),
    Board: ("density", "E", "E_across", "G", "crush"),
}


def _refuse_impossible(material: Wood | Board) -> None:
    """Refuse values of the user's own that make no solid; those of the tables are held against this by tests."""
    if not material.given:
        return
    for name in MUST_BE_POSITIVE[type(material)]:
        if getattr(material, name) <= 0.0:
            raise LayupError(f"values.{material.key}.{name}", "0", "more than 0")
    if isinstance(material, Wood):
        name, ratio, most = "nu_LT", material.nu_LT, (1.0 / material.ET_EL) ** 0.5
    else:
        name, ratio, most = "nu", material.nu, (material.E / material.E_across) ** 0.5
        if material.MOR == 0.0:
            raise LayupError(f"values.{material.key}.MOR", "0", "more than 0")
    if ratio >= most:
        raise LayupError(f"values.{material.key}.{name}", f"{ratio:g}", f"less than {most:.3g}")
