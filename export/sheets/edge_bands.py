"""Heights in the detail of the edge: thin sheets drawn thicker, thick ones broken, so that each can be told apart.

Source: ISO 128-30 and 128-50 (interrupted views, thin parts exaggerated and said so: from memory). From what
thickness on paper a sheet is thickened or broken is our own choice.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from ...model.plan import Plan
from ...model.stack import Layer
from ...model.units import Mm, Ratio
from .hatching import Cut, base_cut, cut_of
from .parts import marks_of

LEAST: dict[str, Mm] = {
    "release": 0.9,
    "adhesive": 1.0,
    "veneer": 2.4,
    "crossband": 2.4,
    "absorbent": 1.8,
    "substrate": 2.6,
    "breather": 2.2,
    "caul": 3.2,
}
"""Least thickness on paper by role."""
LEAST_BASE: Mm = 5.0
MOST: Mm = 15.0
"""Thickness on paper above which a part is broken."""
BROKEN: Mm = 13.0
"""Height on paper of a broken part, its gap included."""
GAP: Mm = 2.4
"""Gap of a break on paper."""
MANY = 9
"""Laminations up to which all are drawn."""
ENDS = 2
"""Laminations drawn at each end of a pile of many."""
PILE: Mm = 6.0
"""Height on paper of the gap that stands for the others."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Band:
    """One part in the detail, or the gap that stands for parts left out.

    Parameters
    ----------
    key, role
        Those of its layer; ``"base"`` for platen or form; a gap has the numbers that it stands for and ``"gap"``.
    low, high
        Heights on paper above the underside.
    reach
        Where it ends, mm past the end of the finished panel.
    breaks
        Heights on paper between which it is broken; empty where it is whole.
    """

    key: str
    role: str
    low: Mm
    high: Mm
    reach: Mm
    cut: Cut
    breaks: tuple[Mm, ...] = ()

    @property
    def middle(self) -> Mm:
        """Height on paper of its middle, or of that of its lower piece."""
        return 0.5 * (self.low + (self.breaks[0] if self.breaks else self.high))


def bands(plan: Plan, ratio: Ratio) -> tuple[Band, ...]:
    """Platen or form and every layer, from below."""
    end = 0.5 * plan.outline.length
    found: list[Band] = [*_base(plan, ratio, end)]
    sheets = [layer.key for layer in plan.stack.layers if layer.role == "substrate"]
    hidden = set(_hidden(plan, sheets))
    for layer in plan.stack.layers:
        low = found[-1].high if found else 0.0
        reach = 0.5 * layer.outline.length - end
        if layer.key not in hidden:
            number = sheets.index(layer.key) if layer.key in sheets else 0
            found.append(_band(layer, low, ratio, reach, cut_of(plan, layer, number)))
        elif found[-1].role != "gap":
            found.append(_gap(plan, hidden, low, reach))
    return tuple(found)


def _gap(plan: Plan, hidden: set[str], low: Mm, reach: Mm) -> Band:
    """Gap with the numbers of the first and last layer that it stands for."""
    marks = marks_of(plan)
    numbers = sorted(int(marks[key]) for key in hidden)
    key = f"{numbers[0]} to {numbers[-1]}"
    return Band(key=key, role="gap", low=low, high=low + PILE, reach=reach, cut=Cut(pattern="solid"))


def _hidden(plan: Plan, sheets: list[str]) -> list[str]:
    """Keys of the layers in the middle of a pile of many laminations, glue lines included."""
    if len(sheets) <= MANY:
        return []
    keys = [layer.key for layer in plan.stack.layers]
    return keys[keys.index(sheets[ENDS - 1]) + 1 : keys.index(sheets[-ENDS])]


def _base(plan: Plan, ratio: Ratio, end: Mm) -> Iterator[Band]:
    """Platen, whole or broken; of a form only the upper part."""
    base = plan.base
    if base.kind == "bench" or plan.is_undercut:
        return
    reach = 0.5 * base.outline.length - end
    if base.kind == "form":
        yield Band(key="base", role="form", low=0.0, high=0.75 * MOST, reach=reach, cut=base_cut(plan))
        return
    height, breaks = _height(base.lowest * ratio, LEAST_BASE, 0.0)
    yield Band(
        key="base", role="platen", low=0.0, high=height, reach=reach, cut=base_cut(plan), breaks=breaks
    )


def _band(layer: Layer, low: Mm, ratio: Ratio, reach: Mm, cut: Cut) -> Band:
    height, breaks = _height(layer.thickness * ratio, LEAST[layer.role], low)
    return Band(
        key=layer.key, role=layer.role, low=low, high=low + height, reach=reach, cut=cut, breaks=breaks
    )


def _height(true: Mm, least: Mm, low: Mm) -> tuple[Mm, tuple[Mm, ...]]:
    """Height on paper of a thickness on paper, and where it is broken."""
    if true <= MOST:
        return max(true, least), ()
    middle = low + 0.5 * BROKEN
    return BROKEN, (middle - 0.5 * GAP, middle + 0.5 * GAP)
