"""The units that a layup file may use, by what they measure.

A row names a unit as it is shown, says it to the unit library, and lists how it may be spelled. No text of the
file ever reaches the unit library, only the names in these rows.
"""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Unit:
    """One unit that may stand in a file.

    Parameters
    ----------
    name
        As it is shown, and may be written with just these capitals.
    library
        What the unit library calls it.
    spellings
        How else it may be written, with capitals or without: lower case, without blanks, 2 for ² and 3 for ³.
    per
        How many of this unit make one of the library's: 1000 for what is told per thousand.
    """

    name: str
    library: str
    spellings: tuple[str, ...] = ()
    per: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Dimension:
    """What can be measured, in which units.

    Parameters
    ----------
    name
        With its article, such as ``"a length"``.
    internal
        What the unit library calls the internal unit.
    units
        The units that may be used.
    examples
        Texts that show how to write one; the first goes into hints.
    least
        The smallest number allowed, in the internal unit, as text; empty where there is none.
    chain
        Names of units that may follow each other in one text, largest first, such as feet and inches.
    """

    name: str
    internal: str
    units: tuple[Unit, ...]
    examples: tuple[str, ...]
    least: str = "0"
    chain: tuple[str, ...] = ()

    def find(self, text: str) -> Unit | None:
        """Give the unit that a text means, or None; no text at all is the unit of a pure number."""
        bare = spelled(text)
        exact = (unit for unit in self.units if text.strip() == unit.name)
        return next(exact, None) or next((unit for unit in self.units if bare in unit.spellings), None)


def spelled(text: str) -> str:
    """Reduce the spelling of a unit to what the rows list: no capitals, blanks, powers or full stop."""
    bare = "".join(text.split()).lower().rstrip(".")
    for sign, plain in {"²": "2", "³": "3", "**": "", "^": ""}.items():
        bare = bare.replace(sign, plain)
    return bare


_MM = Unit("mm", "millimeter", ("mm", "millimeter", "millimeters", "millimetre", "millimetres"))
_CM = Unit("cm", "centimeter", ("cm", "centimeter", "centimeters", "centimetre", "centimetres"))
_M = Unit("m", "meter", ("m", "meter", "meters", "metre", "metres"))
_UM = Unit("µm", "micrometer", ("µm", "μm", "um", "micron", "microns"))
_INCH = Unit("in", "inch", ("in", '"', "inch", "inches"))
_THOU = Unit("mil", "thou", ("mil", "mils", "thou"))
_FOOT = Unit("ft", "foot", ("ft", "'", "foot", "feet"))

LENGTH = Dimension(
    name="a length",
    internal="millimeter",
    units=(_MM, _CM, _M, _UM, _INCH, _FOOT, _THOU),
    examples=('"600 mm"', '"23 5/8 in"', '"1-1/8 in"', "'7/16\"'", '"2.4 m"'),
    chain=("ft", "in"),
)
POSITION = Dimension(
    name="a position",
    internal="millimeter",
    units=LENGTH.units,
    examples=('"600 mm"', '"-23 5/8 in"'),
    least="",
    chain=LENGTH.chain,
)
ALTITUDE = Dimension(
    name="an altitude",
    internal="millimeter",
    units=(_M, Unit("km", "kilometer", ("km",)), _FOOT),
    examples=('"1600 m"', '"5280 ft"'),
    least="",
)
PRESSURE = Dimension(
    name="a pressure",
    internal="megapascal",
    units=(
        Unit("kPa", "kilopascal", ("kpa", "kilopascal", "kilopascals")),
        Unit("mbar", "millibar", ("mbar", "millibar", "millibars")),
        Unit("bar", "bar", ("bar", "bars")),
        Unit("inHg", "inch_Hg_0C", ("inhg", '"hg', "in.hg", "inchhg", "incheshg", "inchesofmercury")),
        Unit("mmHg", "millimeter_Hg_0C", ("mmhg",)),
        Unit("psi", "psi", ("psi", "lb/in2", "lbf/in2")),
        # No other capitals: mPa would be a billionth of MPa.
        Unit("MPa", "megapascal", ("megapascal", "megapascals")),
        Unit("hPa", "hectopascal", ("hpa",)),
        Unit("Pa", "pascal", ("pa", "pascal", "pascals")),
    ),
    examples=('"85 kPa"', '"25 inHg"', '"12.3 psi"', '"850 mbar"'),
)
TEMPERATURE = Dimension(
    name="a temperature",
    internal="degree_Celsius",
    units=(
        Unit("°C", "degree_Celsius", ("°c", "c", "degc", "℃", "celsius", "degreescelsius")),
        Unit("°F", "degree_Fahrenheit", ("°f", "f", "degf", "℉", "fahrenheit", "degreesfahrenheit")),
    ),
    examples=('"20 °C"', '"68 °F"'),
    least="-273.15",
)
SPREAD = Dimension(
    name="a spread",
    internal="gram/millimeter**2",
    units=(
        Unit("g/m²", "gram/meter**2", ("g/m2", "gsm", "g/sqm")),
        Unit("g/ft²", "gram/foot**2", ("g/ft2", "g/sqft")),
        Unit("oz/ft²", "ounce/foot**2", ("oz/ft2", "oz/sqft")),
        Unit(
            "lb/1000 ft²",
            "pound/foot**2",
            ("lb/1000ft2", "lbs/1000ft2", "lb/1000sqft", "lbs/1000sqft", "lb/msf", "lbs/msf"),
            per=1000,
        ),
    ),
    examples=('"160 g/m²"', '"15 g/ft²"', '"40 lb/1000 ft²"'),
)
ANGLE = Dimension(
    name="an angle",
    internal="radian",
    units=(
        Unit("°", "degree", ("°", "deg", "degree", "degrees")),
        Unit("rad", "radian", ("rad", "radian", "radians")),
    ),
    examples=('"45°"', '"45 deg"', '"0.785 rad"'),
    least="",
)
TIME = Dimension(
    name="a time",
    internal="second",
    units=(
        Unit("s", "second", ("s", "sec", "second", "seconds")),
        Unit("min", "minute", ("min", "mins", "minute", "minutes")),
        Unit("h", "hour", ("h", "hr", "hrs", "hour", "hours")),
        Unit("d", "day", ("d", "day", "days")),
    ),
    examples=('"20 min"', '"1 h 30 min"'),
    chain=("d", "h", "min", "s"),
)
VOLUME = Dimension(
    name="a volume",
    internal="millimeter**3",
    units=(
        Unit("L", "liter", ("l", "liter", "liters", "litre", "litres")),
        Unit("mL", "milliliter", ("ml", "cm3", "cc")),
        Unit("m³", "meter**3", ("m3",)),
        Unit("mm³", "millimeter**3", ("mm3",)),
        Unit("ft³", "foot**3", ("ft3", "cuft")),
        Unit("in³", "inch**3", ("in3", "cuin")),
        Unit("gal", "gallon", ("gal", "gallon", "gallons")),
    ),
    examples=('"30 L"', '"1.2 ft³"'),
)
FLOW = Dimension(
    name="a flow of air",
    internal="millimeter**3/second",
    units=(
        Unit("L/min", "liter/minute", ("l/min", "lpm")),
        Unit("L/s", "liter/second", ("l/s",)),
        Unit("m³/h", "meter**3/hour", ("m3/h", "m3/hr")),
        Unit("cfm", "foot**3/minute", ("cfm", "ft3/min", "cuft/min")),
    ),
    examples=('"40 L/min"', '"1.5 cfm"'),
)
MASS = Dimension(
    name="a mass",
    internal="gram",
    units=(
        Unit("g", "gram", ("g", "gram", "grams")),
        Unit("kg", "kilogram", ("kg", "kilogram", "kilograms")),
        Unit("oz", "ounce", ("oz", "ounce", "ounces")),
        Unit("lb", "pound", ("lb", "lbs", "pound", "pounds")),
    ),
    examples=('"250 g"', '"1.2 kg"', '"2 lb 3 oz"'),
    chain=("lb", "oz"),
)
PERCENT = Dimension(
    name="a percentage",
    internal="percent",
    units=(Unit("%", "percent", ("%", "percent")),),
    examples=('"8 %"', "8"),
)
RATIO = Dimension(
    name="a ratio",
    internal="dimensionless",
    units=(Unit("", "dimensionless"), Unit("%", "percent", ("%", "percent"))),
    examples=("0.5", '"50 %"'),
)

DIMENSIONS = (
    LENGTH,
    ALTITUDE,
    PRESSURE,
    TEMPERATURE,
    SPREAD,
    ANGLE,
    TIME,
    VOLUME,
    FLOW,
    MASS,
    PERCENT,
)
"""One of each kind: where a unit that stands in the wrong place belongs."""
