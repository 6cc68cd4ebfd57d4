"""The curve of a bend in a drawing that the layup file names: SVG or DXF, beside the layup file."""

import os
import re

from ...model.errors import LayupError, ShapeError
from ...model.layup.sections import FILE_UNITS
from ...model.shape.drawn import Drawn, profile_of
from ...model.shape.profile import Profile
from ...model.units import Mm
from ..number import told
from .dxf import dxf_segments
from .svg import svg_segments

KEY, UNIT_KEY = "bend.file", "bend.file_unit"
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


def read_drawn(name: object, unit: object, folder: str | None) -> Profile:
    """Read the curve of a drawing.

    Parameters
    ----------
    name
        Its name, as the layup file gives it: below the folder of the layup file.
    unit
        What ``bend.file_unit`` says; None where it says nothing.
    folder
        Folder of the layup file; None where it has none yet.

    Raises
    ------
    LayupError
        There is no such file, its unit is not known, or it holds no curve that a sheet could follow.
    """
    if not isinstance(name, str) or os.path.splitext(name)[1].lower() not in READERS:
        raise LayupError(KEY, told(name), "the name of a drawing that ends in .svg or .dxf")
    if _STRANGE.search(name):
        raise LayupError(KEY, told(name), "a file in the folder of the layup file, or below it")
    if unit is not None and unit not in UNITS:
        raise LayupError(UNIT_KEY, told(unit), ", ".join(UNITS))
    if folder is None:
        raise LayupError(
            KEY,
            told(name),
            "a drawing beside a layup file",
            "Save the layup in the folder of the drawing first.",
        )
    data = _bytes(os.path.join(folder, name), name)
    own = UNITS[unit] if isinstance(unit, str) else None
    try:
        segments, knows = READERS[os.path.splitext(name)[1].lower()](data, own)
        _demand_unit(name, knows, own)
        _demand_few(segments)
        return profile_of(segments)
    except ShapeError as error:
        raise LayupError(KEY, f"{told(name)}: {error}", "a drawing of one open curve") from None


def _demand_unit(name: str, knows: bool, own: Mm | None) -> None:
    if knows and own is not None:
        raise LayupError(
            UNIT_KEY,
            f"a unit for {told(name)}",
            "none, since the drawing says its own",
            "Leave file_unit out.",
        )
    if not knows and own is None:
        raise LayupError(
            UNIT_KEY,
            "nothing",
            ", ".join(UNITS),
            f"{told(name)} does not say how long its unit is; say it here.",
        )


def _demand_few(segments: list[Drawn]) -> None:
    if len(segments) > MOST_SEGMENTS:
        raise ShapeError(
            f"it has {len(segments)} segments, more than {MOST_SEGMENTS}; draw the curve as arcs or a smooth path"
        )


def _bytes(path: str, name: str) -> bytes:
    try:
        with open(path, "rb") as stream:
            data = stream.read(LARGEST + 1)
    except FileNotFoundError:
        raise LayupError(KEY, f"no file {told(name)}", "a drawing in the folder of the layup file") from None
    except (OSError, ValueError) as error:
        found = getattr(error, "strerror", None) or "a name that no file can have"
        raise LayupError(KEY, f"{told(name)}: {found.lower()}", "a drawing that can be read") from None
    if len(data) > LARGEST:
        raise LayupError(KEY, f"{told(name)}, a very large file", f"a drawing of up to {LARGEST // 1000} kB")
    return data
