"""Quantities in words for people, in both systems: ``600 mm (23 5/8")``.

Every function takes a finite number in internal units and gives text that ``underbag.app.quantity`` reads back.
Rounded text carries no mark of it: what is meant is the nearest sixteenth of an inch, or the last decimal shown.
Trailing zeros are dropped.
"""

import math

from .units import Celsius, Gram, GramPerMm2, Mm, Mm2, Mm3, Mm3PerSecond, MPa, Newton, Percent, Radian, Second

# What one customary unit is in internal units: NIST Special Publication 811 (2008), appendix B.8 (standard).
# Lengths and what follows from them, pounds and pound-force are exact; mercury is the conventional inch, at 0 °C.
INCH: Mm = 25.4
FOOT: Mm = 304.8
SQUARE_FOOT: Mm2 = 92_903.04
CUBIC_FOOT: Mm3 = 28_316_846.592
POUND: Gram = 453.59237
OUNCE: Gram = 28.349523125
POUND_FORCE: Newton = 4.4482216152605
INCH_OF_MERCURY: MPa = 3.386389e-3
POUND_PER_SQUARE_INCH: MPa = 6.894757e-3

SIXTEENTHS = 16
"""The smallest division of the ruler that inches are told by."""


def decimal(number: float, places: int) -> str:
    """Round to so many decimals; without trailing zeros, and without a minus before zero."""
    text = f"{number:.{places}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def by_size(number: float, digits: int = 3) -> str:
    """Round to so many digits that count; those before the point always stand, decimals end at the sixth."""
    if number == 0:
        return "0"
    return decimal(number, min(6, max(0, digits - 1 - math.floor(math.log10(abs(number))))))


def in_mm(length: Mm) -> str:
    """Length in millimetres: to 0.1 mm from 10 mm on, to 0.01 mm below."""
    return f"{decimal(length, 1 if abs(length) >= 10 else 2)} mm"


def in_inches(length: Mm) -> str:
    """Length in inches and the nearest sixteenth, such as ``23 5/8"``.

    What is thinner than a sixteenth is no ruler's business and is given in thousandths, such as ``0.024"``.
    """
    inches = abs(length) / INCH
    sign = "-" if length < 0 else ""
    if inches < 1 / SIXTEENTHS:
        thousandths = decimal(inches, 3)
        return '0"' if thousandths == "0" else f'{sign}{thousandths}"'
    whole, part = divmod(round(inches * SIXTEENTHS), SIXTEENTHS)
    shared = math.gcd(part, SIXTEENTHS)
    fraction = f"{part // shared}/{SIXTEENTHS // shared}" if part else ""
    return f'{sign}{" ".join(piece for piece in (str(whole) if whole else "", fraction) if piece)}"'


def both(length: Mm) -> str:
    """Length in both systems: ``600 mm (23 5/8")``."""
    return f"{in_mm(length)} ({in_inches(length)})"


def both_size(length: Mm, width: Mm) -> str:
    """Size of two lengths in both systems: ``600 × 300 mm (23 5/8" × 11 13/16")``."""
    metric = f"{in_mm(length).removesuffix(' mm')} × {in_mm(width)}"
    return f"{metric} ({in_inches(length)} × {in_inches(width)})"


def altitude(z: Mm) -> str:
    """Altitude in both systems: ``1609 m (5280 ft)``."""
    return f"{decimal(z / 1000, 0)} m ({decimal(z / FOOT, 0)} ft)"


def in_kpa(p: MPa) -> str:
    """Pressure in kilopascals, such as ``84.7 kPa``."""
    return f"{by_size(p * 1000)} kPa"


def in_inhg(p: MPa) -> str:
    """Pressure in inches of mercury at 0 °C, such as ``25 inHg``."""
    return f"{by_size(p / INCH_OF_MERCURY)} inHg"


def pressure(p: MPa) -> str:
    """Pressure in both systems: ``84.7 kPa (25 inHg)``."""
    return f"{in_kpa(p)} ({in_inhg(p)})"


def in_celsius(T: Celsius) -> str:
    """Temperature in degrees Celsius, to 0.1."""
    return f"{decimal(T, 1)} °C"


def in_fahrenheit(T: Celsius) -> str:
    """Temperature in degrees Fahrenheit, to 0.1."""
    return f"{decimal(T * 1.8 + 32, 1)} °F"


def strength(f: MPa) -> str:
    """Strength or stress: in megapascals and psi, and as a pressure below 1 MPa."""
    return pressure(f) if f < 1.0 else f"{by_size(f)} MPa ({by_size(f / POUND_PER_SQUARE_INCH)} psi)"


def temperature(T: Celsius) -> str:
    """Temperature in both systems: ``20 °C (68 °F)``."""
    return f"{in_celsius(T)} ({in_fahrenheit(T)})"


def in_grams(m: Gram) -> str:
    """Mass in grams, or in kilograms from 1 kg on."""
    return f"{by_size(m)} g" if abs(m) < 1000 else f"{by_size(m / 1000)} kg"


def in_ounces(m: Gram) -> str:
    """Mass in ounces, or in pounds from 1 lb on."""
    return f"{by_size(m / OUNCE)} oz" if abs(m) < POUND else f"{by_size(m / POUND)} lb"


def mass(m: Gram) -> str:
    """Mass in both systems: ``250 g (8.82 oz)``."""
    return f"{in_grams(m)} ({in_ounces(m)})"


def area(A: Mm2) -> str:
    """Area in both systems: ``0.18 m² (1.94 ft²)``."""
    return f"{by_size(A / 1e6)} m² ({by_size(A / SQUARE_FOOT)} ft²)"


def in_litres(V: Mm3) -> str:
    """Volume in litres, such as ``3.6 L``."""
    return f"{by_size(V / 1e6)} L"


def volume(V: Mm3) -> str:
    """Volume in both systems: ``3.6 L (0.127 ft³)``."""
    return f"{in_litres(V)} ({by_size(V / CUBIC_FOOT)} ft³)"


def flow(S: Mm3PerSecond) -> str:
    """Volume of air per time in both systems: ``40 L/min (1.41 cfm)``."""
    return f"{by_size(S * 60 / 1e6)} L/min ({by_size(S * 60 / CUBIC_FOOT)} cfm)"


def force(F: Newton) -> str:
    """Force in both systems: ``15.3 kN (3439 lbf)``; in newtons below 1 kN."""
    metric = f"{by_size(F)} N" if abs(F) < 1000 else f"{by_size(F / 1000)} kN"
    return f"{metric} ({by_size(F / POUND_FORCE)} lbf)"


def spread(q: GramPerMm2) -> str:
    """Spread of adhesive in both systems: ``160 g/m² (14.9 g/ft²)``."""
    return f"{by_size(q * 1e6)} g/m² ({by_size(q * SQUARE_FOOT)} g/ft²)"


def angle(a: Radian) -> str:
    """Angle in degrees, to 0.1."""
    return f"{decimal(math.degrees(a), 1)}°"


def percent(share: Percent) -> str:
    """Share or a moisture content in per cent, to 0.1."""
    return f"{decimal(share, 1)} %"


def duration(t: Second) -> str:
    """Time in hours and minutes, ``1 h 30 min``; with seconds below half an hour, where they matter at the bench."""
    sign = "-" if t < 0 else ""
    seconds = abs(t)
    if seconds < 60:
        return f"{by_size(t)} s"
    nearest = 1 if seconds < 1800 else 60
    minutes, rest = divmod(round(seconds / nearest) * nearest, 60)
    hours, minutes = divmod(minutes, 60)
    parts = (f"{hours} h" if hours else "", f"{minutes} min" if minutes else "", f"{rest} s" if rest else "")
    return sign + " ".join(part for part in parts if part)
