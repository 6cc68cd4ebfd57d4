"""What a layup may not ask for at once, though each key by itself is allowed."""

from collections.abc import Mapping
from typing import Any

from ..errors import LayupError
from .defaults import Kind
from .sections import NO_MATERIAL

Values = Mapping[str, Mapping[str, Any]]
"""Section, key, and its settled value."""


def refuse_pressing(values: Values, kind: Kind) -> None:
    """Refuse one face at a time where it makes no sense.

    Raises
    ------
    LayupError
        The panel is bent, or has only one veneer or none.
    """
    faces = values["press"]["faces"]
    if faces == "both":
        return
    if kind == "bent":
        raise LayupError(
            "press.faces", f'"{faces}" on a bend', "both", "The plies of a bend are glued in one pressing."
        )
    for side in ("face", "back"):
        if values[side]["material"] == NO_MATERIAL:
            raise LayupError(
                "press.faces",
                f'"{faces}" without a {side} veneer',
                "both",
                "One face at a time takes two veneers; a single one is pressed at once.",
            )
