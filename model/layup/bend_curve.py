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
from ..shape.profile import Profile, Run, arc_profile
from ..units import Mm, Radian
from .sections import SHAPES, Bend
from .setting import settings_of

GIVEN_BY = {"arc": SIZES, "chain": ("chain",)}
"""Keys that give each shape of bend."""

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


def bend_curve(given: Mapping[str, Any]) -> BendCurve:
    """Curve of the bend that the given keys ask for.

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
    return _measured(shape, Profile(_chain(given)))


def _shape(given: Mapping[str, Any]) -> str:
    """Shape that is asked for, or that the keys tell."""
    if "bend.shape" in given:
        return str(given["bend.shape"])
    return next((shape for shape in SHAPES if f"bend.{shape}" in given), "arc")


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


def _chain(given: Mapping[str, Any]) -> tuple[Run, ...]:
    """Pieces of a chain, one of them bent."""
    pieces: tuple[Run, ...] = given.get("bend.chain", ())
    if not any(piece.curvature for piece in pieces):
        found = "straight pieces only" if pieces else "nothing"
        raise LayupError("bend.chain", found, "a chain of pieces with an arc among them")
    return pieces


def _measured(shape: str, profile: Profile) -> BendCurve:
    """Curve with the sizes that its profile has."""
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
