"""How sizes are written on a sheet: in millimetres, in inches, or in both with inches in brackets."""

from enum import Enum

from ...model.plan import Plan
from ...model.units import Mm
from ...model.wording import both, both_size, decimal, in_inches, in_mm


class Units(Enum):
    """Units of the sizes on a drawing."""

    METRIC = "metric"
    INCH = "inch"
    BOTH = "both"

    @property
    def words(self) -> str:
        """What the title block says."""
        return {"metric": "mm", "inch": "inches", "both": "mm [inches]"}[self.value]


def units_of(plan: Plan) -> Units:
    """Units that the layup asks its drawings to have."""
    return Units(plan.layup.drawing.units)


def written(length: Mm, units: Units) -> str:
    """Write a length for a dimension, such as ``420 [16 9/16"]``."""
    match units:
        case Units.METRIC:
            return bare(length)
        case Units.INCH:
            return in_inches(length)
    return f"{bare(length)} [{in_inches(length)}]"


def thin(length: Mm, units: Units) -> str:
    """Say a thickness or a saw cut where there is room for one system only: inches on inch drawings, else mm."""
    return in_inches(length) if units is Units.INCH else f"{decimal(length, 2)} mm"


def written_size(length: Mm, width: Mm, units: Units) -> str:
    """Write two lengths for a table, such as ``420 × 200 [16 9/16 × 7 7/8]``."""
    metric, inches = bare_size(length, width), bare_size_in_inches(length, width)
    return {
        Units.METRIC: metric,
        Units.INCH: inches,
        Units.BOTH: f"{metric} [{inches}]",
    }[units]


def said(length: Mm, units: Units) -> str:
    """Say a length in a sentence, such as ``420 mm (16 9/16")``."""
    return {Units.METRIC: in_mm, Units.INCH: in_inches, Units.BOTH: both}[units](length)


def said_size(length: Mm, width: Mm, units: Units) -> str:
    """Say two lengths in a sentence, such as ``420 × 200 mm (16 9/16" × 7 7/8")``."""
    match units:
        case Units.METRIC:
            return f"{bare(length)} × {in_mm(width)}"
        case Units.INCH:
            return f"{in_inches(length)} × {in_inches(width)}"
    return both_size(length, width)


def bare_size(length: Mm, width: Mm) -> str:
    """Two lengths in millimetres without their unit."""
    return f"{bare(length)} × {bare(width)}"


def bare_size_in_inches(length: Mm, width: Mm) -> str:
    """Two lengths in inches without their mark."""
    return f"{bare_inches(length)} × {bare_inches(width)}"


def bare(length: Mm) -> str:
    """Length in millimetres without its unit."""
    return in_mm(length).removesuffix(" mm")


def bare_inches(length: Mm) -> str:
    """Length in inches without their mark."""
    return in_inches(length).removesuffix('"')
