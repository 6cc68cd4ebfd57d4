"""The cut faces of a part on a plane across the panel's width."""

from ...model.scene import Mesh, Points
from ...model.units import Mm


def section(mesh: Mesh, y: Mm) -> list[Points]:
    """Cut a closed mesh by the plane at ``y``: closed outlines ``(n, 2)`` in x and z, mm.

    Outlines run counterclockwise around material seen from the front (x to the right, z up), clockwise
    around a hollow.
    """
    beyond = mesh.points[:, 1] >= y
    onward: dict[tuple[int, int], tuple[int, int]] = {}
    for triangle in mesh.triangles[beyond[mesh.triangles].any(axis=1) & ~beyond[mesh.triangles].all(axis=1)]:
        leaves, enters = None, None
        for a, b in ((0, 1), (1, 2), (2, 0)):
            one, other = int(triangle[a]), int(triangle[b])
            if beyond[one] and not beyond[other]:
                leaves = (other, one)
            elif beyond[other] and not beyond[one]:
                enters = (one, other)
        if leaves and enters:
            onward[enters] = leaves
    loops = []
    while onward:
        edge = min(onward)
        rim = []
        while edge in onward:
            rim.append(edge)
            edge = onward.pop(edge)
        loops.append(_points(mesh.points, rim, y))
    return loops


def _points(points: Points, rim: list[tuple[int, int]], y: Mm) -> Points:
    """Where the edges of an outline meet the plane, as x and z."""
    one, other = points[[a for a, _ in rim]], points[[b for _, b in rim]]
    share = ((y - one[:, 1]) / (other[:, 1] - one[:, 1]))[:, None]
    met: Points = (one + share * (other - one))[:, [0, 2]]
    return met
