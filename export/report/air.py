"""The air in a report: its maps, each with what it says."""

from ..document.pieces import Chapter, Picture
from ..page.svg_views import View


def air_chapter(maps: tuple[View, ...]) -> Chapter:
    """Chapter of the maps of the air."""
    return Chapter(
        key="air",
        title="Air on its way to the valve",
        pieces=tuple(Picture(name=view.name, svg=view.svg, caption=view.caption) for view in maps),
    )
