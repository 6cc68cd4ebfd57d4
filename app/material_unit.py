"""The units in which values of materials are shown and may be entered.

The tables hold internal units, in which a density is a number with six zeros; people read kg/m³. A value that is
entered without a unit is in the unit in which ``underbag materials`` shows it.
"""

from collections.abc import Mapping
from types import MappingProxyType

from ..model.telling import READ_IN
from . import dimension as dim
from .dimension import Dimension, Unit
from .quantity import read

_STRESS = Dimension(
    name="a strength or stiffness",
    internal="megapascal",
    units=(
        Unit("MPa", "megapascal", ("megapascal", "n/mm2")),
        Unit("GPa", "gigapascal", ("gpa",)),
        Unit("kPa", "kilopascal", ("kpa",)),
        Unit("psi", "psi", ("psi", "lbf/in2")),
        Unit("ksi", "kilopound_force_per_square_inch", ("ksi",)),
    ),
    examples=('"12.8 GPa"', '"1850000 psi"'),
)
_DENSITY = Dimension(
    name="a density",
    internal="gram/millimeter**3",
    units=(
        Unit("kg/m³", "kilogram/meter**3", ("kg/m3",)),
        Unit("g/cm³", "gram/centimeter**3", ("g/cm3", "g/cc")),
        Unit("lb/ft³", "pound/foot**3", ("lb/ft3", "pcf")),
    ),
    examples=('"620 kg/m³"', '"38 lb/ft³"'),
)
_PERMEABILITY = Dimension(
    name="a permeability",
    internal="millimeter**2",
    units=(Unit("mm²", "millimeter**2", ("mm2",)), Unit("m²", "meter**2", ("m2",))),
    examples=('"0.003 mm²"',),
)
_MOVEMENT = Dimension(
    name="a movement for one percent of moisture",
    internal="dimensionless",
    units=(Unit("1/%", "dimensionless", ("1/%", "/%", "per%")),),
    examples=("0.0027",),
)
_DIFFERENCE = Dimension(
    name="a difference of temperatures",
    internal="delta_degree_Celsius",
    units=(
        Unit("°C", "delta_degree_Celsius", ("°c", "c", "k")),
        Unit("°F", "delta_degree_Fahrenheit", ("°f", "f")),
    ),
    examples=('"10 °C"', '"18 °F"'),
)

MEASURES: Mapping[str, Dimension] = MappingProxyType(
    {
        "mm": dim.LENGTH,
        "mm²": _PERMEABILITY,
        "MPa": _STRESS,
        "g/mm³": _DENSITY,
        "g/mm²": dim.SPREAD,
        "s": dim.TIME,
        "°C": dim.TEMPERATURE,
        "%": dim.PERCENT,
        "1/%": _MOVEMENT,
        "1": dim.RATIO,
    }
)
"""What a property measures, by its internal unit."""

DIFFERENCES = frozenset({"rate_doubles_per"})
"""Properties in °C that are no temperature but a difference of two."""


def read_property(name: str, unit: str, value: object) -> float:
    """Value of a material's property in its internal unit.

    Parameters
    ----------
    name
        Property of the material.
    unit
        Symbol of its internal unit.
    value
        A number or a text, as it stands in the file.

    Raises
    ------
    LayupError
        The value is no quantity of that unit; the key is left empty.
    """
    name_of_unit, _ = READ_IN[unit]
    return read(value, _DIFFERENCE if name in DIFFERENCES else MEASURES[unit], name_of_unit)
