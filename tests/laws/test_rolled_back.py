"""Blanks rolled back onto the bend: what is cut flat lands on the edge of its layer.

The bend is drawn here a second time, as a row of points from closed forms of the curves (textbook; the curve through
points by scipy's cubic spline), and the flat blank is laid along the layer's middle by adding up chords.
"""

import math
from collections.abc import Callable

import numpy as np
import pytest
from scipy.interpolate import CubicSpline
from scipy.spatial import cKDTree

from underbag.app.read.layup_file import read_text
from underbag.model.plan import Plan, plan
from underbag.model.shape.profile import Floats

LANDS_WITHIN = 0.05
"""Asked for, in mm; chords of a blank are within 0.005 mm, the rows of points here within 0.01 mm."""
COUNT = 40_001

REST = 'curve = "form face"\n[form]\nspringback = 0\n[substrate]\nmaterial = "birch plywood"\nthickness = 2\nlaminations = 2\n'
OUTLINES = {
    "rectangle": '[panel]\nwidth = 160\noutline = "rectangle"\n',
    "rounded rectangle": '[panel]\nwidth = 160\noutline = "rounded rectangle"\ncorner = 45\n',
    "ellipse": '[panel]\nwidth = 160\noutline = "ellipse"\n',
}
ORDINATES = [0.0, 12.0, 21.0, 24.0, 20.0, 12.0, 3.0, -4.0]


def turning(*pieces: tuple[float, float]) -> Floats:
    """Points of a chain of (length, curvature), by adding up its headings; clockwise turns are crowns."""
    length = sum(piece[0] for piece in pieces)
    s = np.linspace(0.0, length, COUNT)
    marks = np.concatenate(([0.0], np.cumsum([piece[0] for piece in pieces])))
    turned = np.concatenate(([0.0], np.cumsum([piece[0] * piece[1] for piece in pieces])))
    heading = -np.interp(0.5 * (s[1:] + s[:-1]), marks, turned)
    step = np.diff(s)[:, None] * np.column_stack((np.cos(heading), np.sin(heading)))
    return np.concatenate((np.zeros((1, 2)), np.cumsum(step, axis=0)))


def half_ellipse() -> Floats:
    u = np.linspace(math.pi, 0.0, COUNT)
    return np.column_stack((160.0 * np.cos(u), 90.0 * np.sin(u)))


def parabola() -> Floats:
    x = np.linspace(-160.0, 160.0, COUNT)
    return np.column_stack((x, 70.0 * (1.0 - (x / 160.0) ** 2)))


def spline() -> Floats:
    points = np.column_stack((50.0 * np.arange(len(ORDINATES)), ORDINATES))
    chords = np.concatenate(([0.0], np.cumsum(np.hypot(*np.diff(points, axis=0).T))))
    curve = CubicSpline(chords, points, bc_type="not-a-knot")
    return np.asarray(curve(np.linspace(0.0, chords[-1], COUNT)))


BENDS: dict[str, tuple[str, Callable[[], Floats]]] = {
    "arc": ("radius = 220\nangle = 80\n", lambda: turning((220.0 * math.radians(80.0), 1.0 / 220.0))),
    "past the half round": (
        "radius = 100\nangle = 240\n",
        lambda: turning((100.0 * math.radians(240.0), 1.0 / 100.0)),
    ),
    "chain": (
        'chain = "straight 40, crown 120 through 50°, hollow 90 through 60°, straight 30"\n',
        lambda: turning(
            (40.0, 0.0),
            (120.0 * math.radians(50.0), 1.0 / 120.0),
            (90.0 * math.radians(60.0), -1.0 / 90.0),
            (30.0, 0.0),
        ),
    ),
    "ellipse": ('shape = "ellipse"\nchord = 320\nrise = 90\n', half_ellipse),
    "parabola": ('shape = "parabola"\nchord = 320\nrise = 70\n', parabola),
    "points": (f"every = 50\nordinates = {ORDINATES}\n", spline),
}


def edge_points(outline: str, length: float, width: float, margin: float) -> Floats:
    """Places t and w along the edge of an outline moved outward, by closed forms."""
    if outline == "rectangle":
        a, b = 0.5 * length + margin, 0.5 * width + margin
        corners = np.array([[a, -b], [a, b], [-a, b], [-a, -b], [a, -b]])
    elif outline == "ellipse":
        u = np.linspace(0.0, 2.0 * math.pi, COUNT)
        a, b = 0.5 * length, 0.5 * width
        normal = np.column_stack((b * np.cos(u), a * np.sin(u)))
        normal /= np.hypot(*normal.T)[:, None]
        return np.column_stack((a * np.cos(u), b * np.sin(u))) + margin * normal
    else:
        radius = 45.0 + margin
        a, b = 0.5 * length + margin - radius, 0.5 * width + margin - radius
        u = np.linspace(0.0, 0.5 * math.pi, 2001)
        quarter = radius * np.column_stack((np.cos(u), np.sin(u)))
        turns = ((a, b, 0), (-a, b, 1), (-a, -b, 2), (a, -b, 3))
        rows = []
        for x, y, turn in turns:
            c, s = ((1, 0), (0, 1), (-1, 0), (0, -1))[turn]
            rows.append(
                np.column_stack(
                    (x + c * quarter[:, 0] - s * quarter[:, 1], y + s * quarter[:, 0] + c * quarter[:, 1])
                )
            )
        corners = np.concatenate([*rows, rows[0][:1]])
    steps = np.hypot(*np.diff(corners, axis=0).T)
    s = np.concatenate(([0.0], np.cumsum(steps)))
    return np.column_stack([np.interp(np.linspace(0.0, s[-1], 4 * COUNT), s, corners[:, i]) for i in (0, 1)])


def lengths(points: Floats) -> Floats:
    """Lengths along a row of points, 0 in its middle."""
    s = np.concatenate(([0.0], np.cumsum(np.hypot(*np.diff(points, axis=0).T))))
    return np.asarray(s - 0.5 * s[-1])


@pytest.fixture(scope="module")
def plans() -> dict[tuple[str, str], Plan]:
    return {
        (bend, outline): plan(read_text(panel + "[bend]\n" + keys + REST))
        for bend, (keys, _) in BENDS.items()
        for outline, panel in OUTLINES.items()
    }


@pytest.mark.parametrize("outline", OUTLINES)
@pytest.mark.parametrize("bend", BENDS)
def test_blanks_land_on_the_edge(plans: dict[tuple[str, str], Plan], bend: str, outline: str) -> None:
    made = plans[bend, outline]
    path = BENDS[bend][1]()
    # the profile with its ends going on straight
    first, last = path[1] - path[0], path[-1] - path[-2]
    far = np.linspace(0.0, 80.0, 8001)[1:, None]
    before = path[0] - far[::-1] * first / np.hypot(*first)
    after = path[-1] + far * last / np.hypot(*last)
    path_length = lengths(path)
    t = np.concatenate((path_length[0] - far[::-1, 0], path_length, path_length[-1] + far[:, 0]))
    path = np.concatenate((before, path, after))
    ahead = np.gradient(path, t, axis=0)
    normal = np.column_stack((-ahead[:, 1], ahead[:, 0]))
    normal /= np.hypot(*normal.T)[:, None]
    for key in ("back", "substrate-2", "face"):
        layer = made.stack.find(key)
        assert layer is not None
        middle = path + layer.middle * normal
        along = np.concatenate(([0.0], np.cumsum(np.hypot(*np.diff(middle, axis=0).T))))
        along -= np.interp(0.0, t, along)

        def in_space(parameter: Floats, at: Floats, across: Floats, middle: Floats = middle) -> Floats:
            return np.column_stack(
                [np.interp(at, parameter, middle[:, 0]), across, np.interp(at, parameter, middle[:, 1])]
            )

        margin = 12.0 if key == "substrate-2" else 18.0
        edge = edge_points(outline, made.layup.panel.length, 160.0, margin)
        tree = cKDTree(in_space(t, edge[:, 0], edge[:, 1]))
        corners = layer.blank.edge.flattened(0.005)
        dense = np.concatenate(
            [np.linspace(a, b, 4) for a, b in zip(corners, np.roll(corners, -1, axis=0), strict=True)]
        )
        off, _ = tree.query(in_space(along, dense[:, 0], dense[:, 1]))
        assert float(off.max()) < LANDS_WITHIN
        # and the whole edge is covered, not only met
        ends = in_space(along, dense[:, 0], dense[:, 1])
        assert float(np.ptp(ends[:, 1])) == pytest.approx(float(np.ptp(edge[:, 1])), abs=LANDS_WITHIN)
        assert layer.blank.length == pytest.approx(float(np.ptp(dense[:, 0])), abs=0.001)
