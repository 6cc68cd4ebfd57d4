"""The size of a bag as it is typed: a length and a width with an x between."""

from ...model.errors import LayupError
from ...model.units import Mm
from ..quantity import read_length


def read_bag_size(key: str, text: str, bare_unit: str) -> tuple[Mm, Mm]:
    """Length and width, such as ``1500x900`` or ``60 in x 36 in``.

    Raises
    ------
    LayupError
        The text is no such size.
    """
    parts = text.lower().replace("×", "x").split("x")
    if len(parts) != 2:
        raise LayupError(key, f'"{text}"', 'a length and a width with an x between, such as "60 in x 36 in"')
    length, width = (read_length(part.strip(), bare_unit) for part in parts)
    return length, width
