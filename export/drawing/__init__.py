"""Drawing primitives and sheets, and the three formats they are written in."""
