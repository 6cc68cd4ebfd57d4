"""Names of the parts of a scene as files of solids and meshes tell them: with their material, each of its own."""

from collections.abc import Sequence

from ..model.scene import Part

SCHEMATIC = ("valve",)
"""Parts that stand for what they are, without their true shape; their names say so."""


def part_names(parts: Sequence[Part]) -> list[str]:
    """Name and material of each part; parts of one name, such as glue lines, are counted from below."""
    plain = [part.name for part in parts]
    names = []
    for number, part in enumerate(parts):
        count = f" {plain[:number].count(part.name) + 1}" if plain.count(part.name) > 1 else ""
        drawn = ", schematic" if part.key in SCHEMATIC else ""
        material = f" · {part.material}" if part.material else ""
        names.append(f"{part.name}{count}{drawn}{material}")
    return names
