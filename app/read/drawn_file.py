"""Drawings that the layup file names, SVG or DXF, beside the layup file: the curve of a bend, the outline of a panel."""

import os
import re
from collections.abc import Callable
from typing import TypeVar

from ...model.errors import LayupError, ShapeError
from ...model.layup.sections import FILE_UNITS
from ...model.shape.closed_paths import outline_of
from ...model.shape.drawn import Drawn, profile_of
from ...model.shape.pathed import Pathed
from ...model.shape.profile import Profile
from ...model.units import Mm
from ..number import told
from .dxf import dxf_segments
from .svg import svg_segments

Shape = TypeVar("Shape")

READERS = {".svg": svg_segments, ".dxf": dxf_segments}
UNITS: dict[str, Mm] = dict(
    zip(FILE_UNITS, (1.0, 10.0, 25.4, 25.4 / 96.0, 25.4 / 90.0, 25.4 / 72.0), strict=True)
)
"""Lengths of a unit that a drawing does not say itself; pixels by how many make an inch."""
LARGEST = 2_000_000
"""Bytes that a drawing may have: a curve takes a thousandth of it."""
MOST_SEGMENTS = 500
"""Segments that a curve may have: more is a row of chords, not a curve."""

_STRANGE = re.compile(r"^(?:[a-zA-Z]:|[/\\~])|(?:^|[/\\])\.\.(?:[/\\]|$)")
"""A place that is none below the layup file's own folder."""


def read_curve(name: object, unit: object, folder: str | None) -> Profile:
    """Read the curve of a bend: ``bend.file``, ``bend.file_unit``, and the folder of the layup file.

    Raises
    ------
    LayupError
        There is no such file, its unit is not known, or it holds no curve that a sheet could follow.
    """
    return _read("bend.file", name, unit, folder, profile_of, "a drawing of one open curve")


def read_outline(name: object, unit: object, folder: str | None) -> Pathed:
    """Read the outline of a panel: ``panel.outline_file``, ``panel.outline_file_unit``, and the layup file's folder.

    Raises
    ------
    LayupError
        There is no such file, its unit is not known, or it holds no closed path, or two beside each other.
    """
    allowed = "a drawing of one closed path, with holes within it at the most"
    return _read("panel.outline_file", name, unit, folder, outline_of, allowed)


def _read(
    key: str,
    name: object,
    unit: object,
    folder: str | None,
    shape_of: Callable[[list[Drawn]], Shape],
    allowed: str,
) -> Shape:
    """Shape that a drawing holds.

    Parameters
    ----------
    key
        Key that names it; that of its unit ends in ``_unit``.
    name
        Its name, as the layup file gives it: below the folder of the layup file.
    unit
        What the key of its unit says; None where it says nothing.
    folder
        Folder of the layup file; None where it has none yet.
    shape_of
        Makes the shape of its segments.
    allowed
        What the drawing should hold.
    """
    if not isinstance(name, str) or os.path.splitext(name)[1].lower() not in READERS:
        raise LayupError(key, told(name), "the name of a drawing that ends in .svg or .dxf")
    if _STRANGE.search(name):
        raise LayupError(key, told(name), "a file in the folder of the layup file, or below it")
    if unit is not None and unit not in UNITS:
        raise LayupError(f"{key}_unit", told(unit), ", ".join(UNITS))
    if folder is None:
        raise LayupError(
            key,
            told(name),
            "a drawing beside a layup file",
            "Put the layup file and the drawing into one folder and start with that file, as underbag open FILE: "
            "a text that comes through the browser does not tell its folder.",
        )
    data = _bytes(key, os.path.join(folder, name), name)
    own = UNITS[unit] if isinstance(unit, str) else None
    try:
        segments, knows = READERS[os.path.splitext(name)[1].lower()](data, own)
        _demand_unit(key, name, knows, own)
        _demand_few(segments)
        return shape_of(segments)
    except ShapeError as error:
        raise LayupError(key, f"{told(name)}: {error}", allowed) from None


def _demand_unit(key: str, name: str, knows: bool, own: Mm | None) -> None:
    if knows and own is not None:
        raise LayupError(
            f"{key}_unit",
            f"a unit for {told(name)}",
            "none, since the drawing says its own",
            f"Leave {key.partition('.')[2]}_unit out.",
        )
    if not knows and own is None:
        raise LayupError(
            f"{key}_unit",
            "nothing",
            ", ".join(UNITS),
            f"{told(name)} does not say how long its unit is; say it here.",
        )


def _demand_few(segments: list[Drawn]) -> None:
    if len(segments) > MOST_SEGMENTS:
        raise ShapeError(
            f"it has {len(segments)} segments, more than {MOST_SEGMENTS}; draw the curve as arcs or a smooth path"
        )


def _bytes(key: str, path: str, name: str) -> bytes:
    try:
        with open(path, "rb") as stream:
            data = stream.read(LARGEST + 1)
    except FileNotFoundError:
        raise LayupError(key, f"no file {told(name)}", "a drawing in the folder of the layup file") from None
    except (OSError, ValueError) as error:
        found = getattr(error, "strerror", None) or "a name that no file can have"
        raise LayupError(key, f"{told(name)}: {found.lower()}", "a drawing that can be read") from None
    if len(data) > LARGEST:
        raise LayupError(key, f"{told(name)}, a very large file", f"a drawing of up to {LARGEST // 1000} kB")
    return data
