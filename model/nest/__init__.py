"""Nesting: rectangles laid onto stock sheets and rolls, and what a layup takes of each stock."""
