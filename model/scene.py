"""The scene: named, coloured meshes of a plan, in mm, for pictures and mesh files.

A scene holds what a viewer or a mesh file needs and nothing else. z points up, x runs along the panel's length,
y along its width; the origin lies at the middle of the panel, at the height of the bench.
"""

from dataclasses import dataclass

from .shape.mesh import Indices, Mesh, Points

__all__ = ["Indices", "Mesh", "Part", "Points", "Scene"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One thing of the scene: a layer of the stack, the form, the bag or the valve.

    Parameters
    ----------
    key
        Stable key, the same as the layer's in the plan.
    name
        Name for people, such as ``"face veneer"``.
    material
        What it is made of, in words.
    colour
        ``(red, green, blue)``, 0 to 255, sRGB.
    translucent
        Whether a picture lets the parts behind it show through.
    lift
        Place in the order from below, 0, 1, 2 …; spreading the layers apart moves a part up by lift × gap.
    note
        Short line for a label or list: the blank's size or what it is.
    mesh
        The closed mesh.
    """

    key: str
    name: str
    material: str
    colour: tuple[int, int, int]
    translucent: bool
    lift: int
    note: str
    mesh: Mesh


@dataclass(frozen=True, slots=True, kw_only=True)
class Scene:
    """The parts of a plan from below upward, with the chordal tolerance (mm) of their meshes."""

    title: str
    tolerance: float
    parts: tuple[Part, ...]
