"""How much of what lies behind it a translucent part hides, in every kind of file."""

OPAQUE = 1.0
TRANSLUCENT = 0.35


def opacity_of(is_translucent: bool) -> float:
    """Opacity of a part, from 0 (clear) to 1."""
    return TRANSLUCENT if is_translucent else OPAQUE
