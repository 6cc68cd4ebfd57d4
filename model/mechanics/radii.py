"""Published bend radii of plywood: what was bent and held, as a cross-check on a computed radius."""

import csv
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Literal, cast

import numpy as np

from ..errors import TableError
from ..source import BASES, Basis, Source
from ..units import Mm

Panel = Literal["aircraft plywood", "construction plywood"]
Condition = Literal["dry", "soaked"]
Direction = Literal["along", "across"]

TABLE = Path(__file__).parents[1] / "data" / "bend_radii.csv"


@dataclass(frozen=True, slots=True, kw_only=True)
class RadiusSeries:
    """One column of a published table: least radius against thickness.

    Parameters
    ----------
    panel, plies, condition
        What was bent: kind of plywood, number of plies (0 where the table doesn't say), dry or soaked in hot water.
    grain
        Direction of the bend against the face grain: ``along`` bends the face grain, ``across`` leaves it straight.
    thickness, radius
        Thickness of the sheet, rising, and least radius of its concave face.
    source
        Where it is printed.
    """

    panel: str
    plies: int
    condition: str
    grain: str
    thickness: tuple[Mm, ...]
    radius: tuple[Mm, ...]
    source: Source

    def radius_at(self, t: Mm) -> Mm | None:
        """Radius for the thickness ``t``, on a straight line between logarithms; None past the thickest sheet.

        A sheet thinner than the table's first gets the first one's radius, which is safe.
        """
        if t > self.thickness[-1]:
            return None
        return float(np.exp(np.interp(np.log(t), np.log(self.thickness), np.log(self.radius))))


@cache
def radius_series() -> tuple[RadiusSeries, ...]:
    """Read all published columns, in the table's order.

    Raises
    ------
    TableError
        A row has a number that can't be read, no source or an unknown basis, or the thicknesses don't rise.
    """
    columns: dict[tuple[str, ...], list[tuple[float, float]]] = {}
    with TABLE.open(encoding="utf-8", newline="") as file:
        for number, row in enumerate(csv.DictReader(file), start=2):
            place = f"{TABLE.name}, line {number}"
            if not row["source"] or row["basis"] not in BASES:
                raise TableError(f"{place}: a radius needs a source and a basis, one of {', '.join(BASES)}")
            try:
                pair = (float(row["thickness_mm"]), float(row["radius_mm"]))
            except ValueError as error:
                raise TableError(f"{place}: {error}; thickness_mm and radius_mm are numbers in mm") from error
            names = ("panel", "plies", "condition", "grain", "source", "place", "basis")
            column = columns.setdefault(tuple(row[name] for name in names), [])
            if column and pair[0] <= column[-1][0]:
                raise TableError(
                    f"{place}: {pair[0]} mm follows {column[-1][0]} mm; thicknesses have to rise"
                )
            column.append(pair)
    return tuple(_series(names, pairs) for names, pairs in columns.items())


def _series(names: tuple[str, ...], pairs: list[tuple[float, float]]) -> RadiusSeries:
    panel, plies, condition, grain, document, place, basis = names
    return RadiusSeries(
        panel=panel,
        plies=int(plies),
        condition=condition,
        grain=grain,
        thickness=tuple(pair[0] for pair in pairs),
        radius=tuple(pair[1] for pair in pairs),
        source=Source(cast(Basis, basis), document, place),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class PublishedRadius:
    """A radius looked up in a published table, with the column that it stands in."""

    radius: Mm
    series: RadiusSeries


def published_radius(panel: Panel, condition: Condition, grain: Direction, t: Mm) -> PublishedRadius | None:
    """Look up the least radius of plywood of thickness ``t``; None where it isn't published.

    Where columns for several numbers of plies reach the thickness, the largest radius counts. A thinner sheet than
    all that are published is read in the thinnest column only.
    """
    fitting = [
        item
        for item in radius_series()
        if item.panel == panel and item.condition == condition and item.grain == grain
    ]
    covering = [item for item in fitting if item.thickness[0] <= t <= item.thickness[-1]]
    if not covering:
        covering = [item for item in fitting if t < item.thickness[0]][:1]
    found = [(radius, item) for item in covering if (radius := item.radius_at(t)) is not None]
    if not found:
        return None
    radius, series = max(found, key=lambda pair: pair[0])
    return PublishedRadius(radius=radius, series=series)
