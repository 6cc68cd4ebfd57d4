"""Every rule, in the order in which equals are shown: what costs the panel first."""

from . import (
    air,
    bag,
    bag_film,
    bend,
    bend_strain,
    cover,
    crush,
    edges,
    film,
    flatness,
    form,
    lipping,
    overhang,
    pumping,
    springback,
    support,
    time,
    water,
)
from .rule import Rule

RULES: tuple[Rule, ...] = (
    *time.RULES,
    *air.RULES,
    *pumping.RULES,
    *film.RULES,
    *edges.RULES,
    *bag.RULES,
    *bag_film.RULES,
    *bend.RULES,
    *bend_strain.RULES,
    *springback.RULES,
    *crush.RULES,
    *support.RULES,
    *form.RULES,
    *water.RULES,
    *flatness.RULES,
    *lipping.RULES,
    *overhang.RULES,
    *cover.RULES,
)
