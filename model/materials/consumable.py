"""What is used up or lies around the work: adhesives, films, breathers, papers and release sheets.

Every field with a unit may be replaced by a value of the user's own (``replace_values``); the names of those that
were are in ``given``.
"""

from dataclasses import dataclass
from typing import Literal

from ..units import Celsius, GramPerMm2, GramPerMm3, Mm, Mm2, MPa, Ratio, Second

Creep = Literal["creeps", "creeps a little", "little", "none"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Adhesive:
    """A chemical type of glue; times at 20 °C.

    Parameters
    ----------
    spread
        Wet glue on one face.
    water_fraction
        Share of the wet mass that leaves as water or gas.
    open_time
        From spreading to pressure.
    press_time_least_flat, press_time_safe_flat, press_time_least_bent, press_time_safe_bent
        Least and safe times under pressure.
    rate_doubles_per
        Rise of temperature that halves the times.
    line_thickness
        Cured glue line; None where none is known.
    creep, rigid
        Whether it gives way under lasting load, and whether its line locks the plies of a bend.
    cautions
        What to heed, as sentences.
    """

    key: str
    name: str
    spread: GramPerMm2
    water_fraction: Ratio
    open_time: Second
    press_time_least_flat: Second
    press_time_safe_flat: Second
    press_time_least_bent: Second
    press_time_safe_bent: Second
    rate_doubles_per: Celsius
    lowest_temperature: Celsius
    bond_pressure: MPa
    density: GramPerMm3
    line_thickness: Mm | None = None
    creep: Creep
    rigid: bool
    gives_gas: bool
    volatile: str
    cautions: tuple[str, ...]
    given: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True, kw_only=True)
class Film:
    """A film for the bag.

    Parameters
    ----------
    modulus
        Secant modulus in stretch.
    elongation
        Stretch at break, as a ratio.
    stiffens_below
        Temperature below which it stiffens.
    least_seam, seaming
        Least width of a seam, and how it is made.
    stock_thickness, stock_widths, stock_tubes
        What is usually sold: thicknesses, widths on the roll, and widths of tubes as they lie flat.
    """

    key: str
    name: str
    thickness: Mm
    modulus: MPa
    elongation: Ratio
    tensile_strength: MPa
    density: GramPerMm3
    highest_temperature: Celsius
    stiffens_below: Celsius
    least_seam: Mm
    seaming: str
    reusable: bool
    lets_water: bool
    lets_air: bool
    stock_thickness: tuple[float, ...] = ()
    stock_widths: tuple[float, ...] = ()
    stock_tubes: tuple[float, ...] = ()
    given: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True, kw_only=True)
class Breather:
    """A layer that lets air run sideways to the valve.

    Parameters
    ----------
    thickness, pressed_thickness
        As it comes, and under bag pressure.
    void_fraction, permeability
        Share of air, and permeability along the sheet, both under bag pressure.
    marks
        Whether it prints through a thin veneer.
    """

    key: str
    name: str
    thickness: Mm
    pressed_thickness: Mm
    void_fraction: Ratio
    permeability: Mm2
    marks: bool
    lets_water: bool
    lets_air: bool
    stock_widths: tuple[float, ...] = ()
    given: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True, kw_only=True)
class Paper:
    """A sheet that takes up water, or a cushion that evens out.

    Parameters
    ----------
    kind
        ``absorbent`` or ``cushion``.
    basis_weight
        Mass of an area of one sheet.
    absorbency, usable_fraction
        Water per mass of paper, and the share of it that is left under pressure.
    stock_widths
        Widths of the rolls that are usually sold.
    """

    key: str
    name: str
    kind: Literal["absorbent", "cushion"]
    thickness: Mm
    pressed_thickness: Mm
    basis_weight: GramPerMm2
    absorbency: Ratio
    usable_fraction: Ratio
    lets_water: bool
    lets_air: bool
    stock_widths: tuple[float, ...] = ()
    given: frozenset[str] = frozenset()

    @property
    def capacity(self) -> GramPerMm2:
        """Water that an area of one sheet takes up under pressure."""
        return self.basis_weight * self.absorbency * self.usable_fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class Release:
    """A sheet that squeezed-out glue does not stick to.

    Parameters
    ----------
    lets_water
        Whether glue water passes to the paper behind it; else paper is a cushion only.
    """

    key: str
    name: str
    thickness: Mm
    basis_weight: GramPerMm2
    highest_temperature: Celsius
    lets_water: bool
    lets_air: bool
    reusable: bool
    stock_widths: tuple[float, ...] = ()
    given: frozenset[str] = frozenset()
