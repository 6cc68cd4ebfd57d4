"""The form as it is built: ribs or sheets, the edge they are cut to, the skin, and its curve against the panel's."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from ..bends import Bends
from ..form.ribs import RibForm
from ..form.taper_form import TaperRibs, along_rulings
from ..mechanics.bending import OFFSET, least_radius, nominal_strain, strain_limit, tightest_bend
from ..plan import Plan
from ..shape.sheet import Sheet
from ..source import COMMON_PRACTICE, GEOMETRY
from ..units import Count, Mm, PerMm, Radian, Ratio
from ..value import Value, formula

SAFETY: Ratio = 1.0
"""The skin is no part of the work: where it cracks a new one is bent."""


@formula("N", "sheets of the stack", "ceil(B / t - 1e-9)", COMMON_PRACTICE)
def sheet_count(B: Mm, t: Mm) -> Count:
    """Fewest sheets of the thickness t that are as wide as the form has to be."""
    return math.ceil(B / t - 1e-9)


@formula("N", "ribs", "method: fewest over which the skin keeps its limits, or as close as asked", OFFSET)
def rib_count(N: Count) -> Count:
    """Number of ribs."""
    return N


@formula("s", "distance of the ribs, middle to middle", "(B - b) / (N - 1)", GEOMETRY)
def rib_spacing(B: Mm, b: Mm, N: Count) -> Mm:
    """Distance of N ribs of the thickness b, the outermost flush with the width B."""
    return (B - b) / (N - 1)


@formula(
    "d", "distance of the panel from the edge that is cut, through all that lies between", "t_r + t_s", OFFSET
)
def edge_distance(t_r: Mm, t_s: Mm) -> Mm:
    """Distance along the normal: the sheets between panel and form, and the skin of a ribbed one."""
    return t_r + t_s


@formula(
    "h", "least height of a rib under the skin", "method: lowest point of the curve over the foot", GEOMETRY
)
def rib_depth(h: Mm) -> Mm:
    """Least height of wood in a rib."""
    return h


@formula("L_s", "length of the skin, flat, at its mid-thickness", "L + d * theta", OFFSET)
def skin_length(L: Mm, d: Mm, theta: Radian) -> Mm:
    """Developed length of a skin at d above a curve of the length L that turns through theta, positive over a crown."""
    return L + d * theta


@formula("R_s", "radius of the skin at the inside of its hardest bend", "abs(1 / k + d)", OFFSET)
def skin_radius(k: PerMm, d: Mm) -> Mm:
    """Radius of the skin's concave face, at d above the curve that was asked for, whose curvature is k."""
    return abs(1.0 / k + d)


@formula("c", "chord of the curve over the panel's length", "method: distance of its ends", GEOMETRY)
def curve_chord(c: Mm) -> Mm:
    """Straight distance of both ends."""
    return c


@formula("r", "rise of the curve over its chord", "method: farthest point from the chord", GEOMETRY)
def curve_rise(r: Mm) -> Mm:
    """Greatest distance from the chord."""
    return r


def form_values(plan: Plan) -> Iterator[Value]:
    """Boards of the form, its edge, its skin, and both curves: the form's face and the panel's when released."""
    form = plan.form
    if form is None:
        return
    if form.ribs is not None:
        yield from _ribs(plan, form.ribs)
    elif isinstance(form.built, TaperRibs):
        yield from _taper_ribs(form.built)
    elif form.built is not None:
        layup = plan.layup
        needed = layup.panel.width + 2.0 * (layup.substrate.trim + layup.form.margin)
        yield sheet_count.value("form.sheets", B=needed, t=layup.form.rib)
    if form.built is not None:
        skin = form.ribbed.load.skin if form.ribbed is not None else 0.0
        yield edge_distance.value("form.edge", t_r=plan.stack.work[0].height, t_s=skin)
    if plan.taper is None:
        half = 0.5 * plan.layup.panel.length
        yield from curve_values("form.face", plan.stack.sheet, 0.0, half)
        yield from curve_values("form.released", plan.released, plan.stack.work[0].height, half)


def _ribs(plan: Plan, ribs: RibForm) -> Iterator[Value]:
    yield from _carcase(ribs)
    sheet = plan.stack.sheet
    half = 0.5 * plan.base.outline.length
    first, last = sheet.profile.turned(np.array([-half, half])).tolist()
    for skin in ribs.skins:
        middle = 0.5 * (skin.low + skin.high) - sheet.reference
        yield skin_length.value(f"form.{skin.key}.length", L=2.0 * half, d=middle, theta=last - first)
    stations = sheet.profile.stations(0.0, 1.0)
    t = np.concatenate((stations, 0.5 * (stations[1:] + stations[:-1])))
    yield from _bent((Bends(end="", t=t, k=sheet.profile.bend(t)),), sheet.reference, ribs)


def _taper_ribs(ribs: TaperRibs) -> Iterator[Value]:
    """Boards of a taper, whose skin is bent hardest where the form ends."""
    yield from _carcase(ribs)
    sheet = ribs.carcase.sheet
    u = sheet.places()
    ends = [along_rulings(sheet, u, side * 0.5 * ribs.load.width, 0.0) for side in (-1.0, 1.0)]
    bends = tuple(Bends(end="", t=u, k=sheet.bend(u, w)) for w in ends)
    yield from _bent(bends, sheet.reference, ribs)


def _carcase(ribs: RibForm | TaperRibs) -> Iterator[Value]:
    """Number and distance of the ribs, and how high they are at the least."""
    yield rib_count.value("form.ribs", N=ribs.bays + 1)
    yield rib_spacing.value("form.spacing", B=ribs.load.width, b=ribs.load.rib, N=ribs.bays + 1)
    yield rib_depth.value("form.depth", h=ribs.depth)


def _bent(ways: Sequence[Bends], reference: Mm, ribs: RibForm | TaperRibs) -> Iterator[Value]:
    """Radius of the hardest bent sheet of the skin, and the least that it stands."""
    found = [
        (tightest_bend(way.t, way.k, skin.low - reference, skin.thickness), way, skin)
        for way in ways
        for skin in ribs.skins
    ]
    hardest, way, skin = min(found, key=lambda one: one[0].radius)
    if not math.isfinite(hardest.radius):
        return
    yield skin_radius.value(
        "form.skin.radius", k=way.at(hardest.at), d=(skin.low if hardest.convex else skin.high) - reference
    )
    board = ribs.load.board
    if board.MOR is not None:
        nominal = nominal_strain.value("form.skin.nominal", f=board.MOR, E=board.E)
        allowed = strain_limit.value("form.skin.allowed", eps_0=nominal.number, t=skin.thickness, n=SAFETY)
        yield nominal
        yield allowed
        yield least_radius.value("form.skin.least", t=skin.thickness, eps_a=allowed.number)


def curve_values(key: str, sheet: Sheet, height: Mm, half: Mm, where: str = "") -> Iterator[Value]:
    """Chord and rise of a curve over the finished panel's length, half of which lies on either side of its middle."""
    told = f", {where}" if where else ""
    t = np.union1d(sheet.profile.stations(abs(height), 0.01), [-half, 0.0, half])
    t = t[np.abs(t) <= half]
    points = sheet.place(t, np.zeros_like(t), height)[:, [0, 2]]
    run = points[-1] - points[0]
    chord = float(np.hypot(*run))
    away = (points - points[0]) @ np.array([-run[1], run[0]]) / chord
    yield replace(curve_chord, name=curve_chord.name + told).value(f"{key}.chord", c=chord)
    yield replace(curve_rise, name=curve_rise.name + told).value(f"{key}.rise", r=float(np.abs(away).max()))
