"""The two surfaces of a bend that are dimensioned: the show face and the face of the form."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from ...model.plan import Plan
from ...model.units import Mm
from ..drawing.curves import Array, Edge, flattened

if TYPE_CHECKING:
    from shapely.geometry import Polygon

AIR: Mm = 0.8
"""Distance on paper of a text from the outline of the form that it stands on."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Face:
    """A surface of the bend: its name and its height above the face of the form."""

    name: str
    height: Mm


def show_height(plan: Plan) -> Mm:
    """Height of the show face above the face of the platen or form."""
    work = plan.stack.work
    return work[-1].top if plan.layup.face_is_up else work[0].height


def area_of(outline: Sequence[Edge], unit: Mm) -> "Polygon | None":
    """Area of the form on paper; None where none is drawn."""
    from shapely.geometry import Polygon

    if not outline:
        return None
    return Polygon(np.concatenate([flattened(edge, 0.02 * unit) for edge in outline]) / unit)


def stands_in(texts: Iterable[Array], form: "Polygon") -> bool:
    """Whether boxes of texts on paper stand on the form."""
    from shapely.geometry import Polygon

    return all(form.contains(Polygon(text).buffer(AIR)) for text in texts)
