"""How the open end of a bag is closed, and what that takes off its length."""

from ..source import COMMON_PRACTICE
from ..units import Count, Mm
from ..value import formula


@formula("k", "film that the closure takes at the open end", "n * f + g", COMMON_PRACTICE)
def closure_length(n: Count, f: Mm, g: Mm) -> Mm:
    """Film for n turns or strips of a width f, and g past them to hold on to."""
    return n * f + g
