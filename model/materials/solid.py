"""Woods and boards: what the tables say of each, and what follows from it.

Every field with a unit may be replaced by a value of the user's own (``replace_values``); the names of those that
were are in ``given``. What follows from the fields is a property and never stored.
"""

from dataclasses import dataclass
from typing import Literal

from ..units import Celsius, GramPerMm3, MPa, Percent, PerPercent, Ratio

AT_12_PERCENT = 1.12
"""Mass with 12 % MC over ovendry mass."""
WATER_DENSITY: GramPerMm3 = 1e-3
CELL_WALL_DENSITY: GramPerMm3 = 1.5e-3
SHEAR_CORRECTION = 1.10
"""E along the grain over the bending modulus as printed; Wood Handbook, FPL-GTR-190, footnote c of Table 5-3a."""

Pores = Literal["coarse", "medium", "fine", "none"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Wood:
    """A species of wood; strengths and moduli at 12 % MC.

    Parameters
    ----------
    key, name, botanical
        Key of the table, name for people, botanical name.
    kind, pores
        Hardwood or softwood; size of the pores, which let glue through.
    density
        With its water at 12 % MC.
    E_L
        Modulus along the grain, freed of the shear in the bending test.
    MOR
        Bending strength along the grain.
    tension_perp, compression_perp
        Strength across the grain.
    ET_EL, ER_EL, GLR_EL, GLT_EL, nu_LR, nu_LT
        Elastic ratios; L along the grain, R across the rings, T along them.
    shrink_R, shrink_T
        Shrinkage from green to ovendry.
    C_R, C_T, C_L
        Strain for one percent of MC, between 6 and 14 % MC.
    given
        Fields that the user replaced.
    """

    key: str
    name: str
    botanical: str
    kind: Literal["hardwood", "softwood"]
    pores: Pores
    density: GramPerMm3
    E_L: MPa
    MOR: MPa
    tension_perp: MPa
    compression_perp: MPa
    ET_EL: Ratio
    ER_EL: Ratio
    GLR_EL: Ratio
    GLT_EL: Ratio
    nu_LR: Ratio
    nu_LT: Ratio
    shrink_R: Percent
    shrink_T: Percent
    C_R: PerPercent
    C_T: PerPercent
    C_L: PerPercent
    given: frozenset[str] = frozenset()

    @property
    def SG(self) -> Ratio:
        """Specific gravity: ovendry mass over volume at 12 % MC, against water."""
        return self.density / (AT_12_PERCENT * WATER_DENSITY)

    @property
    def dry_density(self) -> GramPerMm3:
        """Ovendry mass over volume at 12 % MC: what takes up water."""
        return self.density / AT_12_PERCENT

    @property
    def E_bend(self) -> MPa:
        """Bending modulus as tables print it, shear in the test included."""
        return self.E_L / SHEAR_CORRECTION

    @property
    def E_T(self) -> MPa:
        """Modulus across the grain, along the rings: across a flat-cut or rotary veneer."""
        return self.ET_EL * self.E_L

    @property
    def E_R(self) -> MPa:
        """Modulus across the grain and the rings: across a quarter-cut veneer."""
        return self.ER_EL * self.E_L

    @property
    def G_LT(self) -> MPa:
        """Shear modulus in the plane of a flat-cut or rotary veneer."""
        return self.GLT_EL * self.E_L

    @property
    def G_LR(self) -> MPa:
        """Shear modulus in the plane of a quarter-cut veneer."""
        return self.GLR_EL * self.E_L

    @property
    def crush(self) -> MPa:
        """Strength through the thickness of a sheet: across the grain."""
        return self.compression_perp

    @property
    def void_fraction(self) -> Ratio:
        """Share of the volume that is air when dry."""
        return max(1.0 - self.dry_density / CELL_WALL_DENSITY, 0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Board:
    """A panel product, core or plate, for substrates, cauls, platens and forms.

    Parameters
    ----------
    kind
        ``wood panel``, ``plywood``, ``lumber``, ``foam``, ``honeycomb``, ``metal`` or ``plastic``.
    E, E_across, G, nu
        Moduli along and across its stiff direction (a bending plywood's first direction is the one that bends), shear
        modulus and Poisson's ratio in its plane.
    MOR
        Bending strength along the first direction; None where none is known.
    crush
        Strength through the thickness.
    movement, movement_across, swell
        Strain for one percent of MC along, across and through the thickness.
    carries
        Whether it can serve as a caul or platen.
    stock_thickness, stock_sheets
        What is usually sold: thicknesses, and sizes of sheets.
    """

    key: str
    name: str
    kind: str
    density: GramPerMm3
    E: MPa
    E_across: MPa
    G: MPa
    nu: Ratio
    MOR: MPa | None = None
    crush: MPa
    movement: PerPercent
    movement_across: PerPercent
    swell: PerPercent
    void_fraction: Ratio
    highest_temperature: Celsius
    lets_water: bool
    lets_air: bool
    carries: bool
    stock_thickness: tuple[float, ...] = ()
    stock_sheets: tuple[tuple[float, float], ...] = ()
    given: frozenset[str] = frozenset()
