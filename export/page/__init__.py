"""The viewer module and the self-contained preview."""

from .content import CheckRow, Content, LayerRow, Line, SizeRow
from .preview import preview_html
from .thickness import Upright

__all__ = ["CheckRow", "Content", "LayerRow", "Line", "SizeRow", "Upright", "preview_html"]
