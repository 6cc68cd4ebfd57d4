"""The internal units, and the type names that carry them.

Everything inside is in mm, N, MPa, s, °C and g, and what follows from them; text with units is read at the
edge (``underbag.app.quantity``) and nowhere else. A signature says its units by these names::

    def force(p: MPa, A: Mm2) -> Newton: ...

They are plain floats to a type checker; ``unit_of`` reads the unit of a name for a report.
"""

from dataclasses import dataclass
from typing import Annotated, get_args


@dataclass(frozen=True, slots=True)
class Unit:
    """The symbol of an internal unit, as it is printed behind a number."""

    symbol: str


Mm = Annotated[float, Unit("mm")]
Mm2 = Annotated[float, Unit("mm²")]
Mm3 = Annotated[float, Unit("mm³")]
PerMm = Annotated[float, Unit("1/mm")]
Newton = Annotated[float, Unit("N")]
NewtonPerMm = Annotated[float, Unit("N/mm")]
MPa = Annotated[float, Unit("MPa")]
Second = Annotated[float, Unit("s")]
Celsius = Annotated[float, Unit("°C")]
Gram = Annotated[float, Unit("g")]
GramPerMm2 = Annotated[float, Unit("g/mm²")]
GramPerMm3 = Annotated[float, Unit("g/mm³")]
Mm3PerSecond = Annotated[float, Unit("mm³/s")]
MPaMm3 = Annotated[float, Unit("MPa·mm³")]
MPaSecond = Annotated[float, Unit("MPa·s")]
MPaMm3PerSecond = Annotated[float, Unit("MPa·mm³/s")]
Radian = Annotated[float, Unit("rad")]
Percent = Annotated[float, Unit("%")]
PerPercent = Annotated[float, Unit("1/%")]
Ratio = Annotated[float, Unit("1")]
Count = Annotated[int, Unit("1")]


def unit_of(annotation: object) -> str:
    """Symbol of the unit that a type name of this module carries, such as ``"mm"``.

    Raises
    ------
    TypeError
        The annotation carries no unit.
    """
    for part in get_args(annotation)[1:]:
        if isinstance(part, Unit):
            return part.symbol
    raise TypeError(f"{annotation!r} carries no unit; use a name of underbag.model.units, such as Mm or MPa")
