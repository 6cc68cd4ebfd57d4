"""A chain of tangent arcs and straight runs, as a woodworker tells it.

``straight 80 mm, crown 150 mm through 60°, hollow 90 mm through 60°``: pieces in their order with commas between
them; an arc by its radius and the angle that it turns through. A crown is round on the side of the show face where
that is outside. Bare numbers are in the unit of the file, and in degrees.
"""

import re

from ...model.errors import LayupError
from ...model.layup.layup import BareUnit
from ...model.shape.profile import Run
from .. import quantity as quantities
from ..number import told

EXAMPLE = "straight 80 mm, crown 150 mm through 60°, hollow 90 mm through 60°"
ALLOWED = f"pieces with commas between them, such as '{EXAMPLE}'"
MOST_CHARACTERS = 10_000
"""A chain is a line or two; more is a slip."""

_STRAIGHT = re.compile(r"straight\s+(?P<length>\S.*)")
_ARC = re.compile(r"(?P<kind>crown|hollow)\s+(?P<radius>\S.*?)\s+through\s+(?P<angle>\S.*)")


def read_chain(value: object, unit: BareUnit) -> tuple[Run, ...]:
    """Read the pieces of a chain.

    Raises
    ------
    LayupError
        It is no text, or one of its pieces is none; the key is left empty for the caller.
    """
    if not isinstance(value, str) or len(value) > MOST_CHARACTERS:
        raise LayupError("", told(value), ALLOWED)
    return tuple(_piece(part.strip(), unit) for part in value.rstrip().rstrip(",").split(","))


def _piece(text: str, unit: BareUnit) -> Run:
    straight, arc = _STRAIGHT.fullmatch(text), _ARC.fullmatch(text)
    if straight:
        return Run(quantities.read_length(straight["length"], unit), 0.0)
    if arc is None:
        raise LayupError(
            "", told(text), ALLOWED, "A piece is straight, crown or hollow; an arc says radius through angle."
        )
    radius, angle = quantities.read_length(arc["radius"], unit), quantities.read_angle(arc["angle"])
    if radius <= 0.0 or angle <= 0.0:
        raise LayupError("", told(text), ALLOWED, "Radius and angle of an arc are above zero.")
    return Run(radius * angle, (1.0 if arc["kind"] == "crown" else -1.0) / radius)
