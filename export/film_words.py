"""What drawings and previews say of the film where they cannot show it as it will lie."""

AROUND = (
    "From above the film is drawn around the smallest outline without hollows that encloses the panel and is alike on "
    "both sides of its middle lines; under vacuum it also falls in beside the panel's own edge."
)


def film_short(along: str, across: str) -> str:
    """Say how much film an owned bag is short of, each size in words or empty where it reaches."""
    sizes = [f"{size} {way}" for size, way in ((along, "along"), (across, "across")) if size]
    return f"The owned bag is short of film, {' and '.join(sizes)}: the film is drawn as if it reached everywhere."
