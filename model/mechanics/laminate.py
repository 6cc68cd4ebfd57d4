"""Laminate: how a stack of glued layers warps when each of them swells or shrinks in its own way.

x runs along the panel, y across it, z upward from the middle of the stack; layers are numbered from below upward
and their grain is turned by an angle from x toward y. The strain at z is that of the middle plus z × curvature, so
a positive curvature means a longer top: a crown up. Strains and curvatures stand in the order x, y, xy (the last
one the engineering shear and twice the tensor's twist).

Everything is laminated-plate theory: thin, linear, stuck fast, free at the edges. It holds while the bow is small;
a panel that bows by more than its thickness snaps from the saddle that the theory gives into a cylinder.
All arrays may have leading axes, one laminate for each.

Source: laminated-plate theory as in any textbook of composites, with free swelling strains in place of thermal ones.
"""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from ..errors import ShapeError
from ..source import Source
from ..units import Mm, MPa, PerMm, Radian, Ratio
from ..value import formula

PLATE = Source("textbook", "laminated-plate theory", "constant curvature over a small panel")
SAGITTA = Source("textbook", "plane geometry", "rise of a flat arc over its span")
BISTRIP = Source("textbook", "Timoshenko, Analysis of Bi-Metal Thermostats (1925)", "two-layer strip")

Numbers = NDArray[np.float64]


@formula("b", "bow over the span (positive: crown up)", "k * L ** 2 / 8", SAGITTA)
def bow(k: PerMm, L: Mm) -> Mm:
    """Rise of a panel of curvature ``k`` over the span ``L``: bow along it, cup across it."""
    return k * L**2 / 8


@formula("w", "twist: lift of the fourth corner when three lie on the bench", "k_xy * a * b / 2", PLATE)
def twist(k_xy: PerMm, a: Mm, b: Mm) -> Mm:
    """Lift of one corner of a panel ``a`` by ``b`` off the plane through the other three."""
    return k_xy * a * b / 2


@formula("u", "bow over thickness (the linear theory ends at 1)", "abs(b) / h", PLATE)
def bow_over_thickness(b: Mm, h: Mm) -> Ratio:
    """Bow in panel thicknesses; past 1 the panel stretches in its middle and a saddle gives way to a cylinder."""
    return abs(b) / h


@formula(
    "k",
    "curvature of two layers as a narrow strip (positive: layer 1 on the convex side)",
    "6 * de * (1 + t_1 / t_2) ** 2 / ((t_1 + t_2) * (3 * (1 + t_1 / t_2) ** 2"
    " + (1 + t_1 / t_2 * E_1 / E_2) * ((t_1 / t_2) ** 2 + 1 / (t_1 / t_2 * E_1 / E_2))))",
    BISTRIP,
)
def bistrip_curvature(de: Ratio, t_1: Mm, t_2: Mm, E_1: MPa, E_2: MPa) -> PerMm:
    """Curvature of a strip of two layers whose free lengths differ by the strain ``de`` (layer 1 less layer 2).

    Source: Timoshenko (1925).
    """
    m = t_1 / t_2
    n = E_1 / E_2
    return 6 * de * (1 + m) ** 2 / ((t_1 + t_2) * (3 * (1 + m) ** 2 + (1 + m * n) * (m**2 + 1 / (m * n))))


@dataclass(frozen=True, slots=True, kw_only=True)
class Layers:
    """Glued layers from below upward, every field an array ``(..., n)``.

    Parameters
    ----------
    t
        Thicknesses, mm.
    E1, E2, G12
        Moduli along and across the grain and in shear, MPa.
    nu12
        Poisson's ratio: contraction across the grain when stretched along it.
    angle
        Grain from x toward y, rad.
    C1, C2
        Movement coefficients along and across the grain, strain per 1 % of moisture content.
    """

    t: Numbers
    E1: Numbers
    E2: Numbers
    G12: Numbers
    nu12: Numbers
    angle: Numbers
    C1: Numbers
    C2: Numbers

    def free_strain(self, dM: ArrayLike) -> Numbers:
        """Strain ``(..., n, 3)`` of each layer alone when its moisture content changes by ``dM`` percent."""
        change = np.asarray(dM, dtype=np.float64)
        return turned_strain(self.C1 * change, self.C2 * change, self.angle)


def layers(
    t: ArrayLike,
    E1: ArrayLike,
    E2: ArrayLike,
    G12: ArrayLike,
    nu12: ArrayLike,
    angle: ArrayLike,
    C1: ArrayLike,
    C2: ArrayLike,
) -> Layers:
    """Gather layers from sequences or single numbers (see ``Layers``).

    Raises
    ------
    ShapeError
        A thickness or modulus isn't positive, or a Poisson's ratio is greater than √(E1/E2), which no solid has.
    """
    fields = np.broadcast_arrays(
        *(np.asarray(item, dtype=np.float64) for item in (t, E1, E2, G12, nu12, angle, C1, C2))
    )
    thickness, along, across, shear, ratio, turn, move1, move2 = fields
    for name, values in (("thickness", thickness), ("E1", along), ("E2", across), ("G12", shear)):
        if not np.all(values > 0):
            raise ShapeError(f"layers: a {name} of {values.min():g} can't be; every layer needs more than 0")
    if not np.all(ratio**2 * across < along):
        raise ShapeError(
            f"layers: Poisson's ratio {np.abs(ratio).max():g} is greater than the square root of E1 over E2;"
            " give E1 along the grain and the ratio that belongs to it"
        )
    return Layers(t=thickness, E1=along, E2=across, G12=shear, nu12=ratio, angle=turn, C1=move1, C2=move2)


def turned_stiffness(
    E1: ArrayLike, E2: ArrayLike, G12: ArrayLike, nu12: ArrayLike, angle: ArrayLike
) -> Numbers:
    """Plane-stress stiffness ``(..., 3, 3)`` of layers, MPa, with the grain turned by ``angle``."""
    e1, e2, g, nu, a = (np.asarray(item, dtype=np.float64) for item in (E1, E2, G12, nu12, angle))
    base = 1 - nu**2 * e2 / e1
    q11, q22, q12 = e1 / base, e2 / base, nu * e2 / base
    u1 = (3 * (q11 + q22) + 2 * q12 + 4 * g) / 8
    u2 = (q11 - q22) / 2
    u3 = (q11 + q22 - 2 * q12 - 4 * g) / 8
    c2, s2, c4, s4 = np.cos(2 * a), np.sin(2 * a), np.cos(4 * a), np.sin(4 * a)
    turned = np.zeros((*np.broadcast_shapes(u1.shape, a.shape), 3, 3))
    turned[..., 0, 0] = u1 + u2 * c2 + u3 * c4
    turned[..., 1, 1] = u1 - u2 * c2 + u3 * c4
    turned[..., 0, 1] = turned[..., 1, 0] = q12 + u3 * (1 - c4)
    turned[..., 2, 2] = g + u3 * (1 - c4)
    turned[..., 0, 2] = turned[..., 2, 0] = u2 * s2 / 2 + u3 * s4
    turned[..., 1, 2] = turned[..., 2, 1] = u2 * s2 / 2 - u3 * s4
    return turned


def turned_strain(e1: ArrayLike, e2: ArrayLike, angle: ArrayLike) -> Numbers:
    """Free strain ``(..., 3)`` in the panel's directions of layers that strain by ``e1`` along and ``e2`` across."""
    along, across, a = (np.asarray(item, dtype=np.float64) for item in (e1, e2, angle))
    c, s = np.cos(a), np.sin(a)
    return np.stack(
        [along * c**2 + across * s**2, along * s**2 + across * c**2, 2 * c * s * (along - across)], axis=-1
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Stiffness:
    """Stiffness of a laminate per width.

    Parameters
    ----------
    A, B, D
        ``(..., 3, 3)`` stretching (N/mm), coupling (N) and bending stiffness (N·mm).
    Q
        ``(..., n, 3, 3)`` stiffness of each layer, MPa.
    z
        ``(..., n + 1)`` height of the interfaces above the middle.
    """

    A: Numbers
    B: Numbers
    D: Numbers
    Q: Numbers
    z: Numbers

    @property
    def thickness(self) -> Numbers:
        """Thickness of the laminate, ``(...)``."""
        return np.asarray(self.z[..., -1] - self.z[..., 0])

    def matrix(self) -> Numbers:
        """Whole ``(..., 6, 6)`` matrix: from middle strains and curvatures to forces and moments."""
        upper = np.concatenate([self.A, self.B], axis=-1)
        return np.concatenate([upper, np.concatenate([self.B, self.D], axis=-1)], axis=-2)

    def free_bending(self) -> Numbers:
        """Bending stiffness ``(..., 3, 3)`` of the laminate whose middle is free to stretch: D − B A⁻¹ B."""
        return np.asarray(self.D - self.B @ np.linalg.solve(self.A, self.B))


def stiffness(stack: Layers) -> Stiffness:
    """Stiffness of the laminate.

    Source: laminated-plate theory.
    """
    return assemble(turned_stiffness(stack.E1, stack.E2, stack.G12, stack.nu12, stack.angle), stack.t)


def assemble(Q: Numbers, t: Numbers) -> Stiffness:
    """Stiffness of layers whose own stiffness ``(..., n, 3, 3)`` is known, of the thicknesses ``(..., n)``."""
    z = _interfaces(t)
    low, high = z[..., :-1], z[..., 1:]
    weights = np.stack([high - low, (high**2 - low**2) / 2, (high**3 - low**3) / 3], axis=-2)
    sums = np.einsum("...wn,...nij->...wij", weights, Q)
    return Stiffness(A=sums[..., 0, :, :], B=sums[..., 1, :, :], D=sums[..., 2, :, :], Q=Q, z=z)


def _interfaces(t: Numbers) -> Numbers:
    """Heights ``(..., n + 1)`` of the interfaces above the middle of the stack."""
    top = np.cumsum(t, axis=-1)
    whole = top[..., -1:]
    return np.concatenate([-whole / 2, top - whole / 2], axis=-1)


@dataclass(frozen=True, slots=True, kw_only=True)
class Warp:
    """Shape that a laminate takes: strain of its middle and curvature, both ``(..., 3)`` in the order x, y, xy."""

    strain: Numbers
    curvature: Numbers


def warp(plate: Stiffness, free: ArrayLike) -> Warp:
    """Shape that a laminate takes when each layer alone would strain by ``free``, ``(..., n, 3)``.

    Source: laminated-plate theory; forces and moments over the whole thickness vanish.
    """
    strain = np.asarray(free, dtype=np.float64)
    low, high = plate.z[..., :-1], plate.z[..., 1:]
    weights = np.stack([high - low, (high**2 - low**2) / 2], axis=-2)
    held = np.einsum("...nij,...nj->...ni", plate.Q, strain)
    loads = np.einsum("...wn,...ni->...wi", weights, held)
    loads = loads.reshape((*loads.shape[:-2], 6, 1))
    shape = np.linalg.solve(plate.matrix(), loads)[..., 0]
    return Warp(strain=shape[..., :3], curvature=shape[..., 3:])


def layer_stress(plate: Stiffness, free: ArrayLike, shape: Warp) -> Numbers:
    """Stress ``(..., n, 2, 3)`` at the lower and upper face of every layer, in the panel's directions, MPa."""
    heights = np.stack([plate.z[..., :-1], plate.z[..., 1:]], axis=-1)
    strain = shape.strain[..., None, None, :] + heights[..., None] * shape.curvature[..., None, None, :]
    elastic = strain - np.asarray(free, dtype=np.float64)[..., :, None, :]
    return np.asarray(np.einsum("...nij,...nfj->...nfi", plate.Q, elastic))


def bending_moduli(plate: Stiffness) -> Numbers:
    """Moduli ``(..., 2)`` along x and y of the solid sheet that bends as the laminate does, MPa."""
    compliance = np.linalg.inv(plate.free_bending())
    own = np.stack([compliance[..., 0, 0], compliance[..., 1, 1]], axis=-1)
    return np.asarray(12 / (plate.thickness[..., None] ** 3 * own))


@dataclass(frozen=True, slots=True, kw_only=True)
class PrincipalCurvatures:
    """The greatest and least curvature of a warped panel.

    Parameters
    ----------
    greater, lesser
        The two curvatures; of opposite sign in a saddle, one of them 0 in a cylinder.
    angle
        Direction of the greater one, from x toward y.
    """

    greater: PerMm
    lesser: PerMm
    angle: Radian

    @property
    def is_saddle(self) -> bool:
        """Whether the panel bends up one way and down the other."""
        return self.greater * self.lesser < 0


def principal_curvatures(curvature: ArrayLike) -> PrincipalCurvatures:
    """Principal curvatures of one panel from its ``(3,)`` curvatures."""
    kx, ky, kxy = (float(item) for item in np.asarray(curvature, dtype=np.float64))
    middle = (kx + ky) / 2
    radius = math.hypot((kx - ky) / 2, kxy / 2)
    return PrincipalCurvatures(
        greater=middle + radius, lesser=middle - radius, angle=math.atan2(kxy, kx - ky) / 2
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Cylinder:
    """A roll that a large panel can snap into: its curvature, and the direction that is curved, from x toward y."""

    curvature: PerMm
    angle: Radian


def snapped_cylinders(plate: Stiffness, shape: Warp) -> tuple[Cylinder, ...]:
    """Find the rolls that a large panel can snap into in place of the computed shape; the likeliest first.

    A panel much larger than its thickness can't stretch, so it must be developable. Among all cylinders those are
    given that store the least energy in their neighbourhood: one or two, none for a panel that stays flat. Where
    all directions are alike the one along x stands for them.

    Source: laminated-plate theory with the twist of the surface (its Gaussian curvature) held at nothing.
    """
    bending = plate.free_bending()
    moment = bending @ shape.curvature
    angle = np.linspace(0.0, math.pi, 721)[:-1]
    c, s = np.cos(angle), np.sin(angle)
    roll = np.stack([c**2, s**2, 2 * c * s], axis=-1)
    pull = roll @ moment
    resist = np.einsum("ai,ij,aj->a", roll, bending, roll)
    gain = pull**2 / resist
    if gain.max() < 1e-24 * float(np.trace(bending)) / float(plate.thickness) ** 2:
        return ()
    if np.ptp(gain) < 1e-9 * gain.max():
        return (_cylinder(bending, moment, 0.0),)
    before, after = np.roll(gain, 1), np.roll(gain, -1)
    peak = np.flatnonzero((gain >= before) & (gain > after))
    peak = peak[np.argsort(-gain[peak], kind="stable")]
    # A parabola through the peak and its neighbours gives the direction between the steps.
    lean = (before[peak] - after[peak]) / (before[peak] - 2 * gain[peak] + after[peak]) / 2
    return tuple(
        _cylinder(bending, moment, float(turn)) for turn in angle[peak] + lean * (angle[1] - angle[0])
    )


def _cylinder(bending: Numbers, moment: Numbers, angle: Radian) -> Cylinder:
    """Roll of the least energy that is curved in the direction ``angle``."""
    roll = np.array([math.cos(angle) ** 2, math.sin(angle) ** 2, math.sin(2 * angle)])
    return Cylinder(curvature=float(roll @ moment / (roll @ bending @ roll)), angle=angle % math.pi)
