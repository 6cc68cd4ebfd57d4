"""In which units a drawing is dimensioned, and how a size is then written."""

from enum import Enum

from ...model.units import Mm
from ...model.wording import in_inches
from .words import bare, bare_inches


class Units(Enum):
    """Unit system of a drawing's dimensions."""

    METRIC = "metric"
    INCH = "inch"
    BOTH = "both"

    @property
    def words(self) -> str:
        """What the title block says."""
        return {"metric": "mm", "inch": "inches", "both": "mm [inches]"}[self.value]


def written(length: Mm, units: Units) -> str:
    """Write a length for a dimension, such as ``420 [16 9/16"]``."""
    match units:
        case Units.METRIC:
            return bare(length)
        case Units.INCH:
            return in_inches(length)
    return f"{bare(length)} [{in_inches(length)}]"


def written_size(length: Mm, width: Mm, units: Units) -> str:
    """Write two lengths, such as ``420 × 200 [16 9/16 × 7 7/8]``."""
    metric = f"{bare(length)} × {bare(width)}"
    inches = f"{bare_inches(length)} × {bare_inches(width)}"
    match units:
        case Units.METRIC:
            return metric
        case Units.INCH:
            return f"{inches} in"
    return f"{metric} [{inches}]"
