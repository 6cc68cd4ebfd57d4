"""Plate: rectangular plates under uniform pressure, and the hollow box that is built of them.

Coefficients are referred to the short side b: deflection = alpha × p × b⁴ / D with D = E t³ / (12 (1 − ν²)),
moment per width = beta × p × b².
"""

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from ..errors import ShapeError
from ..source import Source
from ..units import Mm, MPa, NewtonPerMm, Ratio
from ..value import formula

THIN_PLATE = Source(
    "textbook", "Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells", "rectangular plates"
)
BUCKLING = Source(
    "textbook", "Timoshenko and Gere, Theory of Elastic Stability", "plate pressed along both sides"
)

Numbers = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True)
class PlateCoefficients:
    """Coefficients of a rectangular plate under uniform pressure.

    Parameters
    ----------
    alpha
        Deflection in the middle.
    beta
        Greatest bending moment by size: in the middle of a supported plate, at the long edge of a clamped one.
    """

    alpha: Ratio
    beta: Ratio


def supported_plate(a: Mm, b: Mm, nu: Ratio) -> PlateCoefficients:
    """Coefficients of a plate ``a`` by ``b`` whose four edges are held down but free to turn.

    Source: Lévy's series, 50 terms; the deflection is exact to 1e-9.
    """
    long, short = _sides(a, b)
    m = np.arange(1.0, 100.0, 2.0)
    sign = np.where(np.arange(m.size) % 2, -1.0, 1.0)
    u = m * math.pi * long / (2 * short)
    fade = np.exp(-u) / (1 + np.exp(-2 * u))
    arch = u * np.tanh(u) * fade
    term = 4 * sign / (math.pi * m) ** 5
    alpha = float((term * (1 - arch - 2 * fade)).sum())
    across = term * (math.pi * m) ** 2 * (1 - arch - 2 * fade + nu * arch)
    return PlateCoefficients(alpha=alpha, beta=float(across.sum()))


def clamped_plate(a: Mm, b: Mm) -> PlateCoefficients:
    """Coefficients of a plate ``a`` by ``b`` whose four edges are clamped.

    Source: Ritz's method with eight by eight polynomials that meet the edges; exact to about 1e-5 for sides up to
    1 : 3.
    """
    from numpy.polynomial import legendre

    long, short = _sides(a, b)
    count = 8
    points, weights = legendre.leggauss(40)
    shapes = [_clamped_shape(i) for i in range(count)]
    values = [np.array([legendre.legval(points, legendre.legder(c, n)) for c in shapes]) for n in range(3)]
    mass, slope, bend = ((item * weights) @ item.T for item in values)
    total = (values[0] * weights).sum(axis=1)
    ratio = short / long
    energy = np.kron(bend, mass) * ratio**4 + 2 * np.kron(slope, slope) * ratio**2 + np.kron(mass, bend)
    parts = np.linalg.solve(energy, np.kron(total, total)).reshape(count, count)
    middle = np.array([legendre.legval(0.0, c) for c in shapes])
    edge = np.array([legendre.legval(1.0, legendre.legder(c, 2)) for c in shapes])
    # The plate was solved on a square of side 2, so lengths come back by halves of the short side.
    alpha = float(middle @ parts @ middle) / 16
    return PlateCoefficients(alpha=alpha, beta=abs(float(middle @ parts @ edge)) / 4)


def _clamped_shape(i: int) -> Numbers:
    """Legendre coefficients of (1 − x²)² times the even Legendre polynomial of degree 2i."""
    from numpy.polynomial import legendre

    hold = legendre.poly2leg([1, 0, -2, 0, 1])
    return np.asarray(legendre.legmul(hold, [0.0] * (2 * i) + [1.0]))


def _sides(a: Mm, b: Mm) -> tuple[Mm, Mm]:
    """Long and short side."""
    if not (a > 0 and b > 0):
        raise ShapeError(f"plate: sides of {a:g} and {b:g} mm can't be; both have to be longer than 0")
    return max(a, b), min(a, b)


@formula(
    "w",
    "deflection of the plate's middle",
    "12 * alpha * p * b ** 4 * (1 - nu ** 2) / (E * t ** 3)",
    THIN_PLATE,
)
def plate_deflection(p: MPa, b: Mm, t: Mm, E: MPa, nu: Ratio, alpha: Ratio) -> Mm:
    """Deflection of a plate of short side ``b`` and thickness ``t``; ``alpha`` from ``PlateCoefficients``."""
    return 12 * alpha * p * b**4 * (1 - nu**2) / (E * t**3)


@formula("sigma", "bending stress of the plate", "6 * beta * p * b ** 2 / t ** 2", THIN_PLATE)
def plate_stress(p: MPa, b: Mm, t: Mm, beta: Ratio) -> MPa:
    """Greatest bending stress of a plate; ``beta`` from ``PlateCoefficients``."""
    return 6 * beta * p * b**2 / t**2


def buckling_factor(a: Mm, b: Mm, t: Mm, E: MPa, nu: Ratio, along: NewtonPerMm, across: NewtonPerMm) -> float:
    """How many times the thrusts on its edges may grow before a supported plate buckles.

    Parameters
    ----------
    a, b, t
        Sides and thickness.
    E, nu
        Modulus and Poisson's ratio.
    along, across
        Thrust per width in the direction of ``a`` and of ``b``; not both 0.

    Source: Navier's half-waves up to twelve each way, the worst of them.
    """
    m = (np.arange(1.0, 13.0)[:, None] * math.pi / a) ** 2
    n = (np.arange(1.0, 13.0)[None, :] * math.pi / b) ** 2
    bending = E * t**3 / (12 * (1 - nu**2))
    return float((bending * (m + n) ** 2 / (along * m + across * n)).min())


@dataclass(frozen=True, slots=True, kw_only=True)
class BoxWall:
    """One pair of walls of a hollow box under film.

    Parameters
    ----------
    name
        ``top`` (and bottom), ``side`` or ``end``.
    deflection
        How far its middle goes in; infinite where the wall buckles.
    stress
        Greatest stress of bending and thrust together; infinite where it buckles.
    reserve
        How many times the pressure may grow before the wall buckles; collapsed at 1 and below.
    """

    name: Literal["top", "side", "end"]
    deflection: Mm
    stress: MPa
    reserve: float


def hollow_box(length: Mm, width: Mm, height: Mm, t: Mm, E: MPa, nu: Ratio, p: MPa) -> tuple[BoxWall, ...]:
    """Walls of a hollow box that is vented to the bag and pressed by the film from all sides.

    Each wall is a plate that its neighbours hold down but let turn. It is bent by the pressure on itself and
    squeezed along its plane by that on its neighbours, at most half the short side of the neighbour times the
    pressure; the thrust makes the bending grow. A box without vents is no better: it leaks in time.

    Returns
    -------
    The top (and bottom), side and end walls.

    Source: thin plates with Navier's first-wave growth of the deflection; safe, as corners hold more than this.
    """
    sizes: dict[Literal["top", "side", "end"], tuple[Mm, Mm, Mm]] = {
        "top": (length, width, height),
        "side": (length, height, width),
        "end": (width, height, length),
    }
    return tuple(_wall(name, a, b, depth, t, E, nu, p) for name, (a, b, depth) in sizes.items())


def _wall(
    name: Literal["top", "side", "end"], a: Mm, b: Mm, depth: Mm, t: Mm, E: MPa, nu: Ratio, p: MPa
) -> BoxWall:
    """One wall ``a`` by ``b`` of a box that is ``depth`` deep behind it."""
    along, across = p * min(b, depth) / 2, p * min(a, depth) / 2
    reserve = buckling_factor(a, b, t, E, nu, along, across)
    plate = supported_plate(a, b, nu)
    if reserve <= 1:
        return BoxWall(name=name, deflection=math.inf, stress=math.inf, reserve=reserve)
    growth = 1 / (1 - 1 / reserve)
    bent = plate_stress(p=p, b=min(a, b), t=t, beta=plate.beta)
    return BoxWall(
        name=name,
        deflection=growth * plate_deflection(p=p, b=min(a, b), t=t, E=E, nu=nu, alpha=plate.alpha),
        stress=growth * bent + max(along, across) / t,
        reserve=reserve,
    )
