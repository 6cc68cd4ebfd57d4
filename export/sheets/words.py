"""How sizes are written on a sheet: millimetres, with inches in brackets."""

from ...model.units import Mm
from ...model.wording import in_inches, in_mm

UNITS = "mm [inches]"


def size(length: Mm) -> str:
    """Length for a dimension, such as ``420 [16 9/16"]``."""
    return f"{bare(length)} [{in_inches(length)}]"


def bare(length: Mm) -> str:
    """Length in millimetres without its unit."""
    return in_mm(length).removesuffix(" mm")


def bare_inches(length: Mm) -> str:
    """Length in inches without their mark."""
    return in_inches(length).removesuffix('"')
