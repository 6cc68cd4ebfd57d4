"""The colours of the parts, by what they do in the stack; the same in pictures, solids and mesh files.

Neighbours in a stack differ in lightness, so that they stay apart in grey and for colour-blind eyes; a picture
never tells a meaning by colour alone.
"""

Colour = tuple[int, int, int]

COLOURS: dict[str, Colour] = {
    "film": (150, 186, 205),
    "platen": (112, 112, 122),
    "bench": (112, 112, 122),
    "form": (178, 152, 118),
    "baseboard": (146, 124, 98),
    "rib": (178, 152, 118),
    "stretcher": (204, 178, 140),
    "skin": (222, 200, 164),
    "release": (208, 222, 226),
    "face": (116, 66, 38),
    "back": (158, 104, 64),
    "crossband": (190, 132, 92),
    "adhesive": (246, 238, 206),
    "substrate": (212, 182, 134),
    "absorbent": (188, 184, 174),
    "caul": (96, 84, 68),
    "breather": (96, 142, 122),
    "valve": (52, 54, 60),
}
"""Red, green and blue, 0 to 255, sRGB."""

AIR_BANDS: tuple[Colour, ...] = (
    (255, 247, 214),
    (238, 205, 132),
    (150, 178, 150),
    (78, 132, 160),
    (52, 78, 130),
)
"""Colours of the map of the air, from what is drawn down first to what is last: each darker than the one before."""
AIR_NEVER = "#3a3a3a"
"""What is not drawn down."""


def colour_of(role: str) -> Colour:
    """Colour of a part by its role; of a veneer by its side, "face" or "back"."""
    return COLOURS[role]
