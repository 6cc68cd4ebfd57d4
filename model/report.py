"""The report of a plan: its values with their working, and its checks, worst first.

A subject adds itself by one line in ``SUBJECTS`` and one in ``checks/rules.py``. Costly computations (the map
of the air) are asked for by name and are no part of it.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from .checks.rule import Check, Facts, run_rules
from .checks.rules import RULES
from .plan import Plan
from .value import Value
from .values.bag import bag_values
from .values.bag_film import bag_film_values
from .values.bench import bench_values
from .values.bend import bend_values
from .values.between import between_values
from .values.crush import crush_values
from .values.film import film_values
from .values.flatness import flatness_values
from .values.form import form_values
from .values.geometry import geometry_values
from .values.glue import glue_values
from .values.handling import handling_values
from .values.lipping import lipping_values
from .values.overhang import overhang_values
from .values.press import press_values
from .values.springback import springback_values
from .values.support import support_values
from .values.taper import taper_values
from .values.water import water_values

SUBJECTS: tuple[Callable[[Plan], Iterator[Value]], ...] = (
    geometry_values,
    press_values,
    crush_values,
    support_values,
    bend_values,
    form_values,
    springback_values,
    taper_values,
    flatness_values,
    between_values,
    lipping_values,
    overhang_values,
    glue_values,
    water_values,
    bag_values,
    bag_film_values,
    handling_values,
    film_values,
    bench_values,
)
"""Every subject that has values to tell, in the order in which they are shown."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Report:
    """Values and checks of one plan."""

    values: tuple[Value, ...]
    checks: tuple[Check, ...]

    @property
    def has_stop(self) -> bool:
        """Whether a check says stop."""
        return any(check.status == "stop" for check in self.checks)

    def value(self, key: str) -> Value:
        """Value of a key; raises ``KeyError`` where there is none."""
        return self.by_key()[key]

    def by_key(self) -> Facts:
        """All values by key."""
        return {value.key: value for value in self.values}


def report(plan: Plan) -> Report:
    """Compute every value of a plan and hold it against every rule."""
    values = tuple(value for subject in SUBJECTS for value in subject(plan))
    facts = {value.key: value for value in values}
    return Report(values=values, checks=run_rules(RULES, plan, facts))
