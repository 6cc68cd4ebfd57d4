"""Every rule, in the order in which equals are shown: what costs the panel first."""

from . import air, bag, bend, cover, edges, overhang
from .rule import Rule

RULES: tuple[Rule, ...] = (
    *air.RULES,
    *edges.RULES,
    *bag.RULES,
    *bend.RULES,
    *overhang.RULES,
    *cover.RULES,
)
