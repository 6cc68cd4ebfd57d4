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


def bend_curve(given: Mapping[str, Any], drawn: Profile | None = None) -> BendCurve:
    """Curve of the bend that the given keys ask for; ``drawn`` is that of the drawing which ``bend.file`` names.

    Raises
    ------
    LayupError
        The keys of [bend] give no curve, or two, or one that disagrees with the panel's length.
    """
    shape = _shape(given)
    _refuse_strangers(given, shape)
    if shape == "arc":
        return _arc(given)
    if "panel.length" in given:
        raise LayupError(
            "panel.length",
            f"{given['panel.length']:g} mm beside a {shape}",
            "no length, which follows from [bend]",
            "Leave length out of the panel.",
        )
    if shape == "file":
        return _measured(shape, _drawn(given, drawn))
    makers = {"ellipse": _ellipse, "parabola": _parabola, "chain": _chain, "points": _points}
    return _measured(shape, Profile(makers[shape](given)))


def _shape(given: Mapping[str, Any]) -> str:
    """Shape that is asked for, or that the keys tell."""
    if "bend.shape" in given:
        return str(given["bend.shape"])
    return next((shape for key, shape in TOLD_BY.items() if f"bend.{key}" in given), "arc")


def _refuse_strangers(given: Mapping[str, Any], shape: str) -> None:
    """Refuse sizes that belong to another shape of bend."""
    strangers = {key for keys in GIVEN_BY.values() for key in keys} - set(GIVEN_BY[shape])
    for key in sorted(strangers):
        if f"bend.{key}" in given:
            raise LayupError(
                f"bend.{key}",
                f"{key} beside the shape {shape}",
                f"{', '.join(GIVEN_BY[shape])}, which give a bend of that shape",
                "Leave out what the curve does not need.",
            )


def _arc(given: Mapping[str, Any]) -> BendCurve:
    """Arc of a bend, held against the panel's length where that is given too."""
    sizes = {name: float(given[f"bend.{name}"]) for name in SIZES if f"bend.{name}" in given}
    try:
        arc = arc_from(sizes)
    except ShapeError as error:
        raise LayupError("bend", str(error), "sizes of one arc") from None
    length = given.get("panel.length", arc.length)
    if abs(length - arc.length) > AGREEMENT * arc.length:
        raise LayupError(
            "panel.length",
            f"{length:.6g} mm",
            f"{arc.length:.6g} mm, which is what [bend] implies",
            "Leave length out of a bent panel, or correct the bend.",
        )
    _demand_angle(arc)
    return BendCurve(
        shape="arc",
        profile=arc_profile(length, arc.angle),
        chord=arc.chord,
        rise=arc.rise,
        radius=arc.radius,
        angle=arc.angle,
    )


def _demand_angle(arc: Arc) -> None:
    setting = settings_of(Bend)["angle"]
    if not setting.low <= arc.angle <= setting.high:
        raise LayupError(
            "bend",
            f"an angle of {math.degrees(arc.angle):.4g}°",
            f"{math.degrees(setting.low):.2g}° to {math.degrees(setting.high):.4g}°",
        )


def _two(given: Mapping[str, Any], shape: str) -> tuple[Mm, Mm]:
    """Chord and rise, which an ellipse and a parabola need."""
    for name in ("chord", "rise"):
        if f"bend.{name}" not in given:
            raise LayupError(
                f"bend.{name}", "nothing", f"the {name} of the {shape}", f"Add {name} to [bend]."
            )
    return float(given["bend.chord"]), float(given["bend.rise"])


def _ellipse(given: Mapping[str, Any]) -> tuple[Piece, ...]:
    """Part of an ellipse over a level chord, half of it where no angle is given."""
    chord, rise = _two(given, "ellipse")
    try:
        return (CurvePiece(ellipse_over(chord, rise, float(given.get("bend.angle", math.pi)))),)
    except ShapeError as error:
        raise LayupError("bend.angle", str(error), "an angle that an ellipse can have") from None


def _parabola(given: Mapping[str, Any]) -> tuple[Piece, ...]:
    chord, rise = _two(given, "parabola")
    return (CurvePiece(ParabolaCourse(chord, rise)),)


def _points(given: Mapping[str, Any]) -> tuple[Piece, ...]:
    """Smooth curve through ordinates, from left to right whichever way they are entered."""
    ordinates = given.get("bend.ordinates")
    if ordinates is None:
        raise LayupError("bend.ordinates", "nothing", "the heights of three points or more")
    if ("bend.every" in given) == ("bend.stations" in given):
        found = "both every and stations" if "bend.every" in given else "neither every nor stations"
        raise LayupError(
            "bend.every",
            found,
            "one of them",
            "Say where the ordinates stand: every so many mm, or at stations.",
        )
    if "bend.every" in given:
        places = tuple(number * float(given["bend.every"]) for number in range(len(ordinates)))
    else:
        places = given["bend.stations"]
    if len(places) != len(ordinates):
        raise LayupError(
            "bend.stations", f"{len(places)} stations", f"{len(ordinates)}, one for each of the ordinates"
        )
    points = np.column_stack((places, ordinates))
    apart = np.hypot(*np.diff(points, axis=0).T)
    if len(points) < FEWEST_POINTS or apart.min() < CLOSEST:
        number = int(apart.argmin()) + 1 if len(apart) else 0
        close = f"points {number} and {number + 1}, {apart[number - 1]:.3g} mm apart" if number else ""
        found = close if len(points) >= FEWEST_POINTS else f"{len(points)} points"
        raise LayupError(
            "bend.ordinates",
            found,
            f"{FEWEST_POINTS} points or more, {CLOSEST:g} mm and more from each other",
        )
    if points[0, 0] > points[-1, 0]:
        points = points[::-1]
    return (CurvePiece(spline_through(points)),)


def _drawn(given: Mapping[str, Any], drawn: Profile | None) -> Profile:
    """Curve of a drawing that has been read."""
    if drawn is None:
        raise LayupError(
            "bend.file", str(given.get("bend.file", "nothing")), "a drawing that stands beside the layup file"
        )
    return drawn


def _chain(given: Mapping[str, Any]) -> tuple[Piece, ...]:
    """Pieces of a chain, one of them bent."""
    pieces: tuple[Run, ...] = given.get("bend.chain", ())
    if not any(piece.curvature for piece in pieces):
        found = "straight pieces only" if pieces else "nothing"
        raise LayupError("bend.chain", found, "a chain of pieces with an arc among them")
    return pieces


def _measured(shape: str, profile: Profile) -> BendCurve:
    """Curve with the sizes that its profile has."""
    _demand_bend(shape, profile)
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


def _demand_bend(shape: str, profile: Profile) -> None:
    """Refuse a curve that is straight all along, and one that no panel is as long as."""
    allowed = settings_of(Panel)["length"]
    if not allowed.low <= profile.length <= allowed.high:
        raise LayupError(
            "bend",
            f"a curve of {profile.length:.6g} mm",
            f"{allowed.low:g} to {allowed.high:g} mm along the curve",
            "Check the numbers and their unit.",
        )
    if not np.any(np.abs(profile.bend(profile.places())) * profile.length > 1e-9):
        raise LayupError(
            "bend", f"{shape} on one straight line", "a curve that bends", "Leave [bend] out of a flat panel."
        )
