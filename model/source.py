"""Where a number comes from.

A source says what kind of ground a number stands on (its basis) and names the document and place.
"""

from dataclasses import dataclass
from typing import Literal, get_args

Basis = Literal[
    "standard", "handbook", "textbook", "literature", "derived", "common practice", "from memory", "given"
]
"""How firm the ground is.

``standard``, ``handbook``, ``textbook`` and ``literature`` are published; ``derived`` follows from stated
inputs by mathematics; ``common practice`` is a fact of the trade without a published source; ``from memory``
is a published fact whose print was not opened; ``given`` was entered by the user.
"""

BASES: tuple[str, ...] = get_args(Basis)


@dataclass(frozen=True, slots=True)
class Source:
    """One citation: basis, document and place in it.

    Parameters
    ----------
    basis
        How firm the ground is.
    document
        Short title of the document; empty for common practice and for what was given.
    place
        Table, equation, page or clause; may be empty.
    """

    basis: Basis
    document: str = ""
    place: str = ""

    def __str__(self) -> str:
        cited = ", ".join(part for part in (self.document, self.place) if part)
        return f"{cited} ({self.basis})" if cited else self.basis


COMMON_PRACTICE = Source("common practice")
GIVEN = Source("given", "the layup file")
GEOMETRY = Source("textbook", "plane geometry")
