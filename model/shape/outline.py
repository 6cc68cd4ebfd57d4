"""Outlines: the edge of a sheet on its own plane, t along the length and w across, centred on the origin.

``grown`` is the true offset, as a woodworker would cut it: sharp outside corners stay sharp, round ones stay
round. All outlines here are convex and the same on both sides of their centre lines; any other is a ``Pathed``.
"""

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import Protocol

import numpy as np

from ..errors import ShapeError
from ..units import Mm, Mm2
from .loop import FINE, Loop, LoopPoint, closed, polygon, rectangle
from .profile import Floats


class Edged(Protocol):
    """What has an edge on the plane of a sheet."""

    def __hash__(self) -> int:
        """Equal outlines have equal hashes: points of their edges are kept by it."""

    @property
    def loops(self) -> tuple[Loop, ...]:
        """The edge, anticlockwise, then every hole: lines and true arcs; what is neither keeps within ``FINE``."""


class Outline(Edged, Protocol):
    """The edge of a sheet."""

    @property
    def length(self) -> Mm:
        """Extent along t."""

    @property
    def width(self) -> Mm:
        """Extent along w."""

    @property
    def area(self) -> Mm2:
        """Area on the plane of t and w."""

    @property
    def perimeter(self) -> Mm:
        """Length of the edge."""

    @property
    def box(self) -> tuple[LoopPoint, LoopPoint]:
        """Lower left and upper right corner of the box around it."""

    @property
    def whole(self) -> "Outline":
        """Give the outline without its holes."""

    def grown(self, margin: Mm) -> "Outline":
        """Give the outline moved outward by a margin, inward where it is negative."""

    def rim(self, tolerance: Mm) -> tuple[Floats, Floats]:
        """Places t in rising order and the half width at each; chords stay within the tolerance."""

    def farthest(self, angle: Floats) -> tuple[Floats, Floats]:
        """Points t, w of its rim that lie farthest in directions ``angle``, rad from t toward w, 0 to π/2."""

    def turns(self, tolerance: Mm) -> Floats:
        """Directions, rad from t toward w, 0 to π/2, in which the farthest points have chords within the tolerance."""


@dataclass(frozen=True, slots=True)
class Rectangle:
    """A rectangle; its corners stay sharp when it grows.

    Raises
    ------
    ShapeError
        A side is not above zero.
    """

    length: Mm
    width: Mm

    def __post_init__(self) -> None:
        _demand_size("rectangle", self.length, self.width)

    @property
    def area(self) -> Mm2:
        """Length times width."""
        return self.length * self.width

    @property
    def perimeter(self) -> Mm:
        """All four sides."""
        return 2.0 * (self.length + self.width)

    @property
    def box(self) -> tuple[LoopPoint, LoopPoint]:
        """Half of length and width on both sides of the middle."""
        return _box(self.length, self.width)

    @property
    def whole(self) -> "Rectangle":
        """The same outline: it has no holes."""
        return self

    @property
    def loops(self) -> tuple[Loop, ...]:
        """Four sides."""
        a, b = 0.5 * self.length, 0.5 * self.width
        return (rectangle((-a, -b), (a, b)),)

    def grown(self, margin: Mm) -> "Rectangle":
        """Rectangle larger by the margin on every side."""
        return Rectangle(self.length + 2.0 * margin, self.width + 2.0 * margin)

    def rim(self, tolerance: Mm) -> tuple[Floats, Floats]:
        """Both ends at full width."""
        return np.array([-0.5, 0.5]) * self.length, np.array([0.5, 0.5]) * self.width

    def farthest(self, angle: Floats) -> tuple[Floats, Floats]:
        """Its corner, in every direction."""
        return np.full_like(angle, 0.5 * self.length), np.full_like(angle, 0.5 * self.width)

    def turns(self, tolerance: Mm) -> Floats:
        """One direction, toward the corner."""
        return np.array([0.25 * math.pi])


@dataclass(frozen=True, slots=True)
class RoundedRectangle:
    """A rectangle with circular corners of one radius.

    Raises
    ------
    ShapeError
        A side is not above zero, or the corners do not fit.
    """

    length: Mm
    width: Mm
    corner: Mm

    def __post_init__(self) -> None:
        _demand_size("rounded rectangle", self.length, self.width)
        if not 0.0 < self.corner <= 0.5 * min(self.length, self.width) * (1.0 + 1e-12):
            raise ShapeError(
                f"corners of {self.corner:g} mm do not fit a panel of {self.length:g} × {self.width:g} mm; "
                f"use a radius above 0 and up to {0.5 * min(self.length, self.width):g} mm"
            )

    @property
    def area(self) -> Mm2:
        """Rectangle less the four corner waste pieces."""
        return self.length * self.width - (4.0 - math.pi) * self.corner**2

    @property
    def perimeter(self) -> Mm:
        """Straight sides and one full circle."""
        return 2.0 * (self.length + self.width) - (8.0 - 2.0 * math.pi) * self.corner

    @property
    def box(self) -> tuple[LoopPoint, LoopPoint]:
        """Half of length and width on both sides of the middle."""
        return _box(self.length, self.width)

    @property
    def whole(self) -> "RoundedRectangle":
        """The same outline: it has no holes."""
        return self

    @property
    def loops(self) -> tuple[Loop, ...]:
        """Four sides and four quarters of a circle between them."""
        a, b, r = 0.5 * self.length, 0.5 * self.width, self.corner
        quarter = math.tan(math.pi / 8.0)
        corners = []
        for x, y, (c, s) in ((a, b, (1, 0)), (b, a, (0, 1)), (a, b, (-1, 0)), (b, a, (0, -1))):
            # each side seen as the one at the right: up along it, then round its upper corner
            for u, v, bulge in ((x, r - y, 0.0), (x, y - r, quarter)):
                corners.append((u * c - v * s, u * s + v * c, bulge))
        return (closed(corners),)

    def grown(self, margin: Mm) -> "RoundedRectangle | Rectangle":
        """Outline larger by the margin on every side, its corners rounder by as much."""
        length, width, corner = self.length + 2.0 * margin, self.width + 2.0 * margin, self.corner + margin
        return RoundedRectangle(length, width, corner) if corner > 0.0 else Rectangle(length, width)

    def rim(self, tolerance: Mm) -> tuple[Floats, Floats]:
        """Ends, both corner arcs and the straight sides between them."""
        angle = np.linspace(0.0, 0.5 * math.pi, arc_steps(0.5 * math.pi, self.corner, tolerance) + 1)
        t = 0.5 * self.length - self.corner * (1.0 - np.sin(angle))
        half = 0.5 * self.width - self.corner * (1.0 - np.cos(angle))
        return np.concatenate((-t[::-1], t)), np.concatenate((half[::-1], half))

    def farthest(self, angle: Floats) -> tuple[Floats, Floats]:
        """Points of its corner arc."""
        t = 0.5 * self.length - self.corner * (1.0 - np.cos(angle))
        return t, 0.5 * self.width - self.corner * (1.0 - np.sin(angle))

    def turns(self, tolerance: Mm) -> Floats:
        """Equal turns around the corner."""
        return np.linspace(0.0, 0.5 * math.pi, arc_steps(0.5 * math.pi, self.corner, tolerance) + 1)


@dataclass(frozen=True, slots=True)
class Oval:
    """An ellipse, and everything at a constant distance ``margin`` from its edge.

    The true offset of an ellipse is no ellipse; area and perimeter follow from Steiner's formula, which is
    exact for a convex edge.

    Raises
    ------
    ShapeError
        An axis is not above zero, or the offset inward would fold back on itself.
    """

    axis_length: Mm
    axis_width: Mm
    margin: Mm = 0.0

    def __post_init__(self) -> None:
        _demand_size("ellipse", self.axis_length, self.axis_width)
        tightest = 0.5 * min(self.axis_length, self.axis_width) ** 2 / max(self.axis_length, self.axis_width)
        if self.margin <= -tightest:
            raise ShapeError(
                f"an ellipse of {self.axis_length:g} × {self.axis_width:g} mm cannot shrink by {-self.margin:g} mm: "
                f"its tightest radius is {tightest:.1f} mm"
            )

    @property
    def length(self) -> Mm:
        """Extent along t."""
        return self.axis_length + 2.0 * self.margin

    @property
    def width(self) -> Mm:
        """Extent along w."""
        return self.axis_width + 2.0 * self.margin

    @property
    def area(self) -> Mm2:
        """Area by Steiner's formula."""
        ellipse = 0.25 * math.pi * self.axis_length * self.axis_width
        return (
            ellipse
            + self.margin * _ellipse_perimeter(self.axis_length, self.axis_width)
            + math.pi * self.margin**2
        )

    @property
    def perimeter(self) -> Mm:
        """Length of the edge by Steiner's formula."""
        return _ellipse_perimeter(self.axis_length, self.axis_width) + 2.0 * math.pi * self.margin

    @property
    def box(self) -> tuple[LoopPoint, LoopPoint]:
        """Half of length and width on both sides of the middle."""
        return _box(self.length, self.width)

    @property
    def whole(self) -> "Oval":
        """The same outline: it has no holes."""
        return self

    @property
    def loops(self) -> tuple[Loop, ...]:
        """Row of chords."""
        return _oval_loops(self)

    def grown(self, margin: Mm) -> "Oval":
        """Everything at the given further distance from the edge."""
        return Oval(self.axis_length, self.axis_width, self.margin + margin)

    def rim(self, tolerance: Mm) -> tuple[Floats, Floats]:
        """Points of one half of the edge, from end to end, at equal parameter steps."""
        # the chord of an ellipse at equal parameter steps sags no more than that of its larger circle
        radius = 0.5 * max(self.axis_length, self.axis_width) + max(self.margin, 0.0)
        steps = 2 * arc_steps(0.5 * math.pi, radius, tolerance)
        u = np.linspace(math.pi, 0.0, steps + 1)
        t, half = self.edge(u)
        half[[0, -1]] = 0.0
        return t, half

    def farthest(self, angle: Floats) -> tuple[Floats, Floats]:
        """Points at which the edge is square to the directions."""
        return self.edge(np.arctan2(self.axis_width * np.sin(angle), self.axis_length * np.cos(angle)))

    def turns(self, tolerance: Mm) -> Floats:
        """Turns at equal steps of the ellipse's parameter."""
        u = np.linspace(0.0, 0.5 * math.pi, len(self.rim(tolerance)[0]) // 2 + 1)
        turned: Floats = np.arctan2(self.axis_length * np.sin(u), self.axis_width * np.cos(u))
        return turned

    def edge(self, u: Floats) -> tuple[Floats, Floats]:
        """Points of the edge at the ellipse's parameter ``u``, rad: t and w."""
        a, b = 0.5 * self.axis_length, 0.5 * self.axis_width
        scale = self.margin / np.hypot(b * np.cos(u), a * np.sin(u))
        return (a + b * scale) * np.cos(u), (b + a * scale) * np.sin(u)


def _box(length: Mm, width: Mm) -> tuple[LoopPoint, LoopPoint]:
    return (-0.5 * length, -0.5 * width), (0.5 * length, 0.5 * width)


@lru_cache(maxsize=64)
def _oval_loops(oval: Oval) -> tuple[Loop, ...]:
    t, half = oval.rim(FINE)
    points = np.concatenate((np.column_stack((t, -half)), np.column_stack((t, half))[-2:0:-1]))
    return (polygon(tuple(map(tuple, points.tolist()))),)


def _demand_size(shape: str, length: float, width: float) -> None:
    for name, size in (("length", length), ("width", width)):
        if not (math.isfinite(size) and size > 0.0):
            raise ShapeError(f"the {name} of a {shape} is {size:g} mm; a size above 0 is needed")


def arc_steps(angle: float, radius: float, tolerance: float) -> int:
    """Equal steps over an angle whose chords sag no more than the tolerance."""
    step = 4.0 * math.asin(math.sqrt(min(1.0, 0.5 * tolerance / radius))) if radius > 0.0 else angle
    return max(1, math.ceil(angle / step))


def _ellipse_perimeter(length: float, width: float) -> float:
    """Perimeter 4·a·E(e) of an ellipse, by the arithmetic-geometric mean.

    Source: textbook, Gauss's series of the complete elliptic integral of the second kind.
    """
    x, y = 0.5 * max(length, width), 0.5 * min(length, width)
    total, weight, difference = x * x, 0.5, math.sqrt(x * x - y * y)
    # the difference is squared at each step: below this the next term is lost in rounding, and x and y may stay
    # one last digit apart for ever
    while difference > 1e-9 * x:
        total -= weight * difference * difference
        x, y, difference = 0.5 * (x + y), math.sqrt(x * y), 0.5 * (x - y)
        weight *= 2.0
    return 2.0 * math.pi * total / x
