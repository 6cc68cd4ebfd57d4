"""The strips of a lipping: two along the length of the core and two between them along its width."""

from dataclasses import dataclass
from typing import Literal

from .stack import Layer
from .units import Mm


@dataclass(frozen=True, slots=True, kw_only=True)
class Strip:
    """One of two equal strips: the side of the panel that it runs along, and its length."""

    side: Literal["length", "width"]
    length: Mm


def strips(core: Layer) -> tuple[Strip, Strip]:
    """Strips around a core: along the length over its corners, along the width from one to the other."""
    return Strip(side="length", length=core.outline.length), Strip(side="width", length=core.blank.width)
