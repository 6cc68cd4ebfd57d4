"""Drawn views of a picture, for a browser that can't turn it."""

from ...export.page.stage import ready_views
from ...export.page.svg_views import views
from .picture import Picture


def ready(seen: Picture) -> str:
    """All drawn views as plain HTML."""
    return ready_views(views(seen.scene, seen.numbers, seen.uprights))
