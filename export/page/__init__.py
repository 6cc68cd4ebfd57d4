"""The 3-D viewer module and the self-contained preview page."""
