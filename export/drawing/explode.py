"""Any item of a drawing as strokes, areas and text, in mm on paper."""

from collections.abc import Iterable, Iterator

from .callout import balloon, leader
from .dimension import along_arc, linear, radial
from .primitives import (
    ArcDimension,
    Balloon,
    Item,
    Leader,
    LinearDimension,
    Plain,
    RadiusDimension,
)


def exploded(item: Item) -> tuple[Plain, ...]:
    """Strokes, areas and text of an item."""
    match item:
        case LinearDimension():
            return linear(item)
        case RadiusDimension():
            return radial(item)
        case ArcDimension():
            return along_arc(item)
        case Leader():
            return leader(item)
        case Balloon():
            return balloon(item)
        case _:
            return (item,)


def all_exploded(items: Iterable[Item]) -> Iterator[Plain]:
    """Strokes, areas and text of many items, in their order."""
    for item in items:
        yield from exploded(item)
