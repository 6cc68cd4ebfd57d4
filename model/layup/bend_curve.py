"""The curve that a bend asks for, from whatever the layup file gives it by, with the sizes that follow from it.

Crowns count positive and hollows negative, as the curve is written: how the work lies in the press comes later.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np

from ..errors import LayupError, ShapeError
from ..shape.arc import AGREEMENT, SIZES, Arc, arc_from
from ..shape.curve import CurvePiece, ParabolaCourse, ellipse_over
from ..shape.profile import Piece, Profile, Run, arc_profile
from ..shape.similar import enlarged
from ..shape.spline import spline_through
from ..units import Mm, Radian
from .sections import Bend, Panel
from .setting import settings_of

GIVEN_BY = {
    "arc": SIZES,
    "ellipse": ("chord", "rise", "angle"),
    "parabola": ("chord", "rise"),
    "chain": ("chain",),
    "points": ("ordinates", "every", "stations"),
    "file": ("file", "file_unit"),
}
"""Keys that give each shape of bend."""

TOLD_BY = {"chain": "chain", "ordinates": "points", "every": "points", "stations": "points", "file": "file"}
"""Keys that tell the shape by themselves."""

FEWEST_POINTS = 3
"""Points that a curve needs."""
CLOSEST: Mm = 0.5
"""Least distance between neighbouring points: nobody measures closer by hand."""

DEPTH_TOLERANCE: Mm = 1e-4
"""Chordal tolerance of the row of points that a curve's depth is measured on."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BendCurve:
    """The curve of a bend with its sizes; ``radius`` is None where it has no single one."""

    shape: str
    profile: Profile
    chord: Mm
    rise: Mm
    radius: Mm | None
    angle: Radian

    @property
    def sizes(self) -> Mapping[str, float | None]:
        """Sizes by the names of their keys."""
        return {name: getattr(self, name) for name in SIZES}


@dataclass(frozen=True, slots=True)
class _Table:
    """Keys of one table of the layup file that give a curve, by their names."""

    name: str
    keys: Mapping[str, Any]

    def refusal(self, word: str, found: str, allowed: str, hint: str = "") -> LayupError:
        """Error at one of its keys; at the table itself for an empty word."""
        return LayupError(f"{self.name}.{word}" if word else self.name, found, allowed, hint)


def _table(name: str, given: Mapping[str, Any]) -> _Table:
    start = f"{name}."
    return _Table(
        name, {key.removeprefix(start): value for key, value in given.items() if key.startswith(start)}
    )


def bend_curve(given: Mapping[str, Any], drawn: Profile | None = None) -> BendCurve:
    """Curve of the bend that the given keys ask for; ``drawn`` is that of the drawing which ``bend.file`` names.

    Raises
    ------
    LayupError
        The keys of [bend] give no curve, or two, or one that disagrees with the panel's length.
    """
    table = _table("bend", given)
    shape = _shape(table)
    _refuse_strangers(table, shape)
    if shape == "arc":
        return _arc(table, given.get("panel.length"))
    if "panel.length" in given:
        raise LayupError(
            "panel.length",
            f"{given['panel.length']:g} mm beside a {shape}",
            "no length, which follows from [bend]",
            "Leave length out of the panel.",
        )
    if shape == "file":
        return _measured(table, shape, _drawn(table, drawn))
    return _measured(table, shape, _made(table, shape))


def far_curve(given: Mapping[str, Any], near: BendCurve) -> BendCurve:
    """Curve at the far end of a taper: that of the bend in proportion, or one of its own.

    Raises
    ------
    LayupError
        The keys of [taper] give no curve, or two.
    """
    table = _table("taper", {key: value for key, value in given.items() if key != "taper.lift"})
    shape = _shape(table, near.shape)
    sizes = set(table.keys) - {"shape"}
    if shape == near.shape and len(sizes) <= 1 and sizes <= {"chord", "rise", "radius"}:
        return _in_proportion(table, near, sizes)
    if shape == "file":
        raise table.refusal(
            "",
            "more than one size beside a drawn curve",
            "chord or rise alone: the drawn curve in proportion",
        )
    _refuse_strangers(table, shape)
    found = _arc(table) if shape == "arc" else _measured(table, shape, _made(table, shape))
    if shape == near.shape and shape in ("arc", "parabola") and _agree(found.angle, near.angle):
        # what was measured at both ends turns alike but for the last digits
        return _enlarged(near, found.chord / near.chord)
    return found


def _agree(one: float, other: float) -> bool:
    return abs(one - other) <= AGREEMENT * abs(other)


def _in_proportion(table: _Table, near: BendCurve, sizes: set[str]) -> BendCurve:
    """Curve of the bend with one size given."""
    if not sizes:
        raise table.refusal(
            "chord",
            "nothing",
            "chord, rise or radius at the far end, or all that gives its curve",
            "One size alone makes it the curve of [bend] in proportion.",
        )
    (word,) = sizes
    size = near.sizes[word]
    if not size:
        raise table.refusal(word, f"a {word}, which the {near.shape} of [bend] has none of", "chord or rise")
    found = _enlarged(near, float(table.keys[word]) / size)
    _demand_bend(table, near.shape, found.profile)
    return found


def _enlarged(near: BendCurve, factor: float) -> BendCurve:
    return BendCurve(
        shape=near.shape,
        profile=enlarged(near.profile, factor),
        chord=near.chord * factor,
        rise=near.rise * factor,
        radius=None if near.radius is None else near.radius * factor,
        angle=near.angle,
    )


def _made(table: _Table, shape: str) -> Profile:
    makers = {"ellipse": _ellipse, "parabola": _parabola, "chain": _chain, "points": _points}
    return Profile(makers[shape](table))


def _shape(table: _Table, otherwise: str = "arc") -> str:
    """Shape that is asked for, or that the keys tell."""
    if "shape" in table.keys:
        return str(table.keys["shape"])
    return next((shape for key, shape in TOLD_BY.items() if key in table.keys), otherwise)


def _refuse_strangers(table: _Table, shape: str) -> None:
    """Refuse sizes that belong to another shape of bend."""
    strangers = {key for keys in GIVEN_BY.values() for key in keys} - set(GIVEN_BY[shape])
    for key in sorted(strangers & set(table.keys)):
        raise table.refusal(
            key,
            f"{key} beside the shape {shape}",
            f"{', '.join(GIVEN_BY[shape])}, which give a bend of that shape",
            "Leave out what the curve does not need.",
        )


def _arc(table: _Table, own_length: Mm | None = None) -> BendCurve:
    """Arc of a bend, held against the panel's length where that is given too."""
    sizes = {name: float(table.keys[name]) for name in SIZES if name in table.keys}
    try:
        arc = arc_from(sizes)
    except ShapeError as error:
        raise table.refusal("", str(error), "sizes of one arc") from None
    length = arc.length if own_length is None else own_length
    if abs(length - arc.length) > AGREEMENT * arc.length:
        raise LayupError(
            "panel.length",
            f"{length:.6g} mm",
            f"{arc.length:.6g} mm, which is what [bend] implies",
            "Leave length out of a bent panel, or correct the bend.",
        )
    _demand_angle(table, arc)
    return BendCurve(
        shape="arc",
        profile=arc_profile(length, arc.angle),
        chord=arc.chord,
        rise=arc.rise,
        radius=arc.radius,
        angle=arc.angle,
    )


def _demand_angle(table: _Table, arc: Arc) -> None:
    setting = settings_of(Bend)["angle"]
    if not setting.low <= arc.angle <= setting.high:
        raise table.refusal(
            "",
            f"an angle of {math.degrees(arc.angle):.4g}°",
            f"{math.degrees(setting.low):.2g}° to {math.degrees(setting.high):.4g}°",
        )


def _two(table: _Table, shape: str) -> tuple[Mm, Mm]:
    """Chord and rise, which an ellipse and a parabola need."""
    for name in ("chord", "rise"):
        if name not in table.keys:
            raise table.refusal(
                name, "nothing", f"the {name} of the {shape}", f"Add {name} to [{table.name}]."
            )
    return float(table.keys["chord"]), float(table.keys["rise"])


def _ellipse(table: _Table) -> tuple[Piece, ...]:
    """Part of an ellipse over a level chord, half of it where no angle is given."""
    chord, rise = _two(table, "ellipse")
    try:
        return (CurvePiece(ellipse_over(chord, rise, float(table.keys.get("angle", math.pi)))),)
    except ShapeError as error:
        raise table.refusal("angle", str(error), "an angle that an ellipse can have") from None


def _parabola(table: _Table) -> tuple[Piece, ...]:
    chord, rise = _two(table, "parabola")
    return (CurvePiece(ParabolaCourse(chord, rise)),)


def _points(table: _Table) -> tuple[Piece, ...]:
    """Smooth curve through ordinates, from left to right whichever way they are entered."""
    keys = table.keys
    ordinates = keys.get("ordinates")
    if ordinates is None:
        raise table.refusal("ordinates", "nothing", "the heights of three points or more")
    if ("every" in keys) == ("stations" in keys):
        found = "both every and stations" if "every" in keys else "neither every nor stations"
        raise table.refusal(
            "every",
            found,
            "one of them",
            "Say where the ordinates stand: every so many mm, or at stations.",
        )
    if "every" in keys:
        places = tuple(number * float(keys["every"]) for number in range(len(ordinates)))
    else:
        places = keys["stations"]
    if len(places) != len(ordinates):
        raise table.refusal(
            "stations", f"{len(places)} stations", f"{len(ordinates)}, one for each of the ordinates"
        )
    points = np.column_stack((places, ordinates))
    apart = np.hypot(*np.diff(points, axis=0).T)
    if len(points) < FEWEST_POINTS or apart.min() < CLOSEST:
        number = int(apart.argmin()) + 1 if len(apart) else 0
        close = f"points {number} and {number + 1}, {apart[number - 1]:.3g} mm apart" if number else ""
        found = close if len(points) >= FEWEST_POINTS else f"{len(points)} points"
        raise table.refusal(
            "ordinates",
            found,
            f"{FEWEST_POINTS} points or more, {CLOSEST:g} mm and more from each other",
        )
    if points[0, 0] > points[-1, 0]:
        points = points[::-1]
    return (CurvePiece(spline_through(points)),)


def _drawn(table: _Table, drawn: Profile | None) -> Profile:
    """Curve of a drawing that has been read."""
    if drawn is None:
        raise table.refusal(
            "file", str(table.keys.get("file", "nothing")), "a drawing that stands beside the layup file"
        )
    return drawn


def _chain(table: _Table) -> tuple[Piece, ...]:
    """Pieces of a chain, one of them bent."""
    pieces: tuple[Run, ...] = table.keys.get("chain", ())
    if not any(piece.curvature for piece in pieces):
        found = "straight pieces only" if pieces else "nothing"
        raise table.refusal("chain", found, "a chain of pieces with an arc among them")
    return pieces


def _measured(table: _Table, shape: str, profile: Profile) -> BendCurve:
    """Curve with the sizes that its profile has."""
    _demand_bend(table, shape, profile)
    ends = profile.points(0.5 * profile.length * np.array([-1.0, 1.0]))
    points = profile.points(profile.stations(0.0, DEPTH_TOLERANCE))
    return BendCurve(
        shape=shape,
        profile=profile,
        chord=float(math.dist(*ends)),
        rise=float(np.ptp(points[:, 1])),
        radius=None,
        angle=profile.turn,
    )


def _demand_bend(table: _Table, shape: str, profile: Profile) -> None:
    """Refuse a curve that is straight all along, and one that no panel is as long as."""
    allowed = settings_of(Panel)["length"]
    if not allowed.low <= profile.length <= allowed.high:
        raise table.refusal(
            "",
            f"a curve of {profile.length:.6g} mm",
            f"{allowed.low:g} to {allowed.high:g} mm along the curve",
            "Check the numbers and their unit.",
        )
    if not np.any(np.abs(profile.bend(profile.places())) * profile.length > 1e-9):
        raise table.refusal(
            "", f"{shape} on one straight line", "a curve that bends", "Leave [bend] out of a flat panel."
        )
