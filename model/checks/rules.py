"""Every rule, in the order in which equals are shown: what costs the panel first."""

from . import air, bag, bend, bend_strain, cover, crush, edges, flatness, overhang, springback, support
from .rule import Rule

RULES: tuple[Rule, ...] = (
    *air.RULES,
    *edges.RULES,
    *bag.RULES,
    *bend.RULES,
    *bend_strain.RULES,
    *springback.RULES,
    *crush.RULES,
    *support.RULES,
    *flatness.RULES,
    *overhang.RULES,
    *cover.RULES,
)
